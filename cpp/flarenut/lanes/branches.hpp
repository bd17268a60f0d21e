#pragma once
/// Branches whose laws the lanes know, and which are more than a loss by flow: they look at pressures in their own way. See
/// `kernel.hpp`.

#include "flarenut/lanes/access.hpp"
#include "flarenut/lanes/laws.hpp"

namespace flarenut::lanes {

template <class Set>
class Branches : Access<Set> {
  using typename Access<Set>::P;
  using typename Access<Set>::Number;
  using typename Access<Set>::Numbers;
  using typename Access<Set>::Verdict;
  using Access<Set>::W;
  using Access<Set>::load;
  using Access<Set>::store;
  using Access<Set>::add;
  using Access<Set>::take;
  using Access<Set>::keep_reach;

  template <template <class> class Part>
  struct Law {
    using Lanes = Part<P>;
    static constexpr parts::Shape shape = Part<double>::shape;
    static constexpr int pressures = shape.ports + shape.senses;
    static_assert(shape.ports == 2 && shape.flows == 1 && (shape.senses == 0 || shape.senses == 2),
                  "parts of another shape are asked lane by lane");
    static_assert(sizeof(Lanes) / sizeof(Number) == W * sizeof(Part<double>) / sizeof(double),
                  "a part in the lanes is made of numbers alone");
    template <class N>
    using PartState = parts::PartState<N, 2, 1, shape.senses>;
    static constexpr bool limits = requires(const Lanes& part, const PartState<P>& last, PartState<P>& next) {
      part.limit(last, next);
    };

    static const Lanes& part_of(const Branch& branch, const Numbers& numbers) {
      return *reinterpret_cast<const Lanes*>(numbers.base + branch.first_number);
    }

    template <class N, class Make>
    static PartState<N> state_of(Make&& make) {
      using Pressure = AbsolutePressure<N>;
      if constexpr (shape.senses == 0)
        return {{Pressure::from_value(make(0)), Pressure::from_value(make(1))}, {MassFlow<N>::from_value(make(2))}, {}};
      else
        return {{Pressure::from_value(make(0)), Pressure::from_value(make(1))}, {MassFlow<N>::from_value(make(4))},
                {Pressure::from_value(make(2)), Pressure::from_value(make(3))}};
    }
    static P here(const Branch& branch, const Numbers& numbers, int i) {
      return i < pressures ? numbers.gathered(branch, i) : load(numbers.base, branch.first_flow);
    }

    /// Eliminates the flow, and adds the branch to the matrix by what its flow gains from each of its pressures.
    static void assemble(const Branch& branch, const Numbers& numbers, Verdict& verdict, const P& flow, const P& residual, const P& scale,
                         const P& by_flow, const std::array<P, pressures>& by_pressure) {
      const P inverse = -1.0 / by_flow;
      keep_reach(numbers.base, branch.first_gain + (1 + pressures) * W, numbers.forecast_tolerance * abs(inverse) * scale);
      store(numbers.base, branch.first_gain + (3 + pressures) * W, inverse);
      const P shift = inverse * residual, moved = flow + shift;
      verdict.sum += shift;
      const int from = branch.equation[0], to = branch.equation[1];
      numbers.add_to_balance(from, flow);
      numbers.add_to_balance(to, -flow);
      take(numbers.right_side, from, moved);
      add(numbers.right_side, to, moved);
      store(numbers.base, branch.first_gain, shift);
      for_each_direction<pressures>([&](int i) {
        const P gain = inverse * by_pressure[i];
        store(numbers.base, branch.first_gain + (1 + i) * W, gain);
        add(numbers.base, branch.slot[i], gain);
        take(numbers.base, branch.slot[pressures + i], gain);
      });
    }

    static void evaluate(const Branch& branch, const Numbers& numbers, Verdict& verdict) {
      const Lanes& part = part_of(branch, numbers);
      std::array<P, pressures + 1> at, iterate;
      for_each_direction<pressures + 1>([&](int i) {
        iterate[i] = here(branch, numbers, i);
        if constexpr (limits) at[i] = load(numbers.base, branch.first_point + i * W);
        else at[i] = iterate[i];
      });
      using D = Dual<pressures + 1, P>;
      const D row = part.mismatch(state_of<D>([&](int i) { return D(at[i], i); }))[0].value();
      P residual = row.value, along{0.0};
      const P by_flow = row.slope[pressures], flow = iterate[pressures];
      std::array<P, pressures> by_pressure;
      for_each_direction<pressures>([&](int i) {
        by_pressure[i] = row.slope[i];
        along += abs(by_pressure[i]);
      });
      const P scale = multiply_add(along, numbers.pressure_scale, abs(by_flow) * numbers.flow_scale);
      verdict.judge(residual, scale);
      verdict.pass(flow);
      if constexpr (limits) {  // continued from where a device was linearised to the iterate
        for_each_direction<pressures>([&](int i) { residual = multiply_add(by_pressure[i], iterate[i] - at[i], residual); });
        residual = multiply_add(by_flow, flow - at[pressures], residual);
      }
      assemble(branch, numbers, verdict, flow, residual, scale, by_flow, by_pressure);
    }

    /// What the law leaves at the iterate, as a flow.
    static P left(const Branch& branch, const Numbers& numbers) {
      const P residual = part_of(branch, numbers).mismatch(state_of<P>([&](int i) { return here(branch, numbers, i); }))[0].value();
      return abs(residual * load(numbers.base, branch.first_gain + (3 + pressures) * W));
    }

    static void limit(const Branch& branch, const Numbers& numbers, P& limited) {
      const auto last = state_of<P>([&](int i) { return load(numbers.base, branch.first_point + i * W); });
      auto next = state_of<P>([&](int i) { return here(branch, numbers, i); });
      limited += blend(part_of(branch, numbers).limit(last, next), P(1.0), P(0.0));
      const auto keep = [&](int i, const P& now) { store(numbers.base, branch.first_point + i * W, now); };
      for_each_direction<2>([&](int i) { keep(i, next.pressure[i].value()); });
      for_each_direction<shape.senses>([&](int i) { keep(2 + i, next.sensed[i].value()); });
      keep(pressures, next.flow[0].value());
    }
  };

  template <template <class> class Part>
  static constexpr bool is_branch = !parts::Drops<Part<P>, Dual<1, P>>;

  template <template <class> class Part>
  static void evaluate_law(const Branch*& branch, const Branch* end, int law, const Numbers& numbers, Verdict& verdict) {
    if constexpr (is_branch<Part>)
      for (; branch != end && branch->law == law; ++branch) Law<Part>::evaluate(*branch, numbers, verdict);
  }
  /// Whether no more is left than the reach allows.
  template <template <class> class Part>
  static void look_at_law(const Branch*& branch, const Branch* end, int law, const Numbers& numbers, Mask<Set>& fine) {
    if constexpr (is_branch<Part>)
      for (; branch != end && branch->law == law; ++branch) {
        using L = Law<Part>;
        fine = fine && L::left(*branch, numbers) <= load(numbers.base, branch->first_gain + (2 + L::pressures) * W);
      }
  }
  template <template <class> class Part>
  static void limit_law(const Branch*& branch, const Branch* end, int law, const Numbers& numbers, P& limited) {
    if constexpr (is_branch<Part>)
      for (; branch != end && branch->law == law; ++branch)
        if constexpr (Law<Part>::limits) Law<Part>::limit(*branch, numbers, limited);
  }

 public:
  /// Those from `branch` on, which are sorted by law.
  template <template <class> class... Part>
  static void evaluate(LawList<Part...>, const Branch* branch, const Branch* end, const Numbers& numbers, Verdict& verdict) {
    int law = 0;
    (evaluate_law<Part>(branch, end, law++, numbers, verdict), ...);
  }
  template <template <class> class... Part>
  static void look(LawList<Part...>, const Branch* branch, const Branch* end, const Numbers& numbers, Mask<Set>& fine) {
    int law = 0;
    (look_at_law<Part>(branch, end, law++, numbers, fine), ...);
  }
  template <template <class> class... Part>
  static void limit(LawList<Part...>, const Branch* branch, const Branch* end, const Numbers& numbers, P& limited) {
    int law = 0;
    (limit_law<Part>(branch, end, law++, numbers, limited), ...);
  }
};

}  // namespace flarenut::lanes

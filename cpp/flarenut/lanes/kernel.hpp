#pragma once
/// One Newton iteration of all lanes, written once for every instruction set. The equations are those of
/// `analysis/flow_system.hpp`; here every number is a pack.
///
/// Lanes don't touch each other: each holds a scenario of its own at its own stage, and nothing is decided for all. So what a
/// lane finds does not depend on its neighbours.
///
/// Everything here is a template of the instruction set or stands inside one, `static` and inlined into two functions.

#include "flarenut/lanes/laws.hpp"
#include "flarenut/lanes/outside_parts.hpp"

namespace flarenut::lanes {

template <class Set>
class Iteration : Access<Set> {
  using typename Access<Set>::P;
  using typename Access<Set>::Verdict;
  using Access<Set>::W;
  using Access<Set>::load;
  using Access<Set>::store;
  using Access<Set>::add;
  using Access<Set>::take;
  using Access<Set>::gathered;
  using Other = OutsideParts<Set>;

  /// Eliminates the flow of a part with two ends. Returns minus the inverse of its slope.
  template <int pressures>
  static P eliminate(const Branch& branch, State& state, const P& flow, const P& residual, const P& by_flow) {
    const P inverse = -1.0 / by_flow;
    const P shift = inverse * residual, moved = flow + shift;
    const int from = branch.equation[0], to = branch.equation[1];
    add(state.imbalance, from, flow);
    take(state.imbalance, to, flow);
    take(state.right_side, from, moved);
    add(state.right_side, to, moved);
    store(state.gain, branch.first_gain, shift);
    return inverse;
  }

  /// Adds a part to the matrix by what its flow gains from each of its pressures, or from the difference of two.
  template <int pressures>
  static void assemble(const Branch& branch, State& state, const P& inverse, const std::array<P, pressures>& by_pressure) {
    for_each_direction<pressures>([&](int i) {
      const P gain = inverse * by_pressure[i];
      store(state.gain, branch.first_gain + (1 + i) * W, gain);
      add(state.factor, branch.slot[i], gain);
      take(state.factor, branch.slot[pressures + i], gain);
    });
  }
  static void assemble_drop(const Branch& branch, State& state, const P& gain) {
    store(state.gain, branch.first_gain + W, gain);
    add(state.factor, branch.slot[0], gain);
    take(state.factor, branch.slot[1], gain);
    take(state.factor, branch.slot[2], gain);
    add(state.factor, branch.slot[3], gain);
  }

  /// A part of the list of laws.
  template <template <class> class Part>
  struct Law {
    using Lanes = Part<P>;
    static constexpr parts::Shape shape = Part<double>::shape;
    static constexpr int pressures = shape.ports + shape.senses;
    static_assert(shape.ports == 2 && shape.flows == 1 && (shape.senses == 0 || shape.senses == 2), "parts of another shape are asked lane by lane");
    static_assert(sizeof(Lanes) == W * sizeof(Part<double>), "a part in the lanes is made of doubles alone");
    template <class N>
    using PartState = parts::PartState<N, 2, 1, shape.senses>;
    static constexpr bool drops = parts::Drops<Lanes, Dual<1, P>>;
    static constexpr bool has_opening = parts::HasOpening<Lanes>;
    static constexpr bool limits = requires(const Lanes& part, const PartState<P>& last, PartState<P>& next) {
      part.limit(last, next);
    };

    static const Lanes& part_of(const Branch& branch, const State& state) {
      return *reinterpret_cast<const Lanes*>(state.number + branch.first_number);
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
    static P here(const Branch& branch, const State& state, int i) {
      return i < pressures ? gathered(branch, state, i) : load(state.flow, branch.first_flow);
    }

    static void evaluate(const Branch& branch, State& state, Verdict& verdict) {
      if constexpr (drops) evaluate_drop(branch, state, verdict);
      else evaluate_mismatch(branch, state, verdict);
    }

    static void evaluate_drop(const Branch& branch, State& state, Verdict& verdict) {
      const Lanes& part = part_of(branch, state);
      const P flow = load(state.flow, branch.first_flow);
      P at = flow;
      if constexpr (limits) at = load(state.point, branch.first_point + pressures * W);
      const Dual<1, P> drop = part.drop(MassFlow<Dual<1, P>>::from_value(Dual<1, P>(at, 0))).value();
      P driving = gathered(branch, state, 0) - gathered(branch, state, 1), scale = P(2.0 * state.pressure_scale), opening;
      if constexpr (has_opening) {
        opening = part.opening_squared().value();
        driving *= opening;
        scale *= opening;
      }
      P residual = driving - drop.value;
      if constexpr (limits) residual = multiply_add(drop.slope[0], at - flow, residual);  // continued to the iterate
      verdict.judge(residual, multiply_add(abs(drop.slope[0]), load(state.flow_scale, 0), scale));
      verdict.pass(flow);
      P gain = eliminate<pressures>(branch, state, flow, residual, -drop.slope[0]);
      if constexpr (has_opening) gain *= opening;
      assemble_drop(branch, state, gain);
    }

    static void evaluate_mismatch(const Branch& branch, State& state, Verdict& verdict) {
      const Lanes& part = part_of(branch, state);
      std::array<P, pressures + 1> at, iterate;
      for_each_direction<pressures + 1>([&](int i) {
        iterate[i] = here(branch, state, i);
        if constexpr (limits) at[i] = load(state.point, branch.first_point + i * W);
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
      verdict.judge(residual, multiply_add(along, P(state.pressure_scale), abs(by_flow) * load(state.flow_scale, 0)));
      verdict.pass(flow);
      if constexpr (limits) {  // continued from where a device was linearised to the iterate
        for_each_direction<pressures>([&](int i) { residual = multiply_add(by_pressure[i], iterate[i] - at[i], residual); });
        residual = multiply_add(by_flow, flow - at[pressures], residual);
      }
      assemble<pressures>(branch, state, eliminate<pressures>(branch, state, flow, residual, by_flow), by_pressure);
    }

    static void limit(const Branch& branch, State& state, const Mask<Set>& active) {
      const Lanes& part = part_of(branch, state);
      const auto last = state_of<P>([&](int i) { return load(state.point, branch.first_point + i * W); });
      auto next = state_of<P>([&](int i) { return here(branch, state, i); });
      const auto moved = part.limit(last, next);
      const auto keep = [&](int i, const P& now) {
        store(state.point, branch.first_point + i * W, blend(active, now, load(state.point, branch.first_point + i * W)));
      };
      for_each_direction<2>([&](int i) { keep(i, next.pressure[i].value()); });
      for_each_direction<shape.senses>([&](int i) { keep(2 + i, next.sensed[i].value()); });
      keep(pressures, next.flow[0].value());
      const int place = branch.place;
      store(state.limited, place, blend(active, blend(moved, P(1.0), P(0.0)), load(state.limited, place)));
    }
  };

  // Branches of one law stand together, those from outside first.
  template <template <class> class Part>
  static void evaluate_law(const Branch*& branch, const Branch* end, int law, State& state, Verdict& verdict) {
    for (; branch != end && branch->law == law; ++branch) Law<Part>::evaluate(*branch, state, verdict);
  }
  template <template <class> class... Part>
  static void evaluate_all(LawList<Part...>, const Branch* branch, const Branch* end, State& state, Verdict& verdict) {
    for (; branch != end && branch->law == outside; ++branch) Other::evaluate(*branch, state, verdict);
    int law = 0;
    (evaluate_law<Part>(branch, end, law++, state, verdict), ...);
  }
  template <template <class> class Part>
  static void limit_law(const Branch*& branch, const Branch* end, int law, State& state, const Mask<Set>& active) {
    for (; branch != end && branch->law == law; ++branch)
      if constexpr (Law<Part>::limits) Law<Part>::limit(*branch, state, active);
  }
  template <template <class> class... Part>
  static void limit_all(LawList<Part...>, const Branch* branch, const Branch* end, State& state, const Mask<Set>& active) {
    for (; branch != end && branch->law == outside; ++branch) Other::limit(*branch, state);
    int law = 0;
    (limit_law<Part>(branch, end, law++, state, active), ...);
  }

  static unsigned bits_of(const Mask<Set>& mask) {
    unsigned bits = 0;
    for (int lane = 0; lane < W; ++lane) bits |= mask.holds(lane) ? 1U << lane : 0U;
    return bits;
  }

  /// Judges the equations as single solves are judged (`FlowSystem::accepted`).
  static void judge(const Circuit& circuit, State& state, Verdict& verdict) {
    P worst{0.0};
    for (int row = 0; row < circuit.equations * W; row += W) {
      const P size = abs(load(state.imbalance, row));
      worst = larger(worst, size);
      verdict.sum += size;
      verdict.pass(load(state.demand, row));
    }
    const P mass_error = worst / larger(verdict.largest_flow, 1e-3 * load(state.flow_scale, 0));
    P limited{0.0};
    for (const Branch& branch : circuit.branches)
      if (branch.has_limit) limited += load(state.limited, branch.place);
    store(state.mass_error, 0, mass_error);
    store(state.residual, 0, verdict.worst / verdict.scale);
    state.accepted = bits_of(verdict.worst <= circuit.branch_tolerance * verdict.scale && mass_error <= circuit.mass_tolerance &&
                             limited <= 0.0 && verdict.sum <= 1e300);
    state.broken = bits_of(!(verdict.sum <= 1e300));
  }

  /// LU without pivoting, and the step of each equation's pressure in `right_side`. A pivot that vanishes leaves a lane that
  /// is not a number, and a poor one a step whose mass does not balance: both show in the next verdict.
  static void solve(const Circuit& circuit, State& state) {
    const int n = circuit.equations;
    const int* const start = circuit.fill_start.data();
    const int* const index = circuit.fill_index.data();
    const int* target = circuit.list.data();
    double* const f = state.factor;
    double* const y = state.right_side;
    const double* const upper = f + n * W;
    const double* const lower = upper + circuit.fill_index.size() * W;
    for (int k = 0; k < n; ++k) {
      const P inverse = 1.0 / load(f, k * W);
      store(state.inverse_pivot, k * W, inverse);
      const P here = load(y, k * W);
      const int begin = start[k], end = start[k + 1];
      for (int i = begin; i < end; ++i) {
        const P factor = -(load(lower, i * W) * inverse);
        for (int j = begin; j < end; ++j, ++target) store(f, *target, multiply_add(factor, load(upper, j * W), load(f, *target)));
        store(y, index[i], multiply_add(factor, here, load(y, index[i])));
      }
    }
    for (int k = n - 1; k >= 0; --k) {
      P sum = -load(y, k * W);
      for (int i = start[k]; i < start[k + 1]; ++i) sum = multiply_add(load(upper, i * W), load(y, index[i]), sum);
      store(y, k * W, -(sum * load(state.inverse_pivot, k * W)));
    }
  }

  static void move(const Circuit& circuit, State& state, const Mask<Set>& active) {
    const P nothing{0.0};
    store(state.right_side, circuit.equations * W, nothing);
    for (int row = 0; row < circuit.equations; ++row) {
      const P step = blend(active, load(state.right_side, row * W), nothing);
      store(state.right_side, row * W, step);
      add(state.pressure, circuit.junction_of[row], step);
    }
    for (const Branch& branch : circuit.branches) {
      if (branch.drops) {
        const P along = load(state.right_side, branch.equation[0]) - load(state.right_side, branch.equation[1]);
        const P change = multiply_add(load(state.gain, branch.first_gain + W), along, load(state.gain, branch.first_gain));
        const P flow = load(state.flow, branch.first_flow);
        store(state.flow, branch.first_flow, blend(active, flow + change, flow));
        continue;
      }
      for (int f = 0; f < branch.flows; ++f) {
        const int gains = branch.first_gain + f * (1 + branch.pressures) * W;
        P change = load(state.gain, gains);
        for (int i = 0; i < branch.pressures; ++i)
          change = multiply_add(load(state.gain, gains + (1 + i) * W), load(state.right_side, branch.equation[i]), change);
        const P flow = load(state.flow, branch.first_flow + f * W);
        store(state.flow, branch.first_flow + f * W, blend(active, flow + change, flow));
      }
    }
  }

 public:
  [[gnu::flatten]] static void evaluate(const Circuit& circuit, State& state) {
    const P nothing{0.0};
    for (int i = 0; i <= circuit.factors * W; i += W) store(state.factor, i, nothing);
    for (int row = 0; row <= circuit.equations * W; row += W) {
      const P demand = load(state.demand, row);
      store(state.imbalance, row, demand);
      store(state.right_side, row, -demand);
    }
    Verdict verdict;
    const Branch* const branches = circuit.branches.data();
    evaluate_all(Laws{}, branches, branches + circuit.branches.size(), state, verdict);
    judge(circuit, state, verdict);
  }

  [[gnu::flatten]] static void advance(const Circuit& circuit, State& state) {
    solve(circuit, state);
    const Mask<Set> active = load(state.active, 0) != P(0.0);
    move(circuit, state, active);
    const Branch* const branches = circuit.branches.data();
    limit_all(Laws{}, branches, branches + circuit.branches.size(), state, active);
  }
};

}  // namespace flarenut::lanes

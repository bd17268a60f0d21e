#pragma once
/// Members of runs, kind by kind: what the flow costs in each, and how far a device lets it move. See `kernel.hpp`.

#include <limits>

#include "flarenut/lanes/access.hpp"
#include "flarenut/lanes/laws.hpp"

namespace flarenut::lanes {

template <class Set>
class Members : Access<Set> {
  using typename Access<Set>::P;
  using typename Access<Set>::Number;
  using Access<Set>::W;
  using Access<Set>::load;
  using Access<Set>::store;

  template <template <class> class Part>
  struct Law {
    using Lanes = Part<P>;
    using D = Dual<1, P>;
    using State1 = parts::PartState<P, 2, 1, 0>;
    static_assert(sizeof(Lanes) / sizeof(Number) == W * sizeof(Part<double>) / sizeof(double),
                  "a part in the lanes is made of numbers alone");
    static constexpr bool limits = requires(const Lanes& part, const State1& last, State1& next) { part.limit(last, next); };
    static constexpr bool rubs = requires(const Lanes& part, MassFlow<D> flow) { part.friction(flow); };
    struct Nothing {};
    using Friction = typename std::conditional_t<rubs, std::type_identity<MassFlow<D>>, std::type_identity<Nothing>>::type;

    static const Lanes& part_of(const Member& member, const Number* base) {
      return *reinterpret_cast<const Lanes*>(base + member.number);
    }
    static P flow_of(const Member& member, const Number* base) {
      const P flow = load(base, member.flow);
      return member.reversed ? -flow : flow;
    }

    /// The cost of a flow. Lines that follow each other and have the same bore, roughness and liquid in every lane share what is dear
    /// about friction; no bit of a lane depends on whether they do.
    static D drop_of(const Lanes& part, const MassFlow<D>& flow, [[maybe_unused]] Friction& friction, [[maybe_unused]] const Lanes* like) {
      if constexpr (rubs) {
        if (like == nullptr || !all(part.rubs_as(*like))) friction = part.friction(flow);
        return part.drop(flow, friction).value();
      } else {
        return part.drop(flow).value();
      }
    }

    static void evaluate(const Member*& member, const Member* end, int law, Number* const base) {
      Friction friction;
      const Lanes* before = nullptr;
      for (; member != end && member->law == law; ++member) {
        const Lanes& part = part_of(*member, base);
        const P flow = flow_of(*member, base);
        P at = flow;
        if constexpr (limits) at = load(base, member->point);
        const D drop = drop_of(part, MassFlow<D>::from_value(D(at, 0)), friction, member->follows ? before : nullptr);
        before = &part;
        P value = drop.value;
        if constexpr (limits) value = multiply_add(drop.slope[0], flow - at, value);  // continued to the iterate
        store(base, member->drop, member->reversed ? -value : value);
        store(base, member->drop + W, drop.slope[0]);
        if constexpr (parts::HasOpening<Lanes>) store(base, member->drop + 2 * W, part.opening_squared().value());
      }
    }

    /// Pressures of the iterate at the ends of a run of one; a law that asks for those inside a longer run learns that there are none.
    static State1 iterate(const Run& run, const Number* base) {
      using Pressure = AbsolutePressure<P>;
      State1 here;
      const P none = std::numeric_limits<double>::quiet_NaN();
      here.pressure[0] = Pressure::from_value(run.members == 1 ? load(base, run.junction[0]) : none);
      here.pressure[1] = Pressure::from_value(run.members == 1 ? load(base, run.junction[1]) - load(base, run.head) : none);
      return here;
    }

    static void limit(const Member& member, const Run& run, Number* const base, P& limited) {
      using Flow = MassFlow<P>;
      State1 next = iterate(run, base), last;
      last.pressure.fill(AbsolutePressure<P>::from_value(P(std::numeric_limits<double>::quiet_NaN())));
      last.flow[0] = Flow::from_value(load(base, member.point));
      next.flow[0] = Flow::from_value(flow_of(member, base));
      limited += blend(part_of(member, base).limit(last, next), P(1.0), P(0.0));
      store(base, member.point, next.flow[0].value());
    }
  };

  template <template <class> class Part>
  static void evaluate_law(const Member*& member, const Member* end, int law, Number* base) {
    if constexpr (parts::Drops<Part<P>, Dual<1, P>>) Law<Part>::evaluate(member, end, law, base);
  }
  template <template <class> class Part>
  static void limit_law(const Member*& member, const Member* end, int law, const Circuit& circuit, Number* base, P& limited) {
    for (; member != end && member->law == law; ++member)
      if constexpr (parts::Drops<Part<P>, Dual<1, P>>)
        if constexpr (Law<Part>::limits) Law<Part>::limit(*member, circuit.runs[static_cast<std::size_t>(member->run)], base, limited);
  }

 public:
  template <template <class> class... Part>
  static void evaluate(LawList<Part...>, const Circuit& circuit, Number* base) {
    const Member* member = circuit.members.data();
    const Member* const end = member + circuit.members.size();
    int law = 0;
    (evaluate_law<Part>(member, end, law++, base), ...);
  }
  template <template <class> class... Part>
  static void limit(LawList<Part...>, const Circuit& circuit, Number* base, P& limited) {
    const Member* member = circuit.members.data();
    const Member* const end = member + circuit.members.size();
    int law = 0;
    (limit_law<Part>(member, end, law++, circuit, base, limited), ...);
  }
};

}  // namespace flarenut::lanes

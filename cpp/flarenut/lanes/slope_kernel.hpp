#pragma once
/// Slopes of many parts' laws with all of their numbers: one part in every lane, one way there and one way back for all of its
/// numbers (`autodiff/traced.hpp`). For gradients; compiled once per instruction set, like `kernel.hpp`.

#include "flarenut/lanes/laws.hpp"
#include "flarenut/lanes/pack.hpp"
#include "flarenut/units/traced_quantities.hpp"

namespace flarenut::lanes {

template <class Set>
class Slopes {
  using P = Pack<Set>;
  using N = Traced<P>;
  static constexpr int W = Set::width;

  template <template <class> class Part>
  static N residual_of(const Part<N>& part, const double* point) {
    constexpr parts::Shape shape = Part<N>::shape;
    constexpr int pressures = shape.ports + shape.senses;
    const auto row = [&](int i) { return P::load(point + i * W); };
    if constexpr (parts::Drops<Part<P>, Dual<1, P>>) {
      const N drop = part.drop(MassFlow<P>::from_value(row(pressures))).value();
      if constexpr (parts::HasOpening<Part<P>>) return part.opening_squared().value() * N(row(0) - row(1)) - drop;
      else return -drop;
    } else {
      static_assert(shape.flows == 1);
      parts::PartState<P, shape.ports, shape.flows, shape.senses> state;
      for (int i = 0; i < shape.ports; ++i) state.pressure[i] = AbsolutePressure<P>::from_value(row(i));
      for (int i = 0; i < shape.senses; ++i) state.sensed[i] = AbsolutePressure<P>::from_value(row(shape.ports + i));
      state.flow[0] = MassFlow<P>::from_value(row(pressures));
      return part.mismatch(state)[0].value();
    }
  }

  /// Whether the fields that a spec says to count only together count for none of the lanes.
  template <class Spec>
  static bool idle(const double* number) {
    if constexpr (requires { Spec::together; }) return all(P::load(number + Spec::together.first * W) == P(0.0));
    return false;
  }

  template <template <class> class Part, bool without>
  static void of_pack(const double* number, const double* point, const double* weight, double* slope) {
    using Spec = typename Part<N>::template Spec<N>;
    constexpr auto fields = Spec::fields();
    constexpr int inputs = inputs_of<Part>();
    Trail<P> trail;
    int next = 0;
    const auto take = [&](auto& quantity) {
      N taken = trail.start(P::load(number + next * W));
      if constexpr (without)
        if (Spec::together.holds(next)) taken = N(P(0.0));
      quantity = std::decay_t<decltype(quantity)>::from_value(taken);
      ++next;
    };
    Spec spec;
    fluids::LiquidState<N> liquid;
    std::apply([&](const auto&... field) { (take(spec.*field.member), ...); }, fields);
    take(liquid.density);
    take(liquid.viscosity);
    const Part<N> part(spec, liquid);
    const auto found = trail.template slopes<inputs>(residual_of<Part>(part, point), P::load(weight));
    for_each_direction<inputs>([&](int i) { found[static_cast<std::size_t>(i)].store(slope + i * W); });
  }

  template <template <class> class Part>
  static constexpr int inputs_of() {
    return static_cast<int>(std::tuple_size_v<decltype(Part<N>::template Spec<N>::fields())>) + 2;
  }

  template <template <class> class Part>
  [[gnu::flatten]] static void of_law(int packs, const double* number, const double* point, const double* weight, double* slope) {
    using Spec = typename Part<N>::template Spec<N>;
    constexpr parts::Shape shape = Part<N>::shape;
    constexpr int inputs = inputs_of<Part>(), rows = shape.ports + shape.senses + 1;
    for (int pack = 0; pack < packs; ++pack, number += inputs * W, slope += inputs * W, point += rows * W, weight += W) {
      if constexpr (requires { Spec::together; })
        if (idle<Spec>(number)) {
          of_pack<Part, true>(number, point, weight, slope);
          continue;
        }
      of_pack<Part, false>(number, point, weight, slope);
    }
  }

  template <template <class> class... Part>
  static void of_any(LawList<Part...>, int law, int packs, const double* number, const double* point, const double* weight, double* slope) {
    int place = 0;
    ((place++ == law ? of_law<Part>(packs, number, point, weight, slope) : void()), ...);
  }

 public:
  static void evaluate(int law, int packs, const double* number, const double* point, const double* weight, double* slope) {
    of_any(Laws{}, law, packs, number, point, weight, slope);
  }
};

}  // namespace flarenut::lanes

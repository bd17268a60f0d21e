#pragma once
/// Prepares a part for several rows at once: its constructor, run over packs. Compiled once per instruction set, like `kernel.hpp`.

#include "flarenut/lanes/laws.hpp"
#include "flarenut/lanes/pack.hpp"

namespace flarenut::lanes {

template <class Set>
class Preparing {
  using P = Pack<Set>;
  static constexpr int W = Set::width;

  template <template <class> class Part>
  struct Law {
    using Spec = typename Part<P>::template Spec<P>;
    static constexpr bool checks = requires(const typename Part<double>::template Spec<double>& spec) { spec.check(""); };
    static constexpr bool starts = requires(const Part<P>& part) { part.start_flow(); };
    /// Not those with a check that packs don't know, nor those that start by the pressures they find.
    static constexpr bool can = starts && (!checks || requires(const Spec& spec) { spec.plain(); });

    [[gnu::flatten]] static unsigned prepare(const double* fields, const fluids::LiquidState<>& liquid, double* numbers, double* start) {
      Spec spec;
      Mask<Set> sound = P(0.0) == P(0.0);
      const auto take = [&](const auto& field) {
        const P value = P::load(fields);
        fields += W;
        auto& member = spec.*field.member;
        member = std::decay_t<decltype(member)>::from_value(value);
        sound = sound && value >= P(field.least) && value <= P(field.most);
      };
      std::apply([&](const auto&... field) { (take(field), ...); }, Spec::fields());
      if constexpr (checks) sound = sound && spec.plain();
      Part<P>& part = *reinterpret_cast<Part<P>*>(numbers);
      part = Part<P>(spec, liquid.as<P>());
      part.start_flow()[0].value().store(start);
      unsigned bits = 0;
      for (int lane = 0; lane < W; ++lane) bits |= sound.holds(lane) ? 1U << lane : 0U;
      return bits;
    }
  };

  template <template <class> class Part>
  static unsigned of_law(const double* fields, const fluids::LiquidState<>& liquid, double* numbers, double* start) {
    if constexpr (Law<Part>::can) return Law<Part>::prepare(fields, liquid, numbers, start);
    else return 0;
  }

  template <template <class> class... Part>
  static unsigned of_any(LawList<Part...>, int law, const double* fields, const fluids::LiquidState<>& liquid, double* numbers,
                         double* start) {
    int place = 0;
    unsigned sound = 0;
    ((place++ == law ? void(sound = of_law<Part>(fields, liquid, numbers, start)) : void()), ...);
    return sound;
  }

 public:
  static unsigned prepare(int law, const double* fields, const fluids::LiquidState<>& liquid, double* numbers, double* start) {
    return of_any(Laws{}, law, fields, liquid, numbers, start);
  }
};

}  // namespace flarenut::lanes

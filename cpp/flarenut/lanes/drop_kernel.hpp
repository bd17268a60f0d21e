#pragma once
/// Drops of many parts of one kind at once: one scenario, a part in every lane. For single solves, where `kernel.hpp` would leave
/// all lanes but one idle. Compiled once per instruction set, like that.

#include "flarenut/lanes/laws.hpp"
#include "flarenut/lanes/pack.hpp"

namespace flarenut::lanes {

template <class Set>
class Drops {
  using P = Pack<Set>;
  static constexpr int W = Set::width;

  template <template <class> class Part>
  [[gnu::flatten]] static void of_law(int packs, const double* number, const double* flow, double* drop, double* slope) {
    if constexpr (parts::Drops<Part<P>, Dual<1, P>>) {
      constexpr int numbers = sizeof(Part<P>) / sizeof(double);
      for (int pack = 0; pack < packs; ++pack, number += numbers, flow += W, drop += W, slope += W) {
        const auto& part = *reinterpret_cast<const Part<P>*>(number);
        const Dual<1, P> found = part.drop(MassFlow<Dual<1, P>>::from_value(Dual<1, P>(P::load(flow), 0))).value();
        found.value.store(drop);
        found.slope[0].store(slope);
      }
    }
  }

  template <template <class> class... Part>
  static void of_any(LawList<Part...>, int law, int packs, const double* number, const double* flow, double* drop, double* slope) {
    int place = 0;
    ((place++ == law ? of_law<Part>(packs, number, flow, drop, slope) : void()), ...);
  }

 public:
  static void evaluate(int law, int packs, const double* number, const double* flow, double* drop, double* slope) {
    of_any(Laws{}, law, packs, number, flow, drop, slope);
  }
};

}  // namespace flarenut::lanes

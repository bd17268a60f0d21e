#include "flarenut/fluids/blends.hpp"

#include <sstream>

namespace flarenut::fluids {

namespace {

constexpr double pascal_per_psi = 6894.757293168361;
constexpr double least_reid = 2.0 * pascal_per_psi, most_reid = 20.0 * pascal_per_psi;

/// Mole share of the alcohol and the ratio of molar volumes, gasoline over alcohol, at 15 °C.
struct Composition {
  double mole_share, molar_volume_ratio;
};

Composition composition(const LiquidRecord& gasoline, const AlcoholBlend& blend, double volume_share) {
  const double kelvin_15 = ice_point_kelvin + 15.0;
  const double alcohol_volume =
      blend.alcohol_molar_mass / evaluate(blend.alcohol[PropertyName::density].law, kelvin_15);
  const double gasoline_volume =
      blend.gasoline_molar_mass / evaluate(gasoline[PropertyName::density].law, kelvin_15);
  const double alcohol_moles = volume_share / alcohol_volume;
  const double gasoline_moles = (1.0 - volume_share) / gasoline_volume;
  return {alcohol_moles / (alcohol_moles + gasoline_moles), gasoline_volume / alcohol_volume};
}

template <Number N>
N reid(const Composition& mix, const LiquidRecord& alcohol, double gasoline_reid, const N& a12, const N& a21) {
  const double alcohol_pressure = evaluate(alcohol[PropertyName::vapour_pressure].law, reid_kelvin);
  return bubble_pressure(mix.mole_share, N(reid_kelvin), mix.molar_volume_ratio, a12, a21, N(alcohol_pressure),
                         N(gasoline_reid));
}

}  // namespace

double blend_reid(const LiquidRecord& gasoline, const AlcoholBlend& blend, double gasoline_reid_pascal) {
  return reid(composition(gasoline, blend, blend.volume_share), blend.alcohol, gasoline_reid_pascal,
              blend.wilson.a12_kelvin, blend.wilson.a21_kelvin);
}

double gasoline_reid_for_blend(const LiquidRecord& gasoline, const AlcoholBlend& blend, double blend_reid_pascal) {
  // Bubble pressure is linear in the gasoline's own pressure at fixed composition.
  const double least = blend_reid(gasoline, blend, least_reid), most = blend_reid(gasoline, blend, most_reid);
  const double found =
      least_reid + (most_reid - least_reid) * (blend_reid_pascal - least) / (most - least);
  if (!(found >= least_reid && found <= most_reid)) {
    std::ostringstream trouble;
    trouble << blend_reid_pascal / 1000.0 << " kPa cannot be had with this much alcohol: gasolines of 2 to 20 psi give "
            << least / 1000.0 << " to " << most / 1000.0 << " kPa";
    throw InputError(gasoline.name, "Reid vapour pressure of the blend", trouble.str());
  }
  return found;
}

WilsonPair wilson_through(const LiquidRecord& gasoline, const AlcoholBlend& blend, const BlendReidPoint& lean,
                          const BlendReidPoint& rich) {
  // Newton on two equations in two unknowns, from the middle of what alcohol–hydrocarbon pairs have, steps held to 200 K.
  WilsonPair pair{900.0, 150.0};
  const BlendReidPoint* points[2] = {&lean, &rich};
  for (int turn = 0; turn < 60; ++turn) {
    Dual<2> miss[2];
    for (int i = 0; i < 2; ++i) {
      const Composition mix = composition(gasoline, blend, points[i]->volume_share);
      miss[i] = reid(mix, blend.alcohol, points[i]->gasoline_reid_pascal, Dual<2>(pair.a12_kelvin, 0),
                     Dual<2>(pair.a21_kelvin, 1)) -
                points[i]->blend_reid_pascal;
    }
    const auto& [f, g] = miss;
    const double determinant = f.slope[0] * g.slope[1] - f.slope[1] * g.slope[0];
    const double step_12 = (f.value * g.slope[1] - g.value * f.slope[1]) / determinant;
    const double step_21 = (g.value * f.slope[0] - f.value * g.slope[0]) / determinant;
    const double largest = std::max(std::abs(step_12), std::abs(step_21));
    if (!std::isfinite(largest)) break;
    const double held = std::min(1.0, 200.0 / largest);
    pair.a12_kelvin -= held * step_12;
    pair.a21_kelvin -= held * step_21;
    if (largest < 1e-8) return pair;
  }
  throw InputError(gasoline.name, "Reid vapour pressure of the blend",
                   "no Wilson constants pass through the two blends given; check the points");
}

LiquidRecord with_reid(LiquidRecord gasoline, const AbsolutePressure<>& reid) {
  gasoline[PropertyName::vapour_pressure].law = refined_stock_saturation(reid.value());
  return gasoline;
}

}  // namespace flarenut::fluids

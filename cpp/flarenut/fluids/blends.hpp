#pragma once
/// Alcohol in gasoline: E10, E30, E85, any share.
///
/// Ten per cent ethanol raises the Reid vapour pressure of a gasoline by about 1 psi, twenty by as much again no
/// more, and only above about half does the alcohol pull it down: a positive azeotrope. The rules are in `mixing.hpp`;
/// here the two constants of the Wilson equation are fitted to two measured Reid pressures, and Reid pressures of
/// blends are computed, so that a finished fuel can be asked for by its own Reid pressure.

#include <string>

#include "flarenut/fluids/liquid.hpp"

namespace flarenut::fluids {

/// Where Reid pressure is measured: 100 °F.
inline constexpr double reid_kelvin = 310.927777777777778;

/// One measured blend: volume share of alcohol, Reid pressure of the gasoline alone and of the blend [Pa].
struct BlendReidPoint {
  double volume_share = 0.0;
  double gasoline_reid_pascal = 0.0;
  double blend_reid_pascal = 0.0;
};

/// Reid vapour pressure of a blend from that of its gasoline [Pa]. At 37.8 °C the gasoline enters with its Reid
/// pressure and the alcohol with its vapour pressure; air and the 4:1 vapour space of the test are taken to act on
/// the blend as on the gasoline.
double blend_reid(const LiquidRecord& gasoline, const AlcoholBlend& blend, double gasoline_reid_pascal);

/// The gasoline Reid pressure that gives the blend this one. Throws InputError when none between 2 and 20 psi does.
double gasoline_reid_for_blend(const LiquidRecord& gasoline, const AlcoholBlend& blend, double blend_reid_pascal);

/// Wilson constants that pass through two measured blends. Throws InputError when there are none.
WilsonPair wilson_through(const LiquidRecord& gasoline, const AlcoholBlend& blend, const BlendReidPoint& lean,
                          const BlendReidPoint& rich);

/// A gasoline with its vapour pressure replaced by the AP-42 equation at another Reid pressure.
LiquidRecord with_reid(LiquidRecord gasoline, const AbsolutePressure<>& reid);

}  // namespace flarenut::fluids

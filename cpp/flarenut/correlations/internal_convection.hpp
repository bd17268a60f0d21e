#pragma once
/// How well a liquid hands its heat to the bore it runs in: hoses, tubes, passages of coolers.
///
///     h = Nu k/D   [W/(m² K)],    Re = ρ|V|D/μ,    Pr = μ cp/k,    Gz = Re Pr D/L
///
/// D is the bore, or the hydraulic diameter 4·(area)/(wetted edge) of a flat tube; L the length from where heating or
/// cooling begins; k the liquid's conductivity; properties at the mean temperature of the stream. In shop words: slow
/// thick oil hides its heat, because the layer at the wall cools, thickens and stands; turbulence strips that layer.
///
/// `tube_nusselt` is the law for circuits; what it is made of can be called by itself.
///
/// - **Laminar**, Re ≤ 2300: Nu = Nu∞ + 0.0668 Gz/(1 + 0.04 Gz^(2/3)), mean over the length, wall at one temperature
///   (H. Hausen 1943). Nu∞ = 3.6568 in a round bore. Developed flow at the inlet, as in thick oils, whose velocity
///   settles hundreds of times sooner than their temperature; air and coolant do better near an inlet than this says.
///   Some books print 0.065 for 0.0668: up to 2.7 % less.
/// - **Turbulent**, Re ≥ 4000: Nu = (f/8)(Re − 1000) Pr/(1 + 12.7 √(f/8) (Pr^(2/3) − 1)) · (1 + (D/L)^(2/3)),
///   f = (0.790 ln Re − 1.64)^−2 (V. Gnielinski, Int. Chem. Eng. 16, 359, 1976; smooth friction of Petukhov 1970).
///   Range 3000 to 5·10⁶, Pr 0.5 to 2000; ±10 % of most data, ±20 % of all. Roughness is left out: it may only help.
/// - **Between**: weight smooth_step((Re − 2300)/1700) from one to the other, both at the actual Re. Gnielinski (Int. J.
///   Heat Mass Transfer 63, 134, 2013, from memory) draws a straight line between the same two ends; ours has no corners.
///   A convention, not a measurement: real flow there can be off by a factor of two.
/// - **Wall cooler or hotter than the stream**: times (μ/μ_wall)^0.14 when laminar (Sieder and Tate 1936), ^0.11 when
///   turbulent (Gnielinski's (Pr/Pr_wall)^0.11, cp and k taken as steady). Range 0.05 to 20; μ_wall at the wall's temperature.
///
/// At rest Nu = Nu∞ with a finite slope. All arguments dimensionless, ≥ 0, Re a magnitude; plain or dual numbers.

#include <cmath>
#include <numbers>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/autodiff/smooth.hpp"
#include "flarenut/correlations/chain.hpp"

namespace flarenut::correlations {

/// Nu of developed laminar flow in a round bore: wall at one temperature (Graetz), and one heat flux all along, 48/11.
inline constexpr double laminar_nusselt_constant_wall = 3.6568;
inline constexpr double laminar_nusselt_constant_flux = 48.0 / 11.0;
/// Heat transfer is taken as laminar below and turbulent above (Gnielinski 2013); friction.hpp blends from 2000.
inline constexpr double laminar_convection_limit = 2300.0, turbulent_convection_limit = 4000.0;

// ---- laminar ---------------------------------------------------------------------------------------------------

/// Developed laminar Nu of a rectangle on its hydraulic diameter; `aspect` = short side over long side, 0 to 1. A flat
/// tube with round ends is taken as the rectangle of its height and width. R. K. Shah and A. L. London, "Laminar Flow
/// Forced Convection in Ducts", 1978 (wall temperature: coefficients from memory; 7.541 between plates, 2.976 square).
template <Number T>
T rectangle_nusselt_constant_wall(const T& aspect) {
  return 7.541 * (1.0 + aspect * (-2.610 + aspect * (4.970 + aspect * (-5.119 + aspect * (2.702 - 0.548 * aspect)))));
}
/// The same with one heat flux along and one wall temperature around; 8.235 between plates, 3.61 square.
template <Number T>
T rectangle_nusselt_constant_flux(const T& aspect) {
  return 8.235 * (1.0 + aspect * (-2.0421 + aspect * (3.0853 + aspect * (-2.4765 + aspect * (1.0578 - 0.1861 * aspect)))));
}

/// Hydraulic diameter of a rectangle, and of a flat tube with round ends (`width` ≥ `height`), in the unit of the sides.
template <Number T>
T rectangle_hydraulic_diameter(const T& width, const T& height) { return 2.0 * width * height / (width + height); }
template <Number T>
T flat_tube_hydraulic_diameter(const T& width, const T& height) {
  const T flat = width - height;
  return 4.0 * height * (flat + 0.25 * std::numbers::pi * height) / (2.0 * flat + std::numbers::pi * height);
}

/// Mean Nu over a length that begins cold: Hausen 1943. `graetz` = Re Pr D/L. For other shapes than a round bore give
/// their developed Nu: an extension of ours, up to 16 % above the flat-plate form 7.54 + 0.03 Gz/(1 + 0.016 Gz^(2/3)).
template <Number T>
T hausen_nusselt(const T& graetz, double developed = laminar_nusselt_constant_wall) {
  using std::pow;
  return developed + 0.0668 * graetz / (1.0 + 0.04 * pow(graetz, 2.0 / 3.0));
}

/// 1.86 Gz^(1/3) (μ/μ_wall)^0.14, E. N. Sieder and G. E. Tate 1936, for Gz above 10 or so: for comparison; at rest it is
/// zero with an infinite slope.
inline double sieder_tate_laminar_nusselt(double graetz, double viscosity_ratio) {
  return 1.86 * std::cbrt(graetz) * std::pow(viscosity_ratio, 0.14);
}

// ---- turbulent -------------------------------------------------------------------------------------------------

/// Darcy factor of a smooth bore, (0.790 ln Re − 1.64)^−2; Re 3000 to 5·10⁶ (B. S. Petukhov 1970).
template <Number T>
T petukhov_friction_factor(const T& reynolds) {
  using std::log;
  const T root = 0.790 * log(reynolds) - 1.64;
  return 1.0 / (root * root);
}

/// Gnielinski 1976 with a given Darcy factor, far from the inlet. Re above 1000.
template <Number Re, Number Pr, Number F>
Combined<Re, Pr, F> gnielinski_nusselt(const Re& reynolds, const Pr& prandtl, const F& darcy_factor) {
  using std::pow;
  using std::sqrt;
  const auto eighth = darcy_factor * 0.125;
  return eighth * (reynolds - 1000.0) * prandtl / (1.0 + 12.7 * sqrt(eighth) * (pow(prandtl, 2.0 / 3.0) - 1.0));
}

/// Petukhov 1970, what Gnielinski's is made from: (f/8) Re Pr/(1.07 + 12.7 √(f/8) (Pr^(2/3) − 1)); Re 10⁴ to 5·10⁶. For
/// comparison.
inline double petukhov_nusselt(double reynolds, double prandtl, double darcy_factor) {
  const double eighth = darcy_factor / 8.0;
  return eighth * reynolds * prandtl / (1.07 + 12.7 * std::sqrt(eighth) * (std::pow(prandtl, 2.0 / 3.0) - 1.0));
}

/// 0.023 Re^0.8 Pr^n, n = 0.4 for a stream being heated and 0.3 for one being cooled (Dittus and Boelter 1930, as books
/// print it); Re above 10⁴, Pr 0.7 to 160. For comparison: within 18 % of
/// Gnielinski up to Re 10⁵, a third below it at 10⁶.
inline double dittus_boelter_nusselt(double reynolds, double prandtl, bool heated) {
  return 0.023 * std::pow(reynolds, 0.8) * std::pow(prandtl, heated ? 0.4 : 0.3);
}

/// 0.027 Re^0.8 Pr^(1/3) (μ/μ_wall)^0.14, Sieder and Tate 1936; Re above 10⁴, Pr 0.7 to 16 700. For comparison:
/// a third above Gnielinski in gases, a quarter below it in oils at Re 10⁵.
inline double sieder_tate_turbulent_nusselt(double reynolds, double prandtl, double viscosity_ratio) {
  return 0.027 * std::pow(reynolds, 0.8) * std::cbrt(prandtl) * std::pow(viscosity_ratio, 0.14);
}

// ---- the law ---------------------------------------------------------------------------------------------------

/// Mean Nu of a length of bore from rest to Re = 5·10⁶. `bore_over_length` D/L, above 0 and up to 1 or so; 0 is far from the
/// inlet. `viscosity_ratio` = μ of the stream over μ at the wall, 1 if unknown; `developed` as in `hausen_nusselt`.
template <Number Re, Number Pr, Number L, Number V>
Combined<Re, Pr, L, V> tube_nusselt(const Re& reynolds, const Pr& prandtl, const L& bore_over_length, const V& viscosity_ratio,
                                    double developed = laminar_nusselt_constant_wall) {
  using Result = Combined<Re, Pr, L, V>;
  using std::pow;
  constexpr double width = turbulent_convection_limit - laminar_convection_limit;
  const double at = value_of(reynolds);

  const auto laminar = [&] {
    const Combined<Re, Pr, L> graetz = reynolds * prandtl * bore_over_length;
    return Result(hausen_nusselt(graetz, developed) * pow(viscosity_ratio, 0.14));
  };
  const auto turbulent = [&] {
    return Result(gnielinski_nusselt(reynolds, prandtl, petukhov_friction_factor(reynolds)) *
                  (1.0 + pow(bore_over_length, 2.0 / 3.0)) * pow(viscosity_ratio, 0.11));
  };
  if (at <= laminar_convection_limit) return laminar();
  if (at >= turbulent_convection_limit) return turbulent();
  const Re weight = smooth_step(Re((reynolds - laminar_convection_limit) * (1.0 / width)));
  const Result slow = laminar();
  return slow + weight * (turbulent() - slow);
}

}  // namespace flarenut::correlations

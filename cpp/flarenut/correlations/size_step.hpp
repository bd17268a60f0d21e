#pragma once
/// Changes of bore: a hose end smaller than its hose, an adapter, a tank outlet, a return into a tank.
///
/// All K refer to the velocity in the **smaller** bore: Δp_total = K · ½ρV_small². β = d_small/d_large, 0 to 1.
/// Total pressure is taken with a kinetic-energy factor of 1.
///
/// Turbulent values:
/// - sudden expansion: (1 − β²)²                    Borda–Carnot, from the momentum balance
/// - sudden contraction: 0.5 (1 − β²)               Crane Technical Paper 410
/// - cone of included angle θ, expanding: 2.6 sin(θ/2) (1 − β²)² to 45°, sudden above (A. H. Gibson 1912; TP 410)
/// - cone, contracting: 0.8 sin(θ/2) (1 − β²) to 45°, 0.5 √sin(θ/2) (1 − β²) above (TP 410)
/// - entrance from a tank: sharp 0.5, projecting inwards 0.78, rounded by the table below (TP 410; one modern
///   handbook, Rennels and Hudson 2012, gives 0.57 for the sharp one)
/// - exit into a tank: 1, whatever the edge
///
/// The two angle formulas of each cone do not quite meet at 45° (2.6 sin 22.5° = 0.995, not 1; 0.306 against 0.309).
/// Here the expanding factor steps by those 0.5 % at 45°, and the contracting one takes the smaller of the two: continuous.
///
/// Viscous share (K1/Re, Re on the smaller bore), so that cold oil has a slope at rest:
/// - entering a smaller bore: 160/Re for an entrance (Hooper 1981, two-K table), scaled here by (1 − β⁴) for a step,
///   the factor of Hooper's laminar contraction (Chem. Eng., Nov. 7, 1988). His own 160/Re on the larger bore grows
///   without limit as the larger side becomes a tank, and is not used.
/// - leaving a smaller bore: no published table (Hooper gives zero). The creeping-flow end correction of a tube in a
///   wall is used, half of Δp = 3μQ/R³ (R. A. Sampson 1891; Dagan, Weinbaum and Pfeffer, J. Fluid Mech. 115, 1982),
///   which is K1 = 6π, scaled by (1 − β⁴). The scaling is ours.
/// The plateau between (laminar profiles lose more in an entrance, Hagenbach 1860) is not modelled: it would make
/// pressure fall with flow through transition.

#include <array>
#include <cmath>
#include <numbers>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/correlations/chain.hpp"

namespace flarenut::correlations {

inline constexpr double entrance_viscous_constant = 160.0;
inline constexpr double exit_viscous_constant = 6.0 * std::numbers::pi;
inline constexpr double sharp_entrance_loss = 0.5;
inline constexpr double projecting_entrance_loss = 0.78;
inline constexpr double exit_loss = 1.0;

template <Number T>
T sudden_expansion_loss(const T& diameter_ratio) {
  const T left = 1.0 - diameter_ratio * diameter_ratio;
  return left * left;
}

template <Number T>
T sudden_contraction_loss(const T& diameter_ratio) {
  return 0.5 * (1.0 - diameter_ratio * diameter_ratio);
}

/// Share of the sudden value for a cone of included angle θ [rad], 0 to π.
template <Number Angle>
Angle expanding_cone_factor(const Angle& included_angle) {
  using std::sin;
  const Angle gibson = 2.6 * sin(0.5 * included_angle);
  const bool slender = value_of(included_angle) < 0.25 * std::numbers::pi;
  return slender ? gibson : Angle(1.0);
}
template <Number Angle>
Angle contracting_cone_factor(const Angle& included_angle) {
  using std::sin;
  using std::sqrt;
  if (value_of(included_angle) >= std::numbers::pi) return Angle(1.0);
  const Angle half_sine = sin(0.5 * included_angle);
  const Angle slender = 1.6 * half_sine;
  const Angle blunt = sqrt(half_sine);
  return slender < blunt ? slender : blunt;
}

template <Number T, Number Angle>
Combined<T, Angle> gradual_expansion_loss(const T& diameter_ratio, const Angle& included_angle) {
  return expanding_cone_factor(included_angle) * sudden_expansion_loss(diameter_ratio);
}

template <Number T, Number Angle>
Combined<T, Angle> gradual_contraction_loss(const T& diameter_ratio, const Angle& included_angle) {
  return contracting_cone_factor(included_angle) * sudden_contraction_loss(diameter_ratio);
}

/// Entrance with its edge rounded to radius r, flush with the wall: TP 410 table, straight lines between.
inline double rounded_entrance_loss(double radius_over_bore) {
  constexpr std::array<double, 6> radius{0.0, 0.02, 0.04, 0.06, 0.10, 0.15};
  constexpr std::array<double, 6> loss{0.5, 0.28, 0.24, 0.15, 0.09, 0.04};
  if (radius_over_bore <= radius.front()) return loss.front();
  for (std::size_t i = 1; i < radius.size(); ++i) {
    if (radius_over_bore < radius[i]) {
      const double along = (radius_over_bore - radius[i - 1]) / (radius[i] - radius[i - 1]);
      return loss[i - 1] + along * (loss[i] - loss[i - 1]);
    }
  }
  return loss.back();
}

/// K·Re of any step passed from the larger to the smaller bore, from its turbulent K. β = 0 for a tank.
template <Number Re, Number K, Number Ratio>
Combined<Re, K, Ratio> contraction_times_reynolds(const Re& small_bore_reynolds, const K& turbulent_loss,
                                                  const Ratio& diameter_ratio) {
  const Ratio ratio_squared = diameter_ratio * diameter_ratio;
  return entrance_viscous_constant * (1.0 - ratio_squared * ratio_squared) + turbulent_loss * small_bore_reynolds;
}

/// K·Re of any step passed from the smaller to the larger bore.
template <Number Re, Number K, Number Ratio>
Combined<Re, K, Ratio> expansion_times_reynolds(const Re& small_bore_reynolds, const K& turbulent_loss,
                                                const Ratio& diameter_ratio) {
  const Ratio ratio_squared = diameter_ratio * diameter_ratio;
  return exit_viscous_constant * (1.0 - ratio_squared * ratio_squared) + turbulent_loss * small_bore_reynolds;
}

}  // namespace flarenut::correlations

#pragma once
/// Restrictors: a thin drilled plate or jet, and a short drilled hole (length two to ten bores).
///
/// d is the hole, D the line it sits in, β = d/D; V and Re are those of the **hole**.
///
/// **Meter and restrictor are different questions.** A meter reads the static difference between two taps,
/// Δp_tap = ½ρV² (1 − β⁴)/C². A circuit loses only what the jet does not give back downstream:
///
///     Δp_lost = K · ½ρV²,    K = ( √(1 − β⁴(1 − C²))/C − β² )²
///
/// (ISO 5167-2:2003, section 5.4, permanent loss; it is Borda–Carnot from the contracted jet to the line, and goes to
/// 1/C² between large spaces and to 0 as β → 1). The laws use the second.
///
/// **Thin, sharp-edged plate.** C at high Reynolds number from the part of the Reader-Harris/Gallagher equation (ISO
/// 5167-2:2003, Eq. 4, corner taps) that does not depend on Re: 0.5961 + 0.0261 β² − 0.216 β⁸, β ≤ 0.75; above, the
/// value at 0.75 is kept, an extrapolation that hardly matters since K goes to 0. At rest the creeping flow through a
/// hole in a thin wall, Δp = 3μQ/R³ (R. A. Sampson 1891), which is K·Re = 12π. Law used: K = K∞ + 12π/Re. Between Re 10
/// and 1000 real plates pass up to about a tenth more than that (common practice, no source): the sum is a smooth,
/// monotone stand-in for a hump that depends on the edge. ISO 5167 itself covers d > 12.5 mm, D ≥ 50 mm, Re_D ≥ 5000;
/// the small jets of vehicles are outside it, and a measured C beats the formula.
///
/// **Short tube, sharp entry**: Lichtarowicz, Duggins and Markland, J. Mech. Eng. Sci. 7, 210 (1965), L/d 2 to 10:
///
///     1/Cd = 1/Cu + (20/Re*)(1 + 2.25 L/d) − 0.005 (L/d)/(1 + 7.5 (log10 0.00015 Re*)²),   Cu = 0.827 − 0.0085 L/d
///
/// with Q = Cd A √(2Δp/ρ). The equation is from memory. Its Reynolds number must be that of the *ideal* velocity,
/// Re* = d √(2Δp/ρ)/ν = Re/Cd: only then does 1/Cd ∝ 1/Re* turn into the Hagen–Poiseuille law at low flow (slope 45 L/d
/// + 20 against the exact 64 L/d plus an end correction of about 38), while with the actual velocity pressure would not
/// vanish with flow. Solving for K = 1/Cd² at a given actual Re is a quadratic: 1/Cd = ½(a + √(a² + 4B/Re)), a the
/// terms without Re*, B = 20 (1 + 2.25 L/d), so K·Re → B at rest.
///
/// No cavitation, incompressible flow. Re ≥ 0 a magnitude.

#include <cmath>
#include <numbers>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/correlations/chain.hpp"

namespace flarenut::correlations {

/// Where a meter's taps sit: distances of the upstream tap from the plate and of the downstream tap from the plate's
/// back face, in line bores. Corner 0, 0; D and D/2: 1, 0.47; flange: 25.4 mm / D each.
struct TapPositions {
  double upstream_over_bore = 0.0;
  double downstream_over_bore = 0.0;
};

/// Discharge coefficient of an orifice plate meter (Reader-Harris/Gallagher, ISO 5167-2:2003 Eq. 4). Re on the line bore
/// D [m]. For reading meters and as a judge; unbounded at rest, so not for laws. β 0.1 to 0.75.
inline double orifice_meter_coefficient(double line_reynolds, double beta, double line_bore_m, TapPositions taps = {}) {
  const double a = std::pow(19000.0 * beta / line_reynolds, 0.8);
  const double beta_4 = beta * beta * beta * beta;
  const double up = taps.upstream_over_bore;
  const double dam = 2.0 * taps.downstream_over_bore / (1.0 - beta);
  double c = 0.5961 + 0.0261 * beta * beta - 0.216 * beta_4 * beta_4;
  c += 0.000521 * std::pow(1e6 * beta / line_reynolds, 0.7);
  c += (0.0188 + 0.0063 * a) * std::pow(beta, 3.5) * std::pow(1e6 / line_reynolds, 0.3);
  c += (0.043 + 0.080 * std::exp(-10.0 * up) - 0.123 * std::exp(-7.0 * up)) * (1.0 - 0.11 * a) * beta_4 / (1.0 - beta_4);
  c -= 0.031 * (dam - 0.8 * std::pow(dam, 1.1)) * std::pow(beta, 1.3);
  constexpr double small_line_m = 0.07112;
  if (line_bore_m < small_line_m) c += 0.011 * (0.75 - beta) * (2.8 - line_bore_m / 0.0254);
  return c;
}

/// The coefficient of a sharp plate at high Reynolds number, the default where no measured one is known.
template <Number T>
T sharp_orifice_coefficient(const T& beta) {
  const T bounded = value_of(beta) < 0.75 ? beta : T(0.75);
  const T b2 = bounded * bounded;
  const T b4 = b2 * b2;
  return 0.5961 + 0.0261 * b2 - 0.216 * b4 * b4;
}

/// K∞: permanent total-pressure loss on the hole's velocity head, from a discharge coefficient.
template <Number Beta, Number Coefficient>
Combined<Beta, Coefficient> orifice_permanent_loss(const Beta& beta, const Coefficient& discharge_coefficient) {
  using std::sqrt;
  const Beta b2 = beta * beta;
  const auto jet = sqrt(1.0 - b2 * b2 * (1.0 - discharge_coefficient * discharge_coefficient)) / discharge_coefficient;
  const auto left = jet - b2;
  return left * left;
}

inline constexpr double orifice_viscous_constant = 12.0 * std::numbers::pi;  // Sampson 1891

/// K·Re of a thin sharp-edged restrictor from its K∞: Δp_lost = (K·Re) μV/(2d).
template <Number Re, Number K>
Combined<Re, K> orifice_times_reynolds(const Re& hole_reynolds, const K& permanent_loss) {
  return orifice_viscous_constant + permanent_loss * hole_reynolds;
}

/// Discharge coefficient of a short tube, as published, at the Reynolds number Re* of the ideal velocity.
inline double short_tube_coefficient(double ideal_reynolds, double length_over_bore) {
  const double decade = std::log10(0.00015 * ideal_reynolds);
  const double inverse = 1.0 / (0.827 - 0.0085 * length_over_bore) +
                         20.0 / ideal_reynolds * (1.0 + 2.25 * length_over_bore) -
                         0.005 * length_over_bore / (1.0 + 7.5 * decade * decade);
  return 1.0 / inverse;
}

/// K·Re of a short tube between large spaces at the actual Re of its bore, L/d 2 to 10.
/// An offset of 1e-4 in Re keeps the slope of the square root finite at rest (K·Re off by under 0.3 % there).
template <Number Re, Number Length>
Combined<Re, Length> short_tube_times_reynolds(const Re& reynolds, const Length& length_over_bore) {
  using Result = Combined<Re, Length>;
  using std::log;
  using std::sqrt;
  const Length viscous = 20.0 * (1.0 + 2.25 * length_over_bore);
  const Length ideal = 1.0 / (0.827 - 0.0085 * length_over_bore);
  const Re shifted = reynolds + 1e-4;
  const auto inverse_coefficient = [&](const auto& a) -> Result {
    return 0.5 * (a + sqrt(a * a + 4.0 * viscous / shifted));
  };

  const Result first = inverse_coefficient(Result(ideal));
  const Result decade = log(0.00015 * shifted * first) * (1.0 / std::numbers::ln10);
  const Result second = inverse_coefficient(Result(ideal - 0.005 * length_over_bore / (1.0 + 7.5 * decade * decade)));
  return second * second * shifted;
}

}  // namespace flarenut::correlations

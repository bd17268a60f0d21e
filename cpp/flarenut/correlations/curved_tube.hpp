#pragma once
/// Friction in tube wound in a coil or laid in a long arc, and the loss of one formed bend.
///
/// In a curved bore the faster core is thrown outwards and a double swirl mixes the flow: friction rises, and the flow
/// stays laminar to a higher Reynolds number. With d the bore, D the diameter of the coil (twice the radius of the
/// centreline) and the Dean number De = Re √(d/D), relative to a straight bore at the same Re:
///
/// - **Laminar**: fc/fs = 1 / (1 − (1 − (11.6/De)^0.45)^(1/0.45)) for De > 11.6, else 1.
///   Range 11.6 < De < 2000, d/D 0.0004 to 0.066. C. M. White, Proc. R. Soc. A 123, 645 (1929).
///   The formula leaves 1 with a 2.2th power, so value and slope join without help.
/// - **Turbulent**: f √(D/d) = 0.029 + 0.304 x^−0.25 with x = Re (d/D)², 0.034 < x < 300, smooth tube; straight
///   below. H. Ito, Trans. ASME J. Basic Eng. 81, 123 (1959). Against Blasius' 0.3164 Re^−0.25, from which Ito starts,
///   that is fc/fs = 0.9608 + 0.09166 x^0.25. The ratio is applied here to Colebrook–White, so that roughness is kept:
///   an extension of ours, since Ito measured smooth tubes.
/// - **Transition**: laminar up to Re_crit = 20000 (d/D)^0.32 (Ito 1959; d/D 0.00116 to 0.067), never below the 2000
///   of a straight bore; turbulent from 2000 more; blended between by smooth_step as in friction.hpp. With d/D = 0
///   everything is exactly friction.hpp.
///
/// Arguments dimensionless, Re ≥ 0 a magnitude; plain or dual numbers.

#include <cmath>
#include <numbers>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/autodiff/smooth.hpp"
#include "flarenut/correlations/friction.hpp"

namespace flarenut::correlations {

/// fc/fs in laminar flow (White 1929). `dean` = Re √(d/D).
template <Number T>
T curved_laminar_ratio(const T& dean) {
  using std::pow;
  constexpr double onset = 11.6;
  if (value_of(dean) <= onset) return T(1.0);
  return 1.0 / (1.0 - pow(1.0 - pow(onset / dean, 0.45), 1.0 / 0.45));
}

/// Reynolds number up to which flow in a coil stays laminar (Ito 1959); 2000 for gentle curves.
template <Number T>
T curved_critical_reynolds(const T& d_over_coil) {
  using std::pow;
  const T critical = 20000.0 * pow(d_over_coil, 0.32);
  return value_of(critical) > laminar_reynolds_limit ? critical : T(laminar_reynolds_limit);
}

/// Darcy f of a smooth curved tube in turbulent flow, Ito's formula as published: the judge of the ratio below.
inline double ito_turbulent_friction_factor(double reynolds, double d_over_coil) {
  return std::sqrt(d_over_coil) * (0.029 + 0.304 * std::pow(reynolds * d_over_coil * d_over_coil, -0.25));
}

/// fc/fs in turbulent flow. `x` = Re (d/D)². Ito's ratio exceeds 1 from x = 0.034; the corner there is eased over the
/// first 2 % of excess (departing by at most 0.4 % of f), so a straight tube gets exactly 1.
template <Number T>
T curved_turbulent_ratio(const T& x) {
  using std::pow;
  constexpr double blasius = 0.3164;
  const T excess = (0.304 / blasius - 1.0) + (0.029 / blasius) * pow(x, 0.25);
  return 1.0 + excess * smooth_step(excess * (1.0 / 0.02));
}

/// f·Re of a curved bore; 64 at rest. `d_over_coil` = bore / coil diameter, 0 (straight) to 0.1.
template <Number Re, Number Rr, Number Ratio>
Combined<Re, Rr, Ratio> curved_friction_times_reynolds(const Re& reynolds, const Rr& relative_roughness,
                                                       const Ratio& d_over_coil) {
  using Result = Combined<Re, Rr, Ratio>;
  using std::sqrt;
  if (value_of(d_over_coil) <= 0.0) return Result(friction_times_reynolds(reynolds, relative_roughness));

  const Ratio laminar_limit = curved_critical_reynolds(d_over_coil);
  constexpr double width = turbulent_reynolds_limit - laminar_reynolds_limit;
  const Combined<Re, Ratio> weight = smooth_step(Combined<Re, Ratio>((reynolds - laminar_limit) * (1.0 / width)));

  const bool some_laminar = value_of(weight) < 1.0;
  const bool some_turbulent = value_of(weight) > 0.0;
  Result laminar(0.0);
  Result turbulent(0.0);
  if (some_laminar) {
    const Combined<Re, Ratio> dean = reynolds * sqrt(d_over_coil);
    laminar = Result(laminar_friction_times_reynolds * curved_laminar_ratio(dean));
  }
  if (some_turbulent) {
    // Above 2000 the weight has left the laminar branch; the turbulent law is wanted at the actual Re.
    const auto straight = detail::turbulent_friction(value_of(reynolds), value_of(relative_roughness));
    const Combined<Re, Rr> f_re = chain(straight.friction_times_reynolds, straight.per_reynolds, reynolds,
                                        straight.per_roughness, relative_roughness);
    const Combined<Re, Ratio> x = reynolds * d_over_coil * d_over_coil;
    turbulent = Result(f_re * curved_turbulent_ratio(x));
  }
  return laminar + weight * (turbulent - laminar);
}

/// One formed bend: angle α [rad], radius r of the centreline, bore d, f the Darcy factor of the straight bore:
///
///     K = f α r/d + (0.10 + 2.4 f) sin(α/2) + 6.6 f (√sin(α/2) + sin(α/2)) / (r/d)^(4α/π)
///
/// D. C. Rennels and H. M. Hudson, "Pipe Flow: A Practical and Comprehensive Guide" (2012); r/d ≥ 0.5, α to 180°,
/// smooth bore, straight tube following. It fits Ito's smooth bends ("Pressure losses in smooth pipe bends", J. Basic
/// Eng. 82, 1960). The first term is the bend's own length as if straight. K is linear in f, so K·Re is linear in f·Re
/// and stays regular at rest; with f = 64/Re a 90° bend of r/d 2 has K = 470/Re + 0.07, in line with the 500 to 800 of
/// the two-K table, although the source claims turbulent flow only.
template <Number S>
struct BendShapeOf {
  S length_over_bore;       ///< α r/d, the bend's own length in bores
  S per_friction_factor;    ///< extra loss that scales with f
  S constant;               ///< extra loss that does not
};
using BendShape = BendShapeOf<double>;

template <Number S>
BendShapeOf<S> bend_shape(const S& angle_radians, const S& radius_over_bore) {
  using std::pow;
  using std::sin;
  using std::sqrt;
  const S half_sine = sin(0.5 * angle_radians);
  const S separation = 6.6 * (sqrt(half_sine) + half_sine) /
                       pow(radius_over_bore, S(angle_radians * (4.0 / std::numbers::pi)));
  return {angle_radians * radius_over_bore, 2.4 * half_sine + separation, 0.10 * half_sine};
}

/// K·Re of a bend over and above the friction of its own centreline length: for a line whose length already counts
/// the bend. `f_re` is f·Re of the straight bore at the same Re.
template <Number Re, Number F>
Combined<Re, F> bend_excess_times_reynolds(const Re& reynolds, const F& f_re, const BendShape& bend) {
  return bend.constant * reynolds + bend.per_friction_factor * f_re;
}

/// K·Re of a bend including its own length, as published.
template <Number Re, Number F>
Combined<Re, F> bend_loss_times_reynolds(const Re& reynolds, const F& f_re, const BendShape& bend) {
  return bend.constant * reynolds + (bend.per_friction_factor + bend.length_over_bore) * f_re;
}

}  // namespace flarenut::correlations

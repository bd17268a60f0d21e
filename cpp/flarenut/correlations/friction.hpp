#pragma once
/// Friction of a straight round bore: what a plain length of hose or tube costs.
///
/// The pressure lost along a bore of length L and diameter D, at mean velocity V, density ρ and dynamic viscosity μ:
///
///     Δp = f · (L/D) · ½ρV²,      Re = ρ|V|D/μ
///
/// f is the Darcy friction factor (four times the Fanning factor). A law in impedance form should not use f, which
/// is infinite at rest, but the product f·Re, which is 64 there:
///
///     Δp = (f·Re) · μ L V / (2 D²)
///
/// - **Laminar**, Re ≤ 2000: f·Re = 64 exactly (Hagen 1839, Poiseuille 1840). Roughness has no effect.
/// - **Turbulent**, Re ≥ 4000: 1/√f = −2 log10( (ε/D)/3.7 + 2.51/(Re √f) )
///   (C. F. Colebrook, "Turbulent flow in pipes", J. Inst. Civil Engineers 11, 1939; it joins Prandtl's smooth law,
///   ε = 0, to von Kármán's fully rough law). Solved to better than 1e-7 for ε/D from 0 to 0.05 and Re to 1e8.
/// - **Between**, 2000 < Re < 4000: nobody can say: flow is laminar and turbulent by turns, and which one wins
///   depends on the entrance and on vibration. f·Re passes from 64 to the Colebrook–White value with the weight
///   w = smooth_step((Re − 2000)/2000), the turbulent formula being evaluated at the actual Re. Value, slope and
///   curvature are continuous at both ends, and since both f·Re and w only rise, f·Re² (pressure against flow)
///   rises strictly: one pressure, one flow. It is a convention of this engine, not a measured law.
///
/// Assumptions: fully developed flow, constant properties, full round bore. Entrance lengths, pulsation and heating
/// at the wall are not in it. ε is Colebrook's equivalent roughness, not a surface-finish Ra reading.
///
/// Arguments are dimensionless; `reynolds` is the magnitude, ≥ 0. Either argument may be plain or dual.

#include <bit>
#include <cmath>
#include <cstdint>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/autodiff/smooth.hpp"
#include "flarenut/correlations/chain.hpp"

namespace flarenut::correlations {

/// f·Re in laminar flow in a round bore (Hagen–Poiseuille).
inline constexpr double laminar_friction_times_reynolds = 64.0;
/// Below this flow is taken as laminar; above the other as turbulent; blended between. Usual textbook limits.
inline constexpr double laminar_reynolds_limit = 2000.0;
inline constexpr double turbulent_reynolds_limit = 4000.0;

namespace detail {

inline constexpr double colebrook_roughness_divisor = 3.7;
inline constexpr double colebrook_smooth_constant = 2.51;
/// −2 log10(z) = −colebrook_slope · ln(z)
inline constexpr double colebrook_slope = 0.868588963806503655;  // 2/ln 10

/// ln x to about 0.006, from the binary exponent and a parabola through the mantissa: a starting point only.
/// Continuous, so the iterate that starts from it is continuous too.
inline double rough_log(double x) {
  const auto bits = std::bit_cast<std::uint64_t>(x);
  const double exponent = static_cast<double>(static_cast<std::int64_t>(bits >> 52U) - 1023);
  const double mantissa =
      std::bit_cast<double>((bits & 0x000FFFFFFFFFFFFFULL) | 0x3FF0000000000000ULL) - 1.0;
  constexpr double bulge = 0.3437;  // log2(1+m) − m is close to this times m(1 − m)
  return 0.693147180559945309 * (exponent + mantissa * (1.0 + bulge * (1.0 - mantissa)));
}

/// Value of f·Re by Colebrook–White with its partial derivatives, in plain numbers.
struct TurbulentFriction {
  double friction_times_reynolds;
  double per_reynolds;
  double per_roughness;
};

/// With a = (ε/D)/3.7, b = 2.51/Re, c = 2/ln 10 and x = 1/√f the law is x + c·ln(a + b x) = 0. The variable
/// v = (a + b x)/(b c) turns it into v + ln v = const, for which one step of the fourth-order scheme of Fritsch,
/// Shafer and Crowley (Comm. ACM 16, 1973, algorithm 443) from a start good to a few per cent leaves an error
/// below 2e-8. So one logarithm suffices. The slopes come from the equation itself (implicit differentiation):
/// dx/dRe = x/(Re (1 + v)),  dx/d(ε/D) = −Re/(2.51 · 3.7 · (1 + v)).
inline TurbulentFriction turbulent_friction(double reynolds, double relative_roughness) {
  constexpr double c = colebrook_slope;
  constexpr double inverse_c = 1.0 / colebrook_slope;
  constexpr double inverse_product = 1.0 / (colebrook_smooth_constant * colebrook_roughness_divisor);
  const double a = relative_roughness * (1.0 / colebrook_roughness_divisor);
  const double b = colebrook_smooth_constant / reynolds;
  // Start: one turn of x = −c ln(a + b x) with the rough logarithm, from a middling x.
  constexpr double middling = 7.0;  // f = 0.02
  const double start = -c * rough_log(a + b * middling);

  const double v = (start + relative_roughness * reynolds * inverse_product) * inverse_c;
  const double residual = -(start * inverse_c + std::log(a + b * start));
  const double one_plus_v = 1.0 + v;
  const double q = one_plus_v * (one_plus_v + (2.0 / 3.0) * residual);
  const double step = v * residual * (q - 0.5 * residual) / (one_plus_v * (q - residual));

  const double inverse_root = start + c * step;  // x = 1/√f
  const double turned = 1.0 / (1.0 + v + step);
  const double friction = 1.0 / (inverse_root * inverse_root);
  return {reynolds * friction, friction * (1.0 - 2.0 * turned),
          2.0 * inverse_product * friction * friction * inverse_root * reynolds * reynolds * turned};
}

}  // namespace detail

/// f·Re, finite and sloped from rest (64) to Re = 1e8. `relative_roughness` is ε/D, 0 to 0.05.
template <Number Re, Number Rr>
Combined<Re, Rr> friction_times_reynolds(const Re& reynolds, const Rr& relative_roughness) {
  const double re = value_of(reynolds);
  if (re <= laminar_reynolds_limit) return Combined<Re, Rr>(laminar_friction_times_reynolds);
  const detail::TurbulentFriction turbulent = detail::turbulent_friction(re, value_of(relative_roughness));
  if (re >= turbulent_reynolds_limit) {
    return chain(turbulent.friction_times_reynolds, turbulent.per_reynolds, reynolds, turbulent.per_roughness,
                 relative_roughness);
  }
  constexpr double per_width = 1.0 / (turbulent_reynolds_limit - laminar_reynolds_limit);
  const Dual<1> weight = smooth_step(Dual<1>((re - laminar_reynolds_limit) * per_width, 0));
  const double rise = turbulent.friction_times_reynolds - laminar_friction_times_reynolds;
  return chain(laminar_friction_times_reynolds + weight.value * rise,
               weight.value * turbulent.per_reynolds + weight.slope[0] * per_width * rise, reynolds,
               weight.value * turbulent.per_roughness, relative_roughness);
}

/// Darcy friction factor f. Infinite at rest: for tables and reports; laws use `friction_times_reynolds`.
template <Number Re, Number Rr>
Combined<Re, Rr> friction_factor(const Re& reynolds, const Rr& relative_roughness) {
  return friction_times_reynolds(reynolds, relative_roughness) / reynolds;
}

/// The Colebrook–White equation for the Darcy factor, iterated to round-off by plain Newton: slow, and the judge of
/// `friction_times_reynolds`. Turbulent flow only; `reynolds` > 0.
inline double colebrook_white(double reynolds, double relative_roughness) {
  double inverse_root = 8.0;
  for (int turn = 0; turn < 60; ++turn) {
    const double inside = relative_roughness / 3.7 + 2.51 * inverse_root / reynolds;
    const double residual = inverse_root + 2.0 * std::log10(inside);
    const double slope = 1.0 + 2.0 / std::log(10.0) * (2.51 / reynolds) / inside;
    const double step = residual / slope;
    inverse_root -= step;
    if (std::abs(step) <= 1e-15 * inverse_root) break;
  }
  return 1.0 / (inverse_root * inverse_root);
}

}  // namespace flarenut::correlations

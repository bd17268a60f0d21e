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

/// Exponent (plus 1023) and mantissa of x > 0: x = mantissa · 2^exponent, mantissa from 1 to 2.
inline double biased_exponent(double x) { return static_cast<double>(std::bit_cast<std::uint64_t>(x) >> 52U); }
inline double binary_mantissa(double x) {
  return std::bit_cast<double>((std::bit_cast<std::uint64_t>(x) & 0x000FFFFFFFFFFFFFULL) | 0x3FF0000000000000ULL);
}

/// log2(x/y) to about 0.01, from the binary exponents and a parabola through each mantissa: a starting point only.
/// Continuous, so the iterate that starts from it is continuous too.
template <class T>
T rough_log2_of_ratio(const T& x, const T& y) {
  constexpr double bulge = 0.3437;  // log2(m) is close to (m − 1)(1 + bulge·(2 − m)); constants cancel in the difference
  const auto parabola = [](const T& m) { return m * multiply_add(m, T(-bulge), T(1.0 + 3.0 * bulge)); };
  return biased_exponent(x) - biased_exponent(y) + (parabola(binary_mantissa(x)) - parabola(binary_mantissa(y)));
}

/// Value of f·Re by Colebrook–White with its partial derivatives, in plain numbers or packs of them.
template <class T>
struct FrictionSlopes {
  T friction_times_reynolds;
  T per_reynolds;
  T per_roughness;
};

/// ln(x/y).
inline double log_of_ratio(double x, double y) { return std::log(x / y); }

/// With a = (ε/D)/3.7, b = 2.51/Re, c = 2/ln 10 and x = 1/√f the law is x + c·ln(a + b x) = 0. The variable
/// v = (a + b x)/(b c) turns it into v + ln v = const, for which one step of the fourth-order scheme of Fritsch,
/// Shafer and Crowley (Comm. ACM 16, 1973, algorithm 443) from a start good to a few per cent leaves an error
/// below 2e-8. So one logarithm suffices. The slopes come from the equation itself (implicit differentiation):
/// dx/dRe = x/(Re (1 + v)),  dx/d(ε/D) = −Re/(2.51 · 3.7 · (1 + v)).
/// Fractions are carried as numerator and denominator to the end: divisions are what packs of lanes wait for.
template <class T>
FrictionSlopes<T> turbulent_friction(const T& reynolds, const T& relative_roughness) {
  constexpr double c = colebrook_slope;
  constexpr double inverse_c = 1.0 / colebrook_slope;
  constexpr double inverse_product = 1.0 / (colebrook_smooth_constant * colebrook_roughness_divisor);
  const T inverse_b = reynolds * (1.0 / colebrook_smooth_constant);
  const T a_over_b = relative_roughness * (1.0 / colebrook_roughness_divisor) * inverse_b;
  // Start: one turn of x = −c ln(a + b x) with the rough logarithm, from a middling x.
  constexpr double middling = 6.9;  // f = 0.021
  constexpr double c_ln_2 = c * 0.693147180559945309;
  const T start = c_ln_2 * rough_log2_of_ratio(inverse_b, T(a_over_b + middling));

  const T inside = start + a_over_b;  // (a + b x)/b
  const T v = inside * inverse_c;
  const T residual = -multiply_add(start, T(inverse_c), log_of_ratio(inside, inverse_b));
  const T one_plus_v = 1.0 + v;
  const T q = one_plus_v * multiply_add(residual, T(2.0 / 3.0), one_plus_v);
  const T step_above = v * residual * multiply_add(residual, T(-0.5), q), step_below = one_plus_v * (q - residual);

  // x = 1/√f and 1 + v after the step, both over `step_below`.
  const T root = multiply_add(step_above, T(c), start * step_below), slowness = multiply_add(one_plus_v, step_below, step_above);
  const T root_squared = root * root;
  const T both = 1.0 / (root_squared * slowness);
  const T friction = both * slowness * (step_below * step_below), turned = both * root_squared * step_below;
  return {reynolds * friction, friction * (1.0 - 2.0 * turned),
          2.0 * inverse_product * friction * friction * (root / step_below) * reynolds * reynolds * turned};
}

/// f·Re at any Reynolds number with its partial derivatives, in plain numbers or packs of them.
template <class T>
FrictionSlopes<T> friction_of(const T& reynolds, const T& relative_roughness) {
  constexpr double per_width = 1.0 / (turbulent_reynolds_limit - laminar_reynolds_limit);
  const auto blended = [&](const FrictionSlopes<T>& turbulent, const T& share) {
    // smooth_step and its slope, 30 s²(1 − s)²; for a share from 0 to 1.
    const T weight = share * share * share * multiply_add(share, T(6.0 * share - 15.0), T(10.0));
    const T bend = share * (1.0 - share);
    const T rise = turbulent.friction_times_reynolds - laminar_friction_times_reynolds;
    return FrictionSlopes<T>{multiply_add(weight, rise, T(laminar_friction_times_reynolds)),
                                multiply_add(weight, turbulent.per_reynolds, 30.0 * per_width * (bend * bend) * rise),
                                weight * turbulent.per_roughness};
  };
  const FrictionSlopes<T> laminar{T(laminar_friction_times_reynolds), T(0.0), T(0.0)};
  if constexpr (IsPack<T>::value) {
    // A short way where all lanes go it. No lane may notice: a share of 0 leaves exactly 64, and at a share of 1 the
    // turbulent law is taken as it is.
    const auto turbulent_lanes = reynolds >= turbulent_reynolds_limit;
    if (all(reynolds <= laminar_reynolds_limit)) return laminar;
    const FrictionSlopes<T> turbulent = turbulent_friction(larger(reynolds, T(laminar_reynolds_limit)), relative_roughness);
    if (all(turbulent_lanes)) return turbulent;
    const T share = larger(T(0.0), smaller(T(1.0), T((reynolds - laminar_reynolds_limit) * per_width)));
    const FrictionSlopes<T> mixed = blended(turbulent, share);
    return {blend(turbulent_lanes, turbulent.friction_times_reynolds, mixed.friction_times_reynolds),
            blend(turbulent_lanes, turbulent.per_reynolds, mixed.per_reynolds),
            blend(turbulent_lanes, turbulent.per_roughness, mixed.per_roughness)};
  } else {
    if (reynolds <= laminar_reynolds_limit) return laminar;
    const FrictionSlopes<T> turbulent = turbulent_friction(reynolds, relative_roughness);
    if (reynolds >= turbulent_reynolds_limit) return turbulent;
    return blended(turbulent, (reynolds - laminar_reynolds_limit) * per_width);
  }
}

}  // namespace detail

/// f·Re, finite and sloped from rest (64) to Re = 1e8. `relative_roughness` is ε/D, 0 to 0.05.
template <Number Re, Number Rr>
Combined<Re, Rr> friction_times_reynolds(const Re& reynolds, const Rr& relative_roughness) {
  const auto found = detail::friction_of(value_of(reynolds), value_of(relative_roughness));
  return chain(found.friction_times_reynolds, found.per_reynolds, reynolds, found.per_roughness, relative_roughness);
}

/// q · f·Re for a flow of either direction, Re = |q| · `reynolds_per_flow`: what friction laws need, with fewer steps than
/// through the magnitude of the flow.
template <Number Q, Number Rq, Number Rr>
Combined<Q, Rq, Rr> friction_times_flow(const Q& flow, const Rq& reynolds_per_flow, const Rr& relative_roughness) {
  using std::abs;
  const auto q = value_of(flow), per_flow = value_of(reynolds_per_flow);
  using T = std::decay_t<decltype(q + per_flow)>;
  const T size = abs(q), reynolds = per_flow * size;
  const detail::FrictionSlopes<T> found = detail::friction_of(reynolds, T(value_of(relative_roughness)));
  return chain(q * found.friction_times_reynolds, multiply_add(found.per_reynolds, reynolds, found.friction_times_reynolds), flow,
               q * size * found.per_reynolds, reynolds_per_flow, q * found.per_roughness, relative_roughness);
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

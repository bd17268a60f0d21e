#pragma once
/// What an exchanger makes of its size: oil coolers, radiators, heat exchangers between coolant and oil.
///
/// An exchanger moves heat between two streams that never mix. Each stream has a capacity rate C = (mass flow)·cp, in
/// W/K: the watts it takes to warm it by one degree. Size, fins and films together are one number, UA in W/K. Then
///
///     Q = ε C_min (T1,in − T2,in),     ε = ε(arrangement, NTU, C_r),     NTU = UA/C_min,     C_r = C_min/C_max
///
/// ε, the effectiveness, is the heat moved over the most that any exchanger could move: 1 when the stream with the
/// smaller capacity rate leaves at the inlet temperature of the other. In shop words: a cooler twice as big is not
/// twice as good.
///
/// Closed forms (N = NTU, C = C_r; Kays and London, "Compact Heat Exchangers", 1964; Incropera and others,
/// "Fundamentals of Heat and Mass Transfer", table 11.3), written with mean_decay (decay.hpp) so that C = 0, C = 1 and
/// N = 0 are ordinary points, m(x) = (1 − e^−x)/x:
///
/// | arrangement | ε | usual form |
/// | --- | --- | --- |
/// | one stream at one temperature (C = 0: boiling, condensing, the air round a line) | N m(N) | 1 − e^−N |
/// | counterflow | N m(d)/(1 + C N m(d)), d = N(1 − C) | (1 − e^−d)/(1 − C e^−d); N/(1 + N) at C = 1 |
/// | parallel flow | N m(N(1 + C)) | (1 − e^−N(1+C))/(1 + C) |
/// | cross flow, larger stream mixed | u m(C u), u = N m(N) | (1 − e^(−C(1 − e^−N)))/C |
/// | cross flow, smaller stream mixed | 1 − e^(−N m(CN)) | 1 − e^(−(1 − e^−CN)/C) |
/// | cross flow, both mixed | N/(1/m(N) + 1/m(CN) − 1) | the same |
/// | cross flow, neither mixed | `cross_flow_unmixed_effectiveness` | a series |
/// | one shell pass, 2, 4, … tube passes | 2N/(N(1 + C) + (1 + e^−x)/m(x)), x = N s | 2/(1 + C + s coth(x/2)), s = √(1 + C²) |
///
/// A finned radiator or cooler with separate tubes has neither stream mixed. Air that can wander sideways is mixed.
///
/// Assumptions: steady, UA the same all over, no heat to the outside or along the metal, each stream evenly spread over
/// the face. Shrouds, dead corners and hot spots come off UA. Range N ≥ 0 without end, 0 ≤ C ≤ 1.
/// Mixed on both sides, more N is not always more heat (ε falls back to 1/(1 + C)).
///
/// Laws for circuits use `exchange`, which asks no one which stream is the smaller: heat moved and outlet temperatures
/// are smooth where the capacity rates cross, and defined where either stream stands. Capacity rates are magnitudes,
/// ≥ 0. When one stream of a counterflow turns round it becomes parallel flow and the other way about
/// (`turned_round`); the heat joins there, since both move none at zero flow.

#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/autodiff/smooth.hpp"
#include "flarenut/base/error.hpp"
#include "flarenut/correlations/chain.hpp"
#include "flarenut/correlations/decay.hpp"

namespace flarenut::correlations {

/// How the two streams run past each other. "first" is the first stream in `exchange`, and the one with the smaller
/// capacity rate in `effectiveness`.
enum class Arrangement {
  counterflow,
  parallel_flow,
  cross_flow_unmixed,       ///< neither stream mixed
  cross_flow_first_mixed,
  cross_flow_second_mixed,
  cross_flow_mixed,         ///< both mixed
  shell_and_tube,           ///< one shell pass, an even number of tube passes
};

// ---- closed forms; T plain or dual -----------------------------------------------------------------------------

/// 1 − e^−N: the other stream keeps its temperature.
template <Number T>
T uniform_stream_effectiveness(const T& ntu) { return ntu * mean_decay(ntu); }

template <Number T>
T counterflow_effectiveness(const T& ntu, const T& ratio) {
  const T reach = ntu * mean_decay(T(ntu * (1.0 - ratio)));
  return reach / (1.0 + ratio * reach);
}

template <Number T>
T parallel_flow_effectiveness(const T& ntu, const T& ratio) { return ntu * mean_decay(T(ntu * (1.0 + ratio))); }

/// Cross flow with one stream mixed: the smaller, or the larger.
template <Number T>
T cross_flow_smaller_mixed_effectiveness(const T& ntu, const T& ratio) {
  return uniform_stream_effectiveness(T(ntu * mean_decay(T(ratio * ntu))));
}
template <Number T>
T cross_flow_larger_mixed_effectiveness(const T& ntu, const T& ratio) {
  const T reach = uniform_stream_effectiveness(ntu);
  return reach * mean_decay(T(ratio * reach));
}

template <Number T>
T cross_flow_mixed_effectiveness(const T& ntu, const T& ratio) {
  return ntu / (1.0 / mean_decay(ntu) + 1.0 / mean_decay(T(ratio * ntu)) - 1.0);
}

template <Number T>
T shell_and_tube_effectiveness(const T& ntu, const T& ratio) {
  using std::exp;
  using std::sqrt;
  const T x = ntu * sqrt(1.0 + ratio * ratio);
  return 2.0 * ntu / (ntu * (1.0 + ratio) + (1.0 + exp(-x)) / mean_decay(x));
}

/// The usual approximation for neither stream mixed, 1 − exp(N^0.22/C · (exp(−C N^0.78) − 1)); `ratio` 0 to 1. Up to 4 %
/// beside the series (low below NTU 1, at equal capacity rates), and its heat has a corner where the capacity rates cross: for comparison, not for laws.
template <Number T>
T cross_flow_unmixed_approximation(const T& ntu, const T& ratio) {
  using std::pow;
  return uniform_stream_effectiveness(T(ntu * mean_decay(T(ratio * pow(ntu, 0.78)))));
}

namespace detail {

/// A function of NTU and C_r with its slopes.
struct Sloped {
  double value, per_ntu, per_ratio;
};

/// See `cross_flow_unmixed_effectiveness`. Σ S(n; a) S(n; b)/b with S(n; λ) the chance that a Poisson number of mean λ
/// is n or more. S(n; b)/b is carried divided, so b = 0 is an ordinary point; slopes go along term by term.
inline Sloped unmixed_series(double a, double b, double ratio) {
  double chance_a = std::exp(-a), tail_a = -std::expm1(-a);  // of exactly n − 1; of n or more
  double chance_b = std::exp(-b), tail_b = mean_decay(b);    // the same over b; of exactly n
  double per_b = mean_decay(Dual<1>(b, 0)).slope[0];
  double chance_b_slope = -chance_b;
  double sum = 0.0, sum_per_a = 0.0, sum_per_b = 0.0;
  for (int count = 1; count < 1000; ++count) {
    const double n = count;
    const double term = tail_a * tail_b;
    sum += term;
    sum_per_a += chance_a * tail_b;
    sum_per_b += tail_a * per_b;
    if (n > b && term <= 1e-17 * sum) break;
    chance_a *= a / n;
    tail_a = std::max(0.0, tail_a - chance_a);
    tail_b = std::max(0.0, tail_b - chance_b);
    per_b -= chance_b_slope;
    const double next_slope = chance_b * n / (n + 1.0) - chance_b * b / (n + 1.0);
    chance_b *= b / (n + 1.0);
    chance_b_slope = next_slope;
  }
  return {sum, sum_per_a + ratio * sum_per_b, a * sum_per_b};
}

/// The same for large a and b: the difference of two Poisson numbers is nearly normal (mean μ = a − b, variance
/// s² = a + b, t = μ/s). With the first correction for skewness, peakedness and whole numbers
///   E|difference| = μ erf(t/√2) + 2 s φ(t) (1 − (1 + t²)/(8 s²)).
template <Number T>
T unmixed_far(const T& ntu, const T& ratio) {
  using std::exp;
  using std::sqrt;
  const T a = ntu, b = ratio * ntu, variance = a + b, mean = a - b;
  const T spread = sqrt(variance), t = mean / spread;
  const double plain = value_of(t) / std::numbers::sqrt2;
  constexpr double density_at_zero = 0.398942280401432678;
  const T beyond = chain(std::erfc(plain), -2.0 * density_at_zero * std::exp(-plain * plain), t, 0.0, 0.0);
  const T density = density_at_zero * exp(-0.5 * t * t);
  return 1.0 + (0.5 * mean * beyond - spread * density * (1.0 - (1.0 + t * t) / (8.0 * variance))) / b;
}

inline constexpr double far_from = 100.0, far_from_width = 50.0;

}  // namespace detail

/// Cross flow, neither stream mixed. With a = N and b = CN the exact solution (Nusselt 1911; Mason 1955) is
///
///     ε = (1/b) Σ_{n≥1} P(n, a) P(n, b),     P(n, λ) = 1 − e^−λ Σ_{m<n} λ^m/m!
///
/// P(n, λ) is the chance that a Poisson number of mean λ reaches n, so b ε is the mean of the lesser of two Poisson
/// numbers: it is the same seen from either stream, hence smooth where they cross. Above b = 100 the sum passes, blended
/// by smooth_step over 50, into its normal approximation (within 5e-8).
template <Number T>
T cross_flow_unmixed_effectiveness(const T& ntu, const T& ratio) {
  const double a = value_of(ntu), b = value_of(ratio) * a;
  const auto series = [&] {
    const detail::Sloped near = detail::unmixed_series(a, b, value_of(ratio));
    return T(chain(near.value, near.per_ntu, ntu, near.per_ratio, ratio));
  };
  if (b <= detail::far_from) return series();
  const T far = detail::unmixed_far(ntu, ratio);
  if (b >= detail::far_from + detail::far_from_width) return far;
  const T weight = smooth_step(T((ratio * ntu - detail::far_from) * (1.0 / detail::far_from_width)));
  const T near = series();
  return near + weight * (far - near);
}

/// Effectiveness of any arrangement. `ntu` ≥ 0, `ratio` 0 to 1; "first" in the arrangement is the smaller stream.
template <Number N, Number C>
Combined<N, C> effectiveness(Arrangement arrangement, const N& ntu, const C& ratio) {
  using T = Combined<N, C>;
  const T n(ntu), c(ratio);
  switch (arrangement) {
    case Arrangement::counterflow: return counterflow_effectiveness(n, c);
    case Arrangement::parallel_flow: return parallel_flow_effectiveness(n, c);
    case Arrangement::cross_flow_first_mixed: return cross_flow_smaller_mixed_effectiveness(n, c);
    case Arrangement::cross_flow_second_mixed: return cross_flow_larger_mixed_effectiveness(n, c);
    case Arrangement::cross_flow_mixed: return cross_flow_mixed_effectiveness(n, c);
    case Arrangement::shell_and_tube: return shell_and_tube_effectiveness(n, c);
    case Arrangement::cross_flow_unmixed: break;
  }
  return cross_flow_unmixed_effectiveness(n, c);
}

/// Like units one after the other, the streams running against each other from unit to unit: n shells, or two coolers
/// plumbed that way. Each unit counts as the counterflow exchanger of the same effectiveness, whose NTU is
/// z ln(1 + z(1 − C))/(z(1 − C)), z = ε/(1 − ε); those add up. (Usual form: ((1−εC)/(1−ε))^n; table 11.3.)
template <Number T>
T effectiveness_in_series(double count, const T& of_one, const T& ratio) {
  const T z = of_one / (1.0 - of_one + 1e-14);  // a perfect unit: finite all the same
  return counterflow_effectiveness(T(count * z * log_mean(T(z * (1.0 - ratio)))), ratio);
}

/// NTU that gives an effectiveness: what a maker's rating says about UA. Newton from the left, which cannot overshoot
/// since ε(N) is concave; slopes from ε itself. Throws InputError when the arrangement cannot reach it.
template <Number E, Number C>
Combined<E, C> ntu_from_effectiveness(Arrangement arrangement, const E& reached, const C& ratio) {
  const double wanted = value_of(reached), c = value_of(ratio);
  double ntu = 0.0;
  Dual<2> found;
  for (int turn = 0; turn < 200; ++turn) {
    found = effectiveness(arrangement, Dual<2>(ntu, 0), Dual<2>(c, 1));
    const double short_by = wanted - found.value;
    if (!(found.slope[0] > 0.0) || !(wanted >= 0.0) || ntu > 1e6) break;
    ntu += short_by / found.slope[0];
    // Near the summit ε hardly moves, so what counts is ε; the last step has been taken all the same.
    if (std::abs(short_by) <= 1e-14 * wanted) return chain(ntu, 1.0 / found.slope[0], reached, -found.slope[1] / found.slope[0], ratio);
  }
  std::ostringstream trouble;
  trouble << wanted << " cannot be reached with this arrangement at a capacity ratio of " << c << "; the most is near " << found.value;
  throw InputError("exchanger", "effectiveness", trouble.str());
}

}  // namespace flarenut::correlations

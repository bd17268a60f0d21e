#pragma once
/// Where a stream's mean temperature lies between its inlet and its outlet: mean = inlet + share · (outlet − inlet).
///
/// - **Difference that dies away as e^−s, s from 0 to d** (a line in air; either stream of parallel flow or counterflow):
///   share(d) = 1/(1 − e^−d) − 1/d, ½ at d = 0, 1 far on; share(−d) = 1 − share(d), a stream whose difference grows.
///   A line in air d = UA/C; parallel flow d = UA/C1 + UA/C2 for both; counterflow d = UA/C1 − UA/C2 for the first, −d for the second.
/// - **Any other arrangement.** UA the same all over, the heat is UA times the difference of the two means over the area, so
///   1 − σ1 s1 − σ2 s2 = K/UA, with s = K/C the share of the inlet difference by which a stream changes (`exchange.hpp`).
///   One equation for two shares σ. Ours: what they exceed ½ by is to each other as s1² to s2². That is exact for one stream
///   alone and for two of equal rates; of a cross flow with neither mixed it lies within 0.02 of a core marched cell by cell. Both
///   mixed, the two exceed it alike.

#include <cmath>
#include <utility>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/correlations/chain.hpp"
#include "flarenut/correlations/exchange.hpp"

namespace flarenut::correlations {

/// 1/(1 − e^−d) − 1/d, any d, 0 to 1.
template <Number T>
T decay_mean_share(const T& d) {
  const double plain = value_of(d);
  if (std::abs(plain) < 0.02) return 0.5 + d * (1.0 / 12.0) * (1.0 - d * d * (1.0 / 60.0) * (1.0 - d * d * (1.0 / 42.0)));
  const double gone = -std::expm1(-plain);
  // e^−d/(1 − e^−d)² is even: taken on the side where nothing overflows.
  const double size = std::abs(plain), gone_by = -std::expm1(-size);
  return chain(1.0 / gone - 1.0 / plain, 1.0 / (plain * plain) - std::exp(-size) / (gone_by * gone_by), d, 0.0, 0.0);
}

/// Of a stream in surroundings of one temperature; `conductance` UA ≥ 0, `capacity_rate` C ≥ 0 [W/K]. At rest 1 with slope −1/UA in C.
template <Number U, Number C>
Combined<U, C> line_mean_share(const U& conductance, const C& capacity_rate) {
  using T = Combined<U, C>;
  if (value_of(conductance) <= 1e-300) return T(0.5);
  if (value_of(conductance) >= 40.0 * value_of(capacity_rate)) return T(1.0 - capacity_rate / conductance);  // e^−40 is no digit
  return decay_mean_share(T(conductance / capacity_rate));
}

/// Of both streams of a cross flow or of tubes in a shell, from its `exchange` with a conductance above 0.
template <Number U, Number T>
std::pair<T, T> cross_mean_shares(const U& conductance, const Exchange<T>& moved, bool both_mixed = false) {
  const T &s1 = moved.first_share, &s2 = moved.second_share, sum = s1 + s2;
  const T excess = 1.0 - moved.heat_per_inlet_difference / conductance - 0.5 * sum;
  // 1e-8 and 1e-12: where nothing is exchanged both shares are ½.
  if (both_mixed) {
    const T share = 0.5 + excess * sum / (sum * sum + 1e-8);
    return {share, share};
  }
  const T square1 = s1 * s1, square2 = s2 * s2, scale = excess / (square1 * s1 + square2 * s2 + 1e-12);
  return {0.5 + scale * square1, 0.5 + scale * square2};
}

/// Of both streams of an exchanger whose streams may both come to rest. There shares have no limit, so capacity rates count a
/// hundredth of UA as extra (a convention; it shows where NTU passes 10). Conductance above 0.
template <Number U, Number A, Number B>
std::pair<Combined<U, A, B>, Combined<U, A, B>> exchange_mean_shares(Arrangement arrangement, const U& conductance, const A& first,
                                                                     const B& second) {
  using T = Combined<U, A, B>;
  const T extra = 0.01 * T(conductance), one = first + extra, other = second + extra;
  if (arrangement == Arrangement::parallel_flow) {
    const T share = decay_mean_share(T(conductance / one + conductance / other));
    return {share, share};
  }
  if (arrangement == Arrangement::counterflow) {
    const T share = decay_mean_share(T(conductance / one - conductance / other));
    return {share, 1.0 - share};
  }
  return cross_mean_shares(conductance, exchange(arrangement, T(conductance), one, other), arrangement == Arrangement::cross_flow_mixed);
}

}  // namespace flarenut::correlations

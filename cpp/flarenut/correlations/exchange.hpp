#pragma once
/// Heat moved between two streams, from both inlet temperatures and capacity rates: what a circuit asks of an exchanger.
///
///     Q = K (T1,in − T2,in),     K = ε(arrangement, UA/C_min, C_min/C_max) · C_min   [W/K]
///     T1,out = T1,in − s1 (T1,in − T2,in),     T2,out = T2,in + s2 (T1,in − T2,in),     s1 = K/C1,  s2 = K/C2
///
/// K is what radiator people call heat per degree of inlet temperature difference. It never exceeds UA, C1 or C2. The
/// shares s lie from 0 to 1, so an outlet never passes the other stream's inlet. Equations and sources: effectiveness.hpp.
///
/// - **Where the capacity rates cross** K and s are smooth: every arrangement is one function of (UA, C1, C2), only its
///   textbook form asks which is the smaller.
/// - **One stream stands still**: K = 0 with slope 1 in that capacity rate, and its share is 1: what little flows leaves
///   at the other's inlet temperature. **Both stand still**: K = 0; the shares are those of equal rates.
/// - Capacity rates are magnitudes. A law of signed flow takes |flow|, or smooth_abs of it (autodiff/smooth.hpp) where
///   the corner at rest would trouble the iteration, and takes `turned_round` for the arrangement when one has reversed.

#include <algorithm>

#include "flarenut/correlations/effectiveness.hpp"

namespace flarenut::correlations {

template <Number T>
struct Exchange {
  T heat_per_inlet_difference;  ///< K [W/K]
  T first_share;                ///< share of the inlet difference by which the first stream changes, 0 to 1
  T second_share;
};

/// The arrangement seen with the streams named the other way round.
constexpr Arrangement swapped(Arrangement arrangement) {
  if (arrangement == Arrangement::cross_flow_first_mixed) return Arrangement::cross_flow_second_mixed;
  if (arrangement == Arrangement::cross_flow_second_mixed) return Arrangement::cross_flow_first_mixed;
  return arrangement;
}

/// The arrangement after one of the two streams has reversed.
constexpr Arrangement turned_round(Arrangement arrangement) {
  if (arrangement == Arrangement::counterflow) return Arrangement::parallel_flow;
  if (arrangement == Arrangement::parallel_flow) return Arrangement::counterflow;
  return arrangement;
}

/// `conductance` UA [W/K] ≥ 0; `first`, `second` capacity rates [W/K] ≥ 0.
template <Number U, Number A, Number B>
Exchange<Combined<U, A, B>> exchange(Arrangement arrangement, const U& conductance, const A& first, const B& second) {
  using T = Combined<U, A, B>;
  const bool first_is_smaller = value_of(first) <= value_of(second);
  const T smaller_rate = first_is_smaller ? T(first) : T(second), larger_rate = first_is_smaller ? T(second) : T(first);
  // NTU stops at 1e12, where every arrangement has long reached its end: keeps the quotients finite at rest.
  const double ua = value_of(conductance), floor = 1e-12 * ua + 1e-30;
  const double small = std::max(value_of(smaller_rate), floor), large = std::max(value_of(larger_rate), small);
  const double ntu = ua / small, ratio = small / large;
  const Dual<2> e = effectiveness(first_is_smaller ? arrangement : swapped(arrangement), Dual<2>(ntu, 0), Dual<2>(ratio, 1));
  const double per_ntu = e.slope[0], per_ratio = e.slope[1];

  const auto sloped = [&](double value, double per_conductance, double per_small, double per_large) {
    T result(value);
    detail::add_slopes(result, per_conductance, conductance);
    detail::add_slopes(result, per_small, smaller_rate);
    detail::add_slopes(result, per_large, larger_rate);
    return result;
  };
  const double turn = ratio * per_ratio - ntu * per_ntu;  // of ε with ln C_min
  const T heat = sloped(value_of(smaller_rate) * e.value, per_ntu, e.value + turn, -ratio * ratio * per_ratio);
  const T small_share = sloped(e.value, per_ntu / small, turn / small, -ratio * per_ratio / large);
  const T large_share = sloped(ratio * e.value, per_ntu / large, (e.value + turn) / large, -ratio * (e.value + ratio * per_ratio) / large);
  if (first_is_smaller) return {heat, small_share, large_share};
  return {heat, large_share, small_share};
}

/// Heat that passes from the first stream to the second [W]; inlet temperatures [K].
template <Number U, Number A, Number B, Number T1, Number T2>
Combined<U, A, B, T1, T2> heat_moved(Arrangement arrangement, const U& conductance, const A& first, const B& second,
                                     const T1& first_inlet, const T2& second_inlet) {
  return exchange(arrangement, conductance, first, second).heat_per_inlet_difference * (first_inlet - second_inlet);
}

/// UA [W/K] from a rating: heat per degree of inlet temperature difference [W/K] at two capacity rates [W/K] > 0. Throws
/// InputError when that heat is more than the arrangement can move.
template <Number K, Number A, Number B>
Combined<K, A, B> conductance_from_heat(Arrangement arrangement, const K& heat_per_inlet_difference, const A& first,
                                        const B& second) {
  using T = Combined<K, A, B>;
  const bool first_is_smaller = value_of(first) <= value_of(second);
  const T smaller_rate = first_is_smaller ? T(first) : T(second), larger_rate = first_is_smaller ? T(second) : T(first);
  return smaller_rate * ntu_from_effectiveness(first_is_smaller ? arrangement : swapped(arrangement),
                                               T(heat_per_inlet_difference / smaller_rate), T(smaller_rate / larger_rate));
}

}  // namespace flarenut::correlations

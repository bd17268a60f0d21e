#pragma once
/// Two functions that heat exchangers are made of, regular where their usual fractions are 0/0.
///
/// - `mean_decay(x)` = (1 − e^−x)/x, 1 at x = 0: the mean of e^−s over s from 0 to x. A stream whose distance to its
///   surroundings dies away as e^−s has this share of it left on the average.
/// - `log_mean(w)` = ln(1 + w)/w, 1 at w = 0: its counterpart in the inverses.

#include <cmath>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/correlations/chain.hpp"

namespace flarenut::correlations {

/// (1 − e^−x)/x, any x; for x → ∞ it falls to 0.
template <Number T>
T mean_decay(const T& x) {
  const double plain = value_of(x);
  if (std::abs(plain) < 1e-3) return 1.0 - x * (1.0 / 2.0) * (1.0 - x * (1.0 / 3.0) * (1.0 - x * (1.0 / 4.0) * (1.0 - x * (1.0 / 5.0))));
  const double value = -std::expm1(-plain) / plain;
  return chain(value, (std::exp(-plain) - value) / plain, x, 0.0, 0.0);
}

/// ln(1 + w)/w, w > −1.
template <Number T>
T log_mean(const T& w) {
  const double plain = value_of(w);
  if (std::abs(plain) < 1e-3) return 1.0 - w * (1.0 / 2.0 - w * (1.0 / 3.0 - w * (1.0 / 4.0 - w * (1.0 / 5.0 - w * (1.0 / 6.0)))));
  const double value = std::log1p(plain) / plain;
  return chain(value, (1.0 / (1.0 + plain) - value) / plain, w, 0.0, 0.0);
}

}  // namespace flarenut::correlations

#pragma once
/// Approved smooth corners. Newton needs a finite slope wherever it may step; these replace `max`, `abs` and
/// hard switches. Each says how far it departs from the sharp corner.

#include "flarenut/autodiff/dual.hpp"

namespace flarenut {

/// x², and x·|x|: what a turbulent loss does with a flow and its direction.
template <class T>
constexpr auto square(const T& x) { return x * x; }

template <Number T>
constexpr T signed_square(const T& x) {
  using std::abs;
  const auto size = abs(value_of(x));
  if constexpr (IsDual<T>::value) return x.chained(x.value * size, size + size);
  else return x * size;
}

/// √(x² + w²): like |x| beyond a few w, rounded to w at zero. Departs by at most w (at x = 0).
template <Number T>
T smooth_abs(const T& x, double width) {
  using std::sqrt;
  return sqrt(x * x + width * width);
}

/// ½(x + √(x² + w²)): like max(x, 0) beyond a few w. Departs by at most w/2 (at x = 0); never negative.
/// Written for negative x as w²/2/(√(x² + w²) − x), which keeps all its digits.
template <Number T>
T smooth_positive(const T& x, double width) {
  using std::sqrt;
  const T root = sqrt(x * x + width * width);
  return choose(value_of(x) > 0.0, [&] { return T(0.5 * (x + root)); }, [&] { return T((0.5 * width * width) / (root - x)); });
}

/// 0 below 0, 1 above 1, 10x³ − 15x⁴ + 6x⁵ between: value, slope and curvature are continuous everywhere.
template <Number T>
T smooth_step(const T& x) {
  const auto inside = [&] { return T(x * x * x * (10.0 + x * (6.0 * x - 15.0))); };
  const auto from_below = [&] { return choose(value_of(x) <= 0.0, [] { return T(0.0); }, inside); };
  return choose(value_of(x) >= 1.0, [] { return T(1.0); }, from_below);
}

}  // namespace flarenut

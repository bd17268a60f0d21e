#pragma once
/// Slopes carried by dual numbers against central differences of the plain law.

#include <algorithm>
#include <cmath>

#include "flarenut/autodiff/dual.hpp"

namespace slope_check {

/// Largest relative error of d law/dx at x, the scale being |slope| or, where that is tiny, |value/x|.
/// Fourth-order difference, so the step may be large and round-off small.
template <class Law>
double error(const Law& law, double x, double relative_step = 1e-4) {
  const double h = relative_step * x;
  const double difference = (8.0 * (law(x + h) - law(x - h)) - (law(x + 2.0 * h) - law(x - 2.0 * h))) / (12.0 * h);
  const flarenut::Dual<1> dual = law(flarenut::Dual<1>(x, 0));
  const double scale = std::max(std::abs(difference), 1e-3 * std::abs(law(x) / x));
  return std::abs(dual.slope[0] - difference) / scale;
}

/// True if value and slope come out finite.
template <class Law>
bool finite_at(const Law& law, double x) {
  const flarenut::Dual<1> dual = law(flarenut::Dual<1>(x, 0));
  return std::isfinite(dual.value) && std::isfinite(dual.slope[0]);
}

}  // namespace slope_check

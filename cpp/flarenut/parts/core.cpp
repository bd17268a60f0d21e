#include "flarenut/parts/core.hpp"

#include <cmath>

namespace flarenut::parts {

template <>
std::array<MassFlow<>, 1> Core<double>::start_flow() const {
  // The flow that 10 kPa drives: a guess for a cold start. It may have no square part at all.
  constexpr double drop = 1e4;
  const double linear = linear_.value();
  return {MassFlow<>::from_value(2.0 * drop / (linear + std::sqrt(linear * linear + 4.0 * square_.value() * drop)))};
}

}  // namespace flarenut::parts

#include "flarenut/parts/filter.hpp"

#include <cmath>

namespace flarenut::parts {

template <>
std::array<MassFlow<>, 1> Filter<double>::start_flow() const {
  // The flow that 5 kPa drives: a usual clean drop (common practice, no source). It may have no square part at all.
  constexpr double drop = 5e3;
  const double linear = linear_.value();
  return {MassFlow<>::from_value(2.0 * drop / (linear + std::sqrt(linear * linear + 4.0 * square_.value() * drop)))};
}

}  // namespace flarenut::parts

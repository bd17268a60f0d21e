#include "flarenut/parts/part.hpp"

#include <cmath>
#include <sstream>

namespace flarenut::parts {

void require_in_range(std::string_view part, std::string_view field, double value, double least, double most,
                      std::string_view unit) {
  if (std::isfinite(value) && value >= least && value <= most) return;
  std::ostringstream trouble;
  trouble.precision(6);
  const std::string_view space = unit.empty() ? "" : " ";
  if (!std::isfinite(value)) {
    trouble << "is not a finite number; give a value from " << least << " to " << most << space << unit;
  } else {
    trouble << value << space << unit << " is outside " << least << " to " << most << space << unit
            << (value < least ? "; raise it" : "; lower it") << " or check its unit";
  }
  throw InputError(part, field, trouble.str());
}

}  // namespace flarenut::parts

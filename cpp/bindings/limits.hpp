#pragma once
/// Limits of what comes in from Python. Laws take numbers as they come, since Newton may step anywhere; who types them in is
/// told what is wrong.

#include <cmath>
#include <limits>
#include <sstream>

#include "flarenut/base/error.hpp"

namespace flarenut::bindings {

inline constexpr double no_limit = std::numeric_limits<double>::infinity();

inline void within(const char* place, const char* field, double value, double least, double most = no_limit) {
  if (std::isfinite(value) && value >= least && value <= most) return;
  std::ostringstream trouble;
  trouble << value << " is outside " << least << " to ";
  most == no_limit ? trouble << "anything finite" : trouble << most;
  throw InputError(place, field, trouble.str());
}

inline void above_zero(const char* place, const char* field, double value) {
  if (std::isfinite(value) && value > 0.0) return;
  std::ostringstream trouble;
  trouble << value << " must be above 0 and finite";
  throw InputError(place, field, trouble.str());
}

}  // namespace flarenut::bindings

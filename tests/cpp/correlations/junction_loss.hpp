#pragma once

#include "flarenut/correlations/junction.hpp"

namespace flarenut::correlations {

/// Loss coefficients of the two ways through a junction, on the velocity of the leg that carries the whole flow.
struct Loss {
  double branch;
  double run;
};
// Both with run1 as the main leg, unit flow and area: a wye is raked so that this is the easy way in both directions.
inline Loss combining(const JunctionShape& s, double q) {
  const auto d = junction_drops(s, -1.0, 1.0 - q, 0.0);
  return {-2.0 * d.run1_to_branch, -2.0 * d.run1_to_run2};
}
inline Loss dividing(const JunctionShape& s, double q) {
  const auto d = junction_drops(s, 1.0, -(1.0 - q), 0.0);
  return {2.0 * d.run1_to_branch, 2.0 * d.run1_to_run2};
}

}  // namespace flarenut::correlations

#pragma once
/// What shuts the ways to a place that liquid does not reach, or from one that it cannot leave.

#include <vector>

#include "flarenut/analysis/flow_system.hpp"

namespace flarenut::analysis {

/// A valve that is shut, or a check valve that pressure stands against.
struct ShutWay {
  int part = -1;
  bool against = false;  ///< more pressure at its outlet than at its inlet: a check valve may be the wrong way round
};

/// Those met on the ways from a free junction to tanks and given pressures, the nearest first, at most `most` of them. Each is gone through to
/// what lies behind it: of two in a row one alone does not open the way. Regulators and relief valves are not gone through. They shut by
/// themselves where no liquid comes, which is a consequence.
std::vector<ShutWay> shut_ways(const FlowSystem& system, int from, std::size_t most = 3);

}  // namespace flarenut::analysis

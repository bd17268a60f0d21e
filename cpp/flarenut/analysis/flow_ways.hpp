#pragma once
/// Which parts lie on the way of liquid, found by following the flow.

#include <vector>

#include "flarenut/analysis/flow_system.hpp"

namespace flarenut::analysis {

/// What draws liquid through a junction: a pump, or the largest demand.
struct Drawer {
  int pump = -1, junction = -1;
};
Drawer drawer_beyond(const FlowSystem& system, int from);

/// Parts that a pump pushes liquid through, itself with them, as far as the next tank or place of given pressure: 1 each; 0 the others. What lies
/// there does not keep liquid from the pump. All 0 for no pump, −1.
std::vector<char> pushed_through(const FlowSystem& system, int pump);

/// Parts that bring liquid to a place, or with `out` take it away, as far as tanks and given pressures: 1 each. One that passes next to none of what
/// passes the place is not on the way, nor is one that stands shut while more than half comes by another.
std::vector<char> on_the_way(const FlowSystem& system, int place, bool out);

}  // namespace flarenut::analysis

#pragma once
/// Where devices and branches of the lanes are linearised when a row starts: at their iterate.

#include <vector>

#include "flarenut/lanes/circuit.hpp"

namespace flarenut::analysis {

struct LanePoints {
  /// Places: a flow as it is or turned round, a pressure with its head.
  struct Flow {
    int to, from;
    double sign;
  };
  struct Pressure {
    int to, from, head;
  };
  std::vector<Flow> flows;
  std::vector<Pressure> pressures;
};

}  // namespace flarenut::analysis

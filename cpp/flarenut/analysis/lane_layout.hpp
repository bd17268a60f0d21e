#pragma once
/// Lays a plan out for so many lanes: which parts follow each other in runs, and which numbers of which part go where.

#include <optional>

#include "flarenut/lanes/circuit.hpp"
#include "flarenut/network/plan.hpp"

namespace flarenut::analysis {

struct LaneLayout {
  /// A flow of the plan: where it stands in the lanes, and whether its run goes the other way.
  struct Flow {
    int place = 0;
    double sign = 1.0;
  };
  /// Where a part is among members, or else among branches.
  struct Part {
    int member = -1, branch = -1;
  };

  lanes::Circuit circuit;
  std::vector<Flow> flow;
  std::vector<Part> part;
  std::vector<std::vector<int>> run;  ///< members of each run on the way, as places among members
};

/// `numbers` are those of the plan that rows change: nothing is taken together that one of them may part. Nothing where the
/// circuit is too large for a listed elimination.
std::optional<LaneLayout> lay_out(const network::Plan& plan, const std::vector<int>& numbers, int width);

}  // namespace flarenut::analysis

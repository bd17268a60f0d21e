#pragma once
/// Which parts of a plan follow each other with nothing between them, so that one flow passes them all.

#include <vector>

#include "flarenut/network/plan.hpp"

namespace flarenut::analysis {

struct PartRun {
  struct Part {
    int part = 0, law = 0;
    int to = 0;             ///< junction it leads to, on the way
    bool reversed = false;  ///< its own first port stands there
    bool has_opening = false;
  };
  std::vector<Part> parts;
  int from = 0, to = 0;     ///< junctions
};

struct PartRuns {
  std::vector<PartRun> runs;
  std::vector<int> others;   ///< parts that are no member of a run, in the order of their laws, those from outside first
  std::vector<char> inside;  ///< by junction: whether it is within a run
};

/// Place of a part's law in `lanes::law_names()`, or `lanes::outside`.
int law_of(const network::Element& element);

/// A junction is within a run when two parts meet there, both with a loss by flow alone, nothing is taken out (nor will be: that is no
/// one of `numbers`), and no device feels its pressure.
PartRuns find_runs(const network::Plan& plan, const std::vector<int>& numbers);

}  // namespace flarenut::analysis

#pragma once
/// Steady answers of large plain circuits: the ladder of `steady.hpp` on `PlainSystem`.
///
/// Every law of a plain circuit rises with its flow, so Newton's full steps hardly ever need the lower rungs; they are there all the
/// same. Source stepping is not: nothing here has a drive to raise.

#include "flarenut/analysis/plain_system.hpp"
#include "flarenut/analysis/steady.hpp"
#include "flarenut/network/row_plan.hpp"

namespace flarenut::analysis {

/// Solves with the system as it stands. False when no rung held; `solution` then tells the last one.
bool climb(PlainSystem& system, Solution& solution, Start start, const SteadyOptions& options);

/// Solves a plan kept in rows, keeping the workspace between calls.
class RowSolver {
 public:
  explicit RowSolver(const network::RowPlan& plan);
  void solve(Solution& solution, Start start = {}, const SteadyOptions& options = {});

  const PlainSystem& system() const { return system_; }

 private:
  void explain(Solution& solution, bool done);

  const network::RowPlan& plan_;
  network::PlainCircuit circuit_;
  long version_;
  PlainSystem system_;
};

}  // namespace flarenut::analysis

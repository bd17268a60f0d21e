#pragma once
/// An answer that rows of a batch may start from: that of the plan at its own numbers, and how it moves with the numbers that rows
/// change, to the first order. Found once per batch, from the plan and the choice of numbers alone: so where a row starts depends neither
/// on other rows nor on how a batch is cut, nor on threads and kernels.

#include <vector>

#include "flarenut/analysis/batch_task.hpp"
#include "flarenut/analysis/lane_layout.hpp"

namespace flarenut::analysis {

class LaneReference {
 public:
  /// Knows nothing where the plan's own numbers have no answer, where that has no slopes, and for circuits so large that finding
  /// them would cost more than it saves.
  LaneReference(const network::Plan& plan, const BatchTask& task, const LaneLayout& layout);

  bool known() const { return !answer_.empty(); }
  /// Of the lanes' unknowns: pressures in the order of their equations, then flows.
  const std::vector<double>& answer() const { return answer_; }
  /// The numbers that rows change, as the plan has them.
  const double* numbers() const { return numbers_.data(); }

  /// How far rows lie apart, by what it does to flows: 1 changes some flow by as much as it is.
  double distance(const double* from, const double* to) const;
  /// From the reference itself, for several rows at once: `lanes::RowKernel::move`. Rows that start from another answer are moved one by
  /// one, in other steps: the two agree to round-off.
  lanes::Moves moves() const;
  /// The unknowns of an answer, moved along the slopes from the numbers of one row to those of another. A flow keeps its direction and
  /// moves by a factor of some size at most: a straight line knows nothing of a valve that shuts.
  void move(const double* from, const double* answer, const double* to, double* unknowns) const;

 private:
  bool find(network::Plan plan, const std::vector<int>& numbers, const LaneLayout& layout);

  std::vector<double> answer_, numbers_, reach_;
  std::size_t pressures_ = 0;
  std::vector<double> slope_, by_unknown_;  ///< [number × unknowns]; the same as [unknowns × numbers]
  std::vector<double> least_, most_;        ///< of each unknown that is moved from the reference
};

}  // namespace flarenut::analysis

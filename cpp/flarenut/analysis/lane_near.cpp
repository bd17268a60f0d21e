#include <algorithm>

#include "flarenut/analysis/lane_worker.hpp"

// Rows that are taken near their answers before they come into a lane: see `lane_approach.hpp`.

namespace flarenut::analysis {

void LaneWorker::begin_near(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  for (;; waiting_.pop_back()) {
    while (waiting_.empty() && approach_rows()) {}
    here.busy = !waiting_.empty();
    if (!here.busy) return;
    const Waiting& next = waiting_.back();
    here.row = next.row;
    here.end = next.row + 1;
    here.warm = false;
    here.approached = next.near;
    here.chain.begin();
    here.began = turn_;
    try {
      if (next.near) {
        load(lane);
        approach_->bring(next.kept.data(), state_, lane);
        here.packed = true;
        here.cold = false;
      } else {
        fill(lane);
        start(lane);
      }
    } catch (const InputError& error) {
      batch_.fail(here.row, RowStatus::refused, error.what());
      continue;
    }
    return waiting_.pop_back();
  }
}

bool LaneWorker::approach_rows() {
  if (batch_.stopped_) return false;  // within a block, too
  const std::size_t block = batch_.options_.block, at_once = (2 * static_cast<std::size_t>(kernel_.width) + block - 1) / block * block;
  if (next_row_ == end_row_) {
    const std::size_t count = batch_.task_.count;
    next_row_ = batch_.stopped_ ? count : std::min(count, batch_.next_block_.fetch_add(at_once / block) * block);
    end_row_ = std::min(count, next_row_ + at_once);
  }
  if (next_row_ == end_row_) return false;
  const int halves = approach_->run(rows_, next_row_, end_row_);
  next_row_ = approach_->group(halves - 1).end;
  for (int half = 0; half < halves; ++half) {
    const LaneRows::Group& group = approach_->group(half);
    const lanes::State& found = approach_->found(half);
    const unsigned done = found.accepted & ~found.impossible;
    for (std::size_t row = group.first; row < group.end; ++row) {
      const auto column = static_cast<unsigned>(row - group.first);
      if ((done >> column & 1U) != 0) {
        const bool foretold = (found.forecast >> column & 1U) != 0;
        const std::size_t residual = static_cast<std::size_t>(circuit_.region.residual) + column;
        try {
          write_row(row, found, static_cast<int>(column), plan_);
          count(row, LaneApproach::steps + 1, foretold ? circuit_.approach_tolerance : found.memory[residual]);
        } catch (const InputError& error) {  // of a reading that puts the row's numbers into the plan
          batch_.fail(row, RowStatus::refused, error.what());
        }
      } else {
        Waiting& kept = waiting_.emplace_back();
        kept.row = row;
        kept.near = rows_.sound(group, row) && approach_->keep(half, static_cast<int>(column), kept.kept);
      }
    }
  }
  return true;
}

}  // namespace flarenut::analysis

#include "flarenut/analysis/lane_chain.hpp"

#include <algorithm>
#include <cmath>

namespace flarenut::analysis {

namespace {

/// Weights of the answers before, newest first, of a polynomial of degree `order` through the last of them.
constexpr double ahead[4][4] = {{1.0, 0.0, 0.0, 0.0}, {2.0, -1.0, 0.0, 0.0}, {3.0, -3.0, 1.0, 0.0}, {4.0, -6.0, 4.0, -1.0}};

}  // namespace

LaneChain::LaneChain(const LaneReference& reference, const BatchTask& task, std::size_t unknowns)
    : reference_(reference), task_(task), start_(unknowns, 0.0) {
  before_.fill(start_);
  for (Opening& opening : openings_) opening.answer.fill(start_);
}

void LaneChain::begin() {
  break_off();
  last_row_ = no_row;
}

void LaneChain::solved(std::size_t row, int iterations) {
  constexpr int expected = 4;
  ++chained_;
  last_row_ = row;
  surprised_ = iterations > expected;
}

void LaneChain::break_off() {
  chained_ = evenly_ = 0;
  if (!opened_) return;
  opened_ = false;
  for (Opening& opening : openings_) opening.row = no_row;
}

double* LaneChain::next() {
  newest_ = (newest_ + kept - 1) % kept;
  return before_[newest_].data();
}

bool LaneChain::same_steps(std::size_t to, std::size_t from, std::size_t other_to, std::size_t other_from) const {
  const double *const a = values_of(to), *const b = values_of(from), *const c = values_of(other_to), *const d = values_of(other_from);
  for (std::size_t i = 0; i < task_.numbers.size(); ++i)
    if (!(std::abs((a[i] - b[i]) - (c[i] - d[i])) <= 1e-9 * std::abs(a[i]))) return false;
  return true;
}

void LaneChain::follow(std::size_t row) {
  if (chained_ == 0) return;
  const std::size_t previous = row - 1;
  opened_ = true;
  Opening& present = openings_[0];
  if (present.row == no_row) present.row = previous;
  const std::size_t place = previous - present.row;
  if (place < kept) present.answer[place] = earlier(0);
  const bool even = chained_ >= 2 && same_steps(row, previous, previous, row - 2);
  evenly_ = even && !surprised_ ? evenly_ + 1 : 0;
  if (even) return;
  if (place >= 2) {  // a run has come to its end
    std::rotate(openings_.begin(), openings_.end() - 1, openings_.end());
    openings_[0].row = row;
  } else if (place == 1) {
    present.row = previous;
    present.answer[0] = earlier(0);
  }
}

const double* LaneChain::start(std::size_t row, bool warm) {
  at_reference_ = false;
  if (chained_ > 0 && (openings_[0].row == row ? open(row) : go_ahead(row))) return start_.data();
  if (!reference_.known()) return warm ? earlier(0).data() : nullptr;
  at_reference_ = !start_near(row);
  return at_reference_ ? nullptr : start_.data();
}

/// The first row of a run: on from the first rows of the two before it.
bool LaneChain::open(std::size_t row) {
  const Opening &before = openings_[1], &first = openings_[2];
  if (first.row == no_row || !same_steps(row, before.row, before.row, first.row)) return false;
  for (std::size_t u = 0; u < start_.size(); ++u) start_[u] = 2.0 * before.answer[0][u] - first.answer[0][u];
  return true;
}

bool LaneChain::go_ahead(std::size_t row) {
  const std::size_t order = std::min(evenly_, kept - 1), place = row - openings_[0].row;
  const Opening& before = openings_[1];
  const bool as_before = place < kept && before.row != no_row && before.row + place < openings_[0].row &&
                         same_steps(row, row - 1, before.row + place, before.row + place - 1);
  if (order == 0 && !as_before) return false;
  const double* const weight = ahead[order];
  const double *const first = earlier(0).data(), *const second = earlier(1).data(), *const third = earlier(2).data(),
               *const fourth = earlier(3).data();
  double* const start = start_.data();
  const std::size_t count = start_.size();
#pragma GCC ivdep
  for (std::size_t u = 0; u < count; ++u)
    start[u] = (weight[0] * first[u] + weight[1] * second[u]) + (weight[2] * third[u] + weight[3] * fourth[u]);
  if (!as_before) return true;
  for (std::size_t u = 0; u < count; ++u) {
    start[u] += before.answer[place][u];
    for (std::size_t i = 0; i <= order; ++i) start[u] -= weight[i] * before.answer[place - 1 - i][u];
  }
  return true;
}

/// From an answer that is much nearer than the reference, if there is one.
bool LaneChain::start_near(std::size_t row) {
  if (last_row_ == no_row) return false;
  constexpr double much_nearer = 0.25;
  const double* const now = values_of(row);
  const double *from = nullptr, *answer = nullptr;
  double least = much_nearer * reference_.distance(reference_.numbers(), now);
  const auto look_at = [&](std::size_t other, const std::vector<double>& unknowns) {
    const double distance = reference_.distance(values_of(other), now);
    if (distance < least) least = distance, from = values_of(other), answer = unknowns.data();
  };
  look_at(last_row_, earlier(0));
  if (openings_[1].row != no_row) look_at(openings_[1].row, openings_[1].answer[0]);
  if (from != nullptr) reference_.move(from, answer, now, start_.data());
  return from != nullptr;
}

}  // namespace flarenut::analysis

#include "flarenut/solver/symmetric_factor.hpp"

#include <algorithm>
#include <cmath>

#include "flarenut/solver/block_kernel.hpp"
#include "flarenut/solver/elimination.hpp"
#include "flarenut/solver/pivoting_lu.hpp"

namespace flarenut::solver {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }
constexpr int widest_product = 64;  ///< columns that are worked out before they are put where they belong

/// Whether a column block of `columns` may take in entries that are zero, of which there would be `zeros` among `entries`. Wider blocks
/// run faster; the bounds are found by trial.
bool worth_joining(int columns, double zeros, double entries) {
  const double share = zeros / entries;
  if (columns <= 4) return true;
  if (columns <= 16) return share < 0.6;
  if (columns <= 48) return share < 0.1;
  return share < 0.05;
}

}  // namespace

struct SymmetricFactor::Pivoting {
  PivotingLU lu;
  bool fresh = false;
};

SymmetricFactor::~SymmetricFactor() = default;
SymmetricFactor::SymmetricFactor(SymmetricFactor&&) noexcept = default;

SymmetricFactor::SymmetricFactor(int size, std::span<const int> from, std::span<const int> to)
    : size_(size), pivoting_(std::make_unique<Pivoting>()) {
  const Adjacency joined = adjacency_of(size, from, to);
  order_ = small_fill_order(joined);
  const EliminationTree tree = elimination_tree(joined, order_);
  step_of_.resize(at(size));
  for (int k = 0; k < size; ++k) step_of_[at(order_[at(k)])] = k;

  start_.reserve(at(size) + 1);
  start_.push_back(0);
  row_.reserve(joined.index.size() / 2 + at(size));
  for (int k = 0; k < size; ++k) {
    const auto first = static_cast<std::ptrdiff_t>(row_.size());
    row_.push_back(k);
    for (int neighbour : joined.of(order_[at(k)]))
      if (step_of_[at(neighbour)] > k) row_.push_back(step_of_[at(neighbour)]);
    std::sort(row_.begin() + first, row_.end());
    start_.push_back(static_cast<int>(row_.size()));
  }
  gather_rows(tree.parent, tree.count);
}

/// Columns that follow each other and share their rows make a block; small ones are joined with the next even where that takes in
/// some zeros. Then the rows of each block: those of the matrix, and those its children in the tree hand on.
void SymmetricFactor::gather_rows(const std::vector<int>& parent, const std::vector<int>& count) {
  std::vector<double> zeros;  // of each block
  const auto area = [](double columns, double rows) { return columns * (rows - 0.5 * (columns - 1.0)); };
  for (int k = 0; k < size_; ++k) {
    const bool continues = k > 0 && parent[at(k - 1)] == k && count[at(k - 1)] == count[at(k)] + 1;
    if (continues) {
      ++blocks_.back().columns;
      continue;
    }
    blocks_.push_back({k, 1, count[at(k)], 0, 0});
    zeros.push_back(0.0);
  }
  std::vector<Block> joined;
  std::vector<double> joined_zeros;
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    Block block = blocks_[b];
    double nought = zeros[b];
    while (!joined.empty()) {
      const Block& before = joined.back();
      if (parent[at(block.first - 1)] != block.first || before.first + before.columns != block.first) break;
      const int columns = before.columns + block.columns, rows = before.columns + block.rows;
      const double all = area(columns, rows);
      const double more = nought + joined_zeros.back() + area(before.columns, rows) - area(before.columns, before.rows);
      if (!worth_joining(columns, more, all)) break;
      block = {before.first, columns, rows, 0, 0};
      nought = more;
      joined.pop_back();
      joined_zeros.pop_back();
    }
    joined.push_back(block);
    joined_zeros.push_back(nought);
  }
  blocks_.assign(joined.begin(), joined.end());
  joined = {};

  const auto n = at(size_);
  std::vector<int> block_of(n), child(blocks_.size(), -1), sibling(blocks_.size(), -1), seen(n, -1);
  for (std::size_t b = 0; b < blocks_.size(); ++b)
    std::fill_n(block_of.begin() + blocks_[b].first, blocks_[b].columns, static_cast<int>(b));
  std::size_t rows = 0, entries = 0;
  int most_rows = 0;
  for (const Block& block : blocks_) rows += at(block.rows);
  rows_.reserve(rows);
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    Block& block = blocks_[b];
    const int here = static_cast<int>(b), last = block.first + block.columns;
    block.first_row = static_cast<int>(rows_.size());
    for (int k = block.first; k < last; ++k) rows_.push_back(k);
    const auto add = [&](int row) {
      if (row < last || seen[at(row)] == here) return;
      seen[at(row)] = here;
      rows_.push_back(row);
    };
    for (int e = start_[at(block.first)]; e < start_[at(last)]; ++e) add(row_[at(e)]);
    for (int c = child[b]; c >= 0; c = sibling[at(c)])
      for (int r = blocks_[at(c)].columns; r < blocks_[at(c)].rows; ++r) add(rows_[at(blocks_[at(c)].first_row + r)]);
    std::sort(rows_.begin() + block.first_row + block.columns, rows_.end());
    block.rows = static_cast<int>(rows_.size()) - block.first_row;
    block.first_entry = entries;
    entries += at(block.rows) * at(block.columns);
    most_rows = std::max(most_rows, block.rows);
    if (block.rows > block.columns) {
      const int up = block_of[at(rows_[at(block.first_row + block.columns)])];
      sibling[b] = child[at(up)];
      child[at(up)] = here;
    }
  }
  map_.swap(block_of);
  next_.swap(sibling);
  reached_.swap(child);
  values_.assign(row_.size(), 0.0);
  factor_.assign(entries + BlockKernel::slack, 0.0);
  product_.assign(at(most_rows) * widest_product, 0.0);
  room_.assign(BlockKernel::room_for(most_rows), 0.0);
  work_.assign(2 * n, 0.0);
}

int SymmetricFactor::place(int a, int b) const {
  const int i = step_of_[at(a)], j = step_of_[at(b)];
  const auto begin = row_.begin() + start_[at(std::min(i, j))], end = row_.begin() + start_[at(std::min(i, j)) + 1];
  const auto found = std::lower_bound(begin, end, std::max(i, j));
  return found != end && *found == std::max(i, j) ? static_cast<int>(found - row_.begin()) : -1;
}

void SymmetricFactor::assemble(const Block& block) {
  double* const to = entries(block);
  std::fill_n(to, at(block.rows) * at(block.columns), 0.0);
  for (int r = 0; r < block.rows; ++r) map_[at(rows_[at(block.first_row + r)])] = r;
  for (int c = 0; c < block.columns; ++c)
    for (int e = start_[at(block.first + c)]; e < start_[at(block.first + c) + 1]; ++e)
      to[at(c) * at(block.rows) + at(map_[at(row_[at(e)])])] = values_[at(e)];
}

/// Takes from `into` what the block `from` owes it: rows `begin` … `end` of `from` are columns of `into`.
void SymmetricFactor::take(const Block& from, int begin, int end, const Block& into) {
  const BlockKernel& kernel = block_kernel();
  double* const to = entries(into);
  for (int first = begin; first < end; first += widest_product) {
    const int columns = std::min(widest_product, end - first), rows = from.rows - first;
    kernel.product(rows, columns, from.columns, entries(from) + first, from.rows, product_.data(), rows, room_.data());
    const int* const row = &rows_[at(from.first_row + first)];
    for (int c = 0; c < columns; ++c) {
      double* const column = to + at(row[c] - into.first) * at(into.rows);
      const double* const owed = product_.data() + at(c) * at(rows);
      for (int r = c; r < rows; ++r) column[map_[at(row[r])]] -= owed[r];
    }
  }
}

bool SymmetricFactor::factorise() {
  pivoting_->fresh = false;
  sound_ = false;
  // Each block waits in the list of the block that it owes to next; `reached_` tells which of its rows comes then.
  std::vector<int> waiting(blocks_.size(), -1), block_of(at(size_));
  for (std::size_t b = 0; b < blocks_.size(); ++b)
    std::fill_n(block_of.begin() + blocks_[b].first, blocks_[b].columns, static_cast<int>(b));
  const auto wait = [&](int b) {
    const Block& block = blocks_[at(b)];
    if (reached_[at(b)] == block.rows) return;
    int& list = waiting[at(block_of[at(rows_[at(block.first_row + reached_[at(b)])])])];
    next_[at(b)] = list;
    list = b;
  };
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    const Block& block = blocks_[b];
    assemble(block);
    for (int d = waiting[b], after; d >= 0; d = after) {
      after = next_[at(d)];
      const Block& from = blocks_[at(d)];
      const int begin = reached_[at(d)];
      int end = begin;
      while (end < from.rows && rows_[at(from.first_row + end)] < block.first + block.columns) ++end;
      take(from, begin, end, block);
      reached_[at(d)] = end;
      wait(d);
    }
    if (!block_kernel().factorise(block.rows, block.columns, entries(block), block.rows, room_.data())) return false;
    reached_[b] = block.columns;
    wait(static_cast<int>(b));
  }
  return sound_ = true;
}

void SymmetricFactor::forward_back(const double* right_hand_side, double* solution) {
  double* const x = work_.data();
  for (int k = 0; k < size_; ++k) x[k] = right_hand_side[order_[at(k)]];
  for (const Block& block : blocks_) {
    const int* const row = &rows_[at(block.first_row)];
    const double* column = entries(block);
    for (int c = 0; c < block.columns; ++c, column += block.rows) {
      const double now = x[block.first + c] /= column[c];
      for (int r = c + 1; r < block.rows; ++r) x[row[r]] -= column[r] * now;
    }
  }
  for (auto block = blocks_.rbegin(); block != blocks_.rend(); ++block) {
    const int* const row = &rows_[at(block->first_row)];
    for (int c = block->columns - 1; c >= 0; --c) {
      const double* const column = entries(*block) + at(c) * at(block->rows);
      double sum = x[block->first + c];
      for (int r = c + 1; r < block->rows; ++r) sum -= column[r] * x[row[r]];
      x[block->first + c] = sum / column[c];
    }
  }
  for (int k = 0; k < size_; ++k) solution[order_[at(k)]] = x[k];
}

/// Residual of an answer, and its size against what the rows are made of: the backward error.
double SymmetricFactor::worst_residual(const double* right_hand_side, const double* solution, double* residual) const {
  std::vector<double> size(at(size_));
  for (int i = 0; i < size_; ++i) {
    residual[i] = right_hand_side[i];
    size[at(i)] = std::abs(right_hand_side[i]);
  }
  for (int k = 0; k < size_; ++k) {
    const int a = order_[at(k)];
    for (int e = start_[at(k)]; e < start_[at(k) + 1]; ++e) {
      const int b = order_[at(row_[at(e)])];
      const double value = values_[at(e)];
      residual[a] -= value * solution[b];
      size[at(a)] += std::abs(value * solution[b]);
      if (a == b) continue;
      residual[b] -= value * solution[a];
      size[at(b)] += std::abs(value * solution[a]);
    }
  }
  double worst = 0.0;
  for (int i = 0; i < size_; ++i) {
    const double here = std::abs(residual[i]);
    if (!(here <= worst * size[at(i)])) worst = size[at(i)] > 0.0 ? here / size[at(i)] : INFINITY;
  }
  return worst;
}

bool SymmetricFactor::solve(const double* right_hand_side, double* solution) {
  constexpr double tolerance = 1e-11;
  pivots_ = false;
  if (sound_) {
    forward_back(right_hand_side, solution);
    double* const residual = work_.data() + size_;
    if (worst_residual(right_hand_side, solution, residual) <= tolerance) return true;
  }
  pivots_ = true;
  return solve_pivoting(right_hand_side, solution);
}

bool SymmetricFactor::solve_pivoting(const double* right_hand_side, double* solution) {
  if (!pivoting_->fresh) {
    std::vector<int> row_start(at(size_) + 1, 0), column(2 * row_.size() - at(size_));
    std::vector<double> whole(column.size());
    const auto each = [&](auto&& action) {
      for (int k = 0; k < size_; ++k)
        for (int e = start_[at(k)]; e < start_[at(k) + 1]; ++e) {
          action(row_[at(e)], k, values_[at(e)]);
          if (row_[at(e)] != k) action(k, row_[at(e)], values_[at(e)]);
        }
    };
    each([&](int row, int, double) { ++row_start[at(row) + 1]; });
    for (int k = 0; k < size_; ++k) row_start[at(k) + 1] += row_start[at(k)];
    std::vector<int> next(row_start.begin(), row_start.end() - 1);
    each([&](int row, int k, double value) {
      column[at(next[at(row)])] = k;
      whole[at(next[at(row)]++)] = value;
    });
    if (!pivoting_->lu.factorise(size_, row_start, column, whole)) return false;
    pivoting_->fresh = true;
  }
  std::vector<double> right(at(size_)), found(at(size_));
  for (int k = 0; k < size_; ++k) right[at(k)] = right_hand_side[order_[at(k)]];
  if (!pivoting_->lu.solve(right.data(), found.data(), false)) return false;
  for (int k = 0; k < size_; ++k) solution[order_[at(k)]] = found[at(k)];
  return true;
}

std::size_t SymmetricFactor::bytes() const {
  const auto of = [](const auto& vector) { return vector.capacity() * sizeof(vector[0]); };
  return of(order_) + of(step_of_) + of(start_) + of(row_) + of(values_) + of(blocks_) + of(rows_) + of(map_) + of(next_) +
         of(reached_) + of(factor_) + of(product_) + of(room_) + of(work_);
}

}  // namespace flarenut::solver

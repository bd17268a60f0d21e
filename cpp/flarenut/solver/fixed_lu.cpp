#include "flarenut/solver/fixed_lu.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "flarenut/solver/pivoting_lu.hpp"

namespace flarenut::solver {

struct FixedLU::Pivoting {
  PivotingLU lu;
  bool fresh = false;
};

namespace {

/// Order of elimination that keeps the fill small.
std::vector<int> minimum_degree_order(int size, const std::vector<FixedLU::Entry>& entries) {
  using Matrix = Eigen::SparseMatrix<double>;
  std::vector<Eigen::Triplet<double>> triplets;
  triplets.reserve(entries.size());
  for (const auto& [row, column] : entries) triplets.emplace_back(row, column, 1.0);
  Matrix pattern(size, size);
  pattern.setFromTriplets(triplets.begin(), triplets.end());
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> permutation;
  Eigen::AMDOrdering<int>()(pattern, permutation);
  // AMD returns the order as new-to-old positions.
  std::vector<int> order(static_cast<std::size_t>(size));
  for (int i = 0; i < size; ++i) order[static_cast<std::size_t>(i)] = permutation.indices()[i];
  return order;
}

}  // namespace

FixedLU::FixedLU(int size, std::vector<Entry> entries) : size_(size), pivoting_(std::make_unique<Pivoting>()) {
  const auto n = static_cast<std::size_t>(size);
  for (int i = 0; i < size; ++i) entries.emplace_back(i, i);
  std::sort(entries.begin(), entries.end());
  entries.erase(std::unique(entries.begin(), entries.end()), entries.end());
  row_start_.assign(n + 1, 0);
  for (const auto& [row, column] : entries) {
    ++row_start_[static_cast<std::size_t>(row) + 1];
    column_.push_back(column);
  }
  for (std::size_t i = 0; i < n; ++i) row_start_[i + 1] += row_start_[i];
  values_.assign(entries.size() + 1, 0.0);
  work_.assign(2 * n, 0.0);

  order_ = minimum_degree_order(size, entries);
  std::vector<int> step_of(n);
  for (std::size_t k = 0; k < n; ++k) step_of[static_cast<std::size_t>(order_[k])] = static_cast<int>(k);

  // Fill: eliminating step k joins all its later neighbours. The pattern is taken as symmetric. Each set is
  // merged into its first later member only (the elimination tree), which is enough.
  std::vector<std::vector<int>> later(n);
  for (const auto& [row, column] : entries) {
    const int a = step_of[static_cast<std::size_t>(row)], b = step_of[static_cast<std::size_t>(column)];
    if (a != b) later[static_cast<std::size_t>(std::min(a, b))].push_back(std::max(a, b));
  }
  std::size_t list_length = 0;
  fill_start_.assign(1, 0);
  for (std::size_t k = 0; k < n; ++k) {
    auto& row = later[k];
    std::sort(row.begin(), row.end());
    row.erase(std::unique(row.begin(), row.end()), row.end());
    if (!row.empty()) {
      auto& parent = later[static_cast<std::size_t>(row.front())];
      parent.insert(parent.end(), row.begin() + 1, row.end());
    }
    list_length += row.size() * row.size();
    if (list_length > most_list_length) {
      listed_ = false;
      return;
    }
    fill_index_.insert(fill_index_.end(), row.begin(), row.end());
    fill_start_.push_back(static_cast<int>(fill_index_.size()));
  }

  const int fill = static_cast<int>(fill_index_.size());
  // Places in `factors_`: pivots first, then U by rows, then L by columns.
  const auto place_in_factors = [&](int a, int b) {
    if (a == b) return a;
    const int k = std::min(a, b);
    const auto begin = fill_index_.begin() + fill_start_[static_cast<std::size_t>(k)];
    const auto end = fill_index_.begin() + fill_start_[static_cast<std::size_t>(k) + 1];
    const auto found = std::lower_bound(begin, end, std::max(a, b));
    const int offset = static_cast<int>(found - fill_index_.begin());
    return size_ + (a < b ? 0 : fill) + offset;
  };
  for (const auto& [row, column] : entries)
    scatter_.push_back(place_in_factors(step_of[static_cast<std::size_t>(row)], step_of[static_cast<std::size_t>(column)]));
  list_.reserve(list_length);
  for (std::size_t k = 0; k < n; ++k)
    for (int i = fill_start_[k]; i < fill_start_[k + 1]; ++i)
      for (int j = fill_start_[k]; j < fill_start_[k + 1]; ++j)
        list_.push_back(place_in_factors(fill_index_[static_cast<std::size_t>(i)], fill_index_[static_cast<std::size_t>(j)]));
  factors_.assign(n + 2 * static_cast<std::size_t>(fill), 0.0);
  std::vector<char> lands(factors_.size(), 0);
  for (int place : scatter_) lands[static_cast<std::size_t>(place)] = 1;
  for (std::size_t place = 0; place < lands.size(); ++place)
    if (lands[place] == 0) filled_.push_back(static_cast<int>(place));
  inverse_pivot_.assign(n, 0.0);
}

FixedLU::~FixedLU() = default;
FixedLU::FixedLU(FixedLU&&) noexcept = default;

FixedLU::FixedLU(const FixedLU& other)
    : size_(other.size_), row_start_(other.row_start_), column_(other.column_), values_(other.values_),
      order_(other.order_), inverse_pivot_(other.inverse_pivot_), fill_start_(other.fill_start_),
      fill_index_(other.fill_index_), scatter_(other.scatter_), filled_(other.filled_), list_(other.list_), factors_(other.factors_),
      work_(other.work_), listed_(other.listed_), pivoting_(std::make_unique<Pivoting>()) {}

FixedLU& FixedLU::operator=(FixedLU other) noexcept {
  std::swap(size_, other.size_);
  row_start_.swap(other.row_start_);
  column_.swap(other.column_);
  values_.swap(other.values_);
  order_.swap(other.order_);
  inverse_pivot_.swap(other.inverse_pivot_);
  fill_start_.swap(other.fill_start_);
  fill_index_.swap(other.fill_index_);
  scatter_.swap(other.scatter_);
  filled_.swap(other.filled_);
  list_.swap(other.list_);
  factors_.swap(other.factors_);
  work_.swap(other.work_);
  std::swap(listed_, other.listed_);
  pivoting_.swap(other.pivoting_);
  return *this;
}

int FixedLU::place(int row, int column) const {
  const auto begin = column_.begin() + row_start_[static_cast<std::size_t>(row)];
  const auto end = column_.begin() + row_start_[static_cast<std::size_t>(row) + 1];
  const auto found = std::lower_bound(begin, end, column);
  return found != end && *found == column ? static_cast<int>(found - column_.begin()) : -1;
}

bool FixedLU::factorise() {
  pivoting_->fresh = false;
  if (!listed_) {
    pivoting_->fresh = pivoting_->lu.factorise(size_, row_start_, column_, values_);
    return pivoting_->fresh;
  }
  double* const f = factors_.data();
  for (int place : filled_) f[place] = 0.0;
  for (std::size_t i = 0; i < scatter_.size(); ++i) f[scatter_[i]] = values_[i];
  const int fill = static_cast<int>(fill_index_.size());
  const int* target = list_.data();
  bool sound = true;
  for (int k = 0; k < size_; ++k) {
    const double inverse = 1.0 / f[k];
    sound = sound && std::isfinite(inverse);
    inverse_pivot_[static_cast<std::size_t>(k)] = inverse;
    const int begin = fill_start_[static_cast<std::size_t>(k)], end = fill_start_[static_cast<std::size_t>(k) + 1];
    const double* const upper = f + size_;
    double* const lower = f + size_ + fill;
    for (int i = begin; i < end; ++i) {
      const double factor = lower[i] * inverse;
      lower[i] = factor;
      if (factor == 0.0) {  // downstream says nothing to upstream
        target += end - begin;
        continue;
      }
      for (int j = begin; j < end; ++j) f[*target++] -= factor * upper[j];
    }
  }
  return sound;
}

void FixedLU::forward_back(const double* right_hand_side, double* solution) {
  double* const y = work_.data();
  const int fill = static_cast<int>(fill_index_.size());
  const double* const upper = factors_.data() + size_;
  const double* const lower = upper + fill;
  for (int k = 0; k < size_; ++k) y[k] = right_hand_side[order_[static_cast<std::size_t>(k)]];
  for (int k = 0; k < size_; ++k)
    for (int i = fill_start_[static_cast<std::size_t>(k)]; i < fill_start_[static_cast<std::size_t>(k) + 1]; ++i)
      y[fill_index_[static_cast<std::size_t>(i)]] -= lower[i] * y[k];
  for (int k = size_ - 1; k >= 0; --k) {
    double sum = y[k];
    for (int i = fill_start_[static_cast<std::size_t>(k)]; i < fill_start_[static_cast<std::size_t>(k) + 1]; ++i)
      sum -= upper[i] * y[fill_index_[static_cast<std::size_t>(i)]];
    y[k] = sum * inverse_pivot_[static_cast<std::size_t>(k)];
  }
  for (int k = 0; k < size_; ++k) solution[order_[static_cast<std::size_t>(k)]] = y[k];
}

void FixedLU::forward_back_transposed(const double* right_hand_side, double* solution) {
  double* const y = work_.data();
  const int fill = static_cast<int>(fill_index_.size());
  const double* const upper = factors_.data() + size_;
  const double* const lower = upper + fill;
  for (int k = 0; k < size_; ++k) y[k] = right_hand_side[order_[static_cast<std::size_t>(k)]];
  for (int k = 0; k < size_; ++k) {
    y[k] *= inverse_pivot_[static_cast<std::size_t>(k)];
    for (int i = fill_start_[static_cast<std::size_t>(k)]; i < fill_start_[static_cast<std::size_t>(k) + 1]; ++i)
      y[fill_index_[static_cast<std::size_t>(i)]] -= upper[i] * y[k];
  }
  for (int k = size_ - 1; k >= 0; --k) {
    double sum = y[k];
    for (int i = fill_start_[static_cast<std::size_t>(k)]; i < fill_start_[static_cast<std::size_t>(k) + 1]; ++i)
      sum -= lower[i] * y[fill_index_[static_cast<std::size_t>(i)]];
    y[k] = sum;
  }
  for (int k = 0; k < size_; ++k) solution[order_[static_cast<std::size_t>(k)]] = y[k];
}

double FixedLU::worst_residual(const double* right_hand_side, const double* solution, bool transposed) const {
  double worst = 0.0;
  if (!transposed) {
    for (int row = 0; row < size_; ++row) {
      double sum = right_hand_side[row];
      double scale = std::abs(sum);
      for (int i = row_start_[static_cast<std::size_t>(row)]; i < row_start_[static_cast<std::size_t>(row) + 1]; ++i) {
        const double term = values_[static_cast<std::size_t>(i)] * solution[column_[static_cast<std::size_t>(i)]];
        sum -= term;
        scale += std::abs(term);
      }
      if (!std::isfinite(sum)) return sum;
      if (std::abs(sum) > worst * scale) worst = std::abs(sum) / scale;
    }
    return worst;
  }
  std::vector<double> sum(right_hand_side, right_hand_side + size_), scale(static_cast<std::size_t>(size_));
  for (int row = 0; row < size_; ++row)
    for (int i = row_start_[static_cast<std::size_t>(row)]; i < row_start_[static_cast<std::size_t>(row) + 1]; ++i) {
      const auto column = static_cast<std::size_t>(column_[static_cast<std::size_t>(i)]);
      const double term = values_[static_cast<std::size_t>(i)] * solution[row];
      sum[column] -= term;
      scale[column] += std::abs(term);
    }
  for (std::size_t c = 0; c < sum.size(); ++c) {
    if (!std::isfinite(sum[c])) return sum[c];
    if (scale[c] > 0.0) worst = std::max(worst, std::abs(sum[c]) / scale[c]);
  }
  return worst;
}

bool FixedLU::solve_pivoting(const double* right_hand_side, double* solution, bool transposed) {
  if (!pivoting_->fresh) {
    if (!pivoting_->lu.factorise(size_, row_start_, column_, values_)) return false;
    pivoting_->fresh = true;
  }
  return pivoting_->lu.solve(right_hand_side, solution, transposed);
}

bool FixedLU::solve_checked(const double* right_hand_side, double* solution, bool transposed) {
  constexpr double good = 1e-11;  // backward error; plain elimination on a network gives 1e-16
  if (listed_) {
    transposed ? forward_back_transposed(right_hand_side, solution) : forward_back(right_hand_side, solution);
    const double error = worst_residual(right_hand_side, solution, transposed);
    if (std::isfinite(error) && error <= good) return true;
  }
  return solve_pivoting(right_hand_side, solution, transposed);
}

bool FixedLU::solve(const double* right_hand_side, double* solution) {
  return solve_checked(right_hand_side, solution, false);
}
bool FixedLU::solve_transposed(const double* right_hand_side, double* solution) {
  return solve_checked(right_hand_side, solution, true);
}

}  // namespace flarenut::solver

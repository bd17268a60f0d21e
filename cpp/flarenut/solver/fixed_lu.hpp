#pragma once
/// LU factors of a sparse matrix whose pattern never changes.
///
/// A circuit is solved thousands of times with new numbers and the same structure, so the structure is analysed
/// once: an approximate-minimum-degree order (Eigen), the fill it causes, and the exact sequence of
/// multiply-subtracts, written down as a list of places. Factorising is then a walk along that list: no search,
/// no allocation, no branches.
///
/// There is no pivoting: the matrices of flow networks have heavy diagonals. Where one has not (a valve steered
/// by a distant pressure), the check of the answer fails (or the caller's own, who then asks for a checked solve), and the same
/// matrix goes to a pivoting factorisation: dense up to a few hundred unknowns, sparse beyond. Past `most_list_length` multiply-subtracts the
/// list would cost more memory than it saves time, and the sparse one is used from the outset.

#include <cstddef>
#include <memory>
#include <utility>
#include <vector>

namespace flarenut::solver {

class FixedLU {
 public:
  using Entry = std::pair<int, int>;  ///< (row, column)
  static constexpr std::size_t most_list_length = 4'000'000;

  /// `entries` may repeat; the diagonal is always present.
  FixedLU(int size, std::vector<Entry> entries);
  ~FixedLU();
  FixedLU(const FixedLU& other);
  FixedLU(FixedLU&&) noexcept;
  FixedLU& operator=(FixedLU other) noexcept;

  int size() const { return size_; }
  /// Where entry (row, column) lives in `values()`; −1 when it is not in the pattern.
  int place(int row, int column) const;
  /// The same entry's place among the factors: pivots in order of elimination, then U by rows, then L by columns.
  int place_in_factors(int row, int column) const { return scatter_[static_cast<std::size_t>(place(row, column))]; }
  /// A place among the values that belongs to no entry: for what shall be thrown away.
  int spare() const { return static_cast<int>(column_.size()); }
  std::vector<double>& values() { return values_; }
  const std::vector<double>& values() const { return values_; }

  // The program of elimination, for solvers that run it on numbers of their own. Without a list there is none.
  bool listed() const { return listed_; }
  const std::vector<int>& order() const { return order_; }            ///< step k eliminates unknown order()[k]
  const std::vector<int>& fill_start() const { return fill_start_; }  ///< entries of step k among `fill_index`
  const std::vector<int>& fill_index() const { return fill_index_; }
  const std::vector<int>& list() const { return list_; }              ///< targets of the multiply-subtracts
  std::size_t factor_count() const { return factors_.size(); }

  /// Factorises the present values. False when a pivot vanished or is not a number.
  bool factorise();
  /// Solves A x = b with the factors as they are, for a caller who judges the answer himself. Needs a list.
  void solve_unchecked(const double* right_hand_side, double* solution) { forward_back(right_hand_side, solution); }
  /// Solves A x = b, checks the answer against A and falls back on pivoting when it is poor. False: singular.
  bool solve(const double* right_hand_side, double* solution);
  /// The same two with Aᵀ.
  void solve_transposed_unchecked(const double* right_hand_side, double* solution) { forward_back_transposed(right_hand_side, solution); }
  bool solve_transposed(const double* right_hand_side, double* solution);

 private:
  struct Pivoting;
  void forward_back(const double* right_hand_side, double* solution);
  void forward_back_transposed(const double* right_hand_side, double* solution);
  double worst_residual(const double* right_hand_side, const double* solution, bool transposed) const;
  bool solve_pivoting(const double* right_hand_side, double* solution, bool transposed);
  bool solve_checked(const double* right_hand_side, double* solution, bool transposed);

  int size_ = 0;
  // The matrix by rows; columns ascend within a row.
  std::vector<int> row_start_, column_;
  std::vector<double> values_;
  // Elimination order: step k eliminates unknown order_[k].
  std::vector<int> order_;
  // Factors: row k of U and column k of L share a pattern, entries fill_start_[k] .. fill_start_[k+1].
  std::vector<double> inverse_pivot_;
  std::vector<int> fill_start_, fill_index_;
  std::vector<int> scatter_;  ///< where each matrix value lands in factors_
  std::vector<int> filled_;   ///< places of factors_ where none lands
  std::vector<int> list_;     ///< targets of the multiply-subtracts, in the same numbering
  std::vector<double> factors_;  ///< pivots, then U by rows, then L by columns
  std::vector<double> work_;
  bool listed_ = true;
  std::unique_ptr<Pivoting> pivoting_;
};

}  // namespace flarenut::solver

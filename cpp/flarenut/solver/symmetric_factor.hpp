#pragma once
/// Cholesky factors of a large sparse symmetric matrix whose pattern never changes.
///
/// For what `FixedLU` is too small for: from some thousands to millions of unknowns joined by edges. The pattern is analysed once: an
/// order of elimination, the tree it makes, and the columns of the factor gathered into blocks that share their rows (J. W. H. Liu,
/// E. G. Ng, B. W. Peyton, "On finding supernodes for sparse matrix computations", SIAM J. Matrix Anal. Appl. 14, 1993). Each block takes
/// what the blocks to its left owe it by dense products (`block_kernel.hpp`), so large factors run as fast as the processor multiplies.
///
/// The matrix must be positive definite, as the node matrix of a network is whose parts all resist flow. Where it is not, or where the
/// check of the answer fails, the same numbers go to a pivoting factorisation.

#include <cstddef>
#include <memory>
#include <span>
#include <vector>

namespace flarenut::solver {

class SymmetricFactor {
 public:
  /// Edge e joins unknowns `from[e]` and `to[e]`; one that meets something known (−1) or itself has no place. Edges may repeat.
  SymmetricFactor(int size, std::span<const int> from, std::span<const int> to);
  ~SymmetricFactor();
  SymmetricFactor(SymmetricFactor&&) noexcept;

  int size() const { return size_; }
  /// The matrix, one number for each pair that is joined and for each diagonal. Filled by the caller before `factorise`.
  std::vector<double>& values() { return values_; }
  int diagonal(int unknown) const { return start_[static_cast<std::size_t>(step_of_[static_cast<std::size_t>(unknown)])]; }
  /// Where entry (a, b), which is also (b, a), lives in `values()`; −1 when it is not in the pattern.
  int place(int a, int b) const;

  /// Factorises the present values. False when they are not positive definite; `solve` then pivots.
  bool factorise();
  /// Solves A x = b and checks the answer against A. False: singular.
  bool solve(const double* right_hand_side, double* solution);

  bool pivots() const { return pivots_; }              ///< whether the last solve needed the pivoting factorisation
  std::size_t factor_entries() const { return factor_.empty() ? 0 : factor_.size(); }
  std::size_t bytes() const;                           ///< held between solves

 private:
  struct Pivoting;
  struct Block {
    int first, columns;       ///< steps of elimination
    int rows, first_row;      ///< their rows, the own columns first, among `rows_`
    std::size_t first_entry;  ///< among `factor_`, by columns
  };

  void gather_rows(const std::vector<int>& parent, const std::vector<int>& count);
  void assemble(const Block& block);
  void take(const Block& from, int begin, int end, const Block& into);
  double* entries(const Block& block) { return factor_.data() + block.first_entry; }
  void forward_back(const double* right_hand_side, double* solution);
  double worst_residual(const double* right_hand_side, const double* solution, double* residual) const;
  bool solve_pivoting(const double* right_hand_side, double* solution);

  int size_ = 0;
  std::vector<int> order_, step_of_;      ///< step k eliminates unknown order_[k]
  std::vector<int> start_, row_;          ///< the matrix in order of elimination: columns of its lower half, the diagonal first
  std::vector<double> values_;
  std::vector<Block> blocks_;
  std::vector<int> rows_;
  std::vector<int> map_, next_, reached_; ///< of the factorisation: place of a row in the block at work; lists of who owes to whom
  std::vector<double> factor_, product_, room_, work_;
  bool sound_ = false, pivots_ = false;
  std::unique_ptr<Pivoting> pivoting_;
};

}  // namespace flarenut::solver

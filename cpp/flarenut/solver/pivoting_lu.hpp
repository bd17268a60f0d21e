#pragma once
/// The pivoting fallback behind `FixedLU`: Eigen's dense or sparse LU, apart because it is slow to compile.

#include <memory>
#include <vector>

namespace flarenut::solver {

class PivotingLU {
 public:
  static constexpr int most_dense = 300;  ///< unknowns; beyond, sparse

  PivotingLU();
  ~PivotingLU();
  /// Factorises a matrix given by rows. False when it is singular to working precision.
  bool factorise(int size, const std::vector<int>& row_start, const std::vector<int>& column,
                 const std::vector<double>& values);
  bool solve(const double* right_hand_side, double* solution, bool transposed);

 private:
  struct Factors;
  std::unique_ptr<Factors> factors_;
};

}  // namespace flarenut::solver

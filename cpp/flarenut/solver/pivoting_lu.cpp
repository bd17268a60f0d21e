#include "flarenut/solver/pivoting_lu.hpp"

#include <Eigen/Dense>
#include <Eigen/SparseLU>

namespace flarenut::solver {

using Sparse = Eigen::SparseMatrix<double, Eigen::ColMajor, int>;

struct PivotingLU::Factors {
  int size = 0;
  bool dense = true;
  Eigen::PartialPivLU<Eigen::MatrixXd> dense_lu;
  Eigen::SparseLU<Sparse, Eigen::COLAMDOrdering<int>> sparse_lu;
};

PivotingLU::PivotingLU() : factors_(std::make_unique<Factors>()) {}
PivotingLU::~PivotingLU() = default;

bool PivotingLU::factorise(int size, const std::vector<int>& row_start, const std::vector<int>& column,
                           const std::vector<double>& values) {
  using ByRows = Eigen::SparseMatrix<double, Eigen::RowMajor, int>;
  const Eigen::Map<const ByRows> matrix(size, size, static_cast<Eigen::Index>(column.size()), row_start.data(),
                                        column.data(), values.data());
  factors_->size = size;
  factors_->dense = size <= most_dense;
  if (factors_->dense) {
    factors_->dense_lu.compute(Eigen::MatrixXd(matrix));
    const auto pivots = factors_->dense_lu.matrixLU().diagonal().array().abs();
    return pivots.isFinite().all() && pivots.minCoeff() > 0.0;
  }
  factors_->sparse_lu.compute(Sparse(matrix));
  return factors_->sparse_lu.info() == Eigen::Success;
}

bool PivotingLU::solve(const double* right_hand_side, double* solution, bool transposed) {
  const Eigen::Map<const Eigen::VectorXd> b(right_hand_side, factors_->size);
  Eigen::Map<Eigen::VectorXd> x(solution, factors_->size);
  if (factors_->dense) {
    if (transposed) x = factors_->dense_lu.transpose().solve(b);
    else x = factors_->dense_lu.solve(b);
  } else {
    if (transposed) x = factors_->sparse_lu.transpose().solve(b);
    else x = factors_->sparse_lu.solve(b);
  }
  return x.allFinite();
}

}  // namespace flarenut::solver

// SymmetricFactor and its kernels against Eigen's dense solvers: other algorithms on the same numbers.
#include "flarenut/solver/symmetric_factor.hpp"

#include <Eigen/Dense>
#include <random>

#include "../catch_shim.hpp"
#include "flarenut/solver/block_kernel.hpp"

using flarenut::solver::BlockKernel;
using flarenut::solver::SymmetricFactor;

namespace {

std::mt19937 random_numbers(20240311);
double uniform(double least, double most) { return std::uniform_real_distribution<double>(least, most)(random_numbers); }
int below(int count) { return std::uniform_int_distribution<int>(0, count - 1)(random_numbers); }

struct Edges {
  std::vector<int> from, to;
  void add(int a, int b) {
    from.push_back(a);
    to.push_back(b);
  }
};

Edges square(int side) {
  Edges edges;
  for (int i = 0; i < side; ++i)
    for (int j = 0; j < side; ++j) {
      if (j + 1 < side) edges.add(i * side + j, i * side + j + 1);
      if (i + 1 < side) edges.add(i * side + j, i * side + j + side);
    }
  return edges;
}

Edges at_random(int size, int count) {
  Edges edges;
  for (int i = 1; i < size; ++i) edges.add(i, below(i));
  for (int e = size - 1; e < count; ++e) edges.add(below(size), below(size));  // some repeat, some meet themselves
  edges.add(-1, 0);
  edges.add(size - 1, -1);
  return edges;
}

/// Fills the factor as a network would: conductances between unknowns, and a little to what is known.
Eigen::MatrixXd fill(SymmetricFactor& factor, const Edges& edges, double held = 1e-3) {
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(factor.size(), factor.size());
  auto& values = factor.values();
  std::fill(values.begin(), values.end(), 0.0);
  const auto add = [&](int place, int row, int column, double value) {
    REQUIRE(place >= 0);
    values[static_cast<std::size_t>(place)] += value;
    matrix(row, column) += value;
    if (row != column) matrix(column, row) += value;
  };
  for (std::size_t e = 0; e < edges.from.size(); ++e) {
    const int a = edges.from[e], b = edges.to[e];
    const double gain = std::pow(10.0, uniform(-3.0, 1.0));
    if (a == b) continue;
    if (a >= 0) add(factor.diagonal(a), a, a, gain);
    if (b >= 0) add(factor.diagonal(b), b, b, gain);
    if (a >= 0 && b >= 0) add(factor.place(a, b), a, b, -gain);
  }
  for (int i = 0; i < factor.size(); ++i) add(factor.diagonal(i), i, i, held);
  return matrix;
}

double difference(SymmetricFactor& factor, const Eigen::MatrixXd& matrix) {
  Eigen::VectorXd b(factor.size()), x(factor.size());
  for (int i = 0; i < factor.size(); ++i) b[i] = uniform(-1.0, 1.0);
  REQUIRE(factor.solve(b.data(), x.data()));
  const Eigen::VectorXd judge = matrix.fullPivLu().solve(b);
  return (x - judge).lpNorm<Eigen::Infinity>() / judge.lpNorm<Eigen::Infinity>();
}

}  // namespace

TEST_CASE("symmetric factors solve grids and random networks as Eigen's dense LU does", "[symmetric factor]") {
  for (int side : {1, 2, 3, 7, 20}) {
    const Edges edges = square(side);
    SymmetricFactor factor(side * side, edges.from, edges.to);
    const Eigen::MatrixXd matrix = fill(factor, edges);
    REQUIRE(factor.factorise());
    CHECK(difference(factor, matrix) < 1e-9);
    CHECK_FALSE(factor.pivots());
  }
  for (int turn = 0; turn < 20; ++turn) {
    const int size = 2 + below(150);
    const Edges edges = at_random(size, size + below(3 * size));  // dense towards the end: wide blocks
    SymmetricFactor factor(size, edges.from, edges.to);
    for (int numbers = 0; numbers < 2; ++numbers) {  // analysed once, filled again
      const Eigen::MatrixXd matrix = fill(factor, edges);
      REQUIRE(factor.factorise());
      CHECK(difference(factor, matrix) < 1e-9);
      CHECK_FALSE(factor.pivots());
    }
  }
}

TEST_CASE("a full matrix of many columns is one block and solved as well", "[symmetric factor]") {
  const int size = 330;  // deeper than what the kernels work through at once
  Edges edges;
  for (int i = 0; i < size; ++i)
    for (int j = 0; j < i; ++j) edges.add(i, j);
  SymmetricFactor factor(size, edges.from, edges.to);
  const Eigen::MatrixXd matrix = fill(factor, edges);
  REQUIRE(factor.factorise());
  CHECK(difference(factor, matrix) < 1e-9);
  CHECK(factor.factor_entries() >= static_cast<std::size_t>(size) * (size + 1) / 2);
}

TEST_CASE("what is not positive definite is solved by pivoting, and said so", "[symmetric factor]") {
  const Edges edges = square(5);
  SymmetricFactor factor(25, edges.from, edges.to);
  const Eigen::MatrixXd matrix = fill(factor, edges, -0.05);  // a negative slope at every junction
  REQUIRE(matrix.selfadjointView<Eigen::Lower>().eigenvalues().minCoeff() < 0.0);
  CHECK_FALSE(factor.factorise());
  CHECK(difference(factor, matrix) < 1e-9);
  CHECK(factor.pivots());
}

TEST_CASE("a singular matrix is found out", "[symmetric factor]") {
  const Edges edges = square(4);
  SymmetricFactor factor(16, edges.from, edges.to);
  fill(factor, edges);
  std::fill(factor.values().begin(), factor.values().end(), 0.0);
  CHECK_FALSE(factor.factorise());
  std::vector<double> b(16, 1.0), x(16);
  CHECK_FALSE(factor.solve(b.data(), x.data()));
}

TEST_CASE("entries that are not joined have no place", "[symmetric factor]") {
  const Edges edges = square(3);
  const SymmetricFactor factor(9, edges.from, edges.to);
  CHECK(factor.place(0, 1) == factor.place(1, 0));
  CHECK(factor.place(0, 1) >= 0);
  CHECK(factor.place(0, 8) == -1);
  CHECK(factor.place(4, 4) == factor.diagonal(4));
}

TEST_CASE("every kernel of this processor multiplies and factorises as Eigen does, whatever the shape", "[symmetric factor]") {
  for (const BlockKernel& kernel : flarenut::solver::block_kernels()) {
    INFO(kernel.name);
    for (const auto& [rows, columns, depth] : {std::array{1, 1, 1}, {5, 3, 2}, {23, 7, 9}, {24, 24, 24}, {65, 33, 40}, {130, 64, 300}, {200, 1, 17}}) {
      INFO(rows << " rows, " << columns << " columns, depth " << depth);
      std::vector<double> room(BlockKernel::room_for(rows));
      const auto padded = [](const Eigen::MatrixXd& matrix) {
        std::vector<double> numbers(matrix.data(), matrix.data() + matrix.size());
        numbers.resize(numbers.size() + BlockKernel::slack, std::numeric_limits<double>::quiet_NaN());
        return numbers;
      };
      const Eigen::MatrixXd a = Eigen::MatrixXd::Random(rows, depth);
      Eigen::MatrixXd product = Eigen::MatrixXd::Zero(rows, columns);
      const auto numbers = padded(a);
      kernel.product(rows, columns, depth, numbers.data(), rows, product.data(), rows, room.data());
      const Eigen::MatrixXd judge = a * a.topRows(columns).transpose();
      Eigen::MatrixXd off = (product - judge).triangularView<Eigen::Lower>();
      CHECK(off.cwiseAbs().maxCoeff() < 1e-12 * depth);

      const Eigen::MatrixXd wide = Eigen::MatrixXd::Random(rows, rows);
      const Eigen::MatrixXd whole = wide * wide.transpose() + Eigen::MatrixXd::Identity(rows, rows);
      auto block = padded(whole.leftCols(columns));
      REQUIRE(kernel.factorise(rows, columns, block.data(), rows, room.data()));
      const Eigen::Map<const Eigen::MatrixXd> found(block.data(), rows, columns);
      const Eigen::MatrixXd lower = whole.llt().matrixL();
      off = (found - lower.leftCols(columns)).triangularView<Eigen::Lower>();
      CHECK(off.cwiseAbs().maxCoeff() < 1e-9 * whole.cwiseAbs().maxCoeff());
      block[0] = -1.0;
      CHECK_FALSE(kernel.factorise(rows, columns, block.data(), rows, room.data()));
    }
  }
}

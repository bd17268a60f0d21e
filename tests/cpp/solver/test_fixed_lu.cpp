// FixedLU against Eigen's dense LU: another algorithm, with pivoting, on the same matrices.
#include "flarenut/solver/fixed_lu.hpp"

#include <Eigen/Dense>
#include <random>

#include "../catch_shim.hpp"

using flarenut::solver::FixedLU;

namespace {

std::mt19937 random_numbers(20240229);

double uniform(double least, double most) { return std::uniform_real_distribution<double>(least, most)(random_numbers); }
int below(int count) { return std::uniform_int_distribution<int>(0, count - 1)(random_numbers); }

void add(FixedLU& lu, int row, int column, double value) {
  const int place = lu.place(row, column);
  REQUIRE(place >= 0);
  lu.values()[static_cast<std::size_t>(place)] += value;
}

Eigen::MatrixXd dense(const FixedLU& lu) {
  Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(lu.size(), lu.size());
  for (int row = 0; row < lu.size(); ++row)
    for (int column = 0; column < lu.size(); ++column)
      if (const int place = lu.place(row, column); place >= 0) matrix(row, column) = lu.values()[static_cast<std::size_t>(place)];
  return matrix;
}

Eigen::VectorXd random_vector(int size) {
  Eigen::VectorXd vector(size);
  for (int i = 0; i < size; ++i) vector[i] = uniform(-1.0, 1.0);
  return vector;
}

/// Worst difference from Eigen's answer, over the size of that answer.
double difference(FixedLU& lu, const Eigen::MatrixXd& matrix, bool transposed) {
  const Eigen::VectorXd b = random_vector(lu.size());
  Eigen::VectorXd x(lu.size());
  const bool solved = transposed ? lu.solve_transposed(b.data(), x.data()) : lu.solve(b.data(), x.data());
  REQUIRE(solved);
  Eigen::VectorXd judge;
  if (transposed) judge = matrix.transpose().partialPivLu().solve(b);
  else judge = matrix.partialPivLu().solve(b);
  return (x - judge).lpNorm<Eigen::Infinity>() / judge.lpNorm<Eigen::Infinity>();
}

struct Link {
  int a, b;
};

/// A connected circuit: a random tree with some loops closed.
std::vector<Link> random_circuit(int nodes, int loops) {
  std::vector<Link> links;
  for (int i = 1; i < nodes; ++i) links.push_back({i, below(i)});
  while (loops-- > 0) {
    const int a = below(nodes), b = below(nodes);
    if (a != b) links.push_back({a, b});
  }
  return links;
}

FixedLU pattern(int nodes, const std::vector<Link>& links) {
  std::vector<FixedLU::Entry> entries;
  for (const Link& link : links) {
    entries.emplace_back(link.a, link.b);
    entries.emplace_back(link.b, link.a);
  }
  return FixedLU(nodes, entries);
}

/// What parts add: a conductance each, over six decades; the first node is tied to a held pressure.
void fill(FixedLU& lu, const std::vector<Link>& links) {
  std::fill(lu.values().begin(), lu.values().end(), 0.0);
  add(lu, 0, 0, 1.0);
  for (const Link& link : links) {
    const double conductance = std::pow(10.0, uniform(-3.0, 3.0));
    add(lu, link.a, link.a, conductance);
    add(lu, link.b, link.b, conductance);
    add(lu, link.a, link.b, -conductance);
    add(lu, link.b, link.a, -conductance);
  }
}

}  // namespace

TEST_CASE("fixed LU: random circuits agree with a dense pivoting LU, straight and transposed") {
  for (int trial = 0; trial < 60; ++trial) {
    const int nodes = 1 + below(40);
    const auto links = random_circuit(nodes, below(nodes));
    FixedLU lu = pattern(nodes, links);
    fill(lu, links);
    REQUIRE(lu.factorise());
    const auto matrix = dense(lu);
    INFO("trial " << trial << ", " << nodes << " nodes");
    // Conductances over six decades: the condition number takes up to nine of sixteen digits.
    CHECK(difference(lu, matrix, false) < 1e-7);
    CHECK(difference(lu, matrix, true) < 1e-7);
  }
}

TEST_CASE("fixed LU: random non-symmetric matrices of one-sided pattern agree, straight and transposed") {
  for (int trial = 0; trial < 60; ++trial) {
    const int size = 2 + below(30);
    std::vector<FixedLU::Entry> entries;
    for (int i = 0; i < 3 * size; ++i) entries.emplace_back(below(size), below(size));
    FixedLU lu(size, entries);
    for (const auto& [row, column] : entries) add(lu, row, column, uniform(-1.0, 1.0));
    for (int i = 0; i < size; ++i) add(lu, i, i, 4.0);
    lu.factorise();
    const auto matrix = dense(lu);
    INFO("trial " << trial << ", size " << size);
    CHECK(difference(lu, matrix, false) < 1e-10);
    CHECK(difference(lu, matrix, true) < 1e-10);
  }
}

TEST_CASE("fixed LU: the transposed answer is not the straight one") {
  FixedLU lu(2, {{0, 1}});
  add(lu, 0, 0, 1.0);
  add(lu, 0, 1, 2.0);
  add(lu, 1, 1, 1.0);
  REQUIRE(lu.factorise());
  const double b[2] = {3.0, 1.0};
  double x[2], y[2];
  REQUIRE(lu.solve(b, x));
  REQUIRE(lu.solve_transposed(b, y));
  CHECK(x[0] == Approx(1.0));
  CHECK(x[1] == Approx(1.0));
  CHECK(y[0] == Approx(3.0));
  CHECK(y[1] == Approx(-5.0));
}

TEST_CASE("fixed LU: a vanished pivot of a sound matrix goes to the pivoting factors") {
  // An exchange of two unknowns: no elimination without pivoting can do it.
  FixedLU exchange(2, {{0, 1}, {1, 0}});
  add(exchange, 0, 1, 2.0);
  add(exchange, 1, 0, 5.0);
  CHECK_FALSE(exchange.factorise());
  const double b[2] = {4.0, 10.0};
  double x[2];
  REQUIRE(exchange.solve(b, x));
  CHECK(x[0] == Approx(2.0));
  CHECK(x[1] == Approx(2.0));
  REQUIRE(exchange.solve_transposed(b, x));
  CHECK(x[0] == Approx(5.0));
  CHECK(x[1] == Approx(0.8));
}

TEST_CASE("fixed LU: tiny pivots, which eat all digits, are noticed and pivoted around") {
  for (int trial = 0; trial < 20; ++trial) {
    const int size = 3 + below(20);
    std::vector<FixedLU::Entry> entries;
    for (int row = 0; row < size; ++row)
      for (int column = 0; column < size; ++column) entries.emplace_back(row, column);
    FixedLU lu(size, entries);
    for (int row = 0; row < size; ++row)
      for (int column = 0; column < size; ++column) add(lu, row, column, row == column ? 1e-18 : uniform(-1.0, 1.0));
    lu.factorise();
    const auto matrix = dense(lu);
    INFO("trial " << trial << ", size " << size);
    CHECK(difference(lu, matrix, false) < 1e-9);
    CHECK(difference(lu, matrix, true) < 1e-9);
  }
}

TEST_CASE("fixed LU: a singular matrix is refused, not answered") {
  // Two nodes joined to each other and to nothing else: nothing sets the level.
  FixedLU lu(2, {{0, 1}, {1, 0}});
  for (const auto& [row, column] : {std::pair{0, 0}, {1, 1}}) add(lu, row, column, 1.0);
  for (const auto& [row, column] : {std::pair{0, 1}, {1, 0}}) add(lu, row, column, -1.0);
  lu.factorise();
  const double b[2] = {1.0, 0.0};
  double x[2];
  CHECK_FALSE(lu.solve(b, x));
  CHECK_FALSE(lu.solve_transposed(b, x));

  FixedLU nothing(3, {});
  CHECK_FALSE(nothing.factorise());
  const double three[3] = {1.0, 1.0, 1.0};
  double y[3];
  CHECK_FALSE(nothing.solve(three, y));
}

TEST_CASE("fixed LU: a singular matrix too large for a list is refused as well") {
  constexpr int side = 100, size = side * side;
  std::vector<Link> links;
  for (int row = 0; row < side; ++row)
    for (int column = 0; column < side; ++column) {
      if (column + 1 < side) links.push_back({row * side + column, row * side + column + 1});
      if (row + 1 < side) links.push_back({row * side + column, (row + 1) * side + column});
    }
  FixedLU lu = pattern(size + 1, links);  // the last unknown is joined to nothing
  REQUIRE_FALSE(lu.listed());
  fill(lu, links);
  for (int i = 0; i < size; ++i) add(lu, i, i, 0.1);
  add(lu, size, size, -lu.values()[static_cast<std::size_t>(lu.place(size, size))]);
  CHECK_FALSE(lu.factorise());
  std::vector<double> b(size + 1, 1.0), x(size + 1);
  CHECK_FALSE(lu.solve(b.data(), x.data()));
  add(lu, size, size, 2.0);
  REQUIRE(lu.factorise());
  REQUIRE(lu.solve(b.data(), x.data()));
  CHECK(x.back() == Approx(0.5));
}

TEST_CASE("fixed LU: not a number in the matrix is refused") {
  FixedLU lu(2, {{0, 1}, {1, 0}});
  add(lu, 0, 0, std::numeric_limits<double>::quiet_NaN());
  add(lu, 1, 1, 1.0);
  CHECK_FALSE(lu.factorise());
  const double b[2] = {1.0, 0.0};
  double x[2];
  CHECK_FALSE(lu.solve(b, x));
}

TEST_CASE("fixed LU: the structure is used again with new numbers, and copies are independent") {
  const auto links = random_circuit(25, 15);
  FixedLU lu = pattern(25, links);
  fill(lu, links);
  REQUIRE(lu.factorise());
  FixedLU other = lu;
  const auto before = dense(other);
  for (int turn = 0; turn < 5; ++turn) {
    fill(lu, links);
    REQUIRE(lu.factorise());
    const auto matrix = dense(lu);
    CHECK(difference(lu, matrix, false) < 1e-7);
  }
  CHECK((dense(other) - before).norm() == 0.0);
  CHECK(difference(other, before, false) < 1e-7);
  // After a matrix that needed pivoting, a plain one is solved by its own factors again.
  std::fill(lu.values().begin(), lu.values().end(), 0.0);
  lu.factorise();
  std::vector<double> b(25, 1.0), x(25);
  CHECK_FALSE(lu.solve(b.data(), x.data()));
  fill(lu, links);
  REQUIRE(lu.factorise());
  CHECK(difference(lu, dense(lu), false) < 1e-7);
}

TEST_CASE("fixed LU: places outside the pattern are told, repeated entries are one") {
  FixedLU lu(3, {{0, 1}, {0, 1}, {1, 1}});
  CHECK(lu.place(0, 1) >= 0);
  CHECK(lu.place(1, 0) == -1);
  CHECK(lu.place(2, 2) >= 0);  // the diagonal is always there
  CHECK(lu.spare() == 4);
}

TEST_CASE("fixed LU: a grid of ten thousand junctions") {
  constexpr int side = 100, size = side * side;
  std::vector<Link> links;
  for (int row = 0; row < side; ++row)
    for (int column = 0; column < side; ++column) {
      if (column + 1 < side) links.push_back({row * side + column, row * side + column + 1});
      if (row + 1 < side) links.push_back({row * side + column, (row + 1) * side + column});
    }
  FixedLU lu = pattern(size, links);
  for (int i = 0; i < size; ++i) add(lu, i, i, 0.1);
  for (const Link& link : links) {
    const double conductance = uniform(0.5, 2.0);
    add(lu, link.a, link.a, conductance);
    add(lu, link.b, link.b, conductance);
    add(lu, link.a, link.b, -conductance);
    add(lu, link.b, link.a, -0.9 * conductance);  // not symmetric
  }
  REQUIRE(lu.factorise());
  // The answer is chosen, the right-hand side made from it: no second solver needed.
  const Eigen::VectorXd wanted = random_vector(size);
  for (const bool transposed : {false, true}) {
    Eigen::VectorXd b = Eigen::VectorXd::Zero(size), x(size);
    const auto multiply = [&](int row, int column) {
      const double value = lu.values()[static_cast<std::size_t>(lu.place(row, column))];
      if (transposed) b[column] += value * wanted[row];
      else b[row] += value * wanted[column];
    };
    for (int i = 0; i < size; ++i) multiply(i, i);
    for (const Link& link : links) {
      multiply(link.a, link.b);
      multiply(link.b, link.a);
    }
    REQUIRE((transposed ? lu.solve_transposed(b.data(), x.data()) : lu.solve(b.data(), x.data())));
    CHECK((x - wanted).lpNorm<Eigen::Infinity>() < 1e-10);
  }
}

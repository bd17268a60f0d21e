// The symmetric system: closed forms, and the answers of the general system.
#include "flarenut/analysis/plain_solver.hpp"
#include "flarenut/solver/newton.hpp"

#include <cmath>
#include <numbers>
#include <random>

#include "../catch_shim.hpp"
#include "../circuits.hpp"

using namespace circuits;
using analysis::RowSolver;
using analysis::Solution;
using analysis::SteadyOptions;
using analysis::SteadySolver;
using network::RowPlan;

namespace {

constexpr SteadyOptions symmetric{.symmetric_from = 1}, general{.symmetric_from = 1'000'000};

/// A square of corners with one feed and one return, at heights; all invented.
Network grid(int side, unsigned seed = 5) {
  std::mt19937 random(seed);
  const auto uniform = [&](double least, double most) { return std::uniform_real_distribution<double>(least, most)(random); };
  const auto count = static_cast<std::size_t>(side * side);
  std::vector<double> demand(count);
  std::vector<network::Position> position(count);
  for (double& one : demand) one = uniform(0.0, 4.0 / static_cast<double>(count));
  for (auto& place : position) place = {uniform(-5.0, 5.0), 0.0, uniform(0.0, 3.0)};
  Network network;
  network.add_liquid(constant(900.0, 1e-3));
  const int feed = network.add_tank("feed", circuits::tank(1.0, 4e5), {0.0, 0.0, 2.0});
  const int corner = network.add_junctions("corner", side * side, demand, position);
  const int out = network.add_fixed("out", 2e5);
  std::vector<int> from{feed, corner + side * side - 1}, to{corner, out};
  for (int i = 0; i < side; ++i)
    for (int j = 0; j < side; ++j) {
      const int here = corner + i * side + j;
      if (j + 1 < side) from.push_back(here), to.push_back(here + 1);
      if (i + 1 < side) from.push_back(here + side), to.push_back(here);
    }
  std::vector<double> bore(from.size()), length(from.size());
  for (double& one : bore) one = uniform(0.008, 0.03);
  for (double& one : length) one = uniform(0.5, 5.0);
  network.add_lines("leg", from, to, {{"bore", bore}, {"length", length}, {"extra_loss", {0.8}}});
  return network;
}

void same_answer(const Solution& a, const Solution& b) {
  REQUIRE(a.converged());
  REQUIRE(b.converged());
  REQUIRE(a.pressure.size() == b.pressure.size());
  REQUIRE(a.flow.size() == b.flow.size());
  double largest = 0.0;
  for (double flow : b.flow) largest = std::max(largest, std::abs(flow));
  for (std::size_t i = 0; i < a.pressure.size(); ++i) CHECK(std::abs(a.pressure[i] - b.pressure[i]) <= 1e-9 * 1e5);
  for (std::size_t i = 0; i < a.flow.size(); ++i) CHECK(std::abs(a.flow[i] - b.flow[i]) <= 1e-9 * largest);
}

}  // namespace

TEST_CASE("the symmetric system finds the answer of the general one", "[plain]") {
  for (int side : {2, 5, 12}) {
    Plan plan(grid(side));
    SteadySolver one(plan), other(plan);
    Solution by_symmetric, by_general, by_rows;
    one.solve(by_symmetric, {}, symmetric);
    other.solve(by_general, {}, general);
    CHECK(one.plain_system() != nullptr);
    CHECK(other.plain_system() == nullptr);
    same_answer(by_symmetric, by_general);
    CHECK_FALSE(one.plain_system()->pivoted());
    CHECK(by_symmetric.iterations <= 12);

    const RowPlan rows(grid(side));
    RowSolver solver(rows);
    solver.solve(by_rows, {}, symmetric);
    same_answer(by_rows, by_general);
  }
}

TEST_CASE("rows that change are solved anew, warm and cold, as the plan written out is", "[plain]") {
  RowPlan rows(grid(6));
  RowSolver solver(rows);
  Solution before, warm, cold, by_general;
  solver.solve(before);
  for (const auto& [name, value] : std::vector<std::pair<std::string, double>>{
           {"leg[7].bore", 0.01}, {"corner[20].demand", 0.3}, {"feed.vent", 3e5}, {"acceleration.x", 5.0}, {"ambient.pressure", 9e4}})
    rows.set(rows.index(name), value);
  solver.solve(warm, {&before.pressure, &before.flow});
  CHECK(warm.rung == analysis::Rung::warm);
  solver.solve(cold);
  Plan plan = rows.written_out();
  SteadySolver(plan).solve(by_general, {}, general);
  same_answer(warm, by_general);
  same_answer(cold, by_general);
}

TEST_CASE("every kind of part whose law knows its flow alone goes to the symmetric system; one that switches does not", "[plain]") {
  Network network;
  network.add_liquid(constant(750.0, 5e-4));
  const int tank = network.add_fixed("tank", 3e5), a = network.add_junction("a"), b = network.add_junction("b"), out = network.add_fixed("out", 0.0);
  network.add_part("line", "line", {tank, a}, {}, line(0.01, 2.0));
  network.add_part("orifice", "resistance", {a, b}, {}, {{"rated_drop", 1e5}, {"rated_flow", 2e-4}, {"exponent", 2.0}, {"rating_density", 750.0},
                                                            {"rating_viscosity", 5e-4}});
  network.add_part("other line", "line", {b, a}, {}, line(0.006, 2.0));
  network.add_part("end", "line", {b, out}, {}, line(0.008, 2.0));
  Plan plan(network);
  SteadySolver one(plan), other(plan);
  Solution by_symmetric, by_general;
  one.solve(by_symmetric, {}, symmetric);
  other.solve(by_general, {}, general);
  CHECK(one.plain_system() != nullptr);
  same_answer(by_symmetric, by_general);

  network.add_part("check", "check valve", {a, b}, {}, {{"cracking_pressure", 2e3}, {"full_area", 3e-5}});
  Plan with_valve(network);
  SteadySolver solver(with_valve);
  solver.solve(by_symmetric, {}, symmetric);
  CHECK(by_symmetric.converged());
  CHECK(solver.plain_system() == nullptr);
}

// Closed form: laminar flow by Hagen and Poiseuille, Δp = 128 μ L Q/(π D⁴), so that lines are resistors in series and parallel.
TEST_CASE("a laminar ladder of lines has the resistance of its resistors", "[plain]") {
  constexpr int rungs = 12;
  constexpr double viscosity = 0.1, density = 900.0, drop = 2e4;
  const auto resistance = [&](double bore, double length) { return 128.0 * viscosity * length / (std::numbers::pi * std::pow(bore, 4)) / density; };
  Network network;
  network.add_liquid(constant(density, viscosity));
  const int corner = network.add_junctions("corner", rungs);
  const int feed = network.add_fixed("feed", drop), out = network.add_fixed("out", 0.0);
  // Each rung: on along a rail of 10 mm, and out through a step of 6 mm of its own.
  std::vector<int> from, to;
  std::vector<double> bore, length;
  for (int i = 0; i < rungs; ++i) {
    from.insert(from.end(), {i == 0 ? feed : corner + i - 1, corner + i});
    to.insert(to.end(), {corner + i, out});
    bore.insert(bore.end(), {0.010, 0.006});
    length.insert(length.end(), {1.0, 2.0});
  }
  network.add_lines("leg", from, to, {{"bore", bore}, {"length", length}});
  const RowPlan plan(network);
  Solution solution;
  RowSolver(plan).solve(solution);
  REQUIRE(solution.converged());
  double whole = INFINITY;  // from the far end: a step beside all that follows, behind a piece of rail
  for (int i = 0; i < rungs; ++i) whole = resistance(0.010, 1.0) + 1.0 / (1.0 / resistance(0.006, 2.0) + 1.0 / whole);
  CHECK(solution.flow[0] == Approx(drop / whole).epsilon(1e-9));
}

// Two equal turbulent lines side by side carry twice what one does, and two in a row lose half each, whatever the friction law.
TEST_CASE("parallel lines share, and lines in series split, a turbulent flow", "[plain]") {
  Network network;
  network.add_liquid(constant(1000.0, 1e-3));
  const int middle = network.add_junctions("corner", 1), feed = network.add_fixed("feed", 1e5), out = network.add_fixed("out", 0.0);
  network.add_lines("leg", {feed, feed, middle, middle}, {middle, middle, out, out}, {{"bore", {0.02}}, {"length", {10.0}}});
  const RowPlan plan(network);
  Solution solution;
  RowSolver(plan).solve(solution);
  REQUIRE(solution.converged());
  CHECK(solution.pressure[0] == Approx(101325.0 + 5e4).epsilon(1e-12));
  for (double flow : solution.flow) CHECK(flow == Approx(solution.flow[0]).epsilon(1e-12));
  CHECK(solution.flow[0] > 0.3);
}

TEST_CASE("a demand that cannot be met is explained, never a number", "[plain]") {
  RowPlan rows(grid(4));
  rows.set(rows.index("corner[9].demand"), 90.0);
  RowSolver solver(rows);
  Solution solution;
  solver.solve(solution);
  CHECK_FALSE(solution.converged());
  CHECK(solution.message.find("'corner[9]' would have to fall below absolute zero") != std::string::npos);
  CHECK(std::isnan(solution.pressure[3]));
  CHECK(std::isnan(solution.flow[3]));

  // The plan of every kind says it in its own words, whichever way it was solved.
  Plan plan = rows.written_out();
  Solution by_symmetric;
  SteadySolver(plan).solve(by_symmetric, {}, symmetric);
  CHECK_FALSE(by_symmetric.converged());
  CHECK(by_symmetric.message.find("The demand at 'corner[9]' cannot be met") != std::string::npos);
}

TEST_CASE("the careful ways of stepping reach the same answer", "[plain]") {
  const RowPlan rows(grid(5));
  const network::PlainCircuit circuit = rows.circuit();
  Solution by_steps;
  RowSolver(rows).solve(by_steps);
  for (auto stepping : {solver::Stepping::line_search, solver::Stepping::pseudo_time}) {
    analysis::PlainSystem system(circuit);
    system.start_cold();
    const auto report = solver::newton(system, {.most_iterations = 200, .stepping = stepping});
    REQUIRE(report.end == solver::NewtonEnd::converged);
    Solution careful;
    careful.status = analysis::Status::converged;
    system.write(careful.pressure, careful.flow);
    same_answer(careful, by_steps);
  }
}

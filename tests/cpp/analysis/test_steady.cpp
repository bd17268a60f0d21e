#include "flarenut/analysis/steady.hpp"

#include <algorithm>
#include <cmath>
#include <random>

#include "../catch_shim.hpp"
#include "../circuits.hpp"

using namespace circuits;
using analysis::Rung;
using analysis::Solution;
using analysis::SteadySolver;

namespace {

/// Largest imbalance of any free junction over the largest flow, from the answer alone: not the solver's own figure.
double imbalance(const Plan& plan, const Solution& solution) {
  std::vector<double> sum(static_cast<std::size_t>(plan.junction_count()), 0.0);
  double largest = 0.0;
  for (std::size_t b = 0; b < plan.branches().size(); ++b) {
    const auto& branch = plan.branches()[b];
    const auto& element = plan.element(static_cast<int>(b));
    for (int f = 0; f < branch.flows; ++f) {
      const double q = solution.flow[static_cast<std::size_t>(branch.first_flow + f)];
      largest = std::max(largest, std::abs(q));
      for (int port = 0; port < branch.ports; ++port)
        sum[static_cast<std::size_t>(branch.junction[static_cast<std::size_t>(port)])] += element.inflow(port, f) * q;
    }
  }
  double worst = 0.0;
  for (int j = 0; j < plan.junction_count(); ++j)
    if (plan.unknown_of(j) >= 0) worst = std::max(worst, std::abs(sum[static_cast<std::size_t>(j)] - plan.demand(j)));
  return worst / largest;
}

Network grid(int side, unsigned seed) {
  Network network;
  network.add_liquid(constant(998.0, 1e-3));
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int i = 0; i < side * side; ++i) {
    const std::string name = "j" + std::to_string(i);
    if (i == 0) network.add_fixed(name, 4e5);
    else network.add_junction(name, {share(random), share(random), share(random)}, 0.02 * share(random));
  }
  const auto pipe = [&](int a, int b) {
    network.add_part("p" + std::to_string(a) + "-" + std::to_string(b), "line", {a, b}, {}, line(0.02 + 0.03 * share(random), 1.0 + 9.0 * share(random)));
  };
  for (int row = 0; row < side; ++row)
    for (int column = 0; column < side; ++column) {
      if (column + 1 < side) pipe(row * side + column, row * side + column + 1);
      if (row + 1 < side) pipe(row * side + column, (row + 1) * side + column);
    }
  return network;
}

}  // namespace

TEST_CASE("steady: mass closes to 1e-12 and the laws to 1e-9 of a bar, on circuits of many sizes") {
  for (int side : {2, 5, 12, 30}) {
    Plan plan(grid(side, static_cast<unsigned>(side)));
    const Solution solution = analysis::solve(plan);
    INFO("side " << side);
    REQUIRE(solution.converged());
    CHECK(imbalance(plan, solution) <= 1e-12);
    CHECK(solution.mass_closure <= 1e-12);
    CHECK(solution.residual <= 1e-9);
  }
  Plan plan(return_style());
  const Solution solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  CHECK(imbalance(plan, solution) <= 1e-12);
}

TEST_CASE("steady: around every loop the drops of the parts' own laws add up to nothing") {
  const int side = 8;
  Plan plan(grid(side, 5));
  const Solution solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  // Drops from the laws at the flows found, pressures not consulted.
  const auto drop = [&](int a, int b) {
    const std::string name = "p" + std::to_string(a) + "-" + std::to_string(b);
    const int part = plan.network().part(name);
    const double point[3] = {0.0, 0.0, flow(plan, solution, name)};
    network::Linearisation line;
    plan.element(part).linearise(point, line);
    return -line.residual[0] - plan.branches()[static_cast<std::size_t>(part)].head[1];
  };
  double worst = 0.0, largest = 0.0;
  for (int row = 0; row + 1 < side; ++row)
    for (int column = 0; column + 1 < side; ++column) {
      const int a = row * side + column, b = a + 1, c = a + side, d = c + 1;
      worst = std::max(worst, std::abs(drop(a, b) + drop(b, d) - drop(a, c) - drop(c, d)));
      for (double part : {drop(a, b), drop(b, d), drop(a, c), drop(c, d)}) largest = std::max(largest, std::abs(part));
    }
  CHECK(largest > 1e3);
  CHECK(worst <= 1e-9 * 1e5);  // of a bar
}

TEST_CASE("steady: a warm solve finds what a cold one finds") {
  Plan plan(return_style());
  SteadySolver solver(plan);
  Solution warm, cold;
  solver.solve(warm);
  REQUIRE(warm.converged());
  CHECK(warm.rung == Rung::cold);
  std::mt19937 random(7);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for (int trial = 0; trial < 200; ++trial) {
    plan.set(plan.index("pump.volts"), 8.0 + 8.0 * share(random));
    plan.set(plan.index("rail.demand"), 0.03 * share(random));  // what the weakest pump can still feed
    plan.set(plan.index("manifold.gauge"), -7e4 + 2e5 * share(random));
    plan.set(plan.index("feed.bore"), 5e-3 + 6e-3 * share(random));
    plan.set(plan.index("regulator.set_pressure"), 2e5 + 2e5 * share(random));
    const auto pressure = warm.pressure, flow = warm.flow;
    solver.solve(warm, {&pressure, &flow});
    INFO("trial " << trial << ": " << warm.message);
    REQUIRE(warm.converged());
    solver.solve(cold);
    REQUIRE(cold.converged());
    for (std::size_t j = 0; j < warm.pressure.size(); ++j) CHECK(std::abs(warm.pressure[j] - cold.pressure[j]) < 1e-2);
    for (std::size_t f = 0; f < warm.flow.size(); ++f) CHECK(std::abs(warm.flow[f] - cold.flow[f]) < 1e-7);
  }
}

TEST_CASE("steady: an unchanged plan is solved warm without a step") {
  Plan plan(return_style());
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  REQUIRE(solution.converged());
  const auto pressure = solution.pressure, flow = solution.flow;
  solver.solve(solution, {&pressure, &flow});
  CHECK(solution.rung == Rung::warm);
  CHECK(solution.iterations == 0);
  CHECK(solution.evaluations == 1);
  CHECK(solution.pressure == pressure);
}

TEST_CASE("steady: nothing but held pressures is solved too") {
  Network network;
  network.add_liquid(constant(900.0, 0.1));
  const int from = network.add_fixed("from", 1e5), to = network.add_fixed("to", 0.0);
  network.add_part("line", "line", {from, to}, {}, line(0.008, 2.0));
  Plan plan(network);
  const Solution solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  CHECK(solution.flow[0] == Approx(3.14159265358979 * 900.0 * std::pow(0.008, 4) * 1e5 / (128.0 * 0.1 * 2.0)).epsilon(1e-12));
}

TEST_CASE("steady: a starved pump is told by its name, and of two demands the one that cannot be met") {
  const auto suction = [](double bore, double length) {
    Network network;
    network.add_liquid(constant(870.0, 1.0));  // cold oil
    const int sump = network.add_tank("sump", tank(0.1)), inlet = network.add_junction("inlet"), out = network.add_junction("out");
    network.add_part("suction", "line", {sump, inlet}, {}, line(bore, length));
    network.add_part("gear pump", "positive displacement pump", {inlet, out}, {},
                     {{"displacement", 18e-6}, {"speed", 50.0}, {"rated_efficiency", 0.9}, {"rated_rise", 4e5}, {"rated_speed", 50.0},
                      {"rated_viscosity", 0.01}});
    network.add_part("line", "line", {out, sump}, {}, line(0.03, 1.0));
    Plan plan(std::move(network));
    return analysis::solve(plan);
  };
  CHECK(suction(0.05, 0.2).converged());
  const Solution starved = suction(0.01, 3.0);
  CHECK_FALSE(starved.converged());
  CHECK(starved.message.find("'gear pump'") != std::string::npos);
  CHECK(starved.worst.empty());

  Network network;
  network.add_liquid(constant(998.0, 1e-3));
  const int cell = network.add_tank("cell", tank(0.1));
  const int small = network.add_junction("small", {}, 1e-3), big = network.add_junction("big", {}, 5.0);
  network.add_part("to small", "line", {cell, small}, {}, line(0.01, 1.0));
  network.add_part("to big", "line", {cell, big}, {}, line(0.01, 1.0));
  Plan plan(std::move(network));
  CHECK(analysis::solve(plan).message.find("demand at 'big'") != std::string::npos);
}

// Temperatures in time, judged by a closed form and by where they end.
#include <cmath>

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/analysis/heat_solver.hpp"

using namespace circuits;
using analysis::Solution;
using analysis::SteadySolver;

TEST_CASE("a sump with walls dies away towards the air as its time constant says", "[heat]") {
  Network network;
  network.add_liquid(circuits::constant(800.0, 5e-3));
  const int sump = network.add_tank("sump", circuits::tank(0.1));
  const int out = network.add_junction("out");
  network.add_part("pump", "quadratic pump", {sump, out}, {}, circuits::pump(1e5));
  network.add_part("back", "line", {out, sump}, {}, circuits::line(0.01, 0.5));
  network.put_heat_at(sump, 0.0, 20.0, 8000.0);
  network.let_mix(sump);
  network.follow_heat();
  Plan plan(network);
  set(plan, "air.temperature", 300.0);
  SteadySolver solver(plan);
  Solution solution;
  solver.heat().begin(solution, 360.0);
  REQUIRE(solution.converged());
  CHECK(solution.temperature[0] == 360.0);
  double seconds = 0.0;
  const double power = [&] { return solution.power[0]; }();
  for (int step = 0; step < 8; ++step) {
    solver.heat().advance(solution, 50.0);
    seconds += 50.0;
    REQUIRE(solution.converged());
    // C dT/dt = P − G (T − T_air), P all but steady; the liquid in the line counts for 31 g of 4 kg.
    const double end = 300.0 + power / 20.0, capacity = 8000.0 + 2000.0 * 800.0 * 0.5 * 3.14159265 * 0.25e-4;
    CHECK(solution.temperature[0] == Approx(end + (360.0 - end) * std::exp(-seconds * 20.0 / capacity)).margin(0.15));
    CHECK(solution.energy_closure <= 1e-9);
  }
}

TEST_CASE("in time an oil loop arrives where its steady solve is", "[heat]") {
  Network network = oil_loop(2500.0, 40.0);
  network.put_heat_at(0, 2500.0, 40.0, 9000.0);
  Plan plan(network);
  set(plan, "air.temperature", 300.0);
  SteadySolver solver(plan);
  Solution solution, steady;
  solver.solve(steady);
  REQUIRE(steady.converged());
  solver.heat().begin(solution, 280.0);
  REQUIRE(solution.converged());
  double last = 280.0;
  for (int minute = 0; minute < 60; ++minute) {
    solver.heat().advance(solution, 60.0);
    INFO(solution.message);
    REQUIRE(solution.converged());
    CHECK(solution.temperature[0] > last - 1e-6);
    last = solution.temperature[0];
  }
  CHECK(last == Approx(steady.temperature[0]).margin(0.02));
}

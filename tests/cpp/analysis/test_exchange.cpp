// Two streams that trade heat, solved together with their pressures; judged by the closed form of a balanced counterflow.
#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/analysis/heat_solver.hpp"

using namespace circuits;

namespace {

constexpr double specific_heat = 2000.0, flow_each = 0.1;  // J/(kg K) of constant_liquid's preset, kg/s
constexpr double wall = 0.01;                              // K/W

/// Films so good that the wall is all there is.
Network::Numbers nothing_but_a_wall(double arrangement) {
  return {{"first_bore", 1e-3}, {"first_length", 1.0}, {"first_area", 100.0}, {"first_enhancement", 50.0},
          {"second_bore", 1e-3}, {"second_length", 1.0}, {"second_area", 100.0}, {"second_enhancement", 50.0},
          {"wall_resistance", wall}, {"arrangement", arrangement}};
}

/// Two streams of given flow, each from a supply through its side of the exchanger to the open air.
Plan two_streams(double arrangement) {
  Network network;
  network.add_liquid(constant(800.0, 2e-3));
  for (const std::string side : {"hot", "cold"}) {
    const int in = network.add_junction(side + " in", {}, -flow_each), out = network.add_fixed(side + " out", 0.0);
    network.add_part(side, "line", {in, out}, {}, line(0.02, 1.0));
  }
  network.add_exchanger("cooler", "liquid exchanger", 0, 1, nothing_but_a_wall(arrangement));
  network.follow_heat();
  Plan plan(std::move(network));
  plan.set(plan.index("hot in.temperature"), 370.0);
  plan.set(plan.index("cold in.temperature"), 310.0);
  return plan;
}

}  // namespace

TEST_CASE("exchange: what one stream gives the other takes, as the closed forms of counterflow and parallel flow have it", "[heat]") {
  const double capacity = flow_each * specific_heat, units = 1.0 / (wall * capacity);
  for (const bool parallel : {false, true}) {
    Plan plan = two_streams(parallel ? 1.0 : 0.0);
    const auto solution = analysis::solve(plan);
    INFO(solution.message << (parallel ? " parallel" : " counterflow"));
    REQUIRE(solution.converged());
    CHECK(solution.energy_closure <= 1e-9);
    CHECK(solution.heat[0] == Approx(-solution.heat[1]).epsilon(1e-9));
    // Equal capacities: N/(1 + N) in counterflow, (1 − exp(−2 N))/2 side by side. The films cost well under 1 %.
    const double effectiveness = parallel ? 0.5 * (1.0 - std::exp(-2.0 * units)) : units / (1.0 + units);
    CHECK(-solution.heat[0] == Approx(effectiveness * capacity * 60.0).epsilon(0.01));
    CHECK(solution.leaving[0][1] == Approx(370.0 + solution.heat[0] / capacity).margin(0.02));
    CHECK(solution.leaving[1][1] == Approx(310.0 + solution.heat[1] / capacity).margin(0.02));
  }
}

TEST_CASE("exchange: a loop whose only way for heat is its exchanger finds its temperature through it", "[heat]") {
  Network network;
  network.add_liquid(constant(800.0, 2e-3));
  const int sump = network.add_tank("sump", tank(0.1)), out = network.add_junction("out");
  const int in = network.add_junction("water in", {}, -0.2), away = network.add_fixed("water out", 0.0);
  network.add_part("pump", "quadratic pump", {sump, out}, {}, circuits::pump(1e5));
  network.add_part("back", "line", {out, sump}, {}, line(0.01, 0.5));
  network.add_part("water", "line", {in, away}, {}, line(0.02, 1.0));
  network.add_exchanger("cooler", "liquid exchanger", 1, 2, nothing_but_a_wall(0.0));
  network.put_heat_at(sump, 500.0);
  network.let_mix(sump);
  network.follow_heat();
  Plan plan(std::move(network));
  plan.set(plan.index("water in.temperature"), 300.0);
  const auto solution = analysis::solve(plan);
  INFO(solution.message);
  REQUIRE(solution.converged());
  // In steady state the water carries off what is put in, the power of the pump included.
  CHECK(solution.heat[2] == Approx(500.0 + solution.power[0]).epsilon(1e-6));
  CHECK(solution.temperature[static_cast<std::size_t>(sump)] > 300.0);
}

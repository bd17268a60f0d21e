// Pressure, flow and temperature together, judged by hand sums and closed forms.
#include <cmath>

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/analysis/heat_solver.hpp"

using namespace flarenut;
using analysis::Solution;
using analysis::SteadySolver;
using network::Network;
using network::Plan;
using circuits::oil_loop;
using circuits::set;

namespace {

double warmth(const Plan& plan, const Solution& solution, const std::string& junction) {
  return solution.temperature[static_cast<std::size_t>(plan.network().junction(junction))];
}
double leaving(const Plan& plan, const Solution& solution, const std::string& part, std::size_t port = 1) {
  return solution.leaving[static_cast<std::size_t>(plan.network().part(part))][port];
}

Solution solved(Plan& plan) {
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  INFO(solution.message);
  REQUIRE(solution.converged());
  CHECK(solution.energy_closure <= 1e-9);
  CHECK(solution.mass_closure <= 1e-12);
  return solution;
}

/// Two tanks with a line between them.
Network line_between(fluids::Liquid liquid, double bore = 0.01, double length = 2.0) {
  Network network;
  network.add_liquid(std::move(liquid));
  const int from = network.add_tank("from", circuits::tank(0.0, 1e5));
  const int middle = network.add_junction("middle");
  const int to = network.add_tank("to", circuits::tank(0.0));
  network.add_part("first", "line", {from, middle}, {}, circuits::line(bore, length));
  network.add_part("second", "line", {middle, to}, {}, circuits::line(bore, 0.5 * length));
  network.follow_heat();
  return network;
}

}  // namespace

TEST_CASE("a stream that loses pressure without work is warmed by it", "[heat]") {
  Plan plan(line_between(circuits::constant(800.0, 2e-3)));
  const Solution solution = solved(plan);
  // Constant density does not expand: all of the lost pressure turns to warmth, Δp/(ρ cp).
  CHECK(warmth(plan, solution, "middle") - 293.15 == Approx((201325.0 - circuits::pressure(plan, solution, "middle")) / (800.0 * 2000.0)).epsilon(1e-6));
  CHECK(leaving(plan, solution, "second") - 293.15 == Approx(1e5 / (800.0 * 2000.0)).epsilon(1e-6));
}

TEST_CASE("what comes in is as warm as it is said, place by place", "[heat]") {
  Plan plan(line_between(circuits::constant(800.0, 2e-3)));
  set(plan, "from.temperature", 350.0);
  const Solution solution = solved(plan);
  CHECK(warmth(plan, solution, "middle") == Approx(350.0).margin(0.1));
  CHECK(warmth(plan, solution, "to") == 293.15);
}

TEST_CASE("a walled line brings its stream towards the air around", "[heat]") {
  Network network = line_between(circuits::constant(800.0, 2e-3), 0.006, 8.0);
  network.add_heat_law(0, "line wall", {{"air_speed", 5.0}});
  Plan plan(network);
  set(plan, "liquid.temperature", 380.0);
  set(plan, "air.temperature", 300.0);
  const Solution solution = solved(plan);
  const double middle = warmth(plan, solution, "middle");
  CHECK(middle < 379.5);
  CHECK(middle > 340.0);
  // The heat that the stream gave, from its flow and temperatures.
  const double flow = circuits::flow(plan, solution, "first");
  const double warmed_by_drop = (201325.0 - circuits::pressure(plan, solution, "middle")) / (800.0 * 2000.0);
  CHECK(-solution.heat[0] == Approx(flow * 2000.0 * (380.0 + warmed_by_drop - middle)).epsilon(1e-6));
}

TEST_CASE("a stream that climbs trades its pressure for height, not for warmth", "[heat]") {
  Network network;
  network.add_liquid(circuits::constant(800.0, 2e-3));
  const int from = network.add_tank("from", circuits::tank(0.0, 2e5)), top = network.add_junction("top", {0.0, 0.0, 10.0});
  const int to = network.add_tank("to", circuits::tank(0.0));
  network.add_part("up", "line", {from, top}, {}, circuits::line(0.05, 10.0));
  network.add_part("down", "line", {top, to}, {}, circuits::line(0.004, 10.0));
  network.follow_heat();
  Plan plan(network);
  const Solution solution = solved(plan);
  // Up a wide pipe 10 m cost 78 kPa, hardly any of it by friction; a liquid that does not expand stays as warm as it was.
  const double lost = 301325.0 - circuits::pressure(plan, solution, "top");
  CHECK(lost > 78e3);
  CHECK(warmth(plan, solution, "top") - 293.15 == Approx((lost - 800.0 * 9.80665 * 10.0) / (800.0 * 2000.0)).margin(1e-7));
  CHECK(leaving(plan, solution, "down") - 293.15 == Approx(2e5 / (800.0 * 2000.0)).epsilon(1e-6));
}

TEST_CASE("streams mix by their heat", "[heat]") {
  Network network;
  network.add_liquid(circuits::constant(1000.0, 1e-3));
  const int hot = network.add_junction("hot", {}, -0.03), cold = network.add_junction("cold", {}, -0.01), meet = network.add_junction("meet");
  const int out = network.add_tank("out", circuits::tank(0.0));
  network.add_part("hot line", "line", {hot, meet}, {}, circuits::line(0.02, 0.1));
  network.add_part("cold line", "line", {cold, meet}, {}, circuits::line(0.02, 0.1));
  network.add_part("away", "line", {meet, out}, {}, circuits::line(0.02, 0.1));
  network.follow_heat();
  Plan plan(network);
  set(plan, "hot.temperature", 360.0);
  set(plan, "cold.temperature", 300.0);
  const Solution solution = solved(plan);
  CHECK(warmth(plan, solution, "meet") == Approx(0.75 * 360.0 + 0.25 * 300.0).margin(1e-3));
}

TEST_CASE("an oil loop finds the temperature at which heat in is heat out", "[heat]") {
  Plan plan(oil_loop(2500.0, 40.0));
  set(plan, "air.temperature", 300.0);
  const Solution solution = solved(plan);
  const double sump = warmth(plan, solution, "sump");
  const double power = solution.power[static_cast<std::size_t>(plan.network().part("pump"))];
  CHECK(power > 100.0);
  CHECK(40.0 * (sump - 300.0) == Approx(2500.0 + power).epsilon(1e-7));
  // Efficiency: the pump's flow work over the power.
  const double rise = circuits::pressure(plan, solution, "out") - circuits::pressure(plan, solution, "inlet");
  const double density = plan.liquid_in(plan.network().part("pump")).density.value();
  CHECK(power == Approx(circuits::flow(plan, solution, "pump") * rise / (density * 0.8)).epsilon(1e-9));
  // The same pressures as at given temperatures, once these are the ones found.
  CHECK(plan.temperature_of_part(plan.network().part("feed")) == Approx(sump).margin(2.0));
}

TEST_CASE("a loop with heat in and no way out is told so", "[heat]") {
  Plan plan(oil_loop(2500.0, 0.0));
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  CHECK_FALSE(solution.converged());
  CHECK(solution.message.find("2.5 kW of heat go into") == 0);
  CHECK(std::isnan(solution.temperature[0]));
}

TEST_CASE("a loop that can lose its heat only beyond what is known of its liquid is told so", "[heat]") {
  Plan plan(oil_loop(9000.0, 20.0));
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  CHECK_FALSE(solution.converged());
  INFO(solution.message);
  CHECK(solution.message.find("no steady state within what is known of the liquid: with 'sump' at 15") != std::string::npos);
  CHECK(solution.message.find("it would still take up 6") != std::string::npos);
}

TEST_CASE("temperatures can be given in spite of a heat side", "[heat]") {
  Plan plan(oil_loop(2500.0, 40.0));
  set(plan, "liquid.temperature", 353.15);
  plan.follow_heat(false);
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  REQUIRE(solution.converged());
  CHECK(solution.temperature.empty());
  CHECK(plan.temperature_of_part(2) == 353.15);
}

TEST_CASE("laminar flow through a cold core goes with the inverse of viscosity", "[heat]") {
  std::vector<double> flow_times_viscosity;
  for (double kelvin : {300.0, 320.0, 340.0}) {
    Plan plan(line_between(circuits::oil(), 0.003, 4.0));
    set(plan, "liquid.temperature", kelvin);
    const Solution solution = solved(plan);
    const auto& liquid = plan.liquid_in(0);
    flow_times_viscosity.push_back(circuits::flow(plan, solution, "first") / liquid.density.value() * liquid.viscosity.value());
  }
  CHECK(flow_times_viscosity[1] == Approx(flow_times_viscosity[0]).epsilon(5e-3));
  CHECK(flow_times_viscosity[2] == Approx(flow_times_viscosity[0]).epsilon(5e-3));
}

TEST_CASE("a stream that turns round carries its heat the other way", "[heat]") {
  Plan plan(line_between(circuits::constant(800.0, 2e-3)));
  set(plan, "from.vent", -5e4);
  set(plan, "to.temperature", 330.0);
  const Solution solution = solved(plan);
  CHECK(circuits::flow(plan, solution, "first") < 0.0);
  CHECK(warmth(plan, solution, "middle") == Approx(330.0).margin(0.1));
}

TEST_CASE("a line at rest has a temperature", "[heat]") {
  Plan plan(line_between(circuits::constant(800.0, 2e-3)));
  set(plan, "from.vent", 0.0);
  set(plan, "from.temperature", 330.0);
  const Solution solution = solved(plan);
  CHECK(warmth(plan, solution, "middle") > 293.0);
  CHECK(warmth(plan, solution, "middle") < 330.1);
}

TEST_CASE("a tank whose temperature is found can be given one: the moment of a cold start", "[heat]") {
  Plan plan(oil_loop(2500.0, 0.0));
  set(plan, "sump.temperature", 290.0);
  const Solution solution = solved(plan);
  CHECK(warmth(plan, solution, "sump") == 290.0);
  CHECK(warmth(plan, solution, "crankcase") == 290.0);
  CHECK(warmth(plan, solution, "gallery") > 290.0);
  set(plan, "sump.temperature", std::nan(""));
  set(plan, "sump.conductance", 40.0);
  CHECK(warmth(plan, solved(plan), "sump") > 340.0);
}

TEST_CASE("of two thick coolers side by side one may stand cold: all three states are found", "[heat]") {
  // Hot oil at a given pressure through two equal cores in cold air; each alone is a passage so fine that cold oil hardly creeps.
  Network network;
  network.add_liquid(circuits::oil());
  const int from = network.add_tank("from", circuits::tank(0.0)), to = network.add_tank("to", circuits::tank(0.0));
  const int in = network.add_junction("in"), out = network.add_junction("out");
  network.add_part("pump", "positive displacement pump", {from, in}, {},
                   {{"displacement", 1e-6}, {"speed", 20.0}, {"rated_rise", 4e5}, {"rated_speed", 50.0}});
  for (const char* side : {"left", "right"}) {
    const int part = network.add_part(side, "line", {in, out}, {}, circuits::line(0.004, 6.0));
    network.add_heat_law(part, "line wall", {{"air_speed", 40.0}, {"wall_thickness", 0.0005}, {"wall_conductivity", 100.0}});
  }
  network.add_part("back", "line", {out, to}, {}, circuits::line(0.02, 0.2));
  network.follow_heat();
  Plan plan(network);
  set(plan, "from.temperature", 400.0);
  set(plan, "air.temperature", 250.0);
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  REQUIRE(solution.converged());
  const double left = circuits::flow(plan, solution, "left"), right = circuits::flow(plan, solution, "right");
  const auto states = solver.heat().others(solution);
  INFO("left " << left << " right " << right << " others " << states.size());
  REQUIRE_FALSE(states.empty());
  double least = 1.0;
  for (const Solution& state : states) {
    CHECK(state.energy_closure <= 1e-9);
    CHECK(state.residual <= 1e-10);
    const double l = circuits::flow(plan, state, "left"), r = circuits::flow(plan, state, "right");
    least = std::min({least, l / (l + r), r / (l + r)});
  }
  CHECK(least < 0.3);
}

// A three-way thermostat in a loop whose temperature is found: it leads as much oil through the cooler as carries the heat away.
#include "../catch_shim.hpp"
#include "../circuits.hpp"

using namespace flarenut;
using analysis::Solution;
using network::Network;
using network::Plan;

namespace {

constexpr double start = 355.15, full = 368.15, air = 300.0, cooling = 160.0, sump_wall = 30.0;  // [K], [W/K]

/// Sump heated by an engine, gear pump, cooler behind a thermostat, bypass leg beside both, bearings over the sump.
Network oil_loop(double watts, double opens = start, double opened = full) {
  Network network;
  network.add_liquid(circuits::oil());
  const int sump = network.add_tank("sump", circuits::tank(0.1));
  const int out = network.add_junction("out"), warm = network.add_junction("warm"), cooled = network.add_junction("cooled");
  const int gallery = network.add_junction("gallery"), crankcase = network.add_fixed("crankcase", 0.0, {0.0, 0.0, 0.3});
  network.add_part("pump", "positive displacement pump", {sump, out}, {},
                   {{"displacement", 12e-6}, {"speed", 50.0}, {"rated_rise", 4e5}, {"rated_speed", 50.0}});
  network.add_part("relief", "relief valve", {out, sump}, {}, {{"set_pressure", 4.5e5}, {"full_area", 5e-5}, {"band", 5e4}});
  const Network::Numbers valve{{"start_temperature", opens}, {"full_temperature", opened}, {"full_area", 1.1e-4}};
  network.sense_temperature(network.add_part("thermostat", "thermostat", {out, warm}, {}, valve), out);
  network.add_part("cooler", "core", {warm, cooled}, {}, {{"viscous", 3e9}, {"inertial", 2e8}});
  network.add_part("back", "line", {cooled, gallery}, {}, circuits::line(0.012, 1.0));
  Network::Numbers leg = valve;
  leg.push_back({"bleed", 0.01});
  network.sense_temperature(network.add_part("bypass", "thermostat bypass", {out, gallery}, {}, leg), out);
  network.add_part("bearings", "bearings", {gallery, crankcase}, {},
                   {{"count", 14}, {"diameter", 55e-3}, {"land_width", 8e-3}, {"radial_clearance", 3e-5}, {"speed", 50.0}, {"film_viscosity", 0.6}});
  network.put_heat_at(sump, watts, sump_wall);
  network.put_heat_at(cooled, 0.0, cooling);
  network.let_mix(sump);
  network.drain(crankcase, sump);
  network.follow_heat();
  return network;
}

Solution solved(Plan& plan) {
  plan.set(plan.index("air.temperature"), air);
  analysis::SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  INFO(solution.message);
  REQUIRE(solution.converged());
  CHECK(solution.energy_closure <= 1e-9);
  return solution;
}

double warmth(const Plan& plan, const Solution& solution, const std::string& junction) {
  return solution.temperature[static_cast<std::size_t>(plan.network().junction(junction))];
}

double through_cooler(const Plan& plan, const Solution& solution) {
  return circuits::flow(plan, solution, "cooler") / circuits::flow(plan, solution, "bearings");
}

}  // namespace

TEST_CASE("a thermostat holds a loop within its range over a wide range of heat", "[heat]") {
  double last_share = 0.0, last_warmth = 0.0;
  for (double watts : {3500.0, 5000.0, 6500.0}) {
    Plan plan(oil_loop(watts));
    const auto solution = solved(plan);
    const double hot = warmth(plan, solution, "out");
    INFO(watts << " W: " << hot - 273.15 << " degC, " << through_cooler(plan, solution) << " of the oil through the cooler");
    CHECK(hot > start);
    CHECK(hot < full);
    CHECK(hot > last_warmth);
    CHECK(through_cooler(plan, solution) > last_share);
    last_warmth = hot;
    last_share = through_cooler(plan, solution);
    // What cooler and sump give to the air is what the engine and the pump's work put in.
    double work = 0.0;
    for (double power : solution.power) work += power;
    CHECK(cooling * (warmth(plan, solution, "cooled") - air) + sump_wall * (warmth(plan, solution, "sump") - air) ==
          Approx(watts + work).epsilon(1e-6));
  }
}

TEST_CASE("a thermostat that opens later makes a warmer loop", "[heat]") {
  Plan early(oil_loop(4000.0)), late(oil_loop(4000.0, start + 10.0, full + 10.0));
  const auto one = solved(early), other = solved(late);
  CHECK(warmth(late, other, "out") - warmth(early, one, "out") == Approx(10.0).margin(3.0));
}

TEST_CASE("a loop with little heat stays below its thermostat, and what bleeds is cooled", "[heat]") {
  Plan plan(oil_loop(800.0));
  const auto solution = solved(plan);
  CHECK(warmth(plan, solution, "out") < start);
  CHECK(through_cooler(plan, solution) < 0.15);
}

TEST_CASE("the temperatures found, given, leave pressures and flows as they were", "[heat]") {
  Plan plan(oil_loop(5000.0));
  const auto found = solved(plan);
  const double share = through_cooler(plan, found);
  Plan again(oil_loop(5000.0));
  again.set(again.index("liquid.temperature"), warmth(plan, found, "out"));
  again.follow_heat(false);
  analysis::SteadySolver solver(again);
  Solution given;
  solver.solve(given);
  REQUIRE(given.converged());
  // All parts at the thermostat's temperature, in place of a cooler that is cooler: its oil is thinner, so more of it passes.
  CHECK(through_cooler(again, given) > share);
}

TEST_CASE("an answer stands when the laws of its liquid are asked anew", "[heat]") {
  // The last step of a solve carries on what they said a hundred-thousandth of a kelvin before.
  for (double watts : {3500.0, 5000.0, 6500.0, 9000.0}) {
    Plan plan(oil_loop(watts)), anew(oil_loop(watts));
    const auto answer = solved(plan);
    anew.set(anew.index("air.temperature"), air);
    analysis::SteadySolver solver(anew);
    Solution again;
    solver.solve(again, analysis::Start(answer));
    INFO(watts << " W: " << again.residual << ", " << again.energy_closure << " " << again.message);
    REQUIRE(again.converged());
    CHECK(again.iterations == 0);
    CHECK(again.residual == Approx(answer.residual).margin(2e-11));
    CHECK(again.energy_closure == Approx(answer.energy_closure).margin(1e-10));
  }
}

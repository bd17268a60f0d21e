// Why a circuit has no answer, in words that name what to look at.
#include "flarenut/analysis/diagnosis.hpp"

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/analysis/heat_solver.hpp"

using namespace circuits;
using analysis::FlowSystem;
using analysis::Solution;
using Catch::Contains;

namespace {

/// What is said of a network that has no answer.
std::string said_of(Network network) {
  Plan plan(std::move(network));
  const Solution solution = analysis::solve(plan);
  CHECK_FALSE(solution.converged());
  return solution.message;
}

Network with_water() {
  Network network;
  network.add_liquid(constant(998.0, 1e-3));
  return network;
}

}  // namespace

TEST_CASE("diagnosis: a pump whose curve climbs is blamed before the part whose equation is worst") {
  Network network = with_water();
  const int cell = network.add_tank("cell", tank(0.1)), out = network.add_junction("out");
  network.add_part("humped", "centrifugal pump", {cell, out}, {}, {{"speed", 50.0}, {"rated_speed", 50.0}},
                   {{"curve_flow", {0.0, 5e-4, 1e-3}}, {"curve_rise", {7e4, 8e4, 3e4}}});
  network.add_part("line", "line", {out, cell}, {}, line(0.01, 1.0));
  Plan plan(network);
  FlowSystem system(plan);
  system.start_cold();
  CHECK_THAT(analysis::explain_failure(system), Contains("pump 'humped' has a curve that rises with flow"));
}

TEST_CASE("diagnosis: an attempt that failed is told by its worst part, the junction that does not balance, and what fell below nothing") {
  Network network = with_water();
  const int cell = network.add_tank("cell", tank(0.1)), here = network.add_junction("here"), air = network.add_fixed("air", 0.0);
  network.add_part("first", "line", {cell, here}, {}, line(0.01, 1.0));
  network.add_part("second", "line", {here, air}, {}, line(0.01, 1.0));
  Plan plan(network);
  FlowSystem system(plan);
  const double ambient = plan.ambient();
  system.start_at({ambient, -2e5, ambient}, {0.5, 0.0});
  system.linearise();
  const std::string said = analysis::explain_failure(system);
  CHECK_THAT(said, Contains("the line '") && Contains("would not settle") && Contains("which way round it is written"));
  CHECK_THAT(said, Contains("flow does not balance at junction 'here'") && Contains("the pressure at 'here' was below absolute zero"));
  // Nothing below zero, nothing unbalanced: nothing is said of either.
  system.start_at({ambient, 2e5, ambient}, {0.5, 0.5});
  system.linearise();
  CHECK_THAT(analysis::explain_failure(system), !Contains("does not balance") && !Contains("absolute zero"));
}

TEST_CASE("diagnosis: liquid pushed where it cannot get out is told with the pressure it would take, and where that is lost") {
  Network network = with_water();
  const int in = network.add_junction("in", {}, -5.0), air = network.add_fixed("air", 0.0);
  network.add_part("needle", "line", {in, air}, {}, line(2e-3, 10.0));
  const std::string said = said_of(network);
  CHECK_THAT(said, Contains("the pressure at 'in' would have to be") && Contains("more than anything bears"));
  CHECK_THAT(said, Contains("Most of the pressure is lost in the line 'needle'") && !Contains("wrong way round"));
}

TEST_CASE("diagnosis: what lets liquid through one way only is asked about when it stands in the way") {
  Network network = with_water();
  const int cell = network.add_tank("cell", tank(0.1)), user = network.add_junction("user", {}, 0.5);
  network.add_part("flap", "check valve", {user, cell}, {}, {{"cracking_pressure", 2e3}, {"full_area", 1e-4}});
  const std::string said = said_of(network);
  CHECK_THAT(said, Contains("The demand at 'user' cannot be met") && Contains("the check valve 'flap'") && Contains("is it the wrong way round?"));
}

TEST_CASE("diagnosis: a relief valve that opens early is named beside the demand it starves") {
  Network network = with_water();
  const int cell = network.add_tank("cell", tank(0.1)), out = network.add_junction("out"), user = network.add_junction("user", {}, 0.05);
  network.add_part("pump", "quadratic pump", {cell, out}, {}, pump());
  network.add_part("relief", "relief valve", {out, cell}, {}, {{"set_pressure", 5e3}, {"full_area", 1e-3}, {"band", 1e3}});
  network.add_part("feed", "line", {out, user}, {}, line(1e-3, 5.0));
  const std::string said = said_of(network);
  CHECK_THAT(said, Contains("The demand at 'user' cannot be met") && Contains("The relief valve 'relief' is open and lets liquid off"));
  CHECK_THAT(said, Contains("lost in the line 'feed'") && Contains("set too low? Most of") && !Contains("?."));
}

TEST_CASE("diagnosis: the relief that a starved pump itself pushes open is not blamed; the way to the pump is") {
  Network network;
  network.add_liquid(constant(870.0, 1.0));  // cold oil
  const int cell = network.add_tank("cell", tank(0.1)), in = network.add_junction("in"), out = network.add_junction("out");
  network.add_part("pick-up", "line", {cell, in}, {}, line(8e-3, 0.5));
  network.add_part("pump", "positive displacement pump", {in, out}, {},
                   {{"displacement", 18e-6}, {"speed", 50.0}, {"rated_efficiency", 0.9}, {"rated_rise", 4e5}, {"rated_speed", 50.0}, {"rated_viscosity", 0.01}});
  network.add_part("relief", "relief valve", {out, cell}, {}, {{"set_pressure", 5e5}, {"full_area", 1e-4}, {"band", 5e4}});
  const std::string said = said_of(network);
  CHECK_THAT(said, Contains("The way to pump 'pump' is shut, too narrow"));
  CHECK_THAT(said, !Contains("relief") && Contains("Most of the pressure is lost in the line 'pick-up'"));
}

TEST_CASE("diagnosis: a pump that draws from where its relief lets off is asked which way round it is") {
  const auto said_with = [](const char* relief_at) {
    Network network;
    network.add_liquid(constant(870.0, 0.1));
    const int cell = network.add_tank("cell", tank(0.1)), in = network.add_junction("in"), out = network.add_junction("out");
    network.add_part("pick-up", "line", {cell, in}, {}, line(20e-3, 0.5));
    network.add_part("pump", "positive displacement pump", {out, in}, {},
                     {{"displacement", 18e-6}, {"speed", 50.0}, {"rated_efficiency", 0.9}, {"rated_rise", 4e5}, {"rated_speed", 50.0}, {"rated_viscosity", 0.01}});
    const int from = std::string(relief_at) == "out" ? out : in;
    network.add_part("relief", "relief valve", {from, cell}, {}, {{"set_pressure", 5e5}, {"full_area", 1e-4}, {"band", 5e4}});
    network.add_part("bearings", "line", {out, cell}, {}, line(2e-3, 0.5));
    return said_of(std::move(network));
  };
  CHECK_THAT(said_with("out"), Contains("'pump' draws from where the relief valve 'relief' lets off") && Contains("is it the wrong way round?"));
  CHECK_THAT(said_with("in"), !Contains("draws from where") && Contains("The way to pump 'pump' is shut, too narrow"));
}

TEST_CASE("diagnosis: what stands shut beside the way that feeds a demand is not blamed, though all the pressure stands across it") {
  Network network = with_water();
  const int cell = network.add_tank("cell", tank(0.1)), out = network.add_junction("out"), rail = network.add_junction("rail", {}, 0.2);
  network.add_part("regulator", "relief valve", {rail, cell}, {}, {{"set_pressure", 3e5}, {"full_area", 1e-5}, {"band", 1e4}});
  network.add_part("pump", "quadratic pump", {cell, out}, {}, pump());
  network.add_part("thin", "line", {out, rail}, {}, line(3e-3, 2.0));
  const std::string said = said_of(network);
  CHECK_THAT(said, Contains("The demand at 'rail' cannot be met") && Contains("Most of the pressure is lost in the line 'thin'"));
  CHECK_THAT(said, !Contains("regulator") && !Contains("which is turbulent"));
}

TEST_CASE("diagnosis: nor is a shut cock beside the way out of liquid that is pushed in") {
  Network network = with_water();
  const int in = network.add_junction("in", {}, -5.0), air = network.add_fixed("air", 0.0);
  network.add_part("drain", "valve", {in, air}, {}, {{"flow_coefficient", 1e-4}, {"opening", 0.0}});
  network.add_part("needle", "line", {in, air}, {}, line(2e-3, 10.0));
  CHECK_THAT(said_of(network), Contains("more than anything bears") && Contains("Most of the pressure is lost in the line 'needle'"));
}

TEST_CASE("diagnosis: a siphon that is too high is told without a pump or a demand to blame") {
  Network network = with_water();
  const int full = network.add_tank("full", tank(3.0)), empty = network.add_tank("empty", tank(0.1));
  const int top = network.add_junction("top", {0.0, 0.0, 30.0});  // 10 m of water is what air carries
  network.add_part("up", "line", {full, top}, {}, line(0.02, 30.0));
  network.add_part("down", "line", {top, empty}, {}, line(0.02, 30.0));
  CHECK_THAT(said_of(network), Contains("the pressure at 'top' would have to fall below absolute zero") && Contains("Look for too great a height"));
}

namespace {

/// A sump with a pump and a line back to it: heat at the sump, and what it loses to the air.
Network sump_loop(double heat, double conductance, double capacity = 0.0) {
  Network network;
  network.add_liquid(oil());
  const int sump = network.add_tank("sump", tank(0.1)), out = network.add_junction("out");
  network.add_part("pump", "quadratic pump", {sump, out}, {}, circuits::pump(1e5));
  network.add_part("back", "line", {out, sump}, {}, line(0.01, 0.5));
  network.put_heat_at(sump, heat, conductance, capacity);
  network.let_mix(sump);
  network.follow_heat();
  return network;
}

}  // namespace

TEST_CASE("diagnosis: a loop without heat and without a way for it has no temperature of its own", "[heat]") {
  CHECK_THAT(said_of(sump_loop(0.0, 0.0)), Contains("nothing sets the temperature of the loop of"));
  CHECK_THAT(said_of(sump_loop(300.0, 0.0)), Contains("300 W of heat go into the loop of"));
}

TEST_CASE("diagnosis: a loop that is drawn on for heat ends colder than its liquid is known, and is told so", "[heat]") {
  const std::string said = said_of(sump_loop(-5e4, 20.0));
  CHECK_THAT(said, Contains("there is no steady state within what is known of the liquid") && Contains("it would still give off"));
  CHECK_THAT(said, Contains("Look at the temperature of the air and of what comes in"));
}

TEST_CASE("diagnosis: a drive that heats its oil past what is known of it stops there, and says where", "[heat]") {
  Plan plan(sump_loop(5e4, 10.0, 4000.0));
  analysis::SteadySolver solver(plan);
  Solution solution;
  solver.heat().begin(solution, 350.0);
  REQUIRE(solution.converged());
  for (int minute = 0; solution.converged() && minute < 30; ++minute) solver.heat().advance(solution, 60.0);
  CHECK_FALSE(solution.converged());
  CHECK_THAT(solution.message, Contains("would get hotter than") && Contains("More heat goes in than the coolers can move"));
  CHECK(std::isnan(solution.temperature[0]));
}

TEST_CASE("diagnosis: what hunts is told by its widest swing, and nothing is said of what hardly moves") {
  Network network = with_water();
  const int in = network.add_fixed("in", 1e5), out = network.add_fixed("out", 0.0), middle = network.add_junction("behind the thermostat");
  network.add_part("first", "orifice", {in, middle}, {}, {{"bore", 3e-3}});
  network.add_part("second", "orifice", {middle, out}, {}, {{"bore", 3e-3}});
  const Plan plan(std::move(network));
  std::vector<double> lowest(3, 350.0), highest(3, 350.4);
  CHECK(analysis::hunting(plan, lowest, highest).empty());
  CHECK(analysis::hunting(plan, {}, {}).empty());
  highest[static_cast<std::size_t>(middle)] = 363.15;
  CHECK_THAT(analysis::hunting(plan, lowest, highest), Contains("'behind the thermostat' between 76.85 degC and 90 degC"));
}

TEST_CASE("diagnosis: a trickle that turns is told with both its flows, by the hour") {
  CHECK_THAT(analysis::turning_trickle("heater hose", -1e-7, 2.5e-6), Contains("'heater hose'") && Contains("0.36 g/h backwards and then 9 g/h."));
}

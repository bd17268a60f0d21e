#include "flarenut/analysis/flow_system.hpp"
#include "flarenut/analysis/steady.hpp"

#include <algorithm>
#include <cmath>

#include "../catch_shim.hpp"
#include "../circuits.hpp"

// Flow through a part that has been shut or opened wide since the iterate was found.

namespace {

using namespace flarenut;
using circuits::constant;
using analysis::FlowSystem;
using network::Network;
using network::Plan;

/// An orifice and a valve in series, from 3 bar to the open air.
Network throttled(double opening) {
  Network network;
  network.add_liquid(constant(860.0, 0.01));
  const int from = network.add_fixed("from", 3e5), between = network.add_junction("between"), to = network.add_fixed("to", 0.0);
  network.add_part("orifice", "orifice", {from, between}, {}, {{"bore", 0.004}, {"discharge_coefficient", 0.7}});
  network.add_part("valve", "valve", {between, to}, {}, {{"flow_coefficient", 2e-5}, {"opening", opening}});
  return network;
}

struct After {
  int steps = 0;          ///< until laws hold
  double first = 0.0;     ///< scaled residual after one step
  double pressure = 0.0;  ///< between [Pa]
};

/// From the flow at one opening to that at another.
After moved(double before, double after, bool foreseeing) {
  Plan plan(throttled(before));
  const analysis::Solution solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  plan.set(plan.index("valve.opening"), after);
  FlowSystem system(plan);
  system.start_at(solution.pressure, solution.flow);
  system.linearise();
  After result;
  for (; result.steps < 40 && !system.accepted(); ++result.steps) {
    if (foreseeing) system.foresee();
    REQUIRE(system.find_step());
    system.take_step();
    system.linearise();
    if (result.steps == 0) result.first = system.worst_residual();
  }
  REQUIRE(system.accepted());
  result.pressure = system.pressures()[1];
  return result;
}

}  // namespace

TEST_CASE("flow: what has been shut since comes down at once where its own law is asked, and to the same answer") {
  const After plain = moved(1.0, 0.02, false), foreseen = moved(1.0, 0.02, true);
  CHECK(foreseen.pressure == Approx(plain.pressure).epsilon(1e-9));
  CHECK(foreseen.first < 0.3 * plain.first);
  CHECK(foreseen.steps + 3 <= plain.steps);
}

TEST_CASE("flow: what has been opened since is foreseen too") {
  const After plain = moved(0.02, 1.0, false), foreseen = moved(0.02, 1.0, true);
  CHECK(foreseen.pressure == Approx(plain.pressure).epsilon(1e-9));
  CHECK(foreseen.steps <= plain.steps);
}

TEST_CASE("flow: where laws hold nothing is foreseen") {
  Plan plan(throttled(0.5));
  const analysis::Solution solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  FlowSystem system(plan);
  system.start_at(solution.pressure, solution.flow);
  system.linearise();
  const double drop = system.field().drop[system.field().parts()[0].place];
  system.foresee();
  CHECK(system.field().drop[system.field().parts()[0].place] == drop);
  CHECK(system.accepted());
}

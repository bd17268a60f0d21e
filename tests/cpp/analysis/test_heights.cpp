#include "catch_shim.hpp"
#include "circuits.hpp"

// Where liquid stands between a part and its junctions, height counts; where gas stands, it does not.
// Heads are ρ g h with g = 9.80665 m/s² (ISO 80000-3).

using namespace circuits;

namespace {

constexpr double density = 800.0;
constexpr double gravity = 9.80665;

Network injectors(double rail_height, double manifold_height) {
  Network network;
  network.add_liquid(constant(density, 5e-4));
  const int rail = network.add_fixed("rail", 3e5, {0.0, 0.0, rail_height});
  const int manifold = network.add_fixed("manifold", 0.0, {0.0, 0.0, manifold_height});
  network.add_part("bank", "injector bank", {rail, manifold}, {},
                   {{"count", 6.0}, {"rated_flow", 7e-6}, {"rating_density", density}, {"duty", 0.5}});
  return network;
}

double injected(Network network, double forward_acceleration = 0.0) {
  Plan plan(std::move(network));
  plan.set(plan.index("acceleration.x"), forward_acceleration);
  return flow(plan, analysis::solve(plan), "bank");
}

/// A supply that a regulator spills; the regulator's valve is at the floor, what it feels is `height` above it.
double regulated(double sensed_height, double reference_height) {
  Network network;
  network.add_liquid(constant(density, 5e-4));
  const int supply = network.add_fixed("supply", 6e5);
  const int valve = network.add_junction("valve");
  const int felt = network.add_junction("felt", {0.0, 0.0, sensed_height});
  const int air = network.add_fixed("air", 0.0, {0.0, 0.0, reference_height});
  const int drain = network.add_fixed("drain", 0.0);
  network.add_part("feed", "line", {supply, valve}, {}, line(4e-3, 2.0));
  network.add_part("gauge line", "line", {valve, felt}, {}, line(4e-3, 2.0));
  network.add_part("regulator", "bypass regulator", {valve, drain}, {felt, air}, {{"set_pressure", 3e5}, {"full_area", 2e-5}});
  Plan plan(std::move(network));
  return pressure(plan, analysis::solve(plan), "valve");
}

}  // namespace

TEST_CASE("heights: an injector sprays into gas, so it does not matter where the manifold is") {
  const double level = injected(injectors(0.0, 0.0));
  CHECK(injected(injectors(1.5, 0.0)) == Approx(level).epsilon(1e-12));
  CHECK(injected(injectors(0.0, 1.5)) == Approx(level).epsilon(1e-12));
  // Orifice equation by hand: duty · count · Q · ρ, rated at the same liquid and the same 3 bar.
  CHECK(level == Approx(0.5 * 6.0 * 7e-6 * density).epsilon(2e-3));
}

TEST_CASE("heights: braking does not push fuel through injectors towards a manifold further forward") {
  Network network;
  network.add_liquid(constant(density, 5e-4));
  const int rail = network.add_fixed("rail", 3e5);
  const int manifold = network.add_fixed("manifold", 0.0, {0.4, 0.0, 0.0});
  network.add_part("bank", "injector bank", {rail, manifold}, {},
                   {{"count", 6.0}, {"rated_flow", 7e-6}, {"rating_density", density}, {"duty", 0.5}});
  CHECK(injected(network, -gravity) == Approx(injected(network)).epsilon(1e-12));
}

TEST_CASE("heights: liquid stands in a sensing line, air in a reference hose") {
  const double level = regulated(0.0, 0.0);
  // The gauge line is at rest, so its column cancels: the valve feels its own pressure wherever the tapping is.
  CHECK(regulated(2.0, 0.0) == Approx(level).epsilon(1e-9));
  CHECK(regulated(0.0, 2.0) == Approx(level).epsilon(1e-9));
}

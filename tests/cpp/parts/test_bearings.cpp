#include "flarenut/parts/bearings.hpp"

#include "../catch_shim.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;

namespace {

constexpr double pi = 3.14159265358979323846;

/// An invented crankshaft: five mains of 55 mm, 0.056 mm of clearance across the diameter.
BearingsSpec<> mains(double eccentricity = 0.8, double turns = 0.0) {
  BearingsSpec<> spec;
  spec.count = ratio(5.0);
  spec.diameter = Length<>::from_value(55e-3);
  spec.land_width = Length<>::from_value(8.5e-3);
  spec.radial_clearance = Length<>::from_value(28e-6);
  spec.eccentricity = ratio(eccentricity);
  spec.speed = Frequency<>::from_value(turns);
  return spec;
}

constexpr double density = 830.0, viscosity = 0.010;

double flow_of(const BearingsSpec<>& spec, double drop) {
  return flow_at_drop(Bearings<>(spec, liquid(density, viscosity)), drop) / density;
}

/// Volume flow out of both lands by adding up slots of the width that the gap has round the journal: h³ Δp / (12 μ w) each.
double slots(double eccentricity, double drop, double from, double to) {
  constexpr int steps = 20000;
  double sum = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double angle = from + (to - from) * (i + 0.5) / steps;
    sum += std::pow(28e-6 * (1.0 + eccentricity * std::cos(angle)), 3) * 0.5 * 55e-3 * (to - from) / steps;
  }
  return 5.0 * 2.0 * sum * drop / (12.0 * viscosity * 8.5e-3);
}

}  // namespace

TEST_CASE("bearings: at rest they pass what the slots round the journal add up to") {
  for (double eccentricity : {0.0, 0.5, 0.8, 0.95})
    CHECK(flow_of(mains(eccentricity), 3e5) == Approx(slots(eccentricity, 3e5, -pi, pi)).epsilon(1e-6));
}

TEST_CASE("bearings: the textbook's equation for a groove round the middle, by hand") {
  // Q = π r c³ Δp (1 + 1.5 ε²) / (3 μ l'), l' the width of one land (Shigley, from memory); five of them.
  const double each = pi * 27.5e-3 * std::pow(28e-6, 3) * 3e5 * (1.0 + 1.5 * 0.64) / (3.0 * viscosity * 8.5e-3);
  CHECK(flow_of(mains(), 3e5) == Approx(5.0 * each).epsilon(1e-9));
  CHECK(each * 6e4 == Approx(0.262).epsilon(0.01));  // L/min
}

TEST_CASE("bearings: a groove in the unloaded half alone passes 95 % as much at an eccentricity of 0.8") {
  CHECK(slots(0.8, 3e5, -pi / 2.0, pi / 2.0) / slots(0.8, 3e5, -pi, pi) == Approx(0.95).epsilon(0.01));
}

TEST_CASE("bearings: flow goes with the cube of the clearance and against the viscosity of the film") {
  auto spec = mains();
  const double before = flow_of(spec, 3e5);
  spec.radial_clearance = Length<>::from_value(56e-6);
  CHECK(flow_of(spec, 3e5) == Approx(8.0 * before));
  spec.radial_clearance = Length<>::from_value(28e-6);
  spec.film_viscosity = ratio(0.5);
  CHECK(flow_of(spec, 3e5) == Approx(2.0 * before));
}

TEST_CASE("bearings: turning, well fed, they take the side flow of the short bearing besides") {
  const double pressed = flow_of(mains(), 3e7);
  const double dragged = 5.0 * pi * 55e-3 * 100.0 * 8.5e-3 * 28e-6 * 0.8;
  REQUIRE(pressed > 20.0 * dragged);
  CHECK(flow_of(mains(0.8, 100.0), 3e7) - pressed == Approx(dragged * pressed / (pressed + dragged)).epsilon(1e-6));
}

TEST_CASE("bearings: turning, hardly fed, they pass twice what they pass at rest and never suck") {
  CHECK(flow_of(mains(0.8, 100.0), 1.0) == Approx(2.0 * flow_of(mains(), 1.0)).epsilon(1e-4));
  const Bearings<> turning(mains(0.8, 100.0), liquid(density, viscosity));
  CHECK(turning.drop(flowing(0.0)).value() == 0.0);
  CHECK(turning.drop(flowing(1e-9)).value() > 0.0);
  CHECK(turning.drop(flowing(-1e-3)).value() < 0.0);
}

TEST_CASE("bearings: the slope by speed stands at rest, too") {
  auto spec = lifted<BearingsSpec, Dual<1>>(mains());
  spec.speed = Frequency<Dual<1>>::from_value(Dual<1>(0.0, 0));
  const auto oil = liquid(density, viscosity).as<Dual<1>>();
  const double slope = Bearings<Dual<1>>(spec, oil).drop(flowing(0.05)).value().slope[0];
  const auto drop = [](double turns) { return Bearings<>(mains(0.8, turns), liquid(density, viscosity)).drop(flowing(0.05)).value(); };
  CHECK(slope == Approx((drop(1e-4) - drop(0.0)) / 1e-4).epsilon(1e-4));
}

TEST_CASE("bearings: the side that drips counts for no height") {
  CHECK(Bearings<>::wet(0));
  CHECK_FALSE(Bearings<>::wet(1));
}

TEST_CASE("bearings: a clearance written in the wrong unit is refused in words") {
  auto spec = mains();
  spec.radial_clearance = Length<>::from_value(9e-4);
  CHECK_THROWS_WITH(validate("mains", spec), Catch::Contains("mains: radial_clearance") && Catch::Contains("check its unit"));
}

#include "flarenut/parts/tank.hpp"

#include "../catch_shim.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace flarenut::trade;

namespace {

const AbsolutePressure<> sea_level = AbsolutePressure<>::from_value(101325.0);  // ISO 2533
const Density<> petrol = 750.0 * kilogram_per_cubic_metre;

VehicleAcceleration<> in_g(double forward, double left, double up) {
  return {forward * standard_gravity, left * standard_gravity, up * standard_gravity};
}

double head(const TankSpec<>& spec, const VehicleAcceleration<>& acceleration = {}) {
  return (Tank<>(spec).pressure_at_pickup(sea_level, petrol, acceleration) - sea_level).value();
}

}  // namespace

TEST_CASE("tank: at rest the pick-up sees the height of liquid") {
  TankSpec<> spec;
  spec.level = 8.0 * inch;
  CHECK(head(spec) == Approx(750.0 * 9.80665 * 0.2032));
  CHECK(Tank<>(spec).pressure_above_liquid(sea_level).value() == 101325.0);
}

TEST_CASE("tank: a pressure cap adds, a blocked vent takes away, from liquid and vapour alike") {
  TankSpec<> spec;
  spec.level = 0.2 * metre;
  const double vented = head(spec);
  spec.vent_pressure = gauge(2.0 * psi);
  CHECK(head(spec) - vented == Approx(13789.51).epsilon(1e-6));  // 2 psi, NIST SP 811
  spec.vent_pressure = gauge(-1.0 * inch_of_mercury);
  CHECK(head(spec) - vented == Approx(-3386.389));
  CHECK(Tank<>(spec).pressure_above_liquid(sea_level).value() == Approx(101325.0 - 3386.389));
}

TEST_CASE("tank: a launch feeds a pick-up at the rear and starves one at the front") {
  TankSpec<> spec;
  spec.level = 0.15 * metre;
  spec.pickup_forward = -0.3 * metre;
  CHECK(head(spec, in_g(1.5, 0, 0)) == Approx(750.0 * 9.80665 * (0.15 + 1.5 * 0.3)));
  spec.pickup_forward = 0.3 * metre;
  CHECK(head(spec, in_g(1.5, 0, 0)) == Approx(750.0 * 9.80665 * (0.15 - 1.5 * 0.3)));
  CHECK(head(spec, in_g(-1.5, 0, 0)) == Approx(750.0 * 9.80665 * (0.15 + 1.5 * 0.3)));
}

TEST_CASE("tank: in a left-hand corner the liquid goes to the right") {
  TankSpec<> spec;
  spec.level = 0.15 * metre;
  spec.pickup_left = -0.2 * metre;
  CHECK(head(spec, in_g(0, 1.2, 0)) == Approx(750.0 * 9.80665 * (0.15 + 1.2 * 0.2)));
  spec.pickup_left = 0.2 * metre;
  CHECK(head(spec, in_g(0, 1.2, 0)) < 0.0);
}

TEST_CASE("tank: the tilted surface of a launch is the textbook's") {
  // tan(tilt) = a/g, hydrostatics in an accelerated frame (any textbook): the pick-up is dry once it lies further
  // forward than level / tan(tilt).
  TankSpec<> spec;
  spec.level = 0.1 * metre;
  spec.pickup_forward = 0.19 * metre;
  CHECK_FALSE(Tank<>(spec).uncovered(in_g(0.5, 0, 0)));
  spec.pickup_forward = 0.21 * metre;
  CHECK(Tank<>(spec).uncovered(in_g(0.5, 0, 0)));
  CHECK_FALSE(Tank<>(spec).uncovered());
}

TEST_CASE("tank: a crest lightens the liquid, a dip makes it heavier") {
  TankSpec<> spec;
  spec.level = 0.2 * metre;
  CHECK(head(spec, in_g(0, 0, -1)) == Approx(0.0).margin(1e-9));
  CHECK(head(spec, in_g(0, 0, 1)) == Approx(2.0 * head(spec)));
}

TEST_CASE("tank: slopes by level and density come with the dual number") {
  TankSpec<Dual<1>> spec;
  spec.level = Length<Dual<1>>::from_value(Dual<1>(0.2, 0));
  CHECK(Tank<Dual<1>>(spec).pressure_at_pickup(sea_level, petrol).value().slope[0] == Approx(750.0 * 9.80665));
  TankSpec<> plain;
  plain.level = 0.2 * metre;
  const auto ambient = AbsolutePressure<Dual<1>>::from_value(101325.0);
  const auto density = Density<Dual<1>>::from_value(Dual<1>(750.0, 0));
  CHECK(Tank<>(plain).pressure_at_pickup(ambient, density).value().slope[0] == Approx(9.80665 * 0.2));
}

TEST_CASE("tank: a bad spec names its field") {
  const auto complaint = [](const TankSpec<>& spec) -> std::string {
    try {
      validate("main tank", spec);
    } catch (const InputError& error) {
      return error.what();
    }
    return "no complaint";
  };
  TankSpec<> spec;
  CHECK(complaint(spec) == "no complaint");
  spec.level = -1.0 * inch;
  CHECK_THAT(complaint(spec), Catch::Contains("main tank: level: -0.0254 m is outside 0 to 10 m"));
  spec.level = {};
  spec.vent_pressure = gauge(-1.0 * bar);
  CHECK_THAT(complaint(spec), Catch::Contains("vent"));
}

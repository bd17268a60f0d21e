#include "flarenut/parts/positive_displacement_pump.hpp"

#include "pump_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace pump_checks;

namespace {

constexpr double oil_density = 850.0;
constexpr double rated_viscosity = 0.03;

/// 100 cm³ a turn, 1000 rev/min, 70 bar, 90 % volumetric: the figures of a classroom example, A. Esposito, Fluid
/// Power with Applications, pumps chapter (memory): it delivers 0.0015 m³/s.
PositiveDisplacementPumpSpec<> classroom_pump(double turbulent_share = 0.0) {
  PositiveDisplacementPumpSpec<> spec;
  spec.displacement = 100.0 * trade::cubic_centimetre;
  spec.speed = 1000.0 * trade::revolution_per_minute;
  spec.rated_speed = spec.speed;
  spec.rated_rise = 70.0 * trade::bar;
  spec.rated_efficiency = Ratio<>::from_value(0.9);
  spec.rated_viscosity = rated_viscosity * trade::pascal_second;
  spec.turbulent_share = Ratio<>::from_value(turbulent_share);
  return spec;
}

double oil_rise(const PositiveDisplacementPumpSpec<>& spec, double flow, double viscosity = rated_viscosity) {
  return rise_at(PositiveDisplacementPump<>(spec, liquid(oil_density, viscosity)), flow, oil_density);
}

}  // namespace

TEST_CASE("positive displacement pump: gives its rated flow at its rated point, whatever the kind of slip") {
  for (double share : {0.0, 0.2, 0.5, 0.9})
    CHECK(oil_rise(classroom_pump(share), 0.0015) == Approx(70e5).epsilon(1e-5));
}

TEST_CASE("positive displacement pump: laminar slip goes with pressure over viscosity and not with speed") {
  // Hand sums, Wilson's slip law: rated slip 1/6 L/s at 70 bar and 0.03 Pa s.
  auto spec = classroom_pump();
  const double displaced = 1e-4 * 1000.0 / 60.0, slip = 0.1 * displaced;
  CHECK(oil_rise(spec, displaced - 0.5 * slip) == Approx(35e5));
  CHECK(oil_rise(spec, displaced - slip, 2.0 * rated_viscosity) == Approx(140e5));
  CHECK(oil_rise(spec, displaced - 10.0 * slip, 0.1 * rated_viscosity) == Approx(70e5));
  spec.speed = 0.5 * spec.speed;
  CHECK(oil_rise(spec, 0.5 * displaced - slip) == Approx(70e5));  // efficiency falls to 80 % at half speed
}

TEST_CASE("positive displacement pump: turbulent slip goes with the root of pressure") {
  // Slip at a rise p with half of it turbulent at the rated point: slip/rated = ½ p/p_r + ½ √(p/p_r).
  const double displaced = 1e-4 * 1000.0 / 60.0, slip = 0.1 * displaced;
  CHECK(oil_rise(classroom_pump(0.5), displaced - slip * (0.125 + 0.25)) == Approx(0.25 * 70e5).epsilon(1e-4));
  CHECK(oil_rise(classroom_pump(0.5), displaced + slip * (0.125 + 0.25)) == Approx(-0.25 * 70e5).epsilon(1e-4));
}

TEST_CASE("positive displacement pump: its law is sound forward, at rest and driven backwards") {
  for (double share : {0.0, 0.3, 0.9})
    for (double speed : {-20.0, 0.0, 1e-4, 16.7, 200.0})
      for (double viscosity : {0.003, 3.0}) {
        INFO("turbulent share " << share << ", speed " << speed << ", viscosity " << viscosity);
        auto spec = classroom_pump(share);
        spec.speed = Frequency<>::from_value(speed);
        law_is_sound(PositiveDisplacementPump<>(spec, liquid(oil_density, viscosity)), oil_density * 0.0017);
      }
}

TEST_CASE("positive displacement pump: backwards it is the same pump turned round") {
  auto back = classroom_pump(0.3);
  back.speed = -back.speed;
  for (double flow : {-0.002, -0.0015, 0.0, 0.001})
    CHECK(oil_rise(back, flow) == Approx(-oil_rise(classroom_pump(0.3), -flow)));
}

TEST_CASE("positive displacement pump: at standstill only the clearances are left and no energy is made") {
  auto spec = classroom_pump(0.3);
  spec.speed = {};
  for (double flow : {-1e-3, -1e-8, 1e-8, 1e-3}) CHECK(oil_rise(spec, flow) * flow < 0.0);
  CHECK(oil_rise(spec, -0.1 * 1e-4 * 1000.0 / 60.0) == Approx(70e5).epsilon(1e-5));
}

TEST_CASE("positive displacement pump: gradients by speed and by every other number are true") {
  for (double share : {0.05, 0.6})
    for (double flow : {-0.2, 1.2, 1.6})
      gradients_are_true<PositiveDisplacementPump>(classroom_pump(share), liquid(oil_density, 0.01), flow);
}

TEST_CASE("positive displacement pump: says how it runs") {
  const auto regime = [](double speed, double flow) {
    auto spec = classroom_pump();
    spec.speed = Frequency<>::from_value(speed);
    return PositiveDisplacementPump<>(spec, liquid(oil_density)).regime(flowing(oil_density * flow));
  };
  CHECK(regime(10.0, 0.9e-3) == Regime::pumping);
  CHECK(regime(10.0, 1e-6) == Regime::dead_headed);
  CHECK(regime(10.0, -1e-4) == Regime::reversed);
  CHECK(regime(10.0, 1.1e-3) == Regime::running_out);
  CHECK(regime(-10.0, -0.9e-3) == Regime::pumping);
  CHECK(regime(0.0, 1e-4) == Regime::stopped);
}

TEST_CASE("positive displacement pump: a bad spec names its field") {
  auto spec = classroom_pump();
  spec.displacement = {};
  CHECK_THAT(complaint(spec), Catch::Contains("the pump: displacement: 0 m3 is outside"));
  spec = classroom_pump();
  spec.rated_efficiency = Ratio<>::from_value(90.0);
  CHECK_THAT(complaint(spec), Catch::Contains("rated_efficiency: 90 is outside 0.1 to 0.999"));
  spec = classroom_pump();
  spec.rated_rise = {};
  CHECK_THAT(complaint(spec), Catch::Contains("rated_rise"));
  CHECK(complaint(classroom_pump()) == "no complaint");
}

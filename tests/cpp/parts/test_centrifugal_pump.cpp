#include "flarenut/parts/centrifugal_pump.hpp"

#include "pump_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace pump_checks;

namespace {

/// Invented coolant pump, measured with water at 50 turns a second.
CentrifugalPumpSpec<> coolant_pump(double speed = 50.0) {
  CentrifugalPumpSpec<> spec;
  spec.speed = Frequency<>::from_value(speed);
  spec.rated_speed = Frequency<>::from_value(50.0);
  spec.rated_density = Density<>::from_value(998.2);
  spec.curve_flow = {0.0, 0.5e-3, 1.0e-3, 1.5e-3, 2.0e-3};
  spec.curve_rise = {80e3, 76e3, 66e3, 48e3, 20e3};
  return spec;
}

}  // namespace

TEST_CASE("centrifugal pump: meets its measured points at rated speed and density") {
  const CentrifugalPump<> pump(coolant_pump(), liquid(998.2));
  const auto spec = coolant_pump();
  for (std::size_t i = 0; i < 5; ++i)
    CHECK(rise_at(pump, spec.curve_flow[i], 998.2) == Approx(spec.curve_rise[i]).epsilon(1e-5));
}

TEST_CASE("centrifugal pump: flow goes with speed, rise with its square and with density") {
  // Affinity laws, any textbook of hydraulic machines.
  const CentrifugalPump<> pump(coolant_pump(75.0), liquid(1050.0));
  CHECK(rise_at(pump, 1.5e-3, 1050.0) == Approx(66e3 * 2.25 * 1050.0 / 998.2).epsilon(1e-5));
}

TEST_CASE("centrifugal pump: its law is sound at any speed, standstill included") {
  for (double speed : {0.0, 0.02, 2.0, 50.0, 200.0}) {
    INFO("speed " << speed);
    law_is_sound(CentrifugalPump<>(coolant_pump(speed), liquid(1000.0)), 2.0);
  }
  const CentrifugalPump<> stopped(coolant_pump(0.0), liquid(1000.0));
  for (double flow : {-1e-3, -1e-6, 1e-6, 1e-3}) CHECK(rise_at(stopped, flow, 1000.0) * flow < 0.0);
}

TEST_CASE("centrifugal pump: gradients by speed and by every other number are true") {
  for (double speed : {3.0, 40.0, 60.0})
    for (double flow : {-0.3, 0.7, 1.9, 3.0}) {
      INFO("speed " << speed << ", flow " << flow);
      gradients_are_true<CentrifugalPump>(coolant_pump(speed), liquid(1000.0), flow);
    }
}

TEST_CASE("centrifugal pump: a hump means two flows for one rise, and is reported") {
  auto spec = coolant_pump();
  CHECK_FALSE(CentrifugalPump<>(spec, liquid(998.2)).has_hump());
  spec.curve_rise[0] = 70e3;
  const CentrifugalPump<> humped(spec, liquid(998.2));
  CHECK(humped.has_hump());
  int answers = 0;
  for (double flow = 0.0; flow < 2e-3; flow += 1e-6)
    if ((rise_at(humped, flow, 998.2) - 73e3) * (rise_at(humped, flow + 1e-6, 998.2) - 73e3) < 0.0) ++answers;
  CHECK(answers == 2);
  spec.curve_rise[0] = 76e3;  // level counts too
  CHECK(CentrifugalPump<>(spec, liquid(998.2)).has_hump());
}

TEST_CASE("centrifugal pump: says how it runs and when it leaves its data") {
  const CentrifugalPump<> pump(coolant_pump(25.0), liquid(1000.0));
  CHECK(pump.regime(flowing(0.5)) == Regime::pumping);
  CHECK(pump.regime(flowing(0.002)) == Regime::dead_headed);
  CHECK(pump.regime(flowing(-0.2)) == Regime::reversed);
  CHECK(pump.regime(flowing(1.4)) == Regime::running_out);
  CHECK(CentrifugalPump<>(coolant_pump(0.0), liquid(1000.0)).regime(flowing(0.5)) == Regime::stopped);
  CHECK_FALSE(pump.beyond_data(flowing(0.99)));
  CHECK(pump.beyond_data(flowing(1.01)));
  CHECK(pump.beyond_data(flowing(-0.01)));
}

TEST_CASE("centrifugal pump: a bad curve is refused in the builder's words") {
  auto spec = coolant_pump();
  spec.curve_rise.pop_back();
  CHECK_THAT(complaint(spec), Catch::Contains("the pump: curve_rise: has 4 points against 5 of curve_flow"));
  spec = coolant_pump();
  spec.curve_flow = {1e-3};
  spec.curve_rise = {1e3};
  CHECK_THAT(complaint(spec), Catch::Contains("needs at least two"));
  spec = coolant_pump();
  spec.rated_speed = {};
  CHECK_THAT(complaint(spec), Catch::Contains("rated_speed"));
  CHECK(complaint(coolant_pump()) == "no complaint");
}

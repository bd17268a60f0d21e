#include "flarenut/parts/quadratic_pump.hpp"

#include "pump_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace pump_checks;

namespace {

/// Invented pump of the reference circuit: rise = 6.5e5 v² − 2.5e9 v Q − 4e13 Q|Q|, v = volts / 13.5.
QuadraticPumpSpec<> reference_pump(double volts) {
  QuadraticPumpSpec<> spec;
  spec.volts = volts * trade::volt;
  spec.shutoff_rise = PressureDifference<>::from_value(6.5e5);
  spec.linear = LinearResistance<>::from_value(2.5e9);
  spec.quadratic = QuadraticResistance<>::from_value(4e13);
  return spec;
}

}  // namespace

TEST_CASE("quadratic pump: matches its formula at every voltage and flow") {
  for (double volts : {4.0, 9.0, 13.5, 18.0})
    for (double flow : {-5e-5, 0.0, 2e-5, 5.7832e-5, 1.2e-4}) {  // 208.195 L/h is the reference circuit's answer
      const double v = volts / 13.5;
      const double hand = 6.5e5 * v * v - 2.5e9 * v * flow - 4e13 * flow * std::abs(flow);
      CHECK(rise_at(QuadraticPump<>(reference_pump(volts), liquid()), flow) == Approx(hand).epsilon(1e-8).margin(1e-3));
    }
}

TEST_CASE("quadratic pump: obeys the affinity laws exactly") {
  // Affinity laws, any textbook of hydraulic machines: flow goes with speed, rise with its square.
  const double full = rise_at(QuadraticPump<>(reference_pump(13.5), liquid()), 6e-5);
  const double half = rise_at(QuadraticPump<>(reference_pump(6.75), liquid()), 3e-5);
  CHECK(half == Approx(0.25 * full).epsilon(1e-7));
}

TEST_CASE("quadratic pump: its law is sound at any voltage, standstill included") {
  for (double volts : {0.0, 0.05, 1.0, 13.5, 18.0})
    law_is_sound(QuadraticPump<>(reference_pump(volts), liquid()), 750.0 * 1.3e-4);
  auto without_linear = reference_pump(13.5);
  without_linear.linear = {};
  law_is_sound(QuadraticPump<>(without_linear, liquid()), 750.0 * 1.3e-4);
}

TEST_CASE("quadratic pump: without drive it makes no energy") {
  const QuadraticPump<> pump(reference_pump(0.0), liquid());
  for (double flow : {-1e-3, -1e-5, 1e-5, 1e-3}) CHECK(rise_at(pump, flow) * flow < 0.0);
  CHECK(rise_at(pump, 0.0) == 0.0);
}

TEST_CASE("quadratic pump: gradients by volts and by every other number are true") {
  gradients_are_true<QuadraticPump>(reference_pump(12.1), liquid(), 0.04);
  gradients_are_true<QuadraticPump>(reference_pump(0.7), liquid(), 0.004);
}

TEST_CASE("quadratic pump: says how it runs") {
  const auto regime = [](double volts, double volume_flow) {
    return QuadraticPump<>(reference_pump(volts), liquid()).regime(flowing(750.0 * volume_flow));
  };
  CHECK(regime(13.5, 5e-5) == Regime::pumping);
  CHECK(regime(13.5, 1e-8) == Regime::dead_headed);
  CHECK(regime(13.5, -2e-5) == Regime::reversed);
  CHECK(regime(13.5, 2e-4) == Regime::running_out);
  CHECK(regime(0.0, 1e-5) == Regime::stopped);
}

TEST_CASE("quadratic pump: a bad spec names its field") {
  auto spec = reference_pump(13.5);
  spec.shutoff_rise = {};
  CHECK_THAT(complaint(spec), Catch::Contains("the pump: shutoff_rise: 0 Pa is outside"));
  spec = reference_pump(240.0);
  CHECK_THAT(complaint(spec), Catch::Contains("volts"));
  CHECK(complaint(reference_pump(13.5)) == "no complaint");
}

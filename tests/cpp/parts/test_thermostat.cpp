#include "flarenut/parts/thermostat.hpp"

#include "../catch_shim.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;

namespace {

Temperature<> celsius(double value) { return Temperature<>::from_value(value + 273.15); }

/// An invented one for oil: 82 to 95 degC, 12 mm, a tenth bleeds.
ThermostatSpec<> oil_thermostat() {
  ThermostatSpec<> spec;
  spec.start_temperature = celsius(82.0);
  spec.full_temperature = celsius(95.0);
  spec.full_area = square_metres(1.131e-4);
  return spec;
}

fluids::LiquidState<> oil_at(double degrees) {
  auto oil = liquid(830.0, 0.012);
  oil.temperature = celsius(degrees);
  return oil;
}

PartState<double> across(double drop) {
  PartState<double> state;
  state.pressure = {at(4e5), at(4e5 - drop)};
  return state;
}

template <class Part>
double opening_at(double degrees) {
  return std::sqrt(Part(oil_thermostat(), oil_at(degrees)).opening_squared().value());
}

}  // namespace

TEST_CASE("thermostat: shut it passes its bleed, open the orifice of its area, half way the share of a smooth step") {
  for (double degrees : {-20.0, 60.0, 82.0}) CHECK(opening_at<Thermostat<>>(degrees) == Approx(0.1).epsilon(1e-12));
  for (double degrees : {95.0, 130.0}) CHECK(opening_at<Thermostat<>>(degrees) == Approx(1.0).epsilon(1e-12));
  CHECK(opening_at<Thermostat<>>(88.5) == Approx(0.55).epsilon(1e-12));
  // A quarter of the way: 10/64 - 15/256 + 6/1024 = 0.103515625 of the travel.
  CHECK(opening_at<Thermostat<>>(85.25) == Approx(0.1 + 0.9 * 0.103515625).epsilon(1e-12));
}

TEST_CASE("thermostat: flow is the orifice's by hand, its share squared in the drop") {
  for (double degrees : {60.0, 88.5, 120.0}) {
    const Thermostat<> valve(oil_thermostat(), oil_at(degrees));
    const double share = opening_at<Thermostat<>>(degrees);
    const double square = std::pow(share * orifice(0.7, 1.131e-4, 830.0, 3e4), 2);
    const double linear = 10.0 * 3.14159265358979 / 4.0 * 12e-3 * 0.012;  // Reynolds 10 in 12 mm
    CHECK(solved_flow(valve, across(3e4)) == Approx(0.5 * (std::sqrt(linear * linear + 4.0 * square) - linear)).epsilon(1e-4));
  }
}

TEST_CASE("thermostat: the bypass leg shuts as the cooler's branch opens, so that both together pass the same area") {
  for (double degrees : {40.0, 83.0, 88.0, 93.0, 110.0})
    CHECK(opening_at<Thermostat<>>(degrees) + opening_at<ThermostatBypass<>>(degrees) == Approx(1.1).epsilon(1e-12));
}

TEST_CASE("thermostat: its opening carries the slope by the liquid's temperature") {
  const auto slope_at = [](double degrees) {
    auto oil = oil_at(degrees).as<Dual<1>>();
    oil.temperature = Temperature<Dual<1>>::from_value(Dual<1>(degrees + 273.15, 0));
    const auto spec = lifted<ThermostatSpec, Dual<1>>(oil_thermostat());
    return Thermostat<Dual<1>>(spec, oil).opening_squared().value().slope[0];
  };
  const auto squared = [](double degrees) { return std::pow(opening_at<Thermostat<>>(degrees), 2); };
  for (double degrees : {82.5, 85.0, 88.5, 94.0})
    CHECK(slope_at(degrees) == Approx((squared(degrees + 1e-4) - squared(degrees - 1e-4)) / 2e-4).epsilon(1e-6));
  CHECK(slope_at(70.0) == 0.0);
  // Steepest in the middle: 15/8 of the even slope, times 2 · opening · (1 - bleed).
  CHECK(slope_at(88.5) == Approx(1.875 / 13.0 * 2.0 * 0.55 * 0.9).epsilon(1e-9));
}

TEST_CASE("thermostat: it says whether it is shut, regulating or wide open") {
  const auto regime = [](double degrees) { return Thermostat<>(oil_thermostat(), oil_at(degrees)).regime(across(1e4)); };
  CHECK(regime(82.0) == Regime::shut);
  CHECK(regime(90.0) == Regime::regulating);
  CHECK(regime(95.0) == Regime::wide_open);
  CHECK(ThermostatBypass<>(oil_thermostat(), oil_at(60.0)).regime(across(1e4)) == Regime::wide_open);
}

TEST_CASE("thermostat: a range upside down is refused in words") {
  auto spec = oil_thermostat();
  std::swap(spec.start_temperature, spec.full_temperature);
  CHECK_THROWS_WITH(validate("oil thermostat", spec), Catch::Contains("oil thermostat: full_temperature") && Catch::Contains("swap the two"));
}

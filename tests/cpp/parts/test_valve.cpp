#include "flarenut/parts/valve.hpp"

#include <cmath>

#include "loss_checks.hpp"

using namespace loss_checks;
using correlations::valve_area_from_cv;
using correlations::valve_area_from_kv;
using valve_checks::square_metres;

namespace {

ValveSpec<> valve(double coefficient, double opening = 1.0) {
  ValveSpec<> spec;
  spec.flow_coefficient = square_metres(coefficient);
  spec.opening = ratio(opening);
  return spec;
}

}  // namespace

TEST_CASE("valve: one gallon a minute of water at one psi is a Cv of one, one cubic metre an hour at one bar a Kv") {
  const auto water = liquid(999.1, 1e-3);
  CHECK(flow_at_drop(Valve<>(valve(valve_area_from_cv(1.0)), water), 6894.757) / 999.1 ==
        Approx(3.785411784e-3 / 60.0).epsilon(0.001));
  CHECK(flow_at_drop(Valve<>(valve(valve_area_from_kv(1.0)), water), 1e5) / 999.1 ==
        Approx(1.0 / 3600.0).epsilon(0.001));
}

TEST_CASE("valve: Esposito's example 8.5, 25 gal/min of oil at 100 psi through Cv 2.37") {
  const Valve<> flow_control(valve(valve_area_from_cv(2.37)), liquid(0.9 * 999.1, 0.01));
  CHECK(flow_at_drop(flow_control, 689475.7) / (0.9 * 999.1) == Approx(0.001577255).epsilon(0.003));
}

TEST_CASE("valve: IEC 60534-2-1 example 1, Kv 165 passes 360 m3/h of hot water") {
  const Valve<> control(valve(valve_area_from_kv(165.0)), liquid(965.4, 3e-4));
  CHECK(flow_at_drop(control, 4.6e5) / 965.4 == Approx(0.1).epsilon(0.002));
}

TEST_CASE("valve: half the coefficient passes half the flow") {
  const auto fuel = liquid(750.0, 5e-4);
  const double open = flow_at_drop(Valve<>(valve(5e-5), fuel), 1e5);
  CHECK(flow_at_drop(Valve<>(valve(5e-5, 0.5), fuel), 1e5) == Approx(0.5 * open).epsilon(0.001));
  CHECK(flow_at_drop(Valve<>(valve(5e-5, 0.5), fuel), -1e5) == Approx(-0.5 * open).epsilon(0.001));
}

TEST_CASE("valve: shut it leaks no more than its leak, and says so") {
  const auto fuel = liquid(750.0, 5e-4);
  const Valve<> shut(valve(5e-5, 0.0), fuel);
  const double open = flow_at_drop(Valve<>(valve(5e-5), fuel), 1e5);
  const double leak = flow_at_drop(shut, 1e5);
  CHECK(leak > 0.0);
  CHECK(leak < 1.001e-5 * open);
  CHECK(shut.regime({}) == Regime::shut);
  CHECK(Valve<>(valve(5e-5, 0.01), fuel).regime({}) == Regime::passive);
}

TEST_CASE("valve: bad numbers name their field") {
  CHECK_THAT(complaint(ValveSpec<>{}), Catch::Contains("the part: flow_coefficient"));
  CHECK_THAT(complaint(valve(5e-5, 45.0)), Catch::Contains("the part: opening"));
}

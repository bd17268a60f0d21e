#include "flarenut/parts/relief_valve.hpp"

#include "../catch_shim.hpp"
#include "../csv.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;

namespace {

constexpr double density = 880.0;
const auto thin_oil = liquid(density, 1e-4);  // thin on purpose: leaves the orifice law alone

ReliefValveSpec<> oil_pump_relief() {
  ReliefValveSpec<> spec;
  spec.set_pressure = pascals(5e5);
  spec.band = pascals(5e4);
  spec.full_area = square_metres(5e-5);
  return spec;
}

PartState<double> across(double inlet, double outlet) {
  PartState<double> state;
  state.pressure = {at(inlet), at(outlet)};
  return state;
}

double flow_at(const ReliefValveSpec<>& spec, double inlet, double outlet = 1e5) {
  return solved_flow(ReliefValve<>(spec, thin_oil), across(inlet, outlet));
}

}  // namespace

TEST_CASE("relief valve: cracking and full-flow pressure of a worked example follow from spring and poppet") {
  // A. Esposito, Fluid Power with Applications, example 8.1, as cited in tests/data/hydraulics/SOURCES.md (BK-ESP).
  const auto rows = csv::read("hydraulics/relief_valve_examples.csv");
  REQUIRE(rows.size() == 2);
  int judged = 0;
  for (const auto& row : rows) {
    const std::string inputs = "inputs_original_units";
    const double inch = 0.0254, pound_force = 4.4482216152605;  // exact by definition
    const auto seat = square_metres(row.input(inputs, "poppet area") * inch * inch);
    const auto rate = SpringRate<>::from_value(2500.0 * pound_force / inch);
    REQUIRE(row.text(inputs).find("spring rate lbf/in=2500") != std::string::npos);
    const auto preload = Length<>::from_value(row.input(inputs, "preload") * inch);
    const auto lift = Length<>::from_value(row.input(inputs, "lift at full flow") * inch);
    const double published = row.number("published_value_SI");
    if (row.text("result_name") == "cracking pressure") {
      CHECK(cracking_pressure(rate, preload, seat).value() == Approx(published).epsilon(0.001));
      ++judged;
    } else if (row.text("result_name") == "full-flow pressure") {
      CHECK(full_lift_pressure(rate, preload, lift, seat).value() == Approx(published).epsilon(0.001));
      ++judged;
      // The valve built from that spring is shut just below cracking and 71 % open when the spring says full lift.
      ReliefValveSpec<> spec;
      spec.set_pressure = cracking_pressure(rate, preload, seat);
      spec.band = full_lift_pressure(rate, preload, lift, seat) - spec.set_pressure;
      spec.full_area = square_metres(1e-5);
      const double wide_open = orifice(0.7, 1e-5, density, published);
      CHECK(flow_at(spec, 1e5 + published) == Approx(wide_open / std::sqrt(2.0)).epsilon(0.01));
      CHECK(flow_at(spec, 1e5 + spec.set_pressure.value() * 0.95) < 0.002 * wide_open);
    }
  }
  CHECK(judged == 2);
}

TEST_CASE("relief valve: below its setting it passes only leakage") {
  const auto spec = oil_pump_relief();
  // Half a setting below: opening = leak 1e-4 plus the rounded corner, 0.02²/4 of a band over 5 bands.
  const double opening = 1e-4 + 0.25 * 0.02 * 0.02 / 5.0;
  CHECK(flow_at(spec, 1e5 + 2.5e5) == Approx(opening * orifice(0.7, 5e-5, density, 2.5e5)).epsilon(0.05));
  CHECK(ReliefValve<>(spec, thin_oil).regime(across(3.5e5, 1e5)) == Regime::shut);
}

TEST_CASE("relief valve: half a band above its setting matches a hand sum") {
  const auto spec = oil_pump_relief();
  const double drop = 5.25e5;
  const double by_hand = sharp_opening(0.5) * orifice(0.7, 5e-5, density, drop);
  CHECK(flow_at(spec, 1e5 + drop) == Approx(by_hand).epsilon(0.003));
  CHECK(ReliefValve<>(spec, thin_oil).regime(across(1e5 + drop, 1e5)) == Regime::relieving);
}

TEST_CASE("relief valve: with its lift spent it is a fixed orifice") {
  const auto spec = oil_pump_relief();
  CHECK(flow_at(spec, 1e5 + 3e6) == Approx(orifice(0.7, 5e-5, density, 3e6)).epsilon(0.002));
  CHECK(ReliefValve<>(spec, thin_oil).regime(across(3.1e6, 1e5)) == Regime::wide_open);
}

TEST_CASE("relief valve: back-pressure in the outlet raises the opening pressure one for one") {
  const auto spec = oil_pump_relief();
  CHECK(flow_at(spec, 6.2e5, 1e5) == Approx(flow_at(spec, 7.7e5, 2.5e5)).epsilon(1e-9));
}

TEST_CASE("relief valve: pressure rises with flow, the override") {
  // The inlet that passes half of what the wide-open valve would at the setting, by hand: y √(Δp/set) = 0.5.
  const auto spec = oil_pump_relief();
  const double wanted = 0.5 * orifice(0.7, 5e-5, density, 5e5);
  double low = 5e5, high = 1e6;
  for (int turn = 0; turn < 100; ++turn) {
    const double drop = 0.5 * (low + high);
    (sharp_opening((drop - 5e5) / 5e4) * std::sqrt(drop / 5e5) < 0.5 ? low : high) = drop;
  }
  CHECK(flow_at(spec, 1e5 + low) == Approx(wanted).epsilon(0.003));
}

TEST_CASE("relief valve: a second step opens a second area at its own setting") {
  auto spec = oil_pump_relief();
  spec.full_area = square_metres(1e-5);
  spec.band = pascals(1e4);
  spec.set_pressure = pascals(3e5);
  spec.second_set_pressure = pascals(6e5);
  spec.second_area = square_metres(6e-5);
  // Between the steps: the first port alone, wide open. Leak is a share of both.
  CHECK(flow_at(spec, 1e5 + 5.5e5) == Approx(orifice(0.7, 1e-5, density, 5.5e5)).epsilon(0.003));
  // One band into the second: both.
  const double both = orifice(0.7, 1e-5 + sharp_opening(1.0) * 6e-5, density, 6.1e5);
  CHECK(flow_at(spec, 1e5 + 6.1e5) == Approx(both).epsilon(0.003));
  const ReliefValve<> valve(spec, thin_oil);
  CHECK(valve.regime(across(3e5, 1e5)) == Regime::shut);
  CHECK(valve.regime(across(6.5e5, 1e5)) == Regime::relieving);
  CHECK(valve.regime(across(8e5, 1e5)) == Regime::wide_open);
}

TEST_CASE("relief valve: an area of nothing for the second step changes nothing") {
  auto spec = oil_pump_relief();
  const double alone = flow_at(spec, 6.3e5);
  spec.second_set_pressure = pascals(9e5);
  CHECK(flow_at(spec, 6.3e5) == Approx(alone).epsilon(1e-12));
}

TEST_CASE("relief valve: a second step below the first is refused by name") {
  auto spec = oil_pump_relief();
  spec.second_area = square_metres(1e-5);
  spec.second_set_pressure = pascals(4e5);
  try {
    validate("oil pump relief", spec);
    FAIL("accepted");
  } catch (const InputError& error) {
    CHECK(error.place() == "oil pump relief");
    CHECK(error.field() == "second_set_pressure");
    CHECK(error.trouble().find("set_pressure") != std::string::npos);
  }
}

TEST_CASE("relief valve: the limiter lets it open and shut by steps") {
  const ReliefValve<> valve(oil_pump_relief(), thin_oil);
  auto proposed = across(2e6, 1e5);
  CHECK(valve.limit(across(3e5, 1e5), proposed));
  CHECK(proposed.pressure[0].value() == Approx(1e5 + 5e5 + 0.5 * 5e4));
  proposed = across(1e5, 1e5);
  CHECK(valve.limit(across(7e5, 1e5), proposed));
  CHECK(proposed.pressure[0].value() == Approx(1e5 + 5e5 + 0.125 * 1e5));
}

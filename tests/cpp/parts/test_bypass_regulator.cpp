#include "flarenut/parts/bypass_regulator.hpp"

#include "../catch_shim.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;

namespace {

constexpr double density = 750.0, ambient = 101325.0;
const auto petrol = liquid(density, 1e-5);  // thin on purpose: leaves the orifice law alone

BypassRegulatorSpec<> fuel_regulator() {
  BypassRegulatorSpec<> spec;
  spec.set_pressure = pascals(3e5);
  spec.band = pascals(2e4);
  spec.full_area = square_metres(6e-6);
  return spec;
}

using State = PartState<double, 2, 1, 2>;

State state_of(double supply, double back, double reference = ambient) {
  State state;
  state.pressure = {at(supply), at(back)};
  state.sensed = {at(supply), at(reference)};
  return state;
}

double flow_at(const BypassRegulatorSpec<>& spec, const State& state) {
  return solved_flow(BypassRegulator<>(spec, petrol), state);
}

double supply_at(const BypassRegulatorSpec<>& spec, double flow, double back, double reference = ambient) {
  double low = back, high = back + 2e6;
  for (int turn = 0; turn < 100; ++turn) {
    const double middle = 0.5 * (low + high);
    (flow_at(spec, state_of(middle, back, reference)) < flow ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

TEST_CASE("bypass regulator: shut below its setting it passes only leakage") {
  const auto state = state_of(ambient + 2.2e5, ambient);
  const double opening = 1e-4 + 0.25 * 0.02 * 0.02 / 4.0;  // leak and the tail of the rounded corner at 4 bands
  CHECK(flow_at(fuel_regulator(), state) == Approx(opening * orifice(0.7, 6e-6, density, 2.2e5)).epsilon(0.02));
  CHECK(BypassRegulator<>(fuel_regulator(), petrol).regime(state) == Regime::shut);
}

TEST_CASE("bypass regulator: mid-band it matches a hand sum") {
  const auto state = state_of(ambient + 3.1e5, ambient + 1e4);
  const double by_hand = sharp_opening(0.5) * orifice(0.7, 6e-6, density, 3.0e5);
  CHECK(flow_at(fuel_regulator(), state) == Approx(by_hand).epsilon(0.003));
  CHECK(BypassRegulator<>(fuel_regulator(), petrol).regime(state) == Regime::regulating);
}

TEST_CASE("bypass regulator: wide open it is an orifice, and back-pressure adds directly") {
  const auto state = state_of(ambient + 8e5, ambient);
  CHECK(flow_at(fuel_regulator(), state) == Approx(orifice(0.7, 6e-6, density, 8e5)).epsilon(0.001));
  CHECK(BypassRegulator<>(fuel_regulator(), petrol).regime(state) == Regime::wide_open);
  const double flow = orifice(0.7, 6e-6, density, 7e5);
  const double creep = supply_at(fuel_regulator(), flow, ambient + 1e5) - supply_at(fuel_regulator(), flow, ambient);
  CHECK(creep == Approx(1e5).epsilon(0.01));
}

TEST_CASE("bypass regulator: a raised reference raises the supply equally while it regulates") {
  const double before = supply_at(fuel_regulator(), 0.02, ambient);
  const double boosted = supply_at(fuel_regulator(), 0.02, ambient + 5e4, ambient + 5e4);
  CHECK(boosted - before == Approx(5e4).epsilon(1e-6));
}

TEST_CASE("bypass regulator: return pressure helps to open by the seat's share") {
  auto spec = fuel_regulator();
  spec.seat_share = ratio(0.1);
  // Force balance half a band open: 0.9 supply + 0.1 return = reference + set + band/2.
  for (double back : {ambient, ambient + 6e4}) {
    const double by_hand = (ambient + 3e5 + 1e4 - 0.1 * back) / 0.9;
    const double flow = sharp_opening(0.5) * orifice(0.7, 6e-6, density, by_hand - back);
    CHECK(supply_at(spec, flow, back) == Approx(by_hand).epsilon(1e-4));
  }
}

TEST_CASE("bypass regulator: reversed pressure makes no energy") {
  CHECK(flow_at(fuel_regulator(), state_of(ambient + 3.1e5, ambient + 4e5)) < 0.0);
}

TEST_CASE("bypass regulator: a bad number names its field") {
  auto spec = fuel_regulator();
  spec.band = pascals(1.0);
  CHECK_THROWS_WITH(validate("regulator", spec), Catch::Contains("regulator: band: 1 Pa"));
}

TEST_CASE("bypass regulator: the limiter takes a shut valve's left-over flow to its leak") {
  const BypassRegulator<> regulator(fuel_regulator(), petrol);
  auto last = state_of(ambient + 2.2e5, ambient);
  last.flow[0] = flowing(0.02);
  auto proposed = last;
  proposed.flow[0] = flowing(0.01);  // Newton on a square law: halved
  CHECK(regulator.limit(last, proposed));
  CHECK(proposed.flow[0].value() == Approx(flow_at(fuel_regulator(), last)).epsilon(1e-6));
  CHECK_FALSE(regulator.limit(last, proposed));
}

TEST_CASE("bypass regulator: the limiter lets a shut valve reopen with the flow of its opening") {
  const BypassRegulator<> regulator(fuel_regulator(), petrol);
  auto proposed = state_of(ambient + 3.08e5, ambient);  // 0.4 of a band above the setting
  proposed.flow[0] = flowing(1e-6);
  CHECK(regulator.limit(state_of(ambient + 2.2e5, ambient), proposed));
  CHECK(proposed.flow[0].value() == Approx(flow_at(fuel_regulator(), proposed)).epsilon(1e-6));
}

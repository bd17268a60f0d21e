#include "flarenut/parts/reducing_regulator.hpp"

#include "../catch_shim.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;

namespace {

constexpr double density = 750.0, ambient = 101325.0;
const auto petrol = liquid(density, 1e-5);  // thin on purpose: leaves the orifice law alone

/// Invented carburettor regulator: 40 kPa (about 6 psi) at lock-up.
ReducingRegulatorSpec<> carburettor_regulator() {
  ReducingRegulatorSpec<> spec;
  spec.set_pressure = pascals(4e4);
  spec.band = pascals(5e3);
  spec.full_area = square_metres(1.2e-5);
  return spec;
}

PartState<double, 2, 1, 2> state_of(double supply, double regulated, double reference = ambient) {
  PartState<double, 2, 1, 2> state;
  state.pressure = {at(supply), at(regulated)};
  state.sensed = {at(regulated), at(reference)};
  return state;
}

double flow_at(const ReducingRegulatorSpec<>& spec, const PartState<double, 2, 1, 2>& state) {
  return solved_flow(ReducingRegulator<>(spec, petrol), state);
}

/// Regulated pressure [Pa] at which the valve passes `flow`.
double regulated_at(const ReducingRegulatorSpec<>& spec, double supply, double flow, double reference = ambient) {
  double low = reference - 9e4, high = supply;
  for (int turn = 0; turn < 100; ++turn) {
    const double middle = 0.5 * (low + high);
    (flow_at(spec, state_of(supply, middle, reference)) > flow ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

TEST_CASE("reducing regulator: one band short of the setting matches a hand sum") {
  const auto state = state_of(ambient + 1e5, ambient + 3.5e4);
  const double by_hand = sharp_opening(1.0) * orifice(0.7, 1.2e-5, density, 6.5e4);
  CHECK(flow_at(carburettor_regulator(), state) == Approx(by_hand).epsilon(0.002));
  CHECK(ReducingRegulator<>(carburettor_regulator(), petrol).regime(state) == Regime::regulating);
}

TEST_CASE("reducing regulator: above its setting it locks up but for the leak") {
  const auto state = state_of(ambient + 1e5, ambient + 6e4);
  const double opening = 1e-4 + 0.25 * 0.02 * 0.02 / 4.0;  // leak and the tail of the rounded corner at 4 bands
  CHECK(flow_at(carburettor_regulator(), state) ==
        Approx(opening * orifice(0.7, 1.2e-5, density, 4e4)).epsilon(0.02));
  CHECK(ReducingRegulator<>(carburettor_regulator(), petrol).regime(state) == Regime::shut);
}

TEST_CASE("reducing regulator: with the supply too low it is wide open, a fixed orifice") {
  const auto state = state_of(ambient + 2e4, ambient + 0.5e4);
  CHECK(ReducingRegulator<>(carburettor_regulator(), petrol).regime(state) == Regime::wide_open);
  const double by_hand = sharp_opening(7.0) * orifice(0.7, 1.2e-5, density, 1.5e4);
  CHECK(flow_at(carburettor_regulator(), state) == Approx(by_hand).epsilon(0.002));
}

TEST_CASE("reducing regulator: the regulated side droops with flow, within the band") {
  const auto spec = carburettor_regulator();
  const double little = regulated_at(spec, ambient + 1e5, 0.005), much = regulated_at(spec, ambient + 1e5, 0.05);
  CHECK(little < ambient + 4e4);
  CHECK(little > ambient + 3.95e4);
  CHECK(much < little);
  CHECK(much > ambient + 3.5e4);
}

TEST_CASE("reducing regulator: a raised reference raises the regulated side equally") {
  // One for one when the supply is raised along with it, so that the needle sees the same drop.
  const auto spec = carburettor_regulator();
  const double before = regulated_at(spec, ambient + 1.5e5, 0.02);
  const double boosted = regulated_at(spec, ambient + 2.0e5, 0.02, ambient + 5e4);
  CHECK(boosted - before == Approx(5e4).epsilon(1e-6));
}

TEST_CASE("reducing regulator: supply pressure on the needle lifts the regulated side by the seat's share") {
  auto spec = carburettor_regulator();
  spec.seat_share = ratio(0.05);
  // Force balance half a band open: regulated·(1 + s) = reference + set + s·supply − band/2.
  for (double supply : {ambient + 1e5, ambient + 3e5}) {
    const double by_hand = (ambient + 4e4 + 0.05 * supply - 2.5e3) / 1.05;
    const double flow = sharp_opening(0.5) * orifice(0.7, 1.2e-5, density, supply - by_hand);
    CHECK(regulated_at(spec, supply, flow) == Approx(by_hand).epsilon(1e-4));
  }
}

TEST_CASE("reducing regulator: reversed pressure makes no energy") {
  for (double regulated : {ambient + 1.1e5, ambient + 2e5}) {
    const auto state = state_of(ambient + 1e5, regulated);
    CHECK(flow_at(carburettor_regulator(), state) < 0.0);
  }
}

TEST_CASE("reducing regulator: the limiter opens it by steps") {
  const ReducingRegulator<> regulator(carburettor_regulator(), petrol);
  auto proposed = state_of(ambient + 1e5, ambient);
  CHECK(regulator.limit(state_of(ambient + 1e5, ambient + 6e4), proposed));
  CHECK(proposed.sensed[0].value() == Approx(ambient + 4e4 - 0.5 * 5e3));
}

TEST_CASE("reducing regulator: a bad number names its field") {
  auto spec = carburettor_regulator();
  spec.seat_share = ratio(0.8);
  CHECK_THROWS_WITH(validate("regulator", spec), Catch::Contains("regulator: seat_share: 0.8"));
}

#include "flarenut/parts/injector_bank.hpp"

#include "../catch_shim.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;

namespace {

InjectorBankSpec<> injectors(double count, double duty, double rating_density = 750.0) {
  InjectorBankSpec<> spec;
  spec.count = ratio(count);
  spec.rated_flow = VolumeFlow<>::from_value(7.3e-6);
  spec.rated_pressure = pascals(3e5);
  spec.rating_density = Density<>::from_value(rating_density);
  spec.duty = ratio(duty);
  return spec;
}

double mass_flow(const InjectorBankSpec<>& spec, double density, double drop) {
  PartState<double> state;
  state.pressure = {at(2e5 + drop), at(2e5)};
  return solved_flow(InjectorBank<>(spec, liquid(density, 5e-4)), state);
}

}  // namespace

TEST_CASE("injector bank: flow goes with duty, count and the root of the pressure") {
  // Q = duty · 7.3e-6 · √(Δp / 3e5) each, with the rating liquid.
  for (double duty : {0.02, 0.3, 1.0})
    for (double drop : {1e5, 3e5, 6e5})
      CHECK(mass_flow(injectors(8, duty), 750.0, drop) / 750.0 ==
            Approx(8 * duty * 7.3e-6 * std::sqrt(drop / 3e5)).epsilon(0.001));
}

TEST_CASE("injector bank: a denser fuel flows less by volume and more by mass, with the root of density") {
  // 1000 cm³/min of test fluid at 684 kg/m³, and E85 at 785 kg/m³: volume × √(684/785), mass × √(785/684).
  const double rated = mass_flow(injectors(1, 1.0, 684.0), 684.0, 3e5);
  const double ethanol_blend = mass_flow(injectors(1, 1.0, 684.0), 785.0, 3e5);
  CHECK(rated == Approx(684.0 * 7.3e-6).epsilon(0.001));
  CHECK(ethanol_blend / rated == Approx(std::sqrt(785.0 / 684.0)).epsilon(0.001));
  CHECK(ethanol_blend / 785.0 == Approx(7.3e-6 * std::sqrt(684.0 / 785.0)).epsilon(0.001));
}

TEST_CASE("injector bank: boost in the manifold counts against the rail") {
  PartState<double> state;
  state.pressure = {at(6e5), at(4.5e5)};
  const InjectorBank<> bank(injectors(4, 0.5), liquid(750.0, 5e-4));
  CHECK(solved_flow(bank, state) == Approx(4 * 0.5 * 750.0 * 7.3e-6 * std::sqrt(0.5)).epsilon(0.001));
}

TEST_CASE("injector bank: shut it passes nothing, and next to shut next to nothing") {
  CHECK(std::abs(mass_flow(injectors(8, 0.0), 750.0, 3e5)) < 1e-20);
  const double tiny = mass_flow(injectors(8, 1e-6), 750.0, 3e5);
  CHECK(tiny > 0.0);
  CHECK(tiny <= 8 * 1e-6 * 750.0 * 7.3e-6);
}

TEST_CASE("injector bank: the report tells stopped from open from reversed") {
  PartState<double> state;
  state.flow[0] = flowing(0.01);
  const auto petrol = liquid(750.0, 5e-4);
  CHECK(InjectorBank<>(injectors(4, 0.0), petrol).regime(state) == Regime::stopped);
  CHECK(InjectorBank<>(injectors(4, 0.4), petrol).regime(state) == Regime::open);
  state.flow[0] = flowing(-0.01);
  CHECK(InjectorBank<>(injectors(4, 0.4), petrol).regime(state) == Regime::reversed);
}

TEST_CASE("injector bank: two and a half injectors are refused") {
  CHECK_THROWS_WITH(validate("bank", injectors(2.5, 0.5)), Catch::Contains("bank: count: must be a whole number"));
  CHECK_THROWS_WITH(validate("bank", injectors(2, 1.2)), Catch::Contains("bank: duty: 1.2"));
}

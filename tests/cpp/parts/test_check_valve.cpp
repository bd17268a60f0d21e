#include "flarenut/parts/check_valve.hpp"

#include "../catch_shim.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;

namespace {

const auto petrol = liquid(750.0, 5e-4);

/// Invented in-tank pump valve: 8 kPa to crack, then 6e12 Pa s²/m6 of petrol; 1e12 Pa s/m3 backwards.
CheckValveSpec<> pump_valve() {
  CheckValveSpec<> spec;
  spec.cracking_pressure = pascals(8e3);
  // Δp = ρ/2 (Q / C_d A)²  ⇒  C_d A = √(ρ / (2 · 6e12))
  spec.full_area = square_metres(std::sqrt(750.0 / (2.0 * 6e12)) / 0.7);
  spec.viscous_reynolds = ratio(10.0);
  spec.seepage_resistance = LinearResistance<>::from_value(1e12);
  return spec;
}

double drop_at(const CheckValve<>& valve, double volume_flow) {
  return valve.drop(flowing(750.0 * volume_flow)).value();
}

}  // namespace

TEST_CASE("check valve: forward it costs the cracking pressure plus the square of the flow") {
  const CheckValve<> valve(pump_valve(), petrol);
  for (double flow : {1e-5, 3e-5, 5.8e-5, 1e-4, 3e-4})
    CHECK(drop_at(valve, flow) == Approx(8e3 + 6e12 * flow * flow).epsilon(0.002));
}

TEST_CASE("check valve: backward it blocks, but for seepage") {
  const CheckValve<> valve(pump_valve(), petrol);
  CHECK(flow_at_drop(valve, -3e5) / 750.0 == Approx(-3e-7).epsilon(0.002));
  CHECK(drop_at(valve, -1e-4) == Approx(-1e8).epsilon(0.001));
}

TEST_CASE("check valve: below cracking it stays shut, above it opens") {
  const CheckValve<> valve(pump_valve(), petrol);
  const auto regime_at = [&](double drop) {
    PartState<double> state;
    state.flow[0] = flowing(flow_at_drop(valve, drop));
    return valve.regime(state);
  };
  CHECK(regime_at(-1e5) == Regime::shut);
  CHECK(regime_at(7.5e3) == Regime::shut);
  CHECK(regime_at(9e3) == Regime::open);
  CHECK(flow_at_drop(valve, 7e3) < 1e-3 * flow_at_drop(valve, 3e4));
}

TEST_CASE("check valve: nothing flows when nothing pushes, whatever the numbers") {
  for (double cracking : {10.0, 3.5e3, 1e6})
    for (double area : {1e-9, 1e-5, 1e-2})
      for (double viscosity : {3e-4, 0.5}) {
        auto spec = pump_valve();
        spec.cracking_pressure = pascals(cracking);
        spec.full_area = square_metres(area);
        const CheckValve<> valve(spec, liquid(800.0, viscosity));
        CHECK(std::abs(valve.drop(flowing(0.0)).value()) < 1e-12 * cracking);
        double last = -1e300;
        for (double flow : {-1e3, -1.0, -1e-3, -1e-6, -1e-9, -1e-12, 0.0, 1e-12, 1e-9, 1e-6, 1e-3, 1.0, 1e3}) {
          const double drop = valve.drop(flowing(flow)).value();
          CHECK(drop > last);
          CHECK(drop * flow >= 0.0);
          last = drop;
        }
      }
}

TEST_CASE("check valve: thick oil pays the two-K figures of a swing check") {
  // Hooper 1981: K = 1500/Re + 1.5, on the pipe bore. At Reynolds 100 that is 16.5, eleven times the rough-flow 1.5.
  CheckValveSpec<> spec;
  spec.cracking_pressure = pascals(10.0);
  spec.full_area = square_metres(1e-4);
  spec.discharge_coefficient = ratio(1.0);
  const double density = 880.0, viscosity = 0.4, bore = std::sqrt(4.0 * 1e-4 / 3.14159265358979);
  const double velocity = 100.0 * viscosity / (density * bore);
  const CheckValve<> valve(spec, liquid(density, viscosity));
  const double dynamic = 0.5 * density * velocity * velocity;
  CHECK(valve.drop(flowing(density * velocity * 1e-4)).value() - 10.0 ==
        Approx(11.0 * dynamic).epsilon(1e-3));  // 16.5/1.5 of the square-law loss, here one dynamic head
}

TEST_CASE("check valve: a flow that would turn back is taken at rest first") {
  const CheckValve<> valve(pump_valve(), petrol);
  PartState<double> last, proposed;
  last.flow[0] = flowing(0.04);
  proposed.flow[0] = flowing(-0.5);
  CHECK(valve.limit(last, proposed));
  CHECK(proposed.flow[0].value() == 0.0);
  last.flow[0] = flowing(-1e-6);
  proposed.flow[0] = flowing(1e-4);
  CHECK_FALSE(valve.limit(last, proposed));
  CHECK(proposed.flow[0].value() == 1e-4);
}

TEST_CASE("check valve: a spec without an area names the field") {
  CHECK_THROWS_WITH(validate("anti-drain valve", CheckValveSpec<>{}),
                    Catch::Contains("anti-drain valve: full_area") && Catch::Contains("raise it"));
}

#include "../catch_shim.hpp"
#include "../correlations/slope_check.hpp"
#include "../csv.hpp"
#include "flarenut/fluids/air.hpp"

using namespace flarenut;
using namespace flarenut::fluids;

namespace {
template <Number N>
AirState<N> at(const N& kelvin, double pascal = 101325.0) {
  return air_at(Temperature<N>::from_value(kelvin), AbsolutePressure<N>::from_value(N(pascal)));
}
}  // namespace

TEST_CASE("air: every row of the reference table") {
  int rows = 0;
  for (const auto& row : csv::read("fluids/air.csv")) {
    INFO(row.place());
    const auto air = at(row.number("T_degC") + 273.15, row.number("p_kPa_abs") * 1e3);
    // The bound of air.hpp; the table's densities are of 28.9586 g/mol, ours of 28.9644. Its cp is from memory, four figures.
    CHECK(air.density.value() == Approx(row.number("density_kg_m3")).epsilon(3e-4));
    CHECK(air.viscosity.value() == Approx(row.number("dynamic_viscosity_Pa_s")).epsilon(1e-4));
    CHECK(1e6 * air.kinematic_viscosity().value() == Approx(row.number("kinematic_viscosity_mm2_s")).epsilon(3e-4));
    CHECK(air.conductivity.value() == Approx(row.number("thermal_conductivity_W_mK")).epsilon(1e-4));
    CHECK(air.specific_heat.value() == Approx(row.number("specific_heat_cp_J_kgK")).epsilon(1.5e-3));
    ++rows;
  }
  CHECK(rows == 8);
}

TEST_CASE("air: a standard day, and twice the pressure") {
  const auto standard = at(288.15);
  CHECK(standard.density.value() == Approx(1.225).epsilon(5e-4));  // U.S. Standard Atmosphere 1976, an ideal gas
  CHECK(at(288.15, 202650.0).density.value() == Approx(2.0 * standard.density.value()).epsilon(1e-3));
  // Thin air is an ideal gas, and its viscosity and conductivity are those of Maxwell: no matter how thin.
  const double specific = at(288.15, 1.0).density.value() * 288.15;
  CHECK(specific == Approx(1.0 / air_gas_constant).epsilon(1e-7));
  CHECK(at(288.15, 1.0).viscosity.value() == Approx(at(288.15, 100.0).viscosity.value()).epsilon(1e-6));
}

TEST_CASE("air: derived numbers") {
  const auto air = at(300.0, 1e5);  // textbook tables, 300 K (from memory); their 1.1614 kg/m3 is at 1 bar
  CHECK(air.density.value() == Approx(1.1614).epsilon(0.001));
  CHECK(air.prandtl() == Approx(0.707).epsilon(0.005));
  CHECK(air.thermal_diffusivity() == Approx(22.5e-6).epsilon(0.01));
  CHECK(air.thermal_diffusivity() * air.prandtl() == Approx(air.kinematic_viscosity().value()));
  CHECK(at(300.0, 10.0).expansion.value() == Approx(1.0 / 300.0));
}

TEST_CASE("air: expansion and specific heat are what density asks of them") {
  for (const double pascal : {5e4, 101325.0, 1e6})
    for (const double kelvin : {210.0, 300.0, 700.0}) {
      INFO(kelvin << " K, " << pascal << " Pa");
      const auto volume = [&](double t) { return 1.0 / at(t, pascal).density.value(); };
      const double step = 0.5, first = (volume(kelvin + step) - volume(kelvin - step)) / (2.0 * step);
      CHECK(at(kelvin, pascal).expansion.value() == Approx(first / volume(kelvin)).epsilon(1e-5));
      // (d cp/d p) at one temperature = -T (d2 v/d T2) at one pressure; the volume is that of an ideal gas and a part that p leaves alone.
      const double second = (volume(kelvin + 5.0) - 2.0 * volume(kelvin) + volume(kelvin - 5.0)) / 25.0;
      const double per_pascal = (at(kelvin, pascal).specific_heat.value() - at(kelvin, 0.5 * pascal).specific_heat.value()) / (0.5 * pascal);
      CHECK(per_pascal == Approx(-kelvin * second).epsilon(0.01));
    }
}

TEST_CASE("air: slopes against differences") {
  for (const double kelvin : {210.0, 280.0, 350.0, 600.0, 950.0}) {
    INFO(kelvin << " K");
    CHECK(slope_check::error([](auto t) { return at(t).density.value(); }, kelvin) < 2e-5);
    CHECK(slope_check::error([](auto t) { return at(t).viscosity.value(); }, kelvin) < 2e-5);
    CHECK(slope_check::error([](auto t) { return at(t).conductivity.value(); }, kelvin) < 2e-5);
    CHECK(slope_check::error([](auto t) { return at(t).specific_heat.value(); }, kelvin) < 2e-4);
    CHECK(slope_check::error([](auto t) { return at(t).prandtl(); }, kelvin) < 2e-4);
    CHECK(slope_check::error([](auto t) { return at(t).expansion.value(); }, kelvin) < 2e-4);
  }
}

TEST_CASE("air: refused outside its range, in words") {
  CHECK_THROWS_AS(at(20.0), InputError);  // a temperature in degrees
  CHECK_THROWS_AS(at(1500.0), InputError);
  CHECK_THROWS_AS(at(300.0, 0.0), InputError);
  CHECK_THROWS_AS(at(300.0, 1.1e6), InputError);
  try {
    at(20.0);
  } catch (const InputError& error) {
    CHECK(error.field() == "temperature");
    CHECK(error.trouble() == "-253.15 degC (20 K) is outside -73.15 to 726.85 degC (200 to 1000 K); check its unit");
  }
}

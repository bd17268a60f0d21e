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
    // The bounds of air.hpp. Thin-gas terms lie a little low when cold; cp of the table has four figures and is from memory.
    CHECK(air.density.value() == Approx(row.number("density_kg_m3")).epsilon(1.1e-3));
    CHECK(air.viscosity.value() == Approx(row.number("dynamic_viscosity_Pa_s")).epsilon(1.2e-3));
    CHECK(1e6 * air.kinematic_viscosity().value() == Approx(row.number("kinematic_viscosity_mm2_s")).epsilon(1.2e-3));
    CHECK(air.conductivity.value() == Approx(row.number("thermal_conductivity_W_mK")).epsilon(2.1e-3));
    CHECK(air.specific_heat.value() == Approx(row.number("specific_heat_cp_J_kgK")).epsilon(2.5e-3));
    ++rows;
  }
  CHECK(rows == 8);
}

TEST_CASE("air: derived numbers") {
  const auto air = at(300.0);
  CHECK(air.prandtl() == Approx(0.707).epsilon(0.005));  // textbook tables, 300 K (from memory)
  CHECK(air.thermal_diffusivity() == Approx(22.5e-6).epsilon(0.01));
  CHECK(air.thermal_diffusivity() * air.prandtl() == Approx(air.kinematic_viscosity().value()));
  CHECK(air.expansion().value() == Approx(1.0 / 300.0));
}

TEST_CASE("air: slopes against differences") {
  for (const double kelvin : {210.0, 280.0, 350.0, 600.0, 950.0}) {
    INFO(kelvin << " K");
    CHECK(slope_check::error([](auto t) { return at(t).density.value(); }, kelvin) < 2e-5);
    CHECK(slope_check::error([](auto t) { return at(t).viscosity.value(); }, kelvin) < 2e-5);
    CHECK(slope_check::error([](auto t) { return at(t).conductivity.value(); }, kelvin) < 2e-5);
    CHECK(slope_check::error([](auto t) { return at(t).specific_heat.value(); }, kelvin) < 2e-4);
    CHECK(slope_check::error([](auto t) { return at(t).prandtl(); }, kelvin) < 2e-4);
  }
}

TEST_CASE("air: refused outside its range, in words") {
  CHECK_THROWS_AS(at(20.0), InputError);  // a temperature in degrees
  CHECK_THROWS_AS(at(1500.0), InputError);
  CHECK_THROWS_AS(at(300.0, 0.0), InputError);
  CHECK_THROWS_AS(at(300.0, 6e5), InputError);
  try {
    at(20.0);
  } catch (const InputError& error) {
    CHECK(error.field() == "temperature");
    CHECK(error.trouble().find("20 K is outside 200 to 1000 K") == 0);
  }
}

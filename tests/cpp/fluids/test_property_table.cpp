// The quick table against the laws it is made of.
#include <cmath>
#include <limits>

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/fluids/property_table.hpp"

using namespace flarenut;
using fluids::PropertyTable;

TEST_CASE("the table of a liquid's properties agrees with its laws, slopes included", "[fluids]") {
  const fluids::Liquid oil = circuits::oil();
  const PropertyTable table(oil);
  const auto pressure = AbsolutePressure<Dual<1>>::from_value(Dual<1>(fluids::reference_pressure_pascal));
  const auto span = oil.outer_limit();
  for (double kelvin = span.least_kelvin; kelvin <= span.most_kelvin; kelvin += 0.37) {
    const auto warm = Temperature<Dual<1>>::from_value(Dual<1>(kelvin, 0));
    const auto state = oil.at(warm, pressure);
    const auto heat = oil.heat_at(warm, pressure);
    const auto flowing = table.flowing(kelvin);
    const auto warming = table.warming(kelvin);
    INFO(kelvin << " K");
    REQUIRE(flowing.density == Approx(state.density.value().value).epsilon(1e-9));
    REQUIRE(flowing.viscosity == Approx(state.viscosity.value().value).epsilon(1e-6));
    REQUIRE(flowing.viscosity_slope == Approx(state.viscosity.value().slope[0]).epsilon(1e-4));
    REQUIRE(flowing.density_slope == Approx(state.density.value().slope[0]).epsilon(1e-4));
    REQUIRE(warming.enthalpy == Approx(heat.enthalpy.value().value).epsilon(1e-9).margin(1e-3));
    REQUIRE(warming.specific_heat == Approx(heat.specific_heat.value().value).epsilon(1e-9));
    REQUIRE(warming.enthalpy_per_pressure == Approx(heat.enthalpy_per_pressure.value().value).epsilon(1e-6));
    const auto conducting = table.conducting(kelvin);
    REQUIRE(conducting.specific_heat == warming.specific_heat);
    REQUIRE(conducting.specific_heat_slope == Approx(heat.specific_heat.value().slope[0]).epsilon(1e-4));
    REQUIRE(conducting.conductivity == Approx(heat.conductivity.value().value).epsilon(1e-9));
    REQUIRE(conducting.conductivity_slope == Approx(heat.conductivity.value().slope[0]).epsilon(1e-4));
  }
}

TEST_CASE("beyond its range the table holds its ends", "[fluids]") {
  const fluids::Liquid oil = circuits::oil();
  const PropertyTable table(oil);
  CHECK(table.flowing(100.0).viscosity == table.flowing(oil.outer_limit().least_kelvin).viscosity);
  CHECK(table.warming(900.0).enthalpy == table.warming(oil.outer_limit().most_kelvin).enthalpy);
}

TEST_CASE("what is no number has no properties, and what a law leads to beyond the range goes on straight", "[fluids]") {
  const fluids::Liquid oil = circuits::oil();
  const PropertyTable table(oil);
  const double nothing = std::numeric_limits<double>::quiet_NaN(), end = oil.outer_limit().most_kelvin;
  CHECK(std::isnan(table.warming(nothing).enthalpy));
  CHECK(std::isnan(table.flowing(nothing).density));
  CHECK(std::isnan(table.led_to(nothing).enthalpy));
  const auto there = table.warming(end), beyond = table.led_to(end + 10.0);
  CHECK(beyond.enthalpy == Approx(there.enthalpy + 10.0 * there.specific_heat).epsilon(1e-12));
  CHECK(beyond.enthalpy_per_pressure == Approx(there.enthalpy_per_pressure + 10.0 * there.growth).epsilon(1e-12));
}

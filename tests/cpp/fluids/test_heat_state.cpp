// What an energy balance sees of a liquid: enthalpy against its slopes, thermodynamic closure, boiling, and stiffness.
#include <cmath>
#include <string>

#include "catch_shim.hpp"
#include "flarenut/fluids/blends.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/fluids/stiffness.hpp"
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::fluids;
using namespace flarenut::trade;

namespace {

constexpr double atmosphere = reference_pressure_pascal;

/// Water of a few IAPWS-95 values (tests/data/fluids/water.csv); the curve between them is what is tested.
LiquidRecord watery() {
  const std::vector<double> t{273.16, 283.15, 293.15, 313.15, 333.15, 353.15};
  const auto table = [&](std::vector<double> y) { return Law(table_through(TableScale::plain, t, y, "water")); };
  const TemperatureSpan span{273.15, 353.15};
  LiquidRecord record;
  record.name = "water";
  record.outer_limit = span;
  record[PropertyName::density] = {table({999.8438, 999.7025, 998.2072, 992.2164, 983.1958, 971.7904}), span, 0.01, 0.0, "", ""};
  record[PropertyName::specific_heat] = {table({4219.41, 4195.16, 4184.05, 4179.41, 4184.95, 4196.75}), span, 0.01, 0.0, "", ""};
  for (auto property : {PropertyName::viscosity, PropertyName::conductivity, PropertyName::bulk_modulus})
    record[property] = {Polynomial{273.15, {1.0}}, span, 0.01, 0.0, "", ""};
  record[PropertyName::bulk_modulus].law = Polynomial{273.15, {2.1791e9}};
  record[PropertyName::vapour_pressure] = {
      Law(table_through(TableScale::saturation, t, {611.655, 1228.2, 2339.32, 7384.94, 19946.4, 47414.5}, "water")), span, 0.01, 0.0, "", ""};
  return record;
}

Liquid sample_oil() {
  OilSpec spec;
  spec.name = "invented oil";
  spec.viscosities = {{celsius(40.0), 95.0 * centistoke}, {celsius(100.0), 14.0 * centistoke}};
  return oil(spec);
}

/// A gasoline-like record with a polynomial specific heat, and an alcohol-like one with a table.
Liquid blend() {
  LiquidRecord gasoline = watery(), alcohol = watery();
  gasoline[PropertyName::density].law = PetroleumDensity{745.0, petroleum_expansion(745.0)};
  gasoline[PropertyName::specific_heat].law = petroleum_specific_heat(0.7457);
  gasoline[PropertyName::conductivity].law = Polynomial{293.15, {0.13, -3e-4}};
  gasoline[PropertyName::viscosity].law = Polynomial{293.15, {5e-4}};
  alcohol[PropertyName::viscosity].law = Polynomial{293.15, {1e-3}};
  AlcoholBlend mix;
  mix.alcohol = alcohol;
  mix.volume_share = 0.3;
  mix.alcohol_molar_mass = 0.04607;
  mix.gasoline_molar_mass = 0.1;
  return Liquid("invented blend", gasoline, mix);
}

HeatState<> warm(const Liquid& liquid, double kelvins, double pascals) {
  return liquid.heat_at(kelvin(kelvins), AbsolutePressure<>::from_value(pascals));
}

}  // namespace

TEST_CASE("enthalpy between two temperatures is the area under specific heat, and its slope is specific heat") {
  for (const Liquid& liquid : {Liquid(watery()), sample_oil(), blend()}) {
    INFO(liquid.name());
    for (double kelvins : {275.0, 290.0, 311.0, 340.0, 352.0}) {
      const auto seeded = liquid.heat_at(Temperature<Dual<2>>::from_value(Dual<2>(kelvins, 0)),
                                         AbsolutePressure<Dual<2>>::from_value(Dual<2>(atmosphere, 1)));
      const double cp = value_of(seeded.specific_heat.value());
      CHECK(seeded.enthalpy.value().slope[0] == Approx(cp).epsilon(1e-9));
      CHECK(seeded.enthalpy.value().slope[1] == Approx(value_of(seeded.enthalpy_per_pressure.value())).epsilon(1e-12));
      // Area by Simpson's rule over 1 K, which is exact for the cubics that tables are made of, within one piece.
      const double from = kelvins - 0.5, to = kelvins + 0.5;
      const double simpson = (warm(liquid, from, atmosphere).specific_heat.value() + 4.0 * cp +
                              warm(liquid, to, atmosphere).specific_heat.value()) / 6.0;
      const double rise = warm(liquid, to, atmosphere).enthalpy.value() - warm(liquid, from, atmosphere).enthalpy.value();
      CHECK(rise == Approx(simpson).epsilon(1e-8));
    }
    CHECK(warm(liquid, 273.15, atmosphere).enthalpy.value() == Approx(0.0).margin(1e-9));
  }
}

TEST_CASE("heat properties agree with those of the plain state, and expansion with the slope of density") {
  for (const Liquid& liquid : {Liquid(watery()), sample_oil(), blend()}) {
    INFO(liquid.name());
    for (double kelvins : {276.0, 300.0, 345.0}) {
      const auto state = liquid.at(Temperature<Dual<1>>::from_value(Dual<1>(kelvins, 0)),
                                   AbsolutePressure<Dual<1>>::from_value(Dual<1>(atmosphere)));
      const HeatState<> heat = warm(liquid, kelvins, atmosphere);
      CHECK(heat.specific_heat.value() == Approx(value_of(state.specific_heat.value())).epsilon(1e-13));
      CHECK(heat.conductivity.value() == Approx(value_of(state.conductivity.value())).epsilon(1e-13));
      const double alpha = -state.density.value().slope[0] / state.density.value().value;
      CHECK(heat.expansion.value() == Approx(alpha).epsilon(1e-5).margin(1e-9));
    }
  }
}

TEST_CASE("enthalpy of water is that of the steam tables, and a pressure drop warms it as published") {
  // IAPWS-95 (from memory, as in any steam table): 83.91 kJ/kg at 20 °C and 251.15 at 60 °C, above liquid at the triple point.
  const Liquid water(watery());
  const double rise = warm(water, 333.15, atmosphere).enthalpy.value() - warm(water, 293.15, atmosphere).enthalpy.value();
  CHECK(rise == Approx(167.24e3).epsilon(1e-3));
  // Maxwell: (∂h/∂p)_T = v (1 − αT). Water at 20 °C, α = 2.068e-4 1/K: (1 − 0.0606)/998.2 = 9.41e-4 m³/kg.
  CHECK(warm(water, 293.15, atmosphere).enthalpy_per_pressure.value() == Approx(9.41e-4).epsilon(5e-3));
  CHECK(warm(water, 293.15, atmosphere).expansion.value() == Approx(2.068e-4).epsilon(0.10));  // the slope of a coarse table
  // 10 MPa lost in a restriction warm water by 9.41e-4·1e7/4184 = 2.25 K.
  CHECK(1e7 * warm(water, 293.15, atmosphere).warming_per_pressure() == Approx(2.25).epsilon(5e-3));
  const double throttled = warm(water, 293.15, atmosphere + 1e7).enthalpy.value();
  CHECK(warm(water, 295.40, atmosphere).enthalpy.value() == Approx(throttled).epsilon(1e-3));
}

TEST_CASE("beyond the outer limit heat is refused like any property, and specific heat must have an exact enthalpy") {
  CHECK_THROWS_AS(warm(Liquid(watery()), 400.0, atmosphere), InputError);
  LiquidRecord record = watery();
  record[PropertyName::specific_heat].law = table_through(TableScale::saturation, {280.0, 340.0}, {4000.0, 4100.0}, "specific heat");
  CHECK_THROWS_WITH(Liquid(record), Catch::Contains("specific heat: must be a polynomial, an exponential or a plain table"));
}

TEST_CASE("a liquid boils where its vapour pressure meets the pressure, and nowhere outside its limit") {
  const Liquid water(watery());
  const auto boils = water.boiling_temperature(AbsolutePressure<>::from_value(31200.9));  // IAPWS-95 at 70 °C
  REQUIRE(boils.has_value());
  CHECK(boils->value() == Approx(343.15).margin(0.02));
  CHECK_FALSE(water.boiling_temperature(AbsolutePressure<>::from_value(atmosphere)).has_value());  // hotter than this record goes
  CHECK_FALSE(sample_oil().boiling_temperature(AbsolutePressure<>::from_value(atmosphere)).has_value());
}

TEST_CASE("a vapour-pressure line from one boiling point passes one atmosphere there") {
  // Trouton's rule on n-heptane, 98.4 °C: 6.1 kPa at 25 °C is published (VDI and others, from memory), the rule gives 8.
  const Law line = boiling_line(371.55, 10.6);
  CHECK(evaluate(line, 371.55) == Approx(atmosphere).epsilon(1e-12));
  CHECK(evaluate(line, 298.15) / 6.1e3 > 1.0 / 1.5);
  CHECK(evaluate(line, 298.15) / 6.1e3 < 1.5);
  CHECK_THROWS_AS(boiling_line(0.0, 10.6), InputError);
}

TEST_CASE("free air softens a liquid, more at low pressure, and slow squeezing more than fast") {
  constexpr double oil_modulus = 1.5e9;
  CHECK(aerated_modulus(oil_modulus, 0.0, atmosphere, 1.4) == Approx(oil_modulus));
  double before = 0.0;
  for (double pascals : {1e5, 5e5, 1e6, 5e6, 1e7}) {
    const double fast = aerated_modulus(oil_modulus, 0.01, pascals, 1.4), slow = aerated_modulus(oil_modulus, 0.01, pascals, 1.0);
    CHECK(fast > before);
    CHECK(fast < oil_modulus * 1.02);
    if (pascals < 3e5) CHECK(slow < fast);
    before = fast;
  }
  // A tube of gas alone: squeezed slowly, K of the gas is its pressure.
  CHECK(aerated_modulus(1e30, 1e9, 3e5, 1.0) == Approx(3e5).epsilon(1e-6));
}

TEST_CASE("fast and slow moduli differ by T alpha squared over rho cp, and a trapped liquid pushes by K alpha dT") {
  // Water 20 °C, IAPWS-95: K_s 2.1934 GPa from the speed of sound, K_T 2.1791 GPa, α 2.068e-4 1/K, cp 4184.
  CHECK(isentropic_modulus(2.1791e9, 293.15, 2.068e-4, 998.2072, 4184.05) == Approx(2.1934e9).epsilon(1e-3));
  // Handbook example: 300 000 psi, 0.00046 1/°F, 50 °F: 6900 psi.
  CHECK(trapped_pressure_rise(300e3, 0.00046, 50.0) == Approx(6900.0));
}

TEST_CASE("low-temperature samples bend an oil's curve but do not count as its data") {
  OilSpec spec;
  spec.name = "invented multigrade";
  spec.viscosities = {{celsius(40.0), 64.0 * centistoke}, {celsius(100.0), 10.6 * centistoke}};
  const Liquid plain = oil(spec);
  spec.cold_samples = {{celsius(-35.0), 23000.0 * centistoke}};
  spec.cold_caution = "follows oils of the kind";
  spec.pour_point = celsius(-35.0);
  spec.cold_reason = "nobody promises colder; warm it";
  const Liquid bent = oil(spec);
  const auto nu = [](const Liquid& liquid, double degrees) {
    const auto s = liquid.at(celsius(degrees), AbsolutePressure<>::from_value(reference_pressure_pascal));
    return s.viscosity.value() / s.density.value() / detail::mm2_s;
  };
  CHECK(nu(bent, -35.0) == Approx(23000.0).epsilon(1e-9));
  for (double degrees : {40.0, 100.0}) CHECK(nu(bent, degrees) == Approx(nu(plain, degrees)).epsilon(1e-9));
  const auto message = [](const Liquid& liquid) {
    for (const RangeFinding& finding : liquid.range_findings(celsius(-30.0)))
      if (finding.property == PropertyName::viscosity) return finding.message;
    return std::string("none");
  };
  CHECK_THAT(message(bent), Catch::EndsWith("; follows oils of the kind"));
  CHECK_THAT(message(plain), Catch::Contains("give a low-temperature point of your oil"));
  CHECK_THROWS_WITH(nu(bent, -36.0), Catch::Contains("may be carried to: nobody promises colder; warm it"));
}

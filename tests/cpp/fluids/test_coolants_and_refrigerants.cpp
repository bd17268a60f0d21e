// Glycol mixes and saturation curves: the mechanism. Published numbers are judged in tests/validation.
#include <cmath>

#include "catch_shim.hpp"
#include "csv.hpp"
#include "flarenut/fluids/coolants.hpp"
#include "flarenut/fluids/saturation.hpp"
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::fluids;
using namespace flarenut::trade;

namespace {

GlycolColumn column(double share, double density, double viscosity) {
  return {share, Polynomial{293.15, {density, -0.5}},
          table_through(TableScale::saturation, {253.15, 373.15}, {10.0 * viscosity, 0.3 * viscosity}, "viscosity"),
          Polynomial{293.15, {4180.0 - 1800.0 * share, 3.0}}, Polynomial{293.15, {0.6 - 0.4 * share}}};
}

/// An invented coolant: round numbers, so that what lies between can be said by hand.
GlycolSpec invented(double share) {
  GlycolSpec spec;
  spec.name = "invented coolant";
  spec.volume_share = share;
  spec.columns = {column(0.0, 1000.0, 1e-3), column(0.3, 1045.0, 2e-3), column(0.6, 1090.0, 6e-3)};
  spec.freezing_share = {0.0, 0.3, 0.6};
  spec.freezing_kelvin = {273.15, 257.15, 225.15};
  spec.mass_share = {0.0, 0.33, 0.63};
  spec.glycol_molar_mass = 0.06207;
  spec.water_vapour_pressure = table_through(TableScale::saturation, {273.16, 373.15, 398.15}, {611.655, 101418.0, 232238.0}, "water");
  spec.bulk_modulus = Polynomial{293.15, {2.6e9}};
  spec.data_most_kelvin = 373.15;
  spec.hottest_kelvin = 413.15;
  spec.lean_band = 0.1;
  spec.source = "invented";
  return spec;
}

LiquidState<> state(const Liquid& liquid, double degrees) {
  return liquid.at(celsius(degrees), AbsolutePressure<>::from_value(reference_pressure_pascal));
}

Saturation refrigerant(const std::string& name) {
  std::vector<double> t, p, liquid, vapour;
  for (const csv::Row& row : csv::read("fluids/refrigerants_saturation.csv"))
    if (row.text("fluid") == name && row.text("how").starts_with("evaluated")) {
      t.push_back(row.number("T_degC") + ice_point_kelvin);
      p.push_back(1e3 * row.number("saturation_pressure_kPa_abs"));
      liquid.push_back(row.number("liquid_density_kg_m3"));
      vapour.push_back(row.number("vapour_density_kg_m3"));
    }
  return Saturation({name, table_through(TableScale::saturation, t, p, "pressure"), table_through(TableScale::plain, t, liquid, "density"),
                     table_through(TableScale::saturation, t, vapour, "density"), t.front(), t.back()});
}

}  // namespace

TEST_CASE("a coolant equals its tables at their shares and lies between them in between") {
  CHECK(state(glycol_coolant(invented(0.3)), 20.0).density.value() == Approx(1045.0).epsilon(1e-6));
  const Liquid middle = glycol_coolant(invented(0.45));
  CHECK(state(middle, 20.0).density.value() == Approx(1067.5).epsilon(1e-6));
  // Viscosity on the logarithm: the middle is the geometric mean.
  const double lean = state(glycol_coolant(invented(0.3)), 60.0).viscosity.value();
  const double rich = state(glycol_coolant(invented(0.6)), 60.0).viscosity.value();
  CHECK(state(middle, 60.0).viscosity.value() == Approx(std::sqrt(lean * rich)).epsilon(1e-3));
  // Raoult by hand: 33 % by mass, (0.67/18.0153)/(0.67/18.0153 + 0.33/62.07) = 0.8749 of 101418 Pa at 100 °C.
  CHECK(state(glycol_coolant(invented(0.3)), 100.0).vapour_pressure.value() == Approx(0.8749 * 101418.0).epsilon(1e-3));
}

TEST_CASE("a coolant freezes at its cold end, and a share outside the tables is refused with the limit") {
  const Liquid half = glycol_coolant(invented(0.3));
  CHECK(half.outer_limit().least_kelvin == Approx(257.15));
  CHECK(half.record().freezes);
  CHECK_THROWS_WITH(state(half, -17.0), Catch::Contains("below -16 degC") && Catch::Contains("ice begins to form"));
  CHECK_THROWS_WITH(glycol_coolant(invented(0.7)), Catch::Contains("share of glycol: 70 % by volume is outside 0 to 60 %"));
  CHECK_THROWS_AS(glycol_coolant(invented(0.0)), InputError);
  CHECK_THROWS_AS(glycol_coolant(invented(std::nan(""))), InputError);
  // Between water and the leanest table the band is wider than at a table.
  CHECK(glycol_coolant(invented(0.15)).band(PropertyName::viscosity, celsius(20.0)) >
        half.band(PropertyName::viscosity, celsius(20.0)) + 0.09);
}

TEST_CASE("heat of vaporisation follows from the boiling curve by Clapeyron's equation") {
  // R-134a at 0 °C 198.6 kJ/kg and at 40 °C 163.0; R-1234yf at 0 °C 163.3 (published tables, from memory).
  const Saturation r134a = refrigerant("R-134a"), r1234yf = refrigerant("R-1234yf");
  CHECK(r134a.at(celsius(0.0)).latent_heat.value() == Approx(198.6e3).epsilon(0.01));
  CHECK(r134a.at(celsius(40.0)).latent_heat.value() == Approx(163.0e3).epsilon(0.01));
  CHECK(r1234yf.at(celsius(0.0)).latent_heat.value() == Approx(163.3e3).epsilon(0.01));
  const auto sloped = r134a.at(Temperature<Dual<1>>::from_value(Dual<1>(293.15, 0)));
  const double up = r134a.at(kelvin(293.16)).pressure.value(), down = r134a.at(kelvin(293.14)).pressure.value();
  CHECK(sloped.pressure.value().slope[0] == Approx((up - down) / 0.02).epsilon(1e-4));
}

TEST_CASE("boiling temperature is the inverse of boiling pressure, and beyond the tables both are refused") {
  const Saturation r134a = refrigerant("R-134a");
  for (double degrees : {-40.0, -13.0, 25.0, 88.0, 90.0})
    CHECK(r134a.temperature(r134a.at(celsius(degrees)).pressure).value() == Approx(degrees + ice_point_kelvin).epsilon(1e-9));
  CHECK_THROWS_WITH(r134a.at(celsius(95.0)), Catch::Contains("R-134a: temperature: 95 degC is outside -40 to 90 degC"));
  CHECK_THROWS_WITH(r134a.temperature(AbsolutePressure<>::from_value(5e6)), Catch::Contains("outside 51.2 to 3244.2 kPa"));
  SaturationRecord wrong = r134a.record();
  wrong.vapour_density = wrong.liquid_density;
  CHECK_THROWS_WITH(Saturation(wrong), Catch::Contains("vapour density"));
}

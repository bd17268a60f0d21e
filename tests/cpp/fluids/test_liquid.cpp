// Liquid: slopes, pressure, limits, blends. Published numbers are judged in tests/validation; here is the mechanism.
#include <array>
#include <cmath>

#include "catch_shim.hpp"
#include "flarenut/fluids/blends.hpp"
#include "flarenut/fluids/liquid.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::fluids;
using namespace flarenut::trade;

namespace {

/// An invented record with every kind of law in it, wide enough to be asked anywhere from −20 to 110 °C.
LiquidRecord gasoline_like() {
  const TemperatureSpan data{ice_point_kelvin - 20.0, ice_point_kelvin + 60.0};
  const auto property = [&](Law law, double band = 0.05) { return Property{std::move(law), data, band, 0.002, "invented", "invented"}; };
  LiquidRecord record;
  record.name = "invented gasoline";
  record.outer_limit = {ice_point_kelvin - 40.0, ice_point_kelvin + 120.0};
  record.viscosity_is_kinematic = true;
  record[PropertyName::density] = property(PetroleumDensity{745.0, petroleum_expansion(745.0)});
  record[PropertyName::viscosity] = property(walther_through(253.15, 0.9, 293.15, 0.55, true));
  record[PropertyName::specific_heat] = property(petroleum_specific_heat(0.7457));
  record[PropertyName::conductivity] = property(Polynomial{293.15, {0.13, -3e-4, 1e-7}});
  record[PropertyName::bulk_modulus] = property(Exponential{293.15, 0.84e9, 0.0068});
  record[PropertyName::vapour_pressure] = property(refined_stock_saturation(62050.0));
  record.stoichiometric_air_fuel_ratio = 14.7;
  return record;
}

LiquidRecord alcohol_like() {
  LiquidRecord record = gasoline_like();
  record.name = "invented alcohol";
  record.viscosity_is_kinematic = false;
  record[PropertyName::density].law = table_through(TableScale::plain, {253.15, 293.15, 333.15}, {823.0, 789.0, 754.0}, "density");
  record[PropertyName::viscosity].law =
      table_through(TableScale::saturation, {253.15, 293.15, 333.15, 373.15}, {2.8e-3, 1.19e-3, 5.8e-4, 3.2e-4}, "viscosity");
  record[PropertyName::conductivity].law = Polynomial{293.15, {0.17}};
  record[PropertyName::vapour_pressure].law = antoine_mmhg(8.321, 1718.21, 237.52);  // ethanol, AP-42 as transcribed
  record.stoichiometric_air_fuel_ratio = 9.0;
  return record;
}

AlcoholBlend mixed(double share) {
  AlcoholBlend blend;
  blend.alcohol = alcohol_like();
  blend.volume_share = share;
  blend.alcohol_molar_mass = 0.04607;
  blend.gasoline_molar_mass = 0.100;
  blend.wilson = wilson_through(gasoline_like(), blend, {0.10, 62050.0, 68950.0}, {0.815, 62050.0, 43300.0});
  blend.rule_band.fill(0.1);
  return blend;
}

Liquid sample_oil() {
  OilSpec spec;
  spec.name = "invented oil";
  spec.viscosities = {{celsius(40.0), 95.0 * centistoke}, {celsius(100.0), 14.0 * centistoke}};
  spec.density_15 = 865.0 * kilogram_per_cubic_metre;
  return oil(spec);
}

std::array<double, 6> numbers(const LiquidState<>& s) {
  return {s.density.value(), s.viscosity.value(), s.specific_heat.value(), s.conductivity.value(), s.bulk_modulus.value(),
          s.vapour_pressure.value()};
}

/// Each property of a state, value and slope, for T seeded in direction 0 and p in direction 1.
std::array<Dual<2>, 6> sloped(const Liquid& liquid, double kelvins, double pascals) {
  const auto s = liquid.at(Temperature<Dual<2>>::from_value(Dual<2>(kelvins, 0)),
                           AbsolutePressure<Dual<2>>::from_value(Dual<2>(pascals, 1)));
  return {s.density.value(), s.viscosity.value(), s.specific_heat.value(), s.conductivity.value(), s.bulk_modulus.value(),
          s.vapour_pressure.value()};
}

LiquidState<> plain(const Liquid& liquid, double kelvins, double pascals) {
  return liquid.at(kelvin(kelvins), AbsolutePressure<>::from_value(pascals));
}

}  // namespace

TEST_CASE("slopes of every property match differences, in temperature and in pressure") {
  const Liquid liquids[] = {Liquid(gasoline_like()), Liquid(alcohol_like()), Liquid("E30", gasoline_like(), mixed(0.3)),
                            sample_oil()};
  for (const Liquid& liquid : liquids) {
    for (double celsius_degrees : {-30.0, -5.0, 22.0, 61.0, 105.0}) {
      for (double pascals : {3e4, 4e5, 1e7}) {
        const double kelvins = celsius_degrees + ice_point_kelvin;
        const auto exact = sloped(liquid, kelvins, pascals);
        const auto value = numbers(plain(liquid, kelvins, pascals));
        const auto warmer = numbers(plain(liquid, kelvins + 1e-3, pascals)), cooler = numbers(plain(liquid, kelvins - 1e-3, pascals));
        const double step = pascals * 1e-2;
        const auto higher = numbers(plain(liquid, kelvins, pascals + step)), lower = numbers(plain(liquid, kelvins, pascals - step));
        for (int p = 0; p < 6; ++p) {
          INFO(liquid.name() << ' ' << name(static_cast<PropertyName>(p)) << " at " << celsius_degrees << " degC, " << pascals << " Pa");
          const double size = std::abs(value[p]) + 1e-30;
          CHECK(exact[p].value == Approx(value[p]).epsilon(1e-13));
          CHECK(exact[p].slope[0] / size == Approx((warmer[p] - cooler[p]) / 2e-3 / size).epsilon(1e-5).margin(1e-8));
          CHECK(exact[p].slope[1] * pascals / size == Approx((higher[p] - lower[p]) / (2.0 * step) * pascals / size).epsilon(1e-4).margin(1e-9));
        }
      }
    }
  }
}

TEST_CASE("density and its slope in pressure are continuous through one atmosphere") {
  const Liquid liquid(gasoline_like());
  const double at = reference_pressure_pascal;
  const auto below = sloped(liquid, 300.0, at * (1.0 - 1e-9)), above = sloped(liquid, 300.0, at * (1.0 + 1e-9));
  CHECK(below[0].value == Approx(above[0].value).epsilon(1e-12));
  CHECK(below[0].slope[1] == Approx(above[0].slope[1]).epsilon(1e-6));
  // Bulk modulus is what the density does: K = ρ / (dρ/dp).
  for (double pascals : {2e4, 1e5, 5e6, 2e7}) {
    const auto s = sloped(liquid, 300.0, pascals);
    CHECK(s[0].value / s[0].slope[1] == Approx(s[4].value).epsilon(1e-9));
  }
  // A pressure no liquid can have (Newton may ask) still gives a finite, positive density.
  CHECK(plain(liquid, 300.0, -5e8).density.value() > 0.0);
}

TEST_CASE("outside its data a property is named with its band; beyond the outer limit the liquid is refused") {
  const Liquid liquid(gasoline_like());
  CHECK(liquid.range_findings(celsius(25.0)).empty());
  const auto findings = liquid.range_findings(celsius(100.0));
  REQUIRE(findings.size() == property_count);
  CHECK(findings[5].property == PropertyName::vapour_pressure);
  CHECK(findings[5].band == Approx(0.05 + 40.0 * 0.002));
  CHECK(findings[5].message == "invented gasoline: vapour pressure at 100 degC is carried beyond its data (-20 degC to 60 degC); "
                               "taken as good to within 13 %");
  for (double degrees : {-40.1, 120.1, std::nan("")}) {
    CHECK_THROWS_AS(liquid.at(celsius(degrees), absolute(1.0 * bar)), InputError);
    CHECK_THROWS_AS(liquid.range_findings(celsius(degrees)), InputError);
    CHECK_THROWS_AS(liquid.band(PropertyName::density, celsius(degrees)), InputError);
  }
  CHECK_NOTHROW(liquid.at(celsius(-40.0), absolute(1.0 * bar)));
  try {
    liquid.at(celsius(150.0), absolute(1.0 * bar));
    FAIL("no error");
  } catch (const InputError& error) {
    CHECK(error.place() == "invented gasoline");
    CHECK(error.field() == "temperature");
    CHECK(error.trouble() == "150 degC is above 120 degC, the hottest this liquid's properties may be carried to; lower the "
                             "temperature or choose a liquid with data there");
  }
}

TEST_CASE("a record that turns negative, infinite or lacks a range is refused when made") {
  LiquidRecord record = gasoline_like();
  record[PropertyName::conductivity].law = Polynomial{293.15, {0.13, -2e-3}};
  CHECK_THROWS_WITH(Liquid(record), Catch::Contains("invented gasoline: conductivity: comes out as 0 at 85 degC") && Catch::Contains("narrow the limit"));
  record = gasoline_like();
  record[PropertyName::viscosity].law = Polynomial{};
  CHECK_THROWS_AS(Liquid(record), InputError);
  record = gasoline_like();
  record.outer_limit = {400.0, 300.0};
  CHECK_THROWS_WITH(Liquid(record), Catch::Contains("outer limit"));
}

TEST_CASE("a blend is its parts at share 0 and 1 and lies on the published mixing between") {
  const auto dry = numbers(plain(Liquid(gasoline_like()), 300.0, 2e5)), wet = numbers(plain(Liquid(alcohol_like()), 300.0, 2e5));
  const auto none = numbers(plain(Liquid("E0", gasoline_like(), mixed(0.0)), 300.0, 2e5));
  const auto all = numbers(plain(Liquid("E100", gasoline_like(), mixed(1.0)), 300.0, 2e5));
  for (int p = 0; p < 6; ++p) {
    CHECK(none[p] == Approx(dry[p]).epsilon(1e-12));
    CHECK(all[p] == Approx(wet[p]).epsilon(1e-12));
  }
  const Liquid half("E50", gasoline_like(), mixed(0.5));
  CHECK(half.outer_limit().least_kelvin == Approx(233.15));
  CHECK(half.band(PropertyName::density, celsius(20.0)) == Approx(0.05 + 0.1));
  // E10 over its gasoline by the 6.9 kPa it was fitted to; pressure falls below the gasoline's beyond two thirds.
  CHECK(blend_reid(gasoline_like(), mixed(0.10), 62050.0) == Approx(68950.0).epsilon(1e-9));
  CHECK(blend_reid(gasoline_like(), mixed(0.815), 62050.0) == Approx(43300.0).epsilon(1e-9));
  CHECK(blend_reid(gasoline_like(), mixed(0.30), 62050.0) > 62050.0);
  CHECK(blend_reid(gasoline_like(), mixed(0.70), 62050.0) < 62050.0);
  const double base = gasoline_reid_for_blend(gasoline_like(), mixed(0.5), 60000.0);
  CHECK(blend_reid(gasoline_like(), mixed(0.5), base) == Approx(60000.0).epsilon(1e-9));
  CHECK_THROWS_WITH(gasoline_reid_for_blend(gasoline_like(), mixed(0.85), 100e3), Catch::Contains("cannot be had with this much alcohol"));
  for (double share : {-0.01, 1.01, std::nan("")}) {
    AlcoholBlend wrong = mixed(0.5);
    wrong.volume_share = share;
    CHECK_THROWS_WITH(Liquid("E?", gasoline_like(), wrong), Catch::Contains("fraction by volume"));
  }
}

TEST_CASE("Wilson activity obeys the Gibbs-Duhem equation") {
  // x d ln γ1 + (1 − x) d ln γ2 = 0 at fixed temperature: what makes it one model and not two fits.
  for (double x : {0.05, 0.3, 0.7, 0.95}) {
    const double h = 1e-5;
    const auto up = wilson_activity(x + h, 0.1, 0.5), down = wilson_activity(x - h, 0.1, 0.5);
    const double first = std::log(up.first / down.first), second = std::log(up.second / down.second);
    CHECK(x * first + (1.0 - x) * second == Approx(0.0).margin(1e-9));
  }
  CHECK(wilson_activity(1.0, 0.1, 0.5).first == Approx(1.0));
  CHECK(wilson_activity(0.0, 0.1, 0.5).second == Approx(1.0));
}

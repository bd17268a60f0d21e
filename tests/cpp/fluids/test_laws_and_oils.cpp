// Property laws by themselves, oils from a data sheet, the liquid that does not change, and the standard atmosphere.
#include <cmath>
#include <vector>

#include "catch_shim.hpp"
#include "flarenut/fluids/atmosphere.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/fluids/viscosity_index.hpp"
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::fluids;
using namespace flarenut::trade;

namespace {

OilSpec sheet() {
  OilSpec spec;
  spec.name = "invented oil";
  spec.viscosities = {{celsius(40.0), 95.0 * centistoke}, {celsius(100.0), 14.0 * centistoke}};
  spec.density_15 = 865.0 * kilogram_per_cubic_metre;
  return spec;
}

double mm2_s(const Liquid& liquid, double degrees) {
  const auto s = liquid.at(celsius(degrees), AbsolutePressure<>::from_value(reference_pressure_pascal));
  return s.viscosity.value() / s.density.value() / detail::mm2_s;
}

}  // namespace

TEST_CASE("D341 reproduces the standard's worked example and passes through its own points") {
  // Gear oil, public D341 example: 404 mm²/s at 40 °C, 28 at 100 °C, 132.126 at 60 °C.
  const Law law = walther_through(313.15, 404.0, 373.15, 28.0, false);
  CHECK(evaluate(law, 333.15) / detail::mm2_s == Approx(132.126).epsilon(1e-4));
  CHECK(evaluate(law, 373.15) / detail::mm2_s == Approx(28.0).epsilon(1e-12));
  // The thin form's inverse is a fit of the standard's: it returns its points to 0.2 %.
  for (double thin : {0.3, 0.55, 0.9, 1.5}) {
    const Law fuel = walther_through(253.15, 2.5, 293.15, thin, true);
    CHECK(evaluate(fuel, 293.15) / detail::mm2_s == Approx(thin).epsilon(2e-3));
  }
}

TEST_CASE("a table passes through its points, overshoots none and goes on straight in its coordinates") {
  const std::vector<double> kelvins{280.0, 300.0, 305.0, 350.0}, values{1.0e3, 3.0e3, 3.1e3, 3.0e4};
  for (TableScale scale : {TableScale::plain, TableScale::saturation}) {
    const Law law = table_through(scale, kelvins, values, "pressure");
    for (std::size_t i = 0; i < kelvins.size(); ++i) CHECK(evaluate(law, kelvins[i]) == Approx(values[i]).epsilon(1e-12));
    double last = 0.0;
    for (double t = 280.0; t <= 350.0; t += 0.25) {
      CHECK(evaluate(law, t) >= last);
      last = evaluate(law, t);
    }
  }
  // Clausius–Clapeyron is straight in ln p against 1/T, so two points carry it anywhere: 40 kJ/mol.
  const auto line = [](double t) { return 1e5 * std::exp(40e3 / 8.314 * (1.0 / 350.0 - 1.0 / t)); };
  const Law straight = table_through(TableScale::saturation, {300.0, 320.0}, {line(300.0), line(320.0)}, "pressure");
  for (double t : {260.0, 310.0, 400.0}) CHECK(evaluate(straight, t) == Approx(line(t)).epsilon(1e-12));
  CHECK_THROWS_AS(table_through(TableScale::plain, {300.0}, {1.0}, "pressure"), InputError);
  CHECK_THROWS_AS(table_through(TableScale::plain, {300.0, 300.0}, {1.0, 2.0}, "pressure"), InputError);
  CHECK_THROWS_AS(table_through(TableScale::plain, {300.0, 310.0}, {1.0, -2.0}, "pressure"), InputError);
  CHECK_THROWS_AS(table_through(TableScale::walther, {300.0, 310.0}, {1e-6, 2e-7}, "viscosity"), InputError);
}

TEST_CASE("laws refuse numbers outside their standards") {
  CHECK_THROWS_WITH(petroleum_expansion(600.0), Catch::Contains("653 to 1075"));
  CHECK_THROWS_WITH(lubricant_expansion(745.0), Catch::Contains("lubricating oils"));
  CHECK_THROWS_WITH(walther_through(313.15, 14.0, 373.15, 95.0, false), Catch::Contains("were the two swapped?"));
  CHECK_THROWS_WITH(walther_through(313.15, 14.0, 313.15, 5.0, false), Catch::Contains("1 K apart"));
  CHECK_THROWS_WITH(walther_through(313.15, 0.1, 373.15, 0.05, true), Catch::Contains("0.21"));
  CHECK_THROWS_WITH(refined_stock_saturation(62.0), Catch::Contains("2 to 20 psi"));
  CHECK_THROWS_AS(vogel_through({300.0, 330.0, 370.0}, {0.1, 0.2, 0.3}), InputError);
}

TEST_CASE("an oil gives back its data sheet; a cold point replaces extrapolation") {
  const Liquid two = oil(sheet());
  CHECK(mm2_s(two, 40.0) == Approx(95.0).epsilon(1e-12));
  CHECK(mm2_s(two, 100.0) == Approx(14.0).epsilon(1e-12));
  OilSpec spec = sheet();
  spec.viscosities.insert(spec.viscosities.begin(), {celsius(100.0), 14.0 * centistoke});
  spec.viscosities.erase(spec.viscosities.begin() + 2);
  spec.viscosities.push_back({celsius(-20.0), 9000.0 * centistoke});
  const Liquid three = oil(spec);
  CHECK(mm2_s(three, -20.0) == Approx(9000.0).epsilon(1e-9));
  CHECK(mm2_s(three, 40.0) == Approx(95.0).epsilon(1e-9));
  CHECK(mm2_s(three, 0.0) > mm2_s(two, 0.0));
  CHECK_FALSE(two.range_findings(celsius(-10.0)).empty());
  bool viscosity_named = false;
  for (const RangeFinding& finding : three.range_findings(celsius(-10.0)))
    viscosity_named = viscosity_named || finding.property == PropertyName::viscosity;
  CHECK_FALSE(viscosity_named);
  // Barus at 2e-8 1/Pa: 10 MPa thickens oil by 22 %.
  const auto low = two.at(celsius(60.0), AbsolutePressure<>::from_value(reference_pressure_pascal));
  const auto high = two.at(celsius(60.0), AbsolutePressure<>::from_value(reference_pressure_pascal + 1e7));
  CHECK(high.viscosity.value() / low.viscosity.value() == Approx(std::exp(0.2)).epsilon(1e-12));
}

TEST_CASE("an oil's data sheet with a slip in it is refused by name") {
  OilSpec spec = sheet();
  spec.viscosities.pop_back();
  CHECK_THROWS_WITH(oil(spec), Catch::Contains("two points or more"));
  spec = sheet();
  spec.density_15 = Density<>::from_value(0.865);
  CHECK_THROWS_WITH(oil(spec), Catch::Contains("density at 15 degC: 0.865 kg/m3 is outside 800 to 1164"));
  spec = sheet();
  std::swap(spec.viscosities[0].viscosity, spec.viscosities[1].viscosity);
  CHECK_THROWS_WITH(oil(spec), Catch::Contains("swapped"));
  spec = sheet();
  spec.viscosities.push_back({celsius(120.0), 14.5 * centistoke});
  CHECK_THROWS_WITH(oil(spec), Catch::Contains("must fall"));
  spec = sheet();
  spec.pour_point = celsius(-27.0);
  CHECK_THROWS_WITH(oil(spec).at(celsius(-30.0), absolute(1.0 * bar)), Catch::Contains("below -27 degC"));
}

TEST_CASE("a constant liquid does not change") {
  ConstantLiquidSpec spec;
  spec.density = 740.0 * kilogram_per_cubic_metre;
  spec.viscosity = 0.5 * centipoise;
  const Liquid liquid = constant_liquid(spec);
  for (double degrees : {-40.0, 20.0, 150.0}) {
    const auto s = liquid.at(celsius(degrees), absolute(50.0 * bar));
    CHECK(s.density.value() == 740.0);
    CHECK(s.viscosity.value() == 0.5e-3);
    CHECK(s.vapour_pressure.value() == 0.0);
    CHECK(liquid.range_findings(celsius(degrees)).empty());
  }
  CHECK(liquid.band(PropertyName::specific_heat, celsius(20.0)) == 0.5);  // assumed, and said to be
  spec.bulk_modulus = PressureDifference<>::from_value(1e9);
  CHECK(constant_liquid(spec).at(celsius(20.0), absolute(51.01325 * bar)).density.value() == Approx(740.0 * 1.00488).epsilon(1e-4));
  spec.density = {};
  CHECK_THROWS_WITH(constant_liquid(spec), Catch::Contains("density: 0 kg/m3"));
}

TEST_CASE("viscosity index and its inverse agree; the standard's formulas take over above 70") {
  // A few rows of the D2270 table stand for the whole here; the whole is judged in tests/validation.
  const ViscosityIndexTable table{{2.0, 8.8, 8.9, 9.0, 70.0}, {7.994, 118.5, 120.9, 123.3, 4905.0}, {6.394, 68.79, 69.94, 71.1, 1558.0}};
  CHECK_THROWS_WITH(viscosity_index({{8.8, 9.0}, {1.0, 2.0}, {1.0, 2.0}}, 73.3, 8.86), Catch::Contains("from 2 to 70"));
  CHECK_THROWS_AS(viscosity_index(table, 5.0, 8.86), InputError);
  CHECK_THROWS_AS(viscosity_index(table, 20.0, 1.5), InputError);
  const double low = 0.8353 * 6400.0 + 14.67 * 80.0 - 216.0, high = 0.1684 * 6400.0 + 11.85 * 80.0 - 97.0;
  CHECK(viscosity_index(table, low, 80.0) == Approx(0.0).margin(1e-9));
  CHECK(viscosity_index(table, high, 80.0) == Approx(100.0));
  CHECK(viscosity_index(table, 73.30, 8.86) == Approx(92.4).margin(0.5));  // D2270 example: 92
  CHECK(viscosity_100_from_index(table, high, 100.0) == Approx(80.0).epsilon(1e-9));
  for (const double index : {-1.0, 401.0, std::nan("")}) {
    CHECK_THROWS_WITH(viscosity_100_from_index(table, high, index), Catch::Contains("index") && Catch::Contains("outside 0 to 400"));
    CHECK_THROWS_WITH(viscosity_40_from_index(table, 10.0, index), Catch::Contains("outside 0 to 400"));
  }
}

TEST_CASE("the standard atmosphere at its tabulated heights") {
  // U.S. Standard Atmosphere 1976, table I, geometric altitude (from memory).
  CHECK(standard_pressure(0.0 * metre).value() == 101325.0);
  CHECK(standard_pressure(1000.0 * metre).value() == Approx(89876.0).margin(2.0));
  CHECK(standard_pressure(5000.0 * metre).value() == Approx(54048.0).margin(2.0));
  CHECK(standard_pressure(10000.0 * metre).value() == Approx(26500.0).margin(2.0));
  CHECK(standard_temperature(5000.0 * metre).value() == Approx(255.676).margin(0.002));
  CHECK_THROWS_WITH(standard_pressure(12000.0 * metre), Catch::Contains("-2000 to 11000"));
  CHECK_THROWS_AS(standard_pressure(Length<>::from_value(std::nan(""))), InputError);
}

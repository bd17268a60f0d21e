#include "flarenut/parts/orifice.hpp"

#include <cmath>

#include "../csv.hpp"
#include "flarenut/parts/short_tube_orifice.hpp"
#include "loss_checks.hpp"

using namespace loss_checks;

namespace {

OrificeSpec<> plate(double bore, double line_bore = 0.0, double coefficient = 0.0) {
  OrificeSpec<> spec;
  spec.bore = metres(bore);
  spec.line_bore = metres(line_bore);
  spec.discharge_coefficient = ratio(coefficient);
  return spec;
}

ShortTubeOrificeSpec<> tube(double bore, double length, double line_bore = 0.0) {
  ShortTubeOrificeSpec<> spec;
  spec.bore = metres(bore);
  spec.length = metres(length);
  spec.line_bore = metres(line_bore);
  return spec;
}

}  // namespace

TEST_CASE("orifice: one inch at 100 psi of oil, Esposito's example 8.4") {
  // A. Esposito, Fluid Power with Applications: C = 0.80, SG 0.9: 252 gal/min.
  const Orifice<> orifice(plate(0.0254, 0.0, 0.8), liquid(900.0, 0.01));
  CHECK(flow_at_drop(orifice, 689475.7) / 900.0 == Approx(0.01589873).epsilon(0.004));
}

TEST_CASE("orifice: in a line it loses less than a meter reads, ISO 5167-2") {
  // TP 410 problem 7.29: 50 mm in 73.66 mm, 17 kPa at the taps. Permanent loss 9069 Pa: ISO 5167-2:2003 section 5.4 as in the
  // documented example of `fluids` 1.3.1 (dP_orifice, C = 0.61512).
  const double density = 999.1, c = 0.61512, beta = 0.05 / 0.07366;
  const double flow = c * area(0.05) * std::sqrt(2.0 * 17000.0 * density / (1.0 - std::pow(beta, 4)));
  CHECK(flow / density == Approx(0.007938942).epsilon(0.001));  // the problem's own flow, recomputed
  const Orifice<> orifice(plate(0.05, 0.07366, c), liquid(density, 0.001138));
  CHECK(orifice.drop(flowing(flow)).value() == Approx(9069.474705745388).epsilon(0.001));
}

TEST_CASE("orifice: without a measured coefficient it is a sharp edge") {
  // ISO 5167-2 at high Reynolds number and small beta: 0.5961; a textbook's 0.60 to 0.62.
  const Orifice<> orifice(plate(0.003), liquid(750.0, 5e-4));
  const double passed = flow_at_drop(orifice, 3e5) / valve_checks::orifice(1.0, area(0.003), 750.0, 3e5);
  CHECK(passed == Approx(0.5961).epsilon(0.001));
}

TEST_CASE("orifice: creeping flow is Sampson's 3 mu Q / R^3") {
  const double bore = 0.004, viscosity = 2.0;
  const Orifice<> orifice(plate(bore), liquid(900.0, viscosity));
  const double volume = 1e-9;
  CHECK(orifice.drop(flowing(900.0 * volume)).value() ==
        Approx(3.0 * viscosity * volume / std::pow(0.5 * bore, 3)).epsilon(1e-4));
}

TEST_CASE("orifice: as wide as its line it keeps only the viscous share") {
  const Orifice<> orifice(plate(0.01, 0.01), liquid(1000.0, 1e-3));
  CHECK(heads(orifice, at_reynolds(1e5, 0.01, 1e-3), 0.01, 1000.0) == Approx(12.0 * pi / 1e5).epsilon(1e-6));
}

TEST_CASE("short tube: every row of Lichtarowicz, Duggins and Markland, 1965") {
  // The rows' Reynolds number is that of the ideal velocity; they are from memory, as the data file says.
  const double bore = 0.002, density = 850.0, viscosity = 0.01;
  int rows = 0;
  for (const auto& row : csv::read("hydraulics/orifice_Cd_short_tube.csv")) {
    if (row.text("element").rfind("short tube, sharp entry", 0) != 0) continue;
    INFO(row.place());
    const ShortTubeOrifice<> orifice(tube(bore, bore * row.number("L_over_d")), liquid(density, viscosity));
    const double ideal = row.number("Re_d") * viscosity / (density * bore);
    const double flow = flow_at_drop(orifice, 0.5 * density * ideal * ideal);
    CHECK(flow / (density * area(bore) * ideal) == Approx(row.number("Cd")).epsilon(2e-3));
    ++rows;
  }
  CHECK(rows == 20);
}

TEST_CASE("short tube: passes more than a plate of the same hole, and feels cold oil more") {
  const auto fuel = liquid(750.0, 5e-4), oil = liquid(890.0, 0.5);
  CHECK(flow_at_drop(ShortTubeOrifice<>(tube(0.002, 0.006), fuel), 3e5) >
        1.25 * flow_at_drop(Orifice<>(plate(0.002), fuel), 3e5));
  CHECK(flow_at_drop(ShortTubeOrifice<>(tube(0.002, 0.006), oil), 1e4) <
        0.5 * flow_at_drop(Orifice<>(plate(0.002), oil), 1e4));
}

TEST_CASE("short tube: a narrow line gives back what Borda and Carnot say") {
  const auto fuel = liquid(750.0, 5e-4);
  const auto flow = at_reynolds(2e4, 0.004, 5e-4);
  const double wide = heads(ShortTubeOrifice<>(tube(0.004, 0.012), fuel), flow, 0.004, 750.0);
  const double narrow = heads(ShortTubeOrifice<>(tube(0.004, 0.012, 0.008), fuel), flow, 0.004, 750.0);
  CHECK(wide - narrow == Approx(1.0 - std::pow(1.0 - 0.25, 2)).epsilon(1e-9));
  CHECK(narrow > 0.5);
}

TEST_CASE("orifices: holes that cannot be are refused with the cure") {
  CHECK_THAT(complaint(plate(0.01, 0.008)), Catch::Contains("the part: bore") && Catch::Contains("wider than the line"));
  CHECK_THAT(complaint(plate(0.001, 0.008, 0.05)), Catch::Contains("discharge_coefficient"));
  CHECK_THAT(complaint(tube(0.002, 0.002)), Catch::Contains("length") && Catch::Contains("use an orifice"));
  CHECK_THAT(complaint(tube(0.002, 0.05)), Catch::Contains("length") && Catch::Contains("use a line"));
  CHECK(complaint(tube(0.002, 0.02)) == "no complaint");
}

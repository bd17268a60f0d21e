#include "flarenut/parts/line.hpp"

#include "../csv.hpp"
#include "loss_checks.hpp"

using namespace loss_checks;

namespace {

LineSpec<> line_spec(double bore, double length, double roughness = 1.5e-6, double extra_loss = 0.0) {
  LineSpec<> spec;
  spec.bore = metres(bore);
  spec.length = metres(length);
  spec.roughness = metres(roughness);
  spec.extra_loss = ratio(extra_loss);
  return spec;
}

LineSpec<> bent(LineSpec<> spec, double angle, double radius) {
  spec.bend_angle = ratio(angle);
  spec.bend_radius = metres(radius);
  return spec;
}

}  // namespace

TEST_CASE("line: laminar oil loses what Esposito's example 4.3 says") {
  // A. Esposito, Fluid Power with Applications, example 4.3: 100 cSt, 10 ft/s, 1 in, 100 ft, 56.16 lb/ft3: 60 psi.
  const double density = 899.5969, bore = 0.0254;
  const Line<> line(line_spec(bore, 30.48), liquid(density, 1e-4 * density));
  CHECK(line.drop(flowing(density * area(bore) * 3.048)).value() == Approx(413685.4).epsilon(0.003));
}

TEST_CASE("line: very viscous oil loses what Munson's example 8.2 says") {
  // B. Munson et al., Fundamentals of Fluid Mechanics, example 8.2: 0.4 Pa s, 20 mm, 10 m, 0.02 L/s: 20.4 kPa.
  const Line<> line(line_spec(0.02, 10.0), liquid(900.0, 0.4));
  CHECK(line.drop(flowing(900.0 * 2e-5)).value() == Approx(20400.0).epsilon(0.002));
}

TEST_CASE("line: turbulent water loses what Cengel's example 8-3 says") {
  // Y. Cengel, J. Cimbala, Fluid Mechanics, example 8-3: stainless 50 mm, 60 m, 6 L/s, 2 micron: 96.5 kPa.
  const Line<> line(line_spec(0.05, 60.0, 2e-6), liquid(999.0, 0.001138));
  CHECK(line.drop(flowing(999.0 * 0.006)).value() == Approx(96500.0).epsilon(0.004));
}

TEST_CASE("line: fuel oil in a schedule 40 pipe loses what TP 410 problem 7.13 says") {
  const Line<> line(line_spec(0.0525018, 30.48, 4.572e-5), liquid(814.2665, 2.7e-6 * 814.2665));
  CHECK(line.drop(flowing(814.2665 * 0.007570824)).value() == Approx(66534.41).epsilon(0.016));
}

TEST_CASE("line: lumped losses between two tanks add up as in Cengel's example 8-8") {
  // 89 m of 50 mm cast iron, 6 L/s, K: entrance 0.5, two elbows 0.3, gate valve 0.2, exit 1.06: upper level 31.8 m, lower 4 m.
  const double density = 999.7;
  const Line<> line(line_spec(0.05, 89.0, 2.6e-4, 0.5 + 2 * 0.3 + 0.2 + 1.06), liquid(density, 0.001307));
  const double head = line.drop(flowing(density * 0.006)).value() / (density * 9.81);
  CHECK(4.0 + head == Approx(31.8).epsilon(0.002));
}

TEST_CASE("line: a lumped loss without length keeps its K and a slope at rest") {
  // A. Esposito, example 4.6: globe valve, K = 10, 1 in, 30 gal/min: 23.1 ft of oil.
  const double density = 900.0;
  const Line<> valve(line_spec(0.0254, 0.0, 0.0, 10.0), liquid(density, 1e-5));
  CHECK(valve.drop(flowing(density * 0.001892706)).value() / (density * 9.81456) == Approx(7.04088).epsilon(0.015));
  // The stand-in for laminar flow: as much as a tenth of a head per head at Reynolds 100, under half a per cent from 1e4.
  for (double reynolds : {1e4, 1e5, 1e6})
    CHECK(heads(valve, at_reynolds(reynolds, 0.0254, 1e-5), 0.0254, density) == Approx(10.0).epsilon(0.006));
  CHECK(slope(valve, 0.0) > 0.0);
}

TEST_CASE("line: one bend of 90 degrees costs its excess on top of the centreline, as Miller's example 9.12") {
  // D. S. Miller, Internal Flow Systems, 1990, example 9.12: r/D = 2, K = 0.15 of the whole bend, read from charts; another
  // method than ours, hence 5 %.
  for (const auto& row : csv::read("hydraulics/local_losses_examples.csv")) {
    if (row.text("case_id") != "LL10") continue;
    const double bore = row.input("inputs_SI", "D"), radius = 2.0 * bore;
    const double viscosity = row.input("inputs_SI", "nu") * 1000.0;
    const auto plain = line_spec(bore, 0.5 * pi * radius, row.input("inputs_SI", "eps"));
    const Line<> line(bent(plain, 0.5 * pi, radius), liquid(1000.0, viscosity));
    const auto flow = flowing(1000.0 * area(bore) * row.input("inputs_SI", "V"));
    CHECK(heads(line, flow, bore, 1000.0) == Approx(row.number("published_value_SI")).epsilon(0.05));
    CHECK(line.drop(flow).value() > Line<>(plain, liquid(1000.0, viscosity)).drop(flow).value());
    return;
  }
  FAIL("the example is not in the data");
}

TEST_CASE("line: bends agree with a second implementation, `fluids` 1.3.1 bend_rounded") {
  // Its documented example: bore 4.02, radius 20, 30 degrees, Re 1e5, smooth; the value includes the bend's own length.
  const double bore = 4.02e-2, radius = 20e-2, viscosity = 1e-3;
  const auto spec = bent(line_spec(bore, radius * pi / 6.0, 0.0), pi / 6.0, radius);
  const Line<> line(spec, liquid(1000.0, viscosity));
  CHECK(heads(line, at_reynolds(1e5, bore, viscosity), bore, 1000.0) == Approx(0.11519070808085191).epsilon(1e-4));
}

TEST_CASE("line: bends add: four of 90 degrees cost four times one, half of one less than one") {
  const auto fuel = liquid(750.0, 5e-4);
  const auto plain = line_spec(0.0087, 2.0);
  const auto flow = flowing(0.09);
  const double straight = Line<>(plain, fuel).drop(flow).value();
  const auto excess = [&](double angle) {
    return Line<>(bent(plain, angle, 0.04), fuel).drop(flow).value() - straight;
  };
  CHECK(excess(360.0 * degree) == Approx(4.0 * excess(90.0 * degree)).epsilon(1e-9));
  CHECK(excess(45.0 * degree) < excess(90.0 * degree));
  CHECK(excess(45.0 * degree) > 0.3 * excess(90.0 * degree));
  CHECK(excess(90.0001 * degree) == Approx(excess(90.0 * degree)).epsilon(1e-5));
  CHECK(excess(0.0) == 0.0);
}

TEST_CASE("line: a tight bend costs more than a wide one of the same angle") {
  const auto oil = liquid(850.0, 0.012);
  const auto at_radius = [&](double radius) {
    return Line<>(bent(line_spec(0.012, 2.0), 0.5 * pi, radius), oil).drop(flowing(0.3)).value();
  };
  CHECK(at_radius(0.015) > at_radius(0.03));
  CHECK(at_radius(0.03) > at_radius(0.12));
}

TEST_CASE("line: bends that cannot be are refused with the cure") {
  auto spec = bent(line_spec(0.01, 1.0), 0.5 * pi, 0.0);
  CHECK_THAT(complaint(spec), Catch::Contains("bend_radius") && Catch::Contains("half the bore"));
  spec = bent(line_spec(0.01, 0.1), 2.0 * pi, 0.05);
  CHECK_THAT(complaint(spec), Catch::Contains("bend_angle") && Catch::Contains("more than the whole line"));
  spec = bent(line_spec(0.01, 0.5), 2.0 * pi, 0.05);
  CHECK(complaint(spec) == "no complaint");
  CHECK_THAT(complaint(line_spec(0.01, 0.0)), Catch::Contains("length") && Catch::Contains("cost nothing"));
}

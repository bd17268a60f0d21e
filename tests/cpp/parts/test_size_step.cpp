#include "flarenut/parts/size_step.hpp"

#include <cmath>

#include "../csv.hpp"
#include "flarenut/parts/opening.hpp"
#include "loss_checks.hpp"

using namespace loss_checks;

namespace {

SizeStepSpec<> step(double inlet, double outlet, double angle = pi) {
  SizeStepSpec<> spec;
  spec.inlet_bore = metres(inlet);
  spec.outlet_bore = metres(outlet);
  spec.included_angle = ratio(angle);
  return spec;
}

const auto water = liquid(1000.0, 1e-3);

/// Velocity heads of the smaller bore lost at a Reynolds number there, signed as the flow.
template <class Part>
double heads_of_small(const Part& part, double bore, double reynolds) {
  return std::abs(heads(part, at_reynolds(reynolds, bore, 1e-3), bore, 1000.0));
}

OpeningSpec<> opening(double bore, double entrance_loss = 0.5) {
  OpeningSpec<> spec;
  spec.bore = metres(bore);
  spec.entrance_loss = ratio(entrance_loss);
  return spec;
}

}  // namespace

TEST_CASE("size step: Borda-Carnot enlargement and the pressure behind it, Subramanya's example 11.1") {
  // K. Subramanya, 1000 Solved Problems in Fluid Mechanics: 450 L/min from 6 to 9 cm, 20 kPa before, 21.73 kPa after.
  const double density = 9790.0 / 9.81;
  const SizeStep<> enlargement(step(0.06, 0.09), liquid(density, 1e-3));
  const double flow = 0.0075, before = flow / area(0.06), after = flow / area(0.09);
  const double lost = enlargement.drop(flowing(density * flow)).value();
  CHECK(lost / 9790.0 == Approx(0.1106863).epsilon(0.002));
  const double static_after = 20000.0 + 0.5 * density * (before * before - after * after) - lost;
  CHECK(static_after == Approx(21730.0).epsilon(0.001));
}

TEST_CASE("size step: every tabled sudden step, both ways through one part") {
  int rows = 0;
  for (const auto& row : csv::read("hydraulics/fitting_constants.csv")) {
    const std::string& name = row.text("fitting");
    const auto at = name.find("d/D=");
    if (row.text("method") != "K" || at == std::string::npos) continue;
    INFO(row.place() << " " << name);
    const double ratio_of_bores = std::stod(name.substr(at + 4));
    const SizeStep<> narrowing(step(0.02, 0.02 * ratio_of_bores), water);
    const bool enlarging = name.find("enlargement") != std::string::npos;
    const double reynolds = enlarging ? -1e7 : 1e7;  // the same part, run backwards, enlarges
    CHECK(heads_of_small(narrowing, 0.02 * ratio_of_bores, reynolds) ==
          Approx(row.number("Kinf_or_Ki_or_L_over_D_or_K")).epsilon(1e-4));
    ++rows;
  }
  CHECK(rows == 7);
}

TEST_CASE("size step: written either way round it is the same piece") {
  const SizeStep<> there(step(0.0111, 0.0079, 0.5), water), back(step(0.0079, 0.0111, 0.5), water);
  for (double flow : {-0.5, -1e-3, -1e-7, 1e-7, 1e-3, 0.5})
    CHECK(there.drop(flowing(flow)).value() == Approx(-back.drop(flowing(-flow)).value()).epsilon(1e-12));
}

TEST_CASE("size step: a 20 degree cone recovers most of it, Cengel's example 8-6") {
  // Y. Cengel, J. Cimbala: 6 to 9 cm, K = 0.133 read from a table for 20 degrees; Gibson's formula gives 5 % more.
  const SizeStep<> cone(step(0.06, 0.09, 20.0 * degree), water);
  CHECK(heads_of_small(cone, 0.06, 1e8) == Approx(0.133).epsilon(0.06));
}

TEST_CASE("size step: creeping flow costs the same both ways; faster, entering costs Hooper's 160/Re") {
  const SizeStep<> narrowing(step(0.2, 0.01), water);
  CHECK(slope(narrowing, 1e-300) == Approx(slope(narrowing, -1e-300)).epsilon(1e-12));
  // W. Hooper 1981, pipe entrance K1 = 160 with K = 0.5; 13 % of the viscous share is still forming at Reynolds 60.
  const double beta_squared = 0.0025;
  CHECK(heads_of_small(narrowing, 0.01, 60.0) == Approx(160.0 / 60.0 + 0.5 * (1.0 - beta_squared)).epsilon(0.13));
  CHECK(heads_of_small(narrowing, 0.01, 600.0) == Approx(160.0 / 600.0 + 0.5 * (1.0 - beta_squared)).epsilon(0.02));
}

TEST_CASE("size step: without a step next to nothing is lost, and a slope remains") {
  const SizeStep<> none(step(0.01, 0.01), water);
  CHECK(heads_of_small(none, 0.01, 1e4) < 2e-4);
  CHECK(slope(none, 0.0) > 0.0);
}

TEST_CASE("opening: drawn from the tank half a head, let out a whole one") {
  const Opening<> pickup(opening(0.0087), water);
  CHECK(heads_of_small(pickup, 0.0087, 1e7) == Approx(0.5).epsilon(1e-3));
  CHECK(heads_of_small(pickup, 0.0087, -1e7) == Approx(1.0).epsilon(1e-3));
  CHECK(heads_of_small(Opening<>(opening(0.0087, 0.04), water), 0.0087, 1e7) == Approx(0.04).epsilon(1e-2));
  CHECK(heads_of_small(Opening<>(opening(0.0087, 0.04), water), 0.0087, -1e7) == Approx(1.0).epsilon(1e-3));
}

TEST_CASE("opening: the return kind is the pick-up kind seen from the line") {
  const Opening<> pickup(opening(0.0087, 0.78), water);
  const ReturnOpening<> back(opening(0.0087, 0.78), water);
  for (double flow : {-1.0, -1e-4, 1e-8, 0.02, 3.0})
    CHECK(back.drop(flowing(flow)).value() == Approx(-pickup.drop(flowing(-flow)).value()).epsilon(1e-12));
  CHECK(pickup.bores()[0].value() == 0.0);
  CHECK(pickup.bores()[1].value() == 0.0087);
  CHECK(back.bores()[0].value() == 0.0087);
  CHECK(back.bores()[1].value() == 0.0);
}

TEST_CASE("size step and opening: bad numbers name their field") {
  CHECK_THAT(complaint(step(0.01, 0.0)), Catch::Contains("the part: outlet_bore"));
  CHECK_THAT(complaint(step(0.01, 0.02, 4.0)), Catch::Contains("the part: included_angle"));
  CHECK_THAT(complaint(opening(0.01, -1.0)), Catch::Contains("the part: entrance_loss"));
}

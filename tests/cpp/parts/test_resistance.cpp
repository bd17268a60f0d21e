#include "flarenut/parts/resistance.hpp"

#include <cmath>

#include "loss_checks.hpp"

using namespace loss_checks;

namespace {

ResistanceSpec<> rated(double drop, double flow, double exponent, double viscosity, double density) {
  ResistanceSpec<> spec;
  spec.rated_drop = pascals(drop);
  spec.rated_flow = VolumeFlow<>::from_value(flow);
  spec.exponent = ratio(exponent);
  spec.rating_viscosity = DynamicViscosity<>::from_value(viscosity);
  spec.rating_density = Density<>::from_value(density);
  return spec;
}

double drop_at(const ResistanceSpec<>& spec, double density, double viscosity, double volume_flow) {
  return Resistance<>(spec, liquid(density, viscosity)).drop(flowing(density * volume_flow)).value();
}

}  // namespace

TEST_CASE("resistance: at its rated point with its rating liquid it gives the rated drop") {
  for (double n : {1.0, 1.3, 1.75, 2.0}) {
    const auto spec = rated(3.4e4, 1.9e-4, n, 5e-4, 750.0);
    CHECK(drop_at(spec, 750.0, 5e-4, 1.9e-4) == Approx(3.4e4).epsilon(1e-12));
    CHECK(drop_at(spec, 750.0, 5e-4, 0.95e-4) == Approx(3.4e4 * std::pow(0.5, n)).epsilon(1e-5));
    CHECK(drop_at(spec, 750.0, 5e-4, -3.8e-4) == Approx(-3.4e4 * std::pow(2.0, n)).epsilon(1e-5));
  }
}

TEST_CASE("resistance: exponent 1 is Hagen-Poiseuille in any liquid") {
  // Δp = 128 μ L Q / (π D⁴), rated with one oil, asked of another.
  const auto tube = [](double viscosity, double flow) { return 128.0 * viscosity * 2.0 * flow / (pi * std::pow(0.004, 4)); };
  const auto spec = rated(tube(0.03, 1e-5), 1e-5, 1.0, 0.03, 870.0);
  CHECK(drop_at(spec, 810.0, 0.2, 2.5e-6) == Approx(tube(0.2, 2.5e-6)).epsilon(1e-12));
}

TEST_CASE("resistance: exponent 1.75 is a smooth turbulent tube in any liquid") {
  // H. Blasius 1913: f = 0.3164 Re^-0.25.
  const auto tube = [](double density, double viscosity, double flow) {
    const double bore = 0.008, velocity = flow / area(bore);
    const double reynolds = density * velocity * bore / viscosity;
    return 0.3164 * std::pow(reynolds, -0.25) * 3.0 / bore * 0.5 * density * velocity * velocity;
  };
  const auto spec = rated(tube(750.0, 5e-4, 1e-4), 1e-4, 1.75, 5e-4, 750.0);
  CHECK(drop_at(spec, 998.2, 1.0e-3, 3e-4) == Approx(tube(998.2, 1.0e-3, 3e-4)).epsilon(1e-5));
}

TEST_CASE("resistance: exponent 2 is an orifice: density counts, viscosity does not") {
  const auto spec = rated(3e4, 1e-4, 2.0, 5e-4, 750.0);
  CHECK(drop_at(spec, 900.0, 0.5, 1e-4) == Approx(3e4 * 900.0 / 750.0).epsilon(1e-12));
}

TEST_CASE("resistance: far below the rating it turns linear and keeps a slope at rest") {
  const Resistance<> part(rated(3e4, 1e-4, 2.0, 5e-4, 750.0), liquid(750.0, 5e-4));
  CHECK(slope(part, 0.0) == Approx(1e-3 * 3e4 / 0.075).epsilon(1e-5));
  CHECK(part.drop(flowing(0.0)).value() == 0.0);
}

TEST_CASE("resistance: a rating without its liquid is refused, and so is an exponent no passage has") {
  CHECK_THAT(complaint(rated(3e4, 1e-4, 2.0, 0.0, 750.0)), Catch::Contains("the part: rating_viscosity"));
  CHECK_THAT(complaint(rated(3e4, 1e-4, 2.5, 5e-4, 750.0)), Catch::Contains("the part: exponent"));
}

#include "../catch_shim.hpp"
#include "flarenut/correlations/core_loss.hpp"

using namespace flarenut::correlations;

TEST_CASE("core loss: the sum of both parts by hand, either way through") {
  // 2e10 * 0.1 * 1e-4 = 2e5 Pa, and 5e8 * 900 * 1e-8 = 4500 Pa.
  const CoreLoss loss{2e10, 5e8};
  CHECK(loss.drop(1e-4, 0.1, 900.0) == Approx(204500.0).epsilon(1e-12));
  CHECK(loss.drop(-1e-4, 0.1, 900.0) == Approx(-204500.0).epsilon(1e-12));
}

TEST_CASE("core loss: two points of any loss give it back, with another flow or another liquid") {
  const CoreLoss loss{3e9, 7e8};
  const auto point = [&](double flow, double viscosity, double density) {
    return CorePoint{loss.drop(flow, viscosity, density), flow, viscosity, density};
  };
  for (const CorePoint& other : {point(4e-4, 0.02, 850.0), point(1e-4, 0.2, 890.0)}) {
    const CoreLoss found = core_of_points(point(1e-4, 0.02, 850.0), other);
    CHECK(found.viscous == Approx(3e9).epsilon(1e-9));
    CHECK(found.inertial == Approx(7e8).epsilon(1e-9));
  }
}

TEST_CASE("core loss: one point and a share, by hand") {
  // 30 % of 20 kPa over 0.05 * 2e-4 is 6e8; 70 % over 800 * 4e-8 is 4.375e8.
  const CoreLoss found = core_of_point({20e3, 2e-4, 0.05, 800.0}, 0.3);
  CHECK(found.viscous == Approx(6e8).epsilon(1e-12));
  CHECK(found.inertial == Approx(4.375e8).epsilon(1e-12));
}

TEST_CASE("core loss: passages by hand, laminar and at a Reynolds number of their own") {
  // 40 of 2 mm, 0.3 m: 128 L / (pi d^4 n) = 1.909859e10; area 1.256637e-4 m2, K 1.5: 1.5 / (2 A^2) = 4.749430e7.
  const CoreLoss laminar = core_of_passages(40.0, 2e-3, 0.3, 1.5, 2000.0);
  CHECK(laminar.viscous == Approx(1.909859e10).epsilon(1e-6));
  CHECK(laminar.inertial == Approx(4.749430e7).epsilon(1e-6));
  // At Re 10000 the sum is Darcy-Weisbach: flow = Re pi d mu n / (4 rho), f of the smooth bore.
  const CoreLoss turbulent = core_of_passages(40.0, 2e-3, 0.3, 1.5, 1e4);
  const double viscosity = 1e-3, density = 1000.0, velocity = 1e4 * viscosity / (density * 2e-3);
  const double expected = (friction_factor(1e4, 0.0) * 0.3 / 2e-3 + 1.5) * 0.5 * density * velocity * velocity;
  CHECK(turbulent.drop(velocity * 1.2566370614e-4, viscosity, density) == Approx(expected).epsilon(1e-9));
}

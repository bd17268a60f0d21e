#include "../catch_shim.hpp"
#include "flarenut/correlations/external_convection.hpp"
#include "slope_check.hpp"

using flarenut::Dual;
using namespace flarenut::correlations;

namespace {
// The published forms, corners and all.
double churchill_bernstein(double re, double pr) {
  return 0.3 + 0.62 * std::sqrt(re) * std::cbrt(pr) / std::pow(1.0 + std::pow(0.4 / pr, 2.0 / 3.0), 0.25) *
                   std::pow(1.0 + std::pow(re / 282000.0, 5.0 / 8.0), 0.8);
}
double churchill_chu(double still, double scale, double ra, double pr) {
  const double root = still + 0.387 * std::pow(ra, 1.0 / 6.0) / std::pow(1.0 + std::pow(scale / pr, 9.0 / 16.0), 8.0 / 27.0);
  return root * root;
}
}  // namespace

TEST_CASE("external convection: the eased forms are the published ones over their ranges") {
  for (const double pr : {0.7, 6.0, 100.0}) {
    for (double re = 0.2 / pr; re < 1e7; re *= 3.0) {
      // Easing counts most where Re Pr = 0.2 in a thick liquid, below anything a vehicle has; in air 0.2 % at worst.
      const double eased = pr < 1.0 ? 2e-3 : 0.4;
      CHECK(cylinder_cross_flow_nusselt(re, pr) == Approx(churchill_bernstein(re, pr)).epsilon(re > 1.0 ? 1e-4 : eased));
    }
    for (double ra = 0.01; ra < 1e13; ra *= 7.0) {
      CHECK(cylinder_natural_nusselt(ra, pr) == Approx(churchill_chu(0.60, 0.559, ra, pr)).epsilon(ra > 1.0 ? 1e-6 : 2e-3));
      CHECK(wall_natural_nusselt(ra, pr) == Approx(churchill_chu(0.825, 0.492, ra, pr)).epsilon(ra > 1.0 ? 1e-6 : 2e-3));
    }
  }
}

TEST_CASE("external convection: wind along a wall is laminar when slow and turbulent when quick") {
  // 0.664 Re^½ Pr^⅓ (Pohlhausen): the turbulent share adds 10 % at Re 5000. Quick: 0.037 Re^0.8 Pr^⅓ (Colburn's analogy), 20 %.
  CHECK(wall_forced_nusselt(100.0, 0.7) == Approx(0.664 * 10.0 * std::cbrt(0.7)).epsilon(0.05));
  for (const double re : {1e6, 1e7})
    CHECK(wall_forced_nusselt(re, 0.7) == Approx(0.037 * std::pow(re, 0.8) * std::cbrt(0.7)).epsilon(0.20));
  double last = -1.0;
  for (double re = 0.0; re < 1e8; re = re < 1e-3 ? re + 1e-4 : re * 1.1) {
    for (const double pr : {0.6, 0.7}) REQUIRE(wall_forced_nusselt(re, pr) >= 0.0);
    REQUIRE(wall_forced_nusselt(re, 0.7) > last);
    last = wall_forced_nusselt(re, 0.7);
  }
}

TEST_CASE("external convection: Rayleigh number, and the law is the same for a line warmer or colder than its air") {
  // 9.80665 · (1/300) · 60 · 0.02³ / (1.6e-5 · 2.3e-5)
  CHECK(rayleigh_number(1.0 / 300.0, 60.0, 0.02, 1.6e-5, 2.3e-5) == Approx(42637.6).epsilon(1e-5));
  for (const double ra : {1e-5, 1.0, 1e5}) {
    const auto warm = cylinder_natural_nusselt(Dual<1>(ra, 0), 0.7), cold = cylinder_natural_nusselt(Dual<1>(-ra, 0), 0.7);
    CHECK(warm.value == cold.value);
    CHECK(warm.slope[0] == -cold.slope[0]);
  }
}

TEST_CASE("external convection: both at once, the larger leads") {
  CHECK(mixed_nusselt(10.0, 10.0) == Approx(10.0 * std::pow(2.0, 0.25)));
  CHECK(mixed_nusselt(10.0, 10.0, 3.0) == Approx(10.0 * std::cbrt(2.0)));
  CHECK(mixed_nusselt(20.0, 4.0) == Approx(20.0).epsilon(1e-3));
  CHECK(mixed_nusselt(0.3, 4.0) == Approx(4.0).epsilon(1e-5));
}

TEST_CASE("external convection: radiation as a coefficient is the law of the fourth powers") {
  // ε 0.9, 373.15 K to 298.15 K: 0.9 · 5.670374e-8 · (373.15⁴ − 298.15⁴) = 586.2 W/m².
  const double coefficient = radiation_coefficient(0.9, 373.15, 298.15);
  CHECK(coefficient * 75.0 == Approx(0.9 * 5.670374419e-8 * (std::pow(373.15, 4) - std::pow(298.15, 4))).epsilon(1e-12));
  CHECK(coefficient * 75.0 == Approx(586.2).epsilon(1e-3));
  CHECK(radiation_coefficient(1.0, 300.0, 300.0) == Approx(4.0 * 5.670374419e-8 * 2.7e7));
}

TEST_CASE("external convection: a black hose in still air loses about half its heat by radiation") {
  // 20 mm, 80 K above air of 300 K, film 340 K: k 0.0292, ν 2.0e-5, α 2.8e-5 (air, rounded).
  const double natural = cylinder_natural_nusselt(rayleigh_number(1.0 / 340.0, 80.0, 0.02, 2.0e-5, 2.8e-5), 0.71) * 0.0292 / 0.02;
  const double glow = radiation_coefficient(0.9, 380.0, 300.0);
  CHECK(glow / (glow + natural) == Approx(0.5).margin(0.1));
}

TEST_CASE("external convection: slopes against differences, and finite at rest") {
  for (double x = 1e-3; x < 1e7; x *= 2.7) {
    INFO("x " << x);
    for (const double pr : {0.7, 7.0}) {
      CHECK(slope_check::error([&](auto r) { return cylinder_cross_flow_nusselt(r, pr); }, x) < 2e-5);
      CHECK(slope_check::error([&](auto p) { return cylinder_cross_flow_nusselt(x, p); }, pr) < 2e-5);
      CHECK(slope_check::error([&](auto r) { return cylinder_natural_nusselt(r, pr); }, x) < 2e-5);
      CHECK(slope_check::error([&](auto p) { return cylinder_natural_nusselt(x, p); }, pr) < 2e-5);
      CHECK(slope_check::error([&](auto r) { return wall_natural_nusselt(r, pr); }, x) < 2e-5);
      CHECK(slope_check::error([&](auto r) { return wall_forced_nusselt(r, pr); }, x) < 2e-5);
      CHECK(slope_check::error([&](auto p) { return wall_forced_nusselt(x, p); }, pr) < 2e-5);
    }
    CHECK(slope_check::error([&](auto f) { return mixed_nusselt(f, 3.0); }, x) < 2e-5);
    CHECK(slope_check::error([&](auto f) { return mixed_nusselt(3.0, f); }, x) < 2e-5);
    CHECK(slope_check::error([&](auto d) { return rayleigh_number(0.003, d, 0.02, 1.6e-5, 2.3e-5); }, x) < 2e-5);
  }
  CHECK(slope_check::error([](auto t) { return radiation_coefficient(0.9, t, 300.0); }, 380.0) < 2e-5);
  CHECK(slope_check::finite_at([](auto r) { return cylinder_cross_flow_nusselt(r, 0.7); }, 0.0));
  CHECK(slope_check::finite_at([](auto r) { return cylinder_natural_nusselt(r, 0.7); }, 0.0));
  CHECK(slope_check::finite_at([](auto r) { return wall_natural_nusselt(r, 0.7); }, 0.0));
  CHECK(slope_check::finite_at([](auto r) { return wall_forced_nusselt(r, 0.7); }, 0.0));
}

TEST_CASE("external convection: wind along a wall is the published sum of its laminar and turbulent share") {
  // Turbulent share: 0.037 Re^0.8 Pr / (1 + 2.443 Re^-0.1 (Pr^(2/3) - 1)), literals from the general library `ht` 1.2.0
  // (Nu_horizontal_plate_turbulent_Schlichting, Pr 0.7). The eased form may part from it by 0.05 %.
  for (const auto& [re, turbulent] : {std::pair{3e5, 730.7748375698817}, std::pair{1e6, 1878.076721054092}, std::pair{1e7, 11496.952599969829}}) {
    const double laminar = 0.664 * std::sqrt(re) * std::cbrt(0.7);
    CHECK(wall_forced_nusselt(re, 0.7) == Approx(std::hypot(laminar, turbulent)).epsilon(5e-4));
  }
  // Water, Pr 8: 8^(2/3) = 4; Re 1e5: 0.037 * 1e4 * 8 / (1 + 2.443 * 0.316228 * 3) = 892.36, and 0.664 * 316.228 * 2 = 419.95.
  CHECK(wall_forced_nusselt(1e5, 8.0) == Approx(std::hypot(892.36, 419.95)).epsilon(1.5e-3));
}

TEST_CASE("external convection: how far the easing near rest goes, by hand") {
  // Re/(Re² + 0.02²)^¼ at Re 0.02 is √0.02/2^¼; (Ra² + 0.001²)^(1/12) at rest is 0.001^⅙.
  const double prandtl = 0.7, by_prandtl = std::cbrt(prandtl) / std::pow(1.0 + std::pow(0.4 / prandtl, 2.0 / 3.0), 0.25);
  CHECK(cylinder_cross_flow_nusselt(0.02, prandtl) - 0.3 == Approx(0.62 * std::sqrt(0.02) / std::pow(2.0, 0.25) * by_prandtl).epsilon(1e-4));
  CHECK(cylinder_natural_nusselt(0.0, prandtl) == Approx(churchill_chu(0.60, 0.559, 1e-3, prandtl)).epsilon(1e-12));
  CHECK(wall_natural_nusselt(0.0, prandtl) == Approx(churchill_chu(0.825, 0.492, 1e-3, prandtl)).epsilon(1e-12));
}

#include "../catch_shim.hpp"
#include "junction_loss.hpp"

#include <functional>
#include <random>

using flarenut::Dual;
using namespace flarenut::correlations;

namespace {

constexpr double degree = std::numbers::pi / 180.0;

/// Power lost per unit density: sum over legs of flow in times total pressure over density, P(run1) = 0.
double power_lost(const JunctionShape& shape, double q1, double q2, double viscosity) {
  const auto drop = junction_drops(shape, q1, q2, viscosity);
  return -(q2 * drop.run1_to_run2 - (q1 + q2) * drop.run1_to_branch);
}

/// Flow pattern by an angle: six sectors of 60 degrees are the six patterns, borders at 30 + 60 n degrees.
std::array<double, 2> flows_at(double angle) {
  return {std::cos(angle), -0.5 * std::cos(angle) + std::sqrt(0.75) * std::sin(angle)};
}

double scale_of(const JunctionShape& shape, double q1, double q2) {
  double scale = 0.0;
  const double flow[3]{q1, q2, -(q1 + q2)};
  for (std::size_t leg = 0; leg < 3; ++leg) scale = std::max(scale, std::abs(flow[leg]) / shape.area[leg]);
  return 0.5 * scale * scale;
}

}  // namespace

TEST_CASE("junction: no free energy in any pattern, split, bore or angle") {
  for (const double run2 : {0.1, 0.3, 0.7, 0.95, 1.0, 1.05, 1.5, 4.0}) {
    for (const double branch : {0.04, 0.1, 0.3, 0.6, 1.0, 1.5, 4.0}) {
      for (double angle = 20.0; angle <= 160.0; angle += 10.0) {
        const auto shape = tee_shape(1.0, run2, branch, angle * degree);
        for (int i = 0; i < 720; ++i) {
          const auto [q1, q2] = flows_at(i * 0.5 * degree + 1e-5);
          REQUIRE(power_lost(shape, q1, q2, 0.0) >= -1e-14 * scale_of(shape, q1, q2));
        }
      }
    }
  }
}

TEST_CASE("junction: pressures join where a leg stands still; slopes join too when the runs have one bore") {
  for (const double run2 : {1.0, 0.5, 1.4}) {
    for (const double branch : {0.1, 0.3, 1.0, 2.0}) {
      for (const double angle : {30.0, 60.0, 90.0, 135.0}) {
        const auto shape = tee_shape(1.0, run2, branch, angle * degree);
        for (int border = 0; border < 6; ++border) {
          INFO("run2 " << run2 << " branch " << branch << " angle " << angle << " border " << border);
          const auto at = [&](double offset) {
            const auto [q1, q2] = flows_at((30.0 + 60.0 * border) * degree + offset);
            return junction_drops(shape, Dual<2>(q1, 0), Dual<2>(q2, 1), 0.0);
          };
          const auto below = at(-1e-9);
          const auto above = at(1e-9);
          const double scale = std::max({1.0, 1.0 / (run2 * run2), 1.0 / (branch * branch)});
          const double allowed = run2 == 1.0 ? 1e-7 : 0.12;  // unequal runs keep a small kink, see the theory page
          for (const auto& [a, b] : {std::pair{below.run1_to_run2, above.run1_to_run2},
                                     std::pair{below.run1_to_branch, above.run1_to_branch}}) {
            CHECK(std::abs(a.value - b.value) < 1e-7 * scale);
            for (std::size_t k = 0; k < 2; ++k) CHECK(std::abs(a.slope[k] - b.slope[k]) < allowed * scale);
          }
        }
      }
    }
  }
}

TEST_CASE("junction: slopes against differences around the whole circle of patterns") {
  for (const double branch : {0.3, 1.0}) {
    for (const double angle : {45.0, 90.0}) {
      const auto shape = tee_shape(1.0, 1.0, branch, angle * degree);
      for (int i = 0; i < 360; ++i) {
        const auto [q1, q2] = flows_at(i * degree + 1e-3);
        const auto dual = junction_drops(shape, Dual<2>(q1, 0), Dual<2>(q2, 1), 1e-3);
        const double h = 1e-5;
        const auto difference = [&](auto member, double h1, double h2) {
          return (std::invoke(member, junction_drops(shape, q1 + h1, q2 + h2, 1e-3)) -
                  std::invoke(member, junction_drops(shape, q1 - h1, q2 - h2, 1e-3))) / (2.0 * (h1 + h2));
        };
        const double scale = 1.0 / (branch * branch);
        using Plain = JunctionDrops<double>;
        CHECK(std::abs(dual.run1_to_run2.slope[0] - difference(&Plain::run1_to_run2, h, 0.0)) < 1e-6 * scale);
        CHECK(std::abs(dual.run1_to_run2.slope[1] - difference(&Plain::run1_to_run2, 0.0, h)) < 1e-6 * scale);
        CHECK(std::abs(dual.run1_to_branch.slope[0] - difference(&Plain::run1_to_branch, h, 0.0)) < 1e-6 * scale);
        CHECK(std::abs(dual.run1_to_branch.slope[1] - difference(&Plain::run1_to_branch, 0.0, h)) < 1e-6 * scale);
      }
    }
  }
}

TEST_CASE("junction: at rest finite, with the viscous slope of a threaded tee") {
  const double bore = 0.01;
  const double area = 0.25 * std::numbers::pi * bore * bore;
  const double nu = 1e-4;
  const auto shape = tee_shape(area, area, area, 90.0 * degree);
  const auto rest = junction_drops(shape, Dual<2>(0.0, 0), Dual<2>(0.0, 1), nu);
  CHECK(rest.run1_to_run2.value == 0.0);
  CHECK(rest.run1_to_branch.value == 0.0);
  // Straight through, q1 = -q2: K1 = 200 (R. Darby, three-K, tee run-through threaded), round the corner 800.
  const double straight = rest.run1_to_run2.slope[0] - rest.run1_to_run2.slope[1];
  CHECK(straight == Approx(0.5 * 200.0 * nu / (bore * area)).epsilon(1e-12));
  const double corner = rest.run1_to_branch.slope[0];
  CHECK(corner == Approx(0.5 * 800.0 * nu / (bore * area)).epsilon(1e-12));
  // One leg exactly still while the others flow: the everyday case of a plugged port.
  for (const auto& [q1, q2] : {std::pair{1e-4, -1e-4}, std::pair{1e-4, 0.0}, std::pair{0.0, 1e-4}, std::pair{0.0, -1e-4}}) {
    const auto drop = junction_drops(shape, Dual<2>(q1, 0), Dual<2>(q2, 1), 0.0);
    for (std::size_t k = 0; k < 2; ++k) {
      CHECK(std::isfinite(drop.run1_to_run2.slope[k]));
      CHECK(std::isfinite(drop.run1_to_branch.slope[k]));
    }
  }
}

TEST_CASE("junction: limits that need no experiment") {
  const auto tee = tee_shape(1.0, 1.0, 1.0, 90.0 * degree);
  // A still side branch reads the static pressure of the passing stream, both as inlet and as outlet.
  CHECK(dividing(tee, 0.0).branch == Approx(1.0));
  CHECK(combining(tee, 0.0).branch == Approx(-1.0));
  CHECK(dividing(tee, 0.0).run == Approx(0.0).margin(1e-12));
  // Straight through unequal bores is Borda-Carnot.
  const auto step = tee_shape(1.0, 2.0, 1.0, 90.0 * degree);
  CHECK(junction_drops(step, 1.0, -1.0, 0.0).run1_to_run2 == Approx(0.5 * 0.25));
  // A symmetric tee cannot tell its runs apart.
  const auto d = junction_drops(tee, 0.3, 0.7, 1e-3);
  const auto mirrored = junction_drops(tee, 0.7, 0.3, 1e-3);
  CHECK(mirrored.run1_to_run2 == Approx(-d.run1_to_run2));
  CHECK(mirrored.run1_to_branch == Approx(d.run1_to_branch - d.run1_to_run2));
  // Losses scale with the square of the flow.
  CHECK(junction_drops(tee, 3.0, -1.5, 0.0).run1_to_branch == Approx(9.0 * junction_drops(tee, 1.0, -0.5, 0.0).run1_to_branch));
}

TEST_CASE("junction: a wye used the wrong way round costs more") {
  const auto wye = tee_shape(1.0, 1.0, 1.0, 45.0 * degree);
  for (const double q : {0.25, 0.5, 0.75, 1.0}) {
    const auto easy = junction_drops(wye, 1.0, -(1.0 - q), 0.0).run1_to_branch;
    const auto against = junction_drops(wye, -(1.0 - q), 1.0, 0.0);
    CHECK(against.run1_to_branch - against.run1_to_run2 > easy);
  }
}

TEST_CASE("junction: drops go with the square of the flow in every pattern, and with nothing else") {
  for (const double branch : {0.3, 1.0}) {
    const auto shape = tee_shape(1.0, 1.0, branch, 90.0 * degree), small = tee_shape(1e-4, 1e-4, 1e-4 * branch, 90.0 * degree);
    for (int i = 0; i < 360; ++i) {
      const auto [q1, q2] = flows_at(i * degree + 1e-3);
      const auto one = junction_drops(shape, q1, q2, 0.0), other = junction_drops(small, 5e-4 * q1, 5e-4 * q2, 0.0);
      CHECK(other.run1_to_run2 == Approx(25.0 * one.run1_to_run2).epsilon(1e-9).margin(1e-12));
      CHECK(other.run1_to_branch == Approx(25.0 * one.run1_to_branch).epsilon(1e-9).margin(1e-12));
    }
  }
  // A leg counts as awake from a fifth on, half of it at a tenth: its share of the flow and of the velocity together.
  CHECK(detail::awake(0.06, 0.04) == Approx(0.5).epsilon(1e-12));
  CHECK(detail::awake(0.11, 0.10) == 1.0);
}

#include "../catch_shim.hpp"
#include "../csv.hpp"
#include "flarenut/correlations/curved_tube.hpp"
#include "slope_check.hpp"

using flarenut::Dual;
using namespace flarenut::correlations;

TEST_CASE("curved tube: every row of the correlations implemented; the rest is named") {
  int white = 0;
  int ito_friction = 0;
  int ito_critical = 0;
  int exceptions = 0;
  for (const auto& row : csv::read("hydraulics/friction_curved_tube.csv")) {
    INFO(row.place());
    const std::string correlation = row.text("correlation");
    const double curvature = row.number("tube_d_over_coil_D");
    const double re = row.number("Re");
    if (correlation == "White 1929") {
      const double ratio = curved_laminar_ratio(re * std::sqrt(curvature));
      CHECK(ratio == Approx(row.number("ratio_to_straight")).epsilon(1e-4));
      CHECK(curved_friction_times_reynolds(re, 0.0, curvature) / re == Approx(row.number("darcy_f_curved")).epsilon(1e-4));
      ++white;
    } else if (correlation.rfind("Ito 1959", 0) == 0 && row.text("regime") == "turbulent") {
      CHECK(ito_turbulent_friction_factor(re, curvature) == Approx(row.number("darcy_f_curved")).epsilon(1e-4));
      CHECK(curved_turbulent_ratio(re * curvature * curvature) == Approx(row.number("ratio_to_straight")).epsilon(1e-4));
      // Our law keeps Colebrook-White underneath instead of Blasius: that, and nothing else, moves it by up to 1.3 %.
      const double ours = curved_friction_times_reynolds(re, 0.0, curvature) / re;
      const double straight = colebrook_white(re, 0.0) / (0.3164 * std::pow(re, -0.25));
      CHECK(ours == Approx(row.number("darcy_f_curved") * straight).epsilon(1e-4));
      CHECK(ours == Approx(row.number("darcy_f_curved")).epsilon(0.013));
      ++ito_friction;
    } else if (row.text("regime") == "critical Re") {
      CHECK(curved_critical_reynolds(curvature) == Approx(re).epsilon(1e-5));
      ++ito_critical;
    } else {
      // Mori and Nakayama 1965 is another laminar correlation, not implemented; it contradicts White below De 100.
      CHECK(correlation == "Mori-Nakayama 1965");
      ++exceptions;
    }
  }
  CHECK(white == 9);
  CHECK(ito_friction == 6);
  CHECK(ito_critical == 3);
  CHECK(exceptions == 12);
}

TEST_CASE("curved tube: without curvature it is the straight tube, exactly") {
  for (const double re : {0.0, 500.0, 2500.0, 3900.0, 1e5}) {
    CHECK(curved_friction_times_reynolds(re, 1e-3, 0.0) == friction_times_reynolds(re, 1e-3));
    CHECK(curved_friction_times_reynolds(re, 1e-3, 1e-9) == Approx(friction_times_reynolds(re, 1e-3)).epsilon(1e-9));
  }
}

TEST_CASE("curved tube: pressure rises strictly with flow, and never costs less than straight laminar flow") {
  for (const double curvature : {1e-4, 1e-3, 0.01, 0.03, 0.067, 0.1}) {
    for (const double rr : {0.0, 1e-3, 0.02}) {
      double last = -1.0;
      for (double re = 0.0; re < 1e6; re = re < 1.0 ? re + 0.1 : re * 1.005) {
        const double f_re = curved_friction_times_reynolds(re, rr, curvature);
        REQUIRE(f_re >= 64.0);
        REQUIRE(f_re * re > last);
        last = f_re * re;
      }
    }
  }
}

TEST_CASE("curved tube: slopes against differences over laminar, transition and turbulent flow") {
  for (double re = 20.0; re < 1e6; re *= 1.23) {
    for (const double curvature : {1e-3, 0.01, 0.05}) {
      INFO("Re " << re << " d/D " << curvature);
      const auto in_reynolds = [&](auto r) { return curved_friction_times_reynolds(r, 1e-4, curvature); };
      const auto in_curvature = [&](auto c) { return curved_friction_times_reynolds(re, 1e-4, c); };
      CHECK(slope_check::error(in_reynolds, re) < 2e-5);
      CHECK(slope_check::error(in_curvature, curvature) < 2e-5);
    }
  }
  for (const double re : {0.0, 11.6 / std::sqrt(0.02), 2000.0, 1e7}) {
    CHECK(slope_check::finite_at([](auto r) { return curved_friction_times_reynolds(r, 1e-4, 0.02); }, re));
  }
}

TEST_CASE("bend: Rennels and Hudson 2012 against a second implementation") {
  // Literals from the general correlation library `fluids` 1.3.1, bend_rounded(Di=4.02, rc=20, angle=30, Re=1e5), its
  // documented example, smooth bore.
  const double re = 1e5;
  const double f_re = friction_times_reynolds(re, 0.0);
  const BendShape bend = bend_shape(std::numbers::pi / 6.0, 20.0 / 4.02);
  CHECK(bend_loss_times_reynolds(re, f_re, bend) / re == Approx(0.11519070808085191).epsilon(2e-5));
}

TEST_CASE("bend: Miller's worked example 9.12 within 5 %") {
  // D. S. Miller, Internal Flow Systems, 1990: 90 degrees, r/D = 2, K = 0.15 read from charts. Another method than the
  // one implemented, hence 5 % and not 2 %.
  int rows = 0;
  for (const auto& row : csv::read("hydraulics/local_losses_examples.csv")) {
    if (row.text("case_id") != "LL10") continue;
    const double bore = row.input("inputs_SI", "D");
    const double re = row.input("inputs_SI", "V") * bore / row.input("inputs_SI", "nu");
    const double f_re = friction_times_reynolds(re, row.input("inputs_SI", "eps") / bore);
    const BendShape bend = bend_shape(0.5 * std::numbers::pi, row.input("inputs_SI", "r/D"));
    CHECK(bend_loss_times_reynolds(re, f_re, bend) / re == Approx(row.number("published_value_SI")).epsilon(0.05));
    ++rows;
  }
  CHECK(rows == 1);
}

TEST_CASE("bend: excess and own length add up, and at rest the slope is laminar") {
  const BendShape bend = bend_shape(0.5 * std::numbers::pi, 2.0);
  for (const double re : {0.0, 100.0, 1e5}) {
    const double f_re = friction_times_reynolds(re, 1e-4);
    CHECK(bend_loss_times_reynolds(re, f_re, bend) ==
          Approx(bend_excess_times_reynolds(re, f_re, bend) + std::numbers::pi * f_re));
  }
  // 90 degree elbows: K1 = 500 to 800 in the two-K and three-K tables (Hooper 1981, Darby 2001).
  const double at_rest = bend_loss_times_reynolds(0.0, 64.0, bend);
  CHECK(at_rest > 400.0);
  CHECK(at_rest < 800.0);
}

TEST_CASE("curved tube: the corner of the turbulent ratio is eased over the first 2 % of excess, and no further") {
  // Ito against Blasius: 0.304/0.3164 + 0.029/0.3164 x^(1/4). x of an excess by hand; half way smooth_step is 1/2.
  const auto x_of = [](double excess) { return std::pow((excess + 1.0 - 0.304 / 0.3164) * 0.3164 / 0.029, 4.0); };
  CHECK(curved_turbulent_ratio(x_of(0.01)) == Approx(1.005).epsilon(1e-12));
  CHECK(curved_turbulent_ratio(x_of(0.02)) == Approx(1.02).epsilon(1e-12));
  CHECK(curved_turbulent_ratio(x_of(0.0)) == Approx(1.0).epsilon(1e-12));
  CHECK(curved_turbulent_ratio(x_of(-0.01)) == 1.0);
}

TEST_CASE("curved tube: the slope in curvature is finite, and nothing, where the tube is straight") {
  for (const double re : {500.0, 3000.0, 5e4}) {
    const auto straight = curved_friction_times_reynolds(re, 1e-3, Dual<1>(0.0, 0));
    CHECK(straight.value == friction_times_reynolds(re, 1e-3));
    CHECK(straight.slope[0] == 0.0);
  }
}

TEST_CASE("bend: more shapes by a second implementation") {
  // `fluids` 1.3.1, bend_rounded(Di=0.02, angle, fd, bend_diameters, method="Rennels").
  constexpr double degree = std::numbers::pi / 180.0;
  const double re = 1e5;
  CHECK(bend_loss_times_reynolds(re, 0.02 * re, bend_shape(90.0 * degree, 2.0)) / re == Approx(0.21856776216993354).epsilon(1e-12));
  CHECK(bend_loss_times_reynolds(re, 0.03 * re, bend_shape(45.0 * degree, 1.5)) / re == Approx(0.23333574494145673).epsilon(1e-12));
  CHECK(bend_loss_times_reynolds(re, 0.025 * re, bend_shape(180.0 * degree, 1.0)) / re == Approx(0.5685398163397448).epsilon(1e-12));
}

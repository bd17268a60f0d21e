#include "../catch_shim.hpp"
#include "../csv.hpp"
#include "flarenut/correlations/size_step.hpp"
#include "slope_check.hpp"

#include <set>

using flarenut::Dual;
using namespace flarenut::correlations;

TEST_CASE("local losses: every worked example, by the correlation that covers it") {
  // Not checked here: LL07, LL09 take K as given, only arithmetic is left; LL10 and LL12 are checked with the bend and
  // the junction.
  const std::set<std::string> elsewhere{"LL07", "LL09", "LL10", "LL12"};
  std::set<std::string> seen_elsewhere;
  int rows = 0;
  int checked = 0;
  for (const auto& row : csv::read("hydraulics/local_losses_examples.csv")) {
    ++rows;
    INFO(row.place());
    const std::string id = row.text("case_id");
    const auto in = [&](const std::string& name) { return row.input("inputs_SI", name); };
    if (id == "LL01") {  // K. Subramanya, 1000 Solved Problems in Fluid Mechanics, example 11.1
      const double pi = std::numbers::pi;
      const double v1 = in("Q") / (0.25 * pi * in("D1") * in("D1"));
      const double v2 = in("Q") / (0.25 * pi * in("D2") * in("D2"));
      const double loss = sudden_expansion_loss(in("D1") / in("D2")) * v1 * v1 / (2.0 * in("g"));
      if (row.text("result_name") == "head loss (V1-V2)^2/2g") {
        CHECK(loss == Approx(row.number("recomputed_SI")).epsilon(1e-5));
      } else {
        const double p2 = in("p1") + in("gamma") * ((v1 * v1 - v2 * v2) / (2.0 * in("g")) - loss);
        CHECK(p2 == Approx(row.number("published_value_SI")).epsilon(0.002));
      }
      ++checked;
    } else if (id == "LL04") {
      // M. K. Natarajan, example 7.12: contraction coefficient 0.65 given, so K = (1/Cc - 1)^2 = 0.29 instead of our
      // 0.375 at this ratio. The flow follows from pressures: with our K it comes out within 4 %; the loss within the
      // ratio of the two K. The published K itself is outside our formula: listed exception, bounded.
      const double beta = in("D2") / in("D1");
      const double k = sudden_contraction_loss(beta);
      const double area = 0.25 * std::numbers::pi * in("D2") * in("D2");
      const double v2 = std::sqrt(2.0 * (in("p1") - in("p2")) / in("rho") / (1.0 - std::pow(beta, 4) + k));
      if (row.text("result_name") == "flow") {
        CHECK(area * v2 == Approx(row.number("published_value_SI")).epsilon(0.04));
      } else {
        const double borda = std::pow(1.0 / in("Cc") - 1.0, 2);
        CHECK(k * v2 * v2 / (2.0 * in("g")) == Approx(row.number("published_value_SI") * k / borda).epsilon(0.08));
      }
      ++checked;
    } else if (id == "LL05") {
      // Y. A. Cengel, example 8-6: K = 0.133 read for a 20 degree cone, 6 to 9 cm (edition differs: the angle is not among
      // the inputs). The Gibson form gives 0.139 at 20 degrees, 5 % more.
      const double k = gradual_expansion_loss(in("D1") / in("D2"), std::numbers::pi / 9.0);
      CHECK(k == Approx(in("K")).epsilon(0.06));
      const double v1 = in("V1");
      const double head = k * v1 * v1 / (2.0 * in("g"));
      if (row.text("result_name") == "head loss") {
        CHECK(head == Approx(row.number("published_value_SI")).epsilon(0.06));
      } else {
        const double v2 = v1 * std::pow(in("D1") / in("D2"), 2);
        const double p2 = in("p1") + in("rho") * (in("alpha (both ends)") * 0.5 * (v1 * v1 - v2 * v2) - in("g") * head);
        CHECK(p2 == Approx(row.number("published_value_SI")).epsilon(0.02));
      }
      ++checked;
    } else {
      seen_elsewhere.insert(id);
    }
  }
  CHECK(rows == 14);
  CHECK(checked == 6);
  CHECK(seen_elsewhere == elsewhere);
}

TEST_CASE("size steps: a cone of just over 45 degrees costs what a sudden step does") {
  constexpr double degree = std::numbers::pi / 180.0;
  // A. H. Gibson's 2.6 sin(angle / 2) is given up to 45 degrees, where it is 0.995 (common practice, no source).
  CHECK(expanding_cone_factor(44.9 * degree) == Approx(0.9929).epsilon(1e-4));
  CHECK(expanding_cone_factor(45.1 * degree) == 1.0);
}

TEST_CASE("size steps: cones become sudden steps and vanish where they should") {
  const double degree = std::numbers::pi / 180.0;
  CHECK(gradual_expansion_loss(0.5, 180.0 * degree) == sudden_expansion_loss(0.5));
  CHECK(gradual_expansion_loss(0.5, 60.0 * degree) == sudden_expansion_loss(0.5));
  CHECK(gradual_contraction_loss(0.5, 180.0 * degree) == Approx(sudden_contraction_loss(0.5)).epsilon(1e-12));
  CHECK(gradual_expansion_loss(1.0, 20.0 * degree) == 0.0);
  CHECK(gradual_contraction_loss(1.0, 20.0 * degree) == 0.0);
  double last_up = 0.0;
  double last_down = 0.0;
  for (double angle = 1.0; angle <= 180.0; angle += 0.5) {
    const double up = gradual_expansion_loss(0.5, angle * degree);
    const double down = gradual_contraction_loss(0.5, angle * degree);
    CHECK(up >= last_up);
    CHECK(up - last_up < 0.02);
    CHECK(down >= last_down);
    CHECK(down - last_down < 0.02);
    last_up = up;
    last_down = down;
  }
}

TEST_CASE("size steps: Crane TP 410 contraction, documented value of a second implementation") {
  // `fluids` 1.3.1, contraction_conical_Crane(Di1=0.0779, Di2=0.0525, l=0), documented example.
  CHECK(sudden_contraction_loss(0.0525 / 0.0779) == Approx(0.2729017979998056).epsilon(1e-10));
}

TEST_CASE("size steps: rounded entrance falls from the sharp value to 0.04 and stays") {
  double last = 0.5;
  for (double r = 0.0; r < 0.3; r += 0.001) {
    const double k = rounded_entrance_loss(r);
    CHECK(k <= last);
    last = k;
  }
  CHECK(last == 0.04);
  CHECK(projecting_entrance_loss > sharp_entrance_loss);
}

TEST_CASE("size steps: the creeping end correction is half of the hole's") {
  // Dagan, Weinbaum and Pfeffer 1982: tube of length L in a wall, dp = (mu Q/R^3)(3 + 8L/(pi R)); its two ends are the
  // hole of Sampson 1891, dp = 3 mu Q/R^3. With Q = pi R^2 V one end is K Re = 6 pi.
  CHECK(expansion_times_reynolds(0.0, 1.0, 0.0) == Approx(6.0 * std::numbers::pi));
  CHECK(expansion_times_reynolds(0.0, 1.0, 1.0) == 0.0);
  CHECK(contraction_times_reynolds(0.0, 0.5, 0.0) == 160.0);
}

TEST_CASE("size steps: slopes against differences") {
  for (double re = 1.0; re < 1e6; re *= 5.0) {
    for (const double beta : {0.2, 0.5, 0.9}) {
      CHECK(slope_check::error([&](auto r) { return expansion_times_reynolds(r, sudden_expansion_loss(beta), beta); }, re) < 1e-7);
      CHECK(slope_check::error([&](auto b) { return expansion_times_reynolds(re, sudden_expansion_loss(b), b); }, beta) < 1e-6);
      CHECK(slope_check::error([&](auto b) { return contraction_times_reynolds(re, sudden_contraction_loss(b), b); }, beta) < 1e-6);
    }
  }
  CHECK(slope_check::finite_at([](auto r) { return contraction_times_reynolds(r, 0.5, 0.0); }, 0.0));
}

TEST_CASE("size steps: cones and edges by a second implementation and by the table") {
  // `fluids` 1.3.1: contraction_conical_Crane(Di1=0.05, Di2=0.03, angle) and diffuser_conical(Di1=0.03, Di2=0.05, method="Crane").
  constexpr double degree = std::numbers::pi / 180.0;
  CHECK(gradual_contraction_loss(0.6, 30.0 * degree) == Approx(0.13251535109249063).epsilon(1e-12));
  CHECK(gradual_contraction_loss(0.6, 90.0 * degree) == Approx(0.26908685288118867).epsilon(1e-12));
  CHECK(gradual_expansion_loss(0.6, 30.0 * degree) == Approx(0.2756319302723805).epsilon(1e-12));
  // Crane TP 410, page A-29: inward projecting 0.78; r/d 0.02 to 0.15. Straight lines between are ours.
  CHECK(projecting_entrance_loss == 0.78);
  for (const auto& [radius, loss] : {std::pair{0.02, 0.28}, std::pair{0.04, 0.24}, std::pair{0.06, 0.15}, std::pair{0.10, 0.09}, std::pair{0.15, 0.04}})
    CHECK(rounded_entrance_loss(radius) == Approx(loss).epsilon(1e-12));
  CHECK(rounded_entrance_loss(0.05) == Approx(0.195).epsilon(1e-12));
  CHECK(rounded_entrance_loss(0.09) == Approx(0.105).epsilon(1e-12));
  CHECK(rounded_entrance_loss(0.3) == 0.04);
  CHECK(rounded_entrance_loss(0.7) == 0.04);
}

TEST_CASE("size steps: viscous and turbulent share by hand") {
  // beta 0.5: 1 - beta^4 = 15/16. 160 * 15/16 + 0.375 * 1000 and 6 pi * 15/16 + 0.5625 * 1000.
  CHECK(contraction_times_reynolds(1000.0, sudden_contraction_loss(0.5), 0.5) == Approx(525.0).epsilon(1e-12));
  CHECK(expansion_times_reynolds(1000.0, sudden_expansion_loss(0.5), 0.5) == Approx(580.1714587).epsilon(1e-9));
}

#include "../catch_shim.hpp"
#include "../csv.hpp"
#include "flarenut/correlations/internal_convection.hpp"
#include "slope_check.hpp"

using flarenut::Dual;
using namespace flarenut::correlations;

namespace {
double law(double re, double pr, double bore_over_length = 0.01) { return tube_nusselt(re, pr, bore_over_length, 1.0); }
}  // namespace

TEST_CASE("internal convection: every row of the published forms") {
  int rows = 0;
  for (const auto& row : csv::read("hydraulics/internal_convection_values.csv")) {
    INFO(row.place());
    const std::string name = row.text("correlation");
    const double re = row.number("Re"), pr = row.number("Pr"), nu = row.number("Nu");
    const double graetz = row.empty("L_over_D") ? 0.0 : re * pr / row.number("L_over_D");
    double ours = 0.0;
    if (name == "Gnielinski, smooth, Petukhov f") {
      ours = gnielinski_nusselt(re, pr, petukhov_friction_factor(re));
      if (re >= 4000.0) CHECK(tube_nusselt(re, pr, 0.0, 1.0) == Approx(nu).epsilon(1e-5));  // the law, far from the inlet
    } else if (name == "Dittus-Boelter heating n=0.4") {
      ours = dittus_boelter_nusselt(re, pr, true);
    } else if (name == "Sieder-Tate turbulent, mu/mu_w=1.5") {
      ours = sieder_tate_turbulent_nusselt(re, pr, 1.5);
    } else if (name == "Hausen laminar, constant wall temperature") {
      // The rows have Nu∞ rounded to 3.66.
      ours = hausen_nusselt(graetz, 3.66);
      CHECK(law(re, pr, 1.0 / row.number("L_over_D")) == Approx(nu).epsilon(5e-4));
    } else if (name == "Sieder-Tate laminar, mu/mu_w=1") {
      ours = sieder_tate_laminar_nusselt(graetz, 1.0);
    }
    CHECK(ours == Approx(nu).margin(6e-5));  // four decimals
    ++rows;
  }
  CHECK(rows == 40);
}

TEST_CASE("internal convection: developed laminar flow") {
  CHECK(law(0.0, 100.0) == laminar_nusselt_constant_wall);
  CHECK(laminar_nusselt_constant_flux == Approx(4.364).epsilon(1e-4));
  // Shah and London 1978, rounded as textbooks print them (Incropera table 8.1): square, 2:1, 4:1, plates.
  CHECK(rectangle_nusselt_constant_wall(1.0) == Approx(2.98).epsilon(0.003));
  CHECK(rectangle_nusselt_constant_wall(0.5) == Approx(3.39).epsilon(0.003));
  CHECK(rectangle_nusselt_constant_wall(0.25) == Approx(4.44).epsilon(0.003));
  CHECK(rectangle_nusselt_constant_wall(0.0) == Approx(7.54).epsilon(0.003));
  CHECK(rectangle_nusselt_constant_flux(1.0) == Approx(3.61).epsilon(0.003));
  CHECK(rectangle_nusselt_constant_flux(0.5) == Approx(4.12).epsilon(0.003));
  CHECK(rectangle_nusselt_constant_flux(0.25) == Approx(5.33).epsilon(0.003));
  CHECK(rectangle_nusselt_constant_flux(0.0) == Approx(8.23).epsilon(0.003));
}

TEST_CASE("internal convection: hydraulic diameters") {
  CHECK(rectangle_hydraulic_diameter(4.0, 4.0) == Approx(4.0));
  CHECK(rectangle_hydraulic_diameter(1e6, 2.0) == Approx(4.0).epsilon(1e-5));  // between plates: twice the gap
  CHECK(flat_tube_hydraulic_diameter(5.0, 5.0) == Approx(5.0));                // all round
  // 20 by 2: area 18·2 + π = 39.142, edge 36 + 2π = 42.283; 4 A/P = 3.7028.
  CHECK(flat_tube_hydraulic_diameter(20.0, 2.0) == Approx(3.7028).epsilon(1e-4));
}

TEST_CASE("internal convection: the extension of Hausen to flat passages stays within 16 % of the flat-plate form") {
  // 7.54 + 0.03 Gz/(1 + 0.016 Gz^(2/3)) (Edwards, Denny and Mills; from memory).
  double worst = 0.0;
  for (double graetz = 0.1; graetz < 1e4; graetz *= 1.5) {
    const double plates = 7.54 + 0.03 * graetz / (1.0 + 0.016 * std::pow(graetz, 2.0 / 3.0));
    worst = std::max(worst, std::abs(hausen_nusselt(graetz, 7.541) / plates - 1.0));
  }
  CHECK(worst < 0.16);
  CHECK(worst > 0.15);
}

TEST_CASE("internal convection: laminar and turbulent ends are the published laws exactly, and Nu rises between") {
  for (const double pr : {0.7, 5.0, 100.0, 1000.0}) {
    CHECK(law(2300.0, pr) == hausen_nusselt(2300.0 * pr * 0.01));
    CHECK(law(4000.0, pr) == Approx(gnielinski_nusselt(4000.0, pr, petukhov_friction_factor(4000.0)) * (1.0 + std::pow(0.01, 2.0 / 3.0))));
    double last = 0.0;
    for (double re = 0.0; re < 5e6; re = re < 1.0 ? re + 0.1 : re * 1.003) {
      const double nu = law(re, pr);
      REQUIRE(nu > last);
      last = nu;
    }
  }
}

TEST_CASE("internal convection: between 2300 and 4000 the law stays near Gnielinski's straight line") {
  // Both are conventions; smooth_step leaves the straight line by a tenth of the gap, and each end is taken at the actual Re.
  for (const double pr : {0.7, 7.0, 100.0}) {
    const double low = law(2300.0, pr), high = law(4000.0, pr);
    for (double re = 2300.0; re <= 4000.0; re += 100.0) {
      CHECK(law(re, pr) == Approx(low + (high - low) * (re - 2300.0) / 1700.0).margin(0.20 * (high - low)));
    }
  }
}

TEST_CASE("internal convection: cold walls thicken the oil and cost heat, hot walls help") {
  // Sieder and Tate 1936: (0.25)^0.14 = 0.8236; Gnielinski's liquids: (0.25)^0.11 = 0.8586.
  CHECK(tube_nusselt(500.0, 200.0, 0.01, 0.25) / law(500.0, 200.0) == Approx(0.8236).epsilon(1e-4));
  CHECK(tube_nusselt(2e4, 200.0, 0.01, 0.25) / law(2e4, 200.0) == Approx(0.8586).epsilon(1e-4));
  CHECK(tube_nusselt(3000.0, 200.0, 0.01, 4.0) > law(3000.0, 200.0));
}

TEST_CASE("internal convection: slopes against differences over laminar, transition and turbulent flow") {
  for (double re = 0.5; re < 5e6; re *= 1.31) {
    for (const double pr : {0.7, 6.0, 400.0}) {
      INFO("Re " << re << " Pr " << pr);
      CHECK(slope_check::error([&](auto r) { return tube_nusselt(r, pr, 0.02, 0.6); }, re) < 2e-5);
      CHECK(slope_check::error([&](auto p) { return tube_nusselt(re, p, 0.02, 0.6); }, pr) < 2e-5);
      CHECK(slope_check::error([&](auto d) { return tube_nusselt(re, pr, d, 0.6); }, 0.02) < 2e-5);
      CHECK(slope_check::error([&](auto v) { return tube_nusselt(re, pr, 0.02, v); }, 0.6) < 2e-5);
    }
  }
  // Value and slope join at both ends of the blend.
  for (const double end : {laminar_convection_limit, turbulent_convection_limit}) {
    const auto below = tube_nusselt(Dual<1>(end * (1.0 - 1e-7), 0), 50.0, 0.02, 1.0);
    const auto above = tube_nusselt(Dual<1>(end * (1.0 + 1e-7), 0), 50.0, 0.02, 1.0);
    CHECK(below.slope[0] == Approx(above.slope[0]).epsilon(1e-5));
  }
  CHECK(slope_check::finite_at([](auto r) { return tube_nusselt(r, 50.0, 0.02, 1.0); }, 0.0));
  CHECK(slope_check::finite_at([](auto d) { return tube_nusselt(3000.0, 50.0, d, 1.0); }, 0.0));
  for (const double aspect : {0.1, 0.5, 0.9}) {
    CHECK(slope_check::error([](auto a) { return rectangle_nusselt_constant_wall(a); }, aspect) < 2e-5);
    CHECK(slope_check::error([](auto a) { return rectangle_nusselt_constant_flux(a); }, aspect) < 2e-5);
  }
  CHECK(slope_check::error([](auto h) { return flat_tube_hydraulic_diameter(decltype(h)(0.02), h); }, 0.002) < 2e-5);
  CHECK(slope_check::error([](auto h) { return rectangle_hydraulic_diameter(decltype(h)(0.02), h); }, 0.002) < 2e-5);
}

TEST_CASE("internal convection: how far other published turbulent forms lie from the law") {
  // Stated in docs/theory/heat_transfer.md. Re from 10⁴ to 10⁵, Pr from 0.7 to 100.
  double dittus_high = 0.0, dittus_low = 0.0, sieder_high = 0.0, sieder_low = 0.0, petukhov = 0.0;
  for (double re = 1e4; re < 1.01e5; re *= std::pow(10.0, 0.125)) {
    for (double pr = 0.7; pr < 101.0; pr *= 1.6) {
      const double ours = tube_nusselt(re, pr, 0.0, 1.0);
      const double dittus = dittus_boelter_nusselt(re, pr, true) / ours - 1.0;
      const double sieder = sieder_tate_turbulent_nusselt(re, pr, 1.0) / ours - 1.0;
      dittus_high = std::max(dittus_high, dittus), dittus_low = std::min(dittus_low, dittus);
      sieder_high = std::max(sieder_high, sieder), sieder_low = std::min(sieder_low, sieder);
      petukhov = std::max(petukhov, std::abs(petukhov_nusselt(re, pr, petukhov_friction_factor(re)) / ours - 1.0));
    }
  }
  CHECK(dittus_high == Approx(0.13).margin(0.02));
  CHECK(dittus_low == Approx(-0.18).margin(0.02));
  CHECK(sieder_high == Approx(0.34).margin(0.02));
  CHECK(sieder_low == Approx(-0.25).margin(0.02));
  CHECK(petukhov == Approx(0.11).margin(0.02));
}

TEST_CASE("internal convection: the forms for comparison, by hand") {
  // Sieder and Tate 1936: (mu/mu_wall)^0.14 in a laminar stream, from `ht` 1.2.0, laminar_entry_Seider_Tate(Re=1000, Pr=100, L=1, Di=0.01, mu/mu_w 2).
  CHECK(sieder_tate_laminar_nusselt(1000.0, 2.0) == Approx(20.495435155304957).epsilon(1e-12));
  // Petukhov 1970 at Pr 8, whose two-thirds power is 4, and f 0.02, whose eighth has the root 0.05: 2000 / (1.07 + 12.7 * 0.05 * 3).
  CHECK(petukhov_nusselt(1e5, 8.0, 0.02) == Approx(2000.0 / 2.975).epsilon(1e-12));
  // Dittus and Boelter at Re 1e5, whose 0.8th power is 1e4: a stream being cooled has Pr^0.3.
  CHECK(dittus_boelter_nusselt(1e5, 10.0, false) == Approx(230.0 * 1.9952623).epsilon(1e-6));
  CHECK(dittus_boelter_nusselt(1e5, 10.0, true) == Approx(230.0 * 2.5118864).epsilon(1e-6));
}

TEST_CASE("internal convection: half way between the laws it is the mean of both, by hand") {
  for (const double pr : {0.7, 100.0}) {
    const double slow = hausen_nusselt(3150.0 * pr * 0.01);
    const double quick = gnielinski_nusselt(3150.0, pr, petukhov_friction_factor(3150.0)) * (1.0 + std::pow(0.01, 2.0 / 3.0));
    CHECK(law(3150.0, pr) == Approx(0.5 * (slow + quick)).epsilon(1e-12));
  }
}

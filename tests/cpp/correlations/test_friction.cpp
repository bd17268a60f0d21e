#include "../catch_shim.hpp"
#include "../csv.hpp"
#include "flarenut/correlations/friction.hpp"
#include "flarenut/lanes/pack.hpp"
#include "slope_check.hpp"

#include <algorithm>
#include <map>
#include <set>

using flarenut::Dual;
using namespace flarenut::correlations;

TEST_CASE("friction: every published Colebrook-White row within 0.01 %") {
  // C. F. Colebrook 1939; values computed from the equation by an independent solver, printed to 6 digits.
  int rows = 0;
  for (const auto& row : csv::read("hydraulics/friction_colebrook.csv")) {
    INFO(row.place());
    const double re = row.number("Re");
    const double rr = row.number("eps_over_D");
    const double published = row.number("darcy_f_Colebrook_White");
    CHECK(friction_factor(re, rr) == Approx(published).epsilon(1e-4));
    CHECK(colebrook_white(re, rr) == Approx(published).epsilon(1e-4));
    // The explicit formulas printed beside it: Haaland within 3 %; Swamee-Jain within 3 % in its own range,
    // eps/D up to 0.01, and 5 % beyond; Churchill within 6 %.
    CHECK(friction_factor(re, rr) == Approx(row.number("darcy_f_Haaland")).epsilon(0.03));
    CHECK(friction_factor(re, rr) == Approx(row.number("darcy_f_Swamee_Jain")).epsilon(rr <= 0.01 ? 0.03 : 0.05));
    CHECK(friction_factor(re, rr) == Approx(row.number("darcy_f_Churchill_1977")).epsilon(0.06));
    ++rows;
  }
  CHECK(rows == 70);
}

TEST_CASE("friction: laminar rows are 64/Re exactly, whatever the roughness") {
  int rows = 0;
  for (const auto& row : csv::read("hydraulics/friction_laminar.csv")) {
    const double re = row.number("Re");
    CHECK(friction_factor(re, 0.03) == Approx(row.number("darcy_f_64_over_Re")).epsilon(1e-12));
    ++rows;
  }
  CHECK(rows == 7);
  CHECK(friction_times_reynolds(0.0, 0.01) == 64.0);
  CHECK(friction_times_reynolds(2000.0, 0.05) == 64.0);
}

TEST_CASE("friction: one logarithm agrees with Colebrook-White iterated to round-off, within 2e-8") {
  double worst = 0.0;
  for (int i = 0; i <= 500; ++i) {
    const double re = 4000.0 * std::pow(2.5e4, i / 500.0);  // to 1e8
    for (int k = 0; k <= 100; ++k) {
      const double rr = k == 0 ? 0.0 : 1e-7 * std::pow(5e5, (k - 1) / 99.0);  // to 0.05
      worst = std::max(worst, std::abs(friction_factor(re, rr) / colebrook_white(re, rr) - 1.0));
    }
  }
  CHECK(worst < 2e-8);
}

TEST_CASE("friction: colebrook_white satisfies its own equation") {
  for (const double re : {4e3, 1e5, 1e8}) {
    for (const double rr : {0.0, 1e-5, 1e-3, 0.05}) {
      const double f = colebrook_white(re, rr);
      CHECK(1.0 / std::sqrt(f) == Approx(-2.0 * std::log10(rr / 3.7 + 2.51 / (re * std::sqrt(f)))).epsilon(1e-13));
    }
  }
}

namespace {

/// Smooth-wall law of B. J. McKeon, M. V. Zagarola and A. J. Smits, J. Fluid Mech. 538, 429 (2005):
/// 1/sqrt f = 1.930 log10(Re sqrt f) - 0.537 (constants from memory).
double mckeon_smooth(double re) {
  double x = 7.0;
  for (int i = 0; i < 100; ++i) x = 1.930 * std::log10(re / x) - 0.537;
  return 1.0 / (x * x);
}

double median(std::vector<double> v) {
  std::sort(v.begin(), v.end());
  const std::size_t n = v.size();
  return n % 2 == 1 ? v[n / 2] : 0.5 * (v[n / 2 - 1] + v[n / 2]);
}
double percentile_95(std::vector<double> v) {
  for (double& x : v) x = std::abs(x);
  std::sort(v.begin(), v.end());
  return v[static_cast<std::size_t>(std::ceil(0.95 * static_cast<double>(v.size()))) - 1];
}

struct Bound {
  std::size_t rows;
  double median;         // |median| of the difference in per cent
  double percentile_95;  // of the absolute difference, over all rows
  std::string reason;
};

}  // namespace

TEST_CASE("friction: measured sets, median and 95th percentile over all rows") {
  // Percent difference of our law from the measurement. Smooth-wall rows are judged with the roughness set to zero.
  std::map<std::pair<std::string, std::string>, Bound> bounds;
  for (const auto& row : csv::read("hydraulics/friction_sets.csv")) {
    bounds[{row.text("dataset"), row.text("regime")}] = {static_cast<std::size_t>(row.number("rows")), row.number("median_percent"),
                                                         row.number("percentile_95_percent"), row.text("reason")};
  }
  CHECK(bounds.size() == 15);
  // No published law holds for these; they are counted and printed, not judged.
  const std::map<std::string, std::size_t> reported{{"transition Re", 23}, {"transitionally rough (5<k+<70)", 109}};

  std::map<std::pair<std::string, std::string>, std::vector<double>> judged;
  std::map<std::string, std::vector<double>> not_judged;
  std::size_t rows = 0;
  for (const auto& row : csv::read("hydraulics/friction_experiments.csv")) {
    ++rows;
    const std::string regime = row.text("regime");
    const double rr = regime == "smooth" ? 0.0 : row.number("k_over_D");
    const double measured = row.number("darcy_f_measured");
    const double difference = 100.0 * (friction_factor(row.number("Re"), rr) / measured - 1.0);
    if (reported.count(regime) != 0) {
      not_judged[regime].push_back(difference);
    } else {
      judged[{row.text("dataset"), regime}].push_back(difference);
    }
  }
  CHECK(rows == 408);
  std::size_t counted = 0;
  for (const auto& [key, differences] : judged) {
    INFO(key.first << ", " << key.second);
    REQUIRE(bounds.count(key) == 1);
    const Bound& bound = bounds.at(key);
    INFO("reason of the bound: " << bound.reason);
    CHECK(differences.size() == bound.rows);
    CHECK(std::abs(median(differences)) < bound.median);
    CHECK(percentile_95(differences) < bound.percentile_95);
    counted += differences.size();
  }
  CHECK(judged.size() == bounds.size());
  for (const auto& [regime, differences] : not_judged) {
    CHECK(differences.size() == reported.at(regime));
    WARN("reported, not judged: " << regime << ", " << differences.size() << " rows, median "
                                  << median(differences) << " %, 95th percentile " << percentile_95(differences) << " %");
    counted += differences.size();
  }
  CHECK(counted == rows);
}

TEST_CASE("friction: Colebrook-White at zero roughness stays within 3 % of the modern smooth law") {
  for (double re = 1e4; re < 4e7; re *= 1.5) CHECK(friction_factor(re, 0.0) == Approx(mckeon_smooth(re)).epsilon(0.03));
}

TEST_CASE("friction: value, slope and curvature join at 2000 and 4000") {
  for (const double rr : {0.0, 1e-3, 0.05}) {
    for (const double corner : {2000.0, 4000.0}) {
      const auto below = friction_times_reynolds(Dual<1>(corner * (1.0 - 1e-9), 0), rr);
      const auto above = friction_times_reynolds(Dual<1>(corner * (1.0 + 1e-9), 0), rr);
      CHECK(below.value == Approx(above.value).epsilon(1e-8));
      CHECK(std::abs(below.slope[0] - above.slope[0]) < 1e-7);
      const double h = 1e-3 * corner;
      const auto slope = [&](double re) { return friction_times_reynolds(Dual<1>(re, 0), rr).slope[0]; };
      const double curvature_below = (slope(corner) - slope(corner - h)) / h;
      const double curvature_above = (slope(corner + h) - slope(corner)) / h;
      CHECK(std::abs(curvature_above - curvature_below) * corner < 0.02 * 64.0 / corner * 100.0);
    }
  }
}

TEST_CASE("friction: pressure rises strictly with flow at every roughness") {
  for (const double rr : {0.0, 1e-6, 1e-4, 1e-3, 1e-2, 0.05}) {
    double last = -1.0;
    for (double re = 0.0; re < 1e8; re = re < 1.0 ? re + 0.1 : re * 1.005) {
      const double pressure_like = friction_times_reynolds(re, rr) * re;
      REQUIRE(pressure_like > last);
      last = pressure_like;
    }
  }
}

TEST_CASE("friction: slopes against differences, in Reynolds number and roughness") {
  for (double re = 2010.0; re < 1e8; re *= 1.37) {
    for (const double rr : {0.0, 1e-5, 1e-3, 0.05}) {
      INFO("Re " << re << " eps/D " << rr);
      CHECK(slope_check::error([&](auto r) { return friction_times_reynolds(r, rr); }, re) < 1e-5);
      if (rr > 0.0 && re > 4000.0) {
        CHECK(slope_check::error([&](auto r) { return friction_times_reynolds(re, r); }, rr, 1e-3) < 1e-3);
      }
    }
  }
  for (const double re : {0.0, 1e-12, 100.0, 2000.0, 3000.0, 4000.0, 1e9}) {
    CHECK(slope_check::finite_at([](auto r) { return friction_times_reynolds(r, 1e-4); }, re));
  }
}

TEST_CASE("friction: plain and dual arguments mix and agree") {
  const double plain = friction_times_reynolds(5e4, 1e-3);
  const auto both = friction_times_reynolds(Dual<2>(5e4, 0), Dual<2>(1e-3, 1));
  CHECK(both.value == plain);
  CHECK(friction_times_reynolds(Dual<2>(5e4, 0), 1e-3).slope[0] == both.slope[0]);
  CHECK(friction_times_reynolds(5e4, Dual<2>(1e-3, 1)).slope[1] == both.slope[1]);
  CHECK(friction_times_reynolds(5e4, Dual<2>(1e-3, 1)).slope[0] == 0.0);
}

TEST_CASE("friction: half way through transition it is the mean of both laws, by hand; roughness counts by half") {
  for (const double rr : {0.0, 1e-3, 0.02}) {
    CHECK(friction_times_reynolds(3000.0, rr) == Approx(0.5 * (64.0 + 3000.0 * colebrook_white(3000.0, rr))).epsilon(1e-6));
    // A quarter of the way smooth_step is 10/64 - 15/256 + 6/1024.
    CHECK(friction_times_reynolds(2500.0, rr) == Approx(64.0 + 0.103515625 * (2500.0 * colebrook_white(2500.0, rr) - 64.0)).epsilon(1e-6));
  }
  const auto rough = [](double rr) { return 3000.0 * colebrook_white(3000.0, rr); };
  CHECK(friction_times_reynolds(3000.0, Dual<1>(0.01, 0)).slope[0] == Approx(0.5 * (rough(0.0101) - rough(0.0099)) / 2e-4).epsilon(1e-3));
  CHECK(friction_times_reynolds(1500.0, Dual<1>(0.01, 0)).slope[0] == 0.0);
}

TEST_CASE("friction: q times f Re for a flow of either direction is what it says, slopes too") {
  for (const double flow : {2e-4, -2e-4, 1e-5, -6e-5}) {  // Re 12000, laminar and in between
    const double per_flow = 6e7, re = per_flow * std::abs(flow);
    CHECK(friction_times_flow(flow, per_flow, 1e-3) == Approx(flow * friction_times_reynolds(re, 1e-3)).epsilon(1e-14));
    const auto both = friction_times_flow(Dual<3>(flow, 0), Dual<3>(per_flow, 1), Dual<3>(1e-3, 2));
    const double h = 1e-6;
    const auto difference = [&](double a, double b, double c) {
      return friction_times_flow(flow * (1.0 + a), per_flow * (1.0 + b), 1e-3 * (1.0 + c)) - friction_times_flow(flow * (1.0 - a), per_flow * (1.0 - b), 1e-3 * (1.0 - c));
    };
    const double scale = std::abs(both.value);
    CHECK(both.slope[0] == Approx(difference(h, 0.0, 0.0) / (2.0 * h * flow)).epsilon(1e-6));
    CHECK(both.slope[1] * per_flow == Approx(difference(0.0, h, 0.0) / (2.0 * h)).epsilon(1e-5).margin(1e-8 * scale));
    CHECK(both.slope[2] * 1e-3 == Approx(difference(0.0, 0.0, 1e-3) / 2e-3).epsilon(1e-3).margin(1e-8 * scale));
  }
}

TEST_CASE("friction: a pack of lanes has in each lane what one number has, whatever stands beside it") {
  using P = flarenut::lanes::Pack<flarenut::lanes::PlainSet>;
  const double reynolds[] = {100.0, 2000.0, 2000.1, 2700.0, 3999.9, 4000.0, 5e4};
  for (const double first : reynolds) {
    for (const double second : reynolds) {
      alignas(16) const double two[] = {first, second};
      const auto found = detail::friction_of(P::load(two), P(1e-3));
      alignas(16) double value[2], per_reynolds[2], per_roughness[2];
      found.friction_times_reynolds.store(value), found.per_reynolds.store(per_reynolds), found.per_roughness.store(per_roughness);
      for (int lane : {0, 1}) {
        const auto alone = detail::friction_of(two[lane], 1e-3);
        CHECK(value[lane] == Approx(alone.friction_times_reynolds).epsilon(1e-13));
        CHECK(per_reynolds[lane] == Approx(alone.per_reynolds).epsilon(1e-11).margin(1e-14));
        CHECK(per_roughness[lane] == Approx(alone.per_roughness).epsilon(1e-11));
      }
    }
  }
}

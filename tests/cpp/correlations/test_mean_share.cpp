#include "flarenut/correlations/mean_share.hpp"

#include <tuple>
#include <vector>

#include "../catch_shim.hpp"
#include "flarenut/correlations/heat_path.hpp"
#include "slope_check.hpp"

using flarenut::Dual;
using namespace flarenut::correlations;

namespace {

struct Means {
  double first, second;
};

/// A cross flow with neither stream mixed, marched cell by cell: shares of the means over the area.
Means marched_cross_flow(double n1, double n2) {
  constexpr int cells = 400;
  std::vector<double> cold(cells, 0.0);
  double hot_sum = 0.0, cold_sum = 0.0, hot_out = 0.0, cold_out = 0.0;
  for (int i = 0; i < cells; ++i) {  // rows of the hot stream, side by side; the cold one passes from row to row
    double hot = 1.0;
    for (int j = 0; j < cells; ++j) {
      auto& there = cold[static_cast<std::size_t>(j)];
      // Middle of the cell by the implicit rule.
      const double a = 0.5 * n1 / cells, b = 0.5 * n2 / cells, difference = (hot - there) / (1.0 + a + b);
      hot_sum += hot - a * difference;
      cold_sum += there + b * difference;
      hot -= 2.0 * a * difference;
      there += 2.0 * b * difference;
    }
    hot_out += hot / cells;
  }
  for (double out : cold) cold_out += out / cells;
  const double area = cells * cells;
  return {(1.0 - hot_sum / area) / (1.0 - hot_out), cold_sum / area / cold_out};
}

std::pair<double, double> shares(Arrangement arrangement, double conductance, double first, double second) {
  return cross_mean_shares(conductance, exchange(arrangement, conductance, first, second));
}

}  // namespace

TEST_CASE("mean share: a difference that dies away, summed over thin slices") {
  for (const double d : {-30.0, -3.0, -0.7, -0.01, 1e-9, 0.019, 0.021, 0.5, 2.0, 10.0, 50.0}) {
    double mean = 0.0;
    constexpr int slices = 100000;
    for (int i = 0; i < slices; ++i) mean += -std::expm1(-d * (i + 0.5) / slices) / -std::expm1(-d) / slices;
    INFO("d " << d);
    CHECK(decay_mean_share(d) == Approx(mean).epsilon(1e-6));
    CHECK(decay_mean_share(-d) == Approx(1.0 - mean).margin(1e-6));
  }
  CHECK(decay_mean_share(0.0) == 0.5);
  CHECK(decay_mean_share(1e6) == Approx(1.0 - 1e-6).epsilon(1e-12));
  CHECK(decay_mean_share(-1e6) == Approx(1e-6).epsilon(1e-9));
}

TEST_CASE("mean share: of a line, from quick flow to rest") {
  CHECK(line_mean_share(1e-9, 1.0) == Approx(0.5));
  CHECK(line_mean_share(6.0, 12.0) == Approx(1.0 / (1.0 - std::exp(-0.5)) - 2.0));
  CHECK(line_mean_share(6.0, 0.0) == 1.0);
  CHECK(line_mean_share(0.0, 0.0) == 0.5);
  const auto rest = line_mean_share(Dual<2>(6.0, 0), Dual<2>(0.0, 1));
  CHECK(rest.slope[1] == Approx(-1.0 / 6.0));
  CHECK(line_mean_share(6.0, 0.15 * (1.0 - 1e-12)) == Approx(line_mean_share(6.0, 0.15 * (1.0 + 1e-12))).epsilon(1e-11));
}

TEST_CASE("mean share: cross flow against a core marched cell by cell") {
  const auto cross = Arrangement::cross_flow_unmixed;
  for (const double n : {0.3, 1.0, 3.0}) {  // equal rates: exact
    const Means marched = marched_cross_flow(n, n);
    const auto [first, second] = shares(cross, n, 1.0, 1.0);
    INFO("NTU " << n);
    CHECK(first == Approx(marched.first).margin(2e-4));
    CHECK(second == Approx(marched.second).margin(2e-4));
  }
  // Between: ours, and how far from the march.
  double worst = 0.0;
  using Pairs = std::vector<std::pair<double, double>>;
  for (const auto& [n1, n2] : Pairs{{0.5, 0.1}, {1.0, 0.3}, {1.0, 0.6}, {2.0, 1.0}, {3.0, 0.5}, {0.4, 2.0}, {5.0, 2.0}}) {
    const Means marched = marched_cross_flow(n1, n2);
    const auto [first, second] = shares(cross, 1.0, 1.0 / n1, 1.0 / n2);
    INFO("NTU " << n1 << " and " << n2 << ": marched " << marched.first << ", " << marched.second);
    worst = std::max({worst, std::abs(first - marched.first), std::abs(second - marched.second)});
  }
  CHECK(worst < 0.02);
}

TEST_CASE("mean share: heat is UA times the difference of the means, in every arrangement") {
  for (const auto arrangement : {Arrangement::counterflow, Arrangement::parallel_flow, Arrangement::cross_flow_unmixed,
                                 Arrangement::cross_flow_first_mixed, Arrangement::cross_flow_mixed, Arrangement::shell_and_tube})
    for (const auto& [ua, c1, c2] : std::vector<std::tuple<double, double, double>>{{1.0, 3.0, 0.7}, {2.0, 1.0, 1.0}, {0.2, 1.0, 9.0}}) {
      const auto moved = exchange(arrangement, ua, c1, c2);
      const auto [first, second] = exchange_mean_shares(arrangement, ua, c1, c2);
      INFO("arrangement " << static_cast<int>(arrangement) << " UA " << ua);
      // The hundredth of UA as extra shows in the second digit.
      CHECK(ua * (1.0 - first * moved.first_share - second * moved.second_share) == Approx(moved.heat_per_inlet_difference).epsilon(0.02));
      CHECK(first >= 0.0);
      CHECK(first <= 1.0);
      CHECK(second >= 0.0);
      CHECK(second <= 1.0);
    }
}

TEST_CASE("mean share: slopes against differences") {
  for (double d = 1e-3; d < 60.0; d *= 1.9) {
    CHECK(slope_check::error([](auto x) { return decay_mean_share(x); }, d) < 2e-5);
    CHECK(slope_check::error([](auto x) { return line_mean_share(6.0, x); }, d) < 2e-5);
    CHECK(slope_check::error([](auto x) { return line_mean_share(x, 2.0); }, d) < 2e-5);
  }
}

TEST_CASE("mean share: near no decay it is the series of Bernoulli's numbers") {
  // 1/(1 - e^-d) - 1/d = 1/2 + d/12 - d^3/720 + d^5/30240 (Abramowitz and Stegun 4.5.65, from memory, with coth of half of d).
  for (const double d : {0.019, -0.019, 0.015, 1e-3}) {
    const double d2 = d * d;
    CHECK((decay_mean_share(d) - 0.5) * 12.0 / d == Approx(1.0 - d2 / 60.0 + d2 * d2 / 2520.0).epsilon(1e-12));
  }
}

TEST_CASE("mean share: of streams at rest it is that of a hundredth of UA, by hand") {
  for (const double ua : {80.0, 0.5}) {
    // Parallel flow: d = 2 UA / (UA / 100) = 200, 1 - 1/200. Counterflow of equal rates: no decay at all.
    const auto [first, second] = exchange_mean_shares(Arrangement::parallel_flow, ua, 0.0, 0.0);
    CHECK(first == Approx(0.995).epsilon(1e-12));
    CHECK(second == Approx(0.995).epsilon(1e-12));
    // One stream moves: d = UA / (0.01 UA) + UA / (1.01 UA) = 100.990099.
    CHECK(exchange_mean_shares(Arrangement::parallel_flow, ua, 0.0, ua).first == Approx(1.0 - 1.0 / 100.990099).epsilon(1e-9));
    CHECK(exchange_mean_shares(Arrangement::counterflow, ua, ua, 0.0).second == Approx(1.0 - 1.0 / (100.0 - 1.0 / 1.01)).epsilon(1e-9));
    CHECK(exchange_mean_shares(Arrangement::counterflow, ua, 0.0, 0.0).first == 0.5);
  }
}

TEST_CASE("mean share: where little is exchanged both means lie half way, whichever streams are mixed") {
  for (double ua = 1e-9; ua < 1e-2; ua *= ua > 5e-5 && ua < 1.2e-4 ? 1.0001 : 1.3) {  // closely where the quotient's own guard counts
    for (const bool both_mixed : {false, true}) {
      const auto arrangement = both_mixed ? Arrangement::cross_flow_mixed : Arrangement::cross_flow_unmixed;
      const auto [first, second] = cross_mean_shares(ua, exchange(arrangement, ua, 1.0, 2.0), both_mixed);
      INFO("UA " << ua);
      CHECK(first == Approx(0.5).margin(2e-3));
      CHECK(second == Approx(0.5).margin(2e-3));
    }
  }
}

TEST_CASE("mean share: streams that are both mixed exceed a half alike, others by the squares of their changes") {
  const auto [one, other] = exchange_mean_shares(Arrangement::cross_flow_mixed, 1.0, 1.0, 3.0);
  CHECK(one == other);
  CHECK(one > 0.55);
  const auto moved = exchange(Arrangement::cross_flow_unmixed, 1.0, 1.01, 3.01);
  const auto [first, second] = exchange_mean_shares(Arrangement::cross_flow_unmixed, 1.0, 1.0, 3.0);
  CHECK((first - 0.5) / (second - 0.5) == Approx(9.0 * (3.01 * 3.01) / (9.0 * 1.01 * 1.01)).epsilon(1e-9));
  CHECK(moved.first_share / moved.second_share == Approx(3.01 / 1.01));
}

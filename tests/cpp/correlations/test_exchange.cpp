#include "../catch_shim.hpp"
#include "flarenut/correlations/exchange.hpp"
#include "slope_check.hpp"

using flarenut::Dual;
using flarenut::InputError;
using namespace flarenut::correlations;

namespace {
constexpr Arrangement all[] = {Arrangement::counterflow, Arrangement::parallel_flow, Arrangement::cross_flow_unmixed,
                               Arrangement::cross_flow_first_mixed, Arrangement::cross_flow_second_mixed,
                               Arrangement::cross_flow_mixed, Arrangement::shell_and_tube};
using Three = Dual<3>;
Exchange<Three> sloped(Arrangement arrangement, double conductance, double first, double second) {
  return exchange(arrangement, Three(conductance, 0), Three(first, 1), Three(second, 2));
}
}  // namespace

TEST_CASE("exchange: an oil cooler by hand") {
  // Counterflow, UA 120 W/K, oil 180 W/K at 110 C, water 400 W/K at 80 C. NTU = 2/3, C = 0.45:
  // e^(−0.3667) = 0.69304; ε = (1 − 0.69304)/(1 − 0.45·0.69304) = 0.44608; Q = 0.44608·180·30 = 2409 W.
  CHECK(heat_moved(Arrangement::counterflow, 120.0, 180.0, 400.0, 383.15, 353.15) == Approx(2408.8).epsilon(1e-4));
  const auto both = exchange(Arrangement::counterflow, 120.0, 180.0, 400.0);
  CHECK(both.first_share * 180.0 == Approx(both.heat_per_inlet_difference));
  CHECK(both.second_share * 400.0 == Approx(both.heat_per_inlet_difference));
  // Heat goes the other way when the second stream is hotter, and none goes between equals.
  CHECK(heat_moved(Arrangement::counterflow, 120.0, 180.0, 400.0, 353.15, 383.15) == Approx(-2408.8).epsilon(1e-4));
  CHECK(heat_moved(Arrangement::counterflow, 120.0, 180.0, 400.0, 350.0, 350.0) == 0.0);
}

TEST_CASE("exchange: naming the streams the other way round changes nothing") {
  for (const Arrangement arrangement : all) {
    for (const double first : {0.0, 20.0, 100.0, 500.0}) {
      const auto one = exchange(arrangement, 150.0, first, 100.0), other = exchange(swapped(arrangement), 150.0, 100.0, first);
      CHECK(one.heat_per_inlet_difference == Approx(other.heat_per_inlet_difference).epsilon(1e-13));
      CHECK(one.first_share == Approx(other.second_share).epsilon(1e-13));
    }
  }
}

TEST_CASE("exchange: heat never exceeds UA nor either capacity rate; outlets do not pass the other inlet") {
  for (const Arrangement arrangement : all) {
    for (double ua = 1e-3; ua < 1e6; ua *= 7.0) {
      for (double first = 1e-6; first < 1e5; first *= 11.0) {
        const auto e = exchange(arrangement, ua, first, 300.0);
        INFO("arrangement " << static_cast<int>(arrangement) << " UA " << ua << " C1 " << first);
        CHECK(e.heat_per_inlet_difference <= std::min({ua, first, 300.0}) * (1.0 + 1e-9));
        CHECK(e.heat_per_inlet_difference >= 0.0);
        CHECK(e.first_share <= 1.0 + 1e-9);
        CHECK(e.second_share <= 1.0 + 1e-9);
      }
    }
  }
}

TEST_CASE("exchange: smooth where the capacity rates cross") {
  for (const Arrangement arrangement : all) {
    for (const double ua : {20.0, 100.0, 900.0, 13000.0}) {
      INFO("arrangement " << static_cast<int>(arrangement) << " UA " << ua);
      const auto below = sloped(arrangement, ua, 100.0 * (1.0 - 1e-9), 100.0), above = sloped(arrangement, ua, 100.0 * (1.0 + 1e-9), 100.0);
      for (int k : {0, 1, 2}) {
        CHECK(below.heat_per_inlet_difference.slope[k] == Approx(above.heat_per_inlet_difference.slope[k]).margin(1e-6));
        CHECK(below.first_share.slope[k] == Approx(above.first_share.slope[k]).margin(1e-8));
        CHECK(below.second_share.slope[k] == Approx(above.second_share.slope[k]).margin(1e-8));
      }
    }
  }
}

TEST_CASE("exchange: the usual approximation for cross flow would have a corner there, which is why it is not used") {
  const auto heat = [](double first) {
    const double small = std::min(first, 100.0), large = std::max(first, 100.0);
    return small * cross_flow_unmixed_approximation(100.0 / small, small / large);
  };
  const double before = (heat(100.0) - heat(100.0 - 1e-3)) / 1e-3, after = (heat(100.0 + 1e-3) - heat(100.0)) / 1e-3;
  CHECK(before == Approx(0.102).margin(0.002));
  CHECK(after == Approx(0.140).margin(0.002));
}

TEST_CASE("exchange: defined with finite slopes where either stream, or both, stand still") {
  for (const Arrangement arrangement : all) {
    for (const double ua : {0.0, 1e-6, 80.0, 1e5}) {
      for (const double first : {0.0, 1e-300, 1e-9, 100.0}) {
        for (const double second : {0.0, 1e-9, 100.0}) {
          INFO("arrangement " << static_cast<int>(arrangement) << " UA " << ua << " C1 " << first << " C2 " << second);
          const auto e = sloped(arrangement, ua, first, second);
          CHECK(isfinite(e.heat_per_inlet_difference));
          CHECK(isfinite(e.first_share));
          CHECK(isfinite(e.second_share));
          if (first == 0.0 || second == 0.0) CHECK(e.heat_per_inlet_difference.value == 0.0);
        }
      }
    }
    const auto still = sloped(arrangement, 80.0, 0.0, 100.0);
    CHECK(still.first_share.value == Approx(1.0));  // what hardly flows leaves at the other's inlet temperature
    CHECK(still.second_share.value == Approx(0.0).margin(1e-11));
    CHECK(still.heat_per_inlet_difference.slope[1] == Approx(1.0));
    CHECK(still.heat_per_inlet_difference.slope[0] == Approx(0.0).margin(1e-11));
  }
}

TEST_CASE("exchange: a stream that turns round makes parallel flow of counterflow, and the heat joins at rest") {
  CHECK(turned_round(Arrangement::counterflow) == Arrangement::parallel_flow);
  CHECK(turned_round(turned_round(Arrangement::counterflow)) == Arrangement::counterflow);
  CHECK(turned_round(Arrangement::cross_flow_unmixed) == Arrangement::cross_flow_unmixed);
  for (const double flow : {1e-3, 1e-6}) {
    const double ahead = exchange(Arrangement::counterflow, 80.0, flow, 100.0).heat_per_inlet_difference;
    const double back = exchange(turned_round(Arrangement::counterflow), 80.0, flow, 100.0).heat_per_inlet_difference;
    CHECK(ahead == Approx(back).epsilon(1e-4));
  }
}

TEST_CASE("exchange: slopes of heat and shares against differences") {
  for (const Arrangement arrangement : all) {
    for (const double ua : {5.0, 100.0, 1500.0}) {
      for (const double first : {10.0, 60.0, 400.0}) {
        INFO("arrangement " << static_cast<int>(arrangement) << " UA " << ua << " C1 " << first);
        const auto check = [&](auto pick) {
          CHECK(slope_check::error([&](auto u) { return pick(exchange(arrangement, u, first, 100.0)); }, ua) < 2e-5);
          CHECK(slope_check::error([&](auto c) { return pick(exchange(arrangement, ua, c, 100.0)); }, first) < 2e-5);
          CHECK(slope_check::error([&](auto c) { return pick(exchange(arrangement, ua, first, c)); }, 100.0) < 2e-5);
        };
        check([](const auto& e) { return e.heat_per_inlet_difference; });
        check([](const auto& e) { return e.first_share; });
        check([](const auto& e) { return e.second_share; });
      }
    }
  }
}

TEST_CASE("exchange: UA from a rating gives the rating back, with slopes") {
  for (const Arrangement arrangement : all) {
    for (const double first : {70.0, 200.0}) {
      const double rated = exchange(arrangement, 60.0, first, 100.0).heat_per_inlet_difference;
      CHECK(conductance_from_heat(arrangement, rated, first, 100.0) == Approx(60.0).epsilon(1e-9));
      CHECK(slope_check::error([&](auto k) { return conductance_from_heat(arrangement, k, first, 100.0); }, rated) < 2e-5);
      CHECK(slope_check::error([&](auto c) { return conductance_from_heat(arrangement, rated, c, 100.0); }, first) < 2e-5);
    }
  }
  CHECK_THROWS_AS(conductance_from_heat(Arrangement::counterflow, 101.0, 100.0, 300.0), InputError);
}

#include "../catch_shim.hpp"
#include "flarenut/correlations/heat_path.hpp"
#include "slope_check.hpp"

using flarenut::Dual;
using namespace flarenut::correlations;

TEST_CASE("heat path: layers and films of a line by hand") {
  // ln(12/8)/(2π 0.2) = 0.322658; 1/(π 500 0.008) = 0.0795775; 1/(π 12 0.012) = 2.210485; together 2.612721.
  const CylinderLayer<double> wall[]{{0.012, 0.2}};
  CHECK(layer_resistance(0.008, 0.012, 0.2) == Approx(0.322658).epsilon(1e-5));
  CHECK(1.0 / line_conductance_per_length<double>(500.0, 0.008, wall, 12.0) == Approx(2.612721).epsilon(1e-6));
  // A sleeve of 3 mm: its layer ln(18/12)/(2π 0.06) = 1.075530 in place, its film 1/(π 12 0.018) = 1.473657.
  const CylinderLayer<double> sleeved[]{{0.012, 0.2}, {0.018, 0.06}};
  CHECK(1.0 / line_conductance_per_length<double>(500.0, 0.008, sleeved, 12.0) ==
        Approx(0.0795775 + 0.322658 + 1.075530 + 1.473657).epsilon(1e-6));
  CHECK(fouling_resistance(0.0004, 0.015) == Approx(0.0004 / (3.14159265358979 * 0.015)));
  // Thin walls: (d_o − d_i)/(2π k d), with all its digits.
  CHECK(layer_resistance(0.01, 0.01 + 1e-12, 1.0) == Approx(1e-10 / (2.0 * 3.14159265358979)).epsilon(1e-3));
  CHECK(layer_resistance(0.01, 0.01, 1.0) == 0.0);
}

TEST_CASE("heat path: a sleeve up to the critical diameter raises the loss, beyond it lowers it") {
  const double conductivity = 0.17, outside = 10.0, critical = critical_diameter(conductivity, outside);
  CHECK(critical == Approx(0.034));
  const auto loss = [&](double diameter) {
    const CylinderLayer<double> sleeve[]{{diameter, conductivity}};
    return line_conductance_per_length<double>(1e4, 0.008, sleeve, outside);
  };
  CHECK(loss(0.016) > loss(0.012));
  CHECK(loss(critical) > loss(critical * 0.9));
  CHECK(loss(critical) > loss(critical * 1.1));
}

TEST_CASE("heat path: along a line, from rest to quick flow") {
  // UA 6 W/K, C 12 W/K: e^−0.5 left.
  CHECK(remaining_difference(6.0, 12.0) == Approx(0.60653066));
  CHECK(line_heat_per_inlet_difference(6.0, 12.0) == Approx(12.0 * 0.39346934));
  CHECK(line_heat_per_inlet_difference(6.0, 1e9) == Approx(6.0).epsilon(1e-8));   // quick: UA
  CHECK(line_heat_per_inlet_difference(6.0, 1e-3) == Approx(1e-3));               // slow: C
  CHECK(remaining_difference(6.0, 0.0) == 0.0);
  CHECK(remaining_difference(0.0, 0.0) == 1.0);
  CHECK(remaining_difference(0.0, 5.0) == 1.0);
  CHECK(line_heat_per_inlet_difference(6.0, 0.0) == 0.0);
  CHECK(line_heat_per_inlet_difference(0.0, 0.0) == 0.0);
  const auto still = line_heat_per_inlet_difference(Dual<2>(6.0, 0), Dual<2>(0.0, 1));
  CHECK(still.slope[0] == 0.0);
  CHECK(still.slope[1] == 1.0);
}

TEST_CASE("heat path: slopes against differences, and finite at rest") {
  for (double c = 1e-2; c < 1e5; c *= 2.3) {
    INFO("C " << c);
    CHECK(slope_check::error([](auto x) { return line_heat_per_inlet_difference(6.0, x); }, c) < 2e-5);
    CHECK(slope_check::error([&](auto u) { return line_heat_per_inlet_difference(u, c); }, 6.0) < 2e-5);
    if (c > 0.3) {
      CHECK(slope_check::error([](auto x) { return remaining_difference(6.0, x); }, c) < 2e-5);
      CHECK(slope_check::error([&](auto u) { return remaining_difference(u, c); }, 6.0) < 2e-5);
    }
  }
  for (const double c : {0.0, 1e-300, 1e-9}) {
    CHECK(slope_check::finite_at([](auto x) { return remaining_difference(6.0, x); }, c));
    CHECK(slope_check::finite_at([](auto x) { return line_heat_per_inlet_difference(6.0, x); }, c));
  }
  const auto line = [](auto x, int which) {
    using T = decltype(x);
    const auto pick = [&](int i, double value) { return i == which ? x : T(value); };
    const CylinderLayer<T> layers[]{{pick(1, 0.012), pick(2, 0.2)}, {pick(3, 0.018), pick(4, 0.06)}};
    return line_conductance_per_length<T>(pick(5, 500.0), pick(0, 0.008), layers, pick(6, 12.0));
  };
  const double at[] = {0.008, 0.012, 0.2, 0.018, 0.06, 500.0, 12.0};
  for (int which = 0; which < 7; ++which) CHECK(slope_check::error([&](auto x) { return line(x, which); }, at[which]) < 2e-5);
  CHECK(slope_check::error([](auto k) { return critical_diameter(k, 10.0); }, 0.17) < 2e-5);
  CHECK(slope_check::error([](auto d) { return fouling_resistance(4e-4, d); }, 0.015) < 2e-5);
  CHECK(slope_check::error([](auto w) { return log_mean(w); }, 1e-3) < 2e-5);
  CHECK(slope_check::error([](auto x) { return mean_decay(x); }, 1e-3) < 2e-5);
  // Both sides of the switch from series to fraction.
  CHECK(mean_decay(1e-3 * (1.0 - 1e-12)) == Approx(mean_decay(1e-3 * (1.0 + 1e-12))).epsilon(1e-13));
  CHECK(log_mean(1e-3 * (1.0 - 1e-12)) == Approx(log_mean(1e-3 * (1.0 + 1e-12))).epsilon(1e-13));
}

TEST_CASE("heat path: decay and logarithm by their series keep all digits of the closed forms") {
  // (1 - e^-x)/x and ln(1 + w)/w through expm1 and log1p of the C library, which lose nothing near 0.
  for (const double x : {9.9e-4, 7e-4, -9.9e-4, 3e-4, 1e-5}) {
    CHECK(mean_decay(x) == Approx(-std::expm1(-x) / x).epsilon(2e-15));
    CHECK(log_mean(x) == Approx(std::log1p(x) / x).epsilon(2e-15));
  }
}

TEST_CASE("heat path: what stands takes the temperature around it, however little conducts") {
  CHECK(remaining_difference(0.5, 0.0) == 0.0);
  // Where nothing conducts the distance is kept; the first watt per degree takes 1/C of it.
  const auto kept = remaining_difference(Dual<1>(0.0, 0), 0.5);
  CHECK(kept.value == 1.0);
  CHECK(kept.slope[0] == Approx(-2.0));
}

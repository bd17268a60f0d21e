#include "../catch_shim.hpp"
#include "flarenut/correlations/suction.hpp"

using namespace flarenut;
using namespace flarenut::correlations;

TEST_CASE("suction: head and pressure by hand, and one turns into the other") {
  // (101325 - 41325) Pa / (750 kg/m3 * 9.80665 m/s2) = 8.157730 m.
  const auto vapour = AbsolutePressure<>::from_value(41325.0);
  const auto density = Density<>::from_value(750.0);
  const auto head = net_positive_suction_head(AbsolutePressure<>::from_value(101325.0), vapour, density);
  CHECK(head.value() == Approx(8.157730).epsilon(1e-6));
  CHECK(least_inlet_pressure(head, vapour, density).value() == Approx(101325.0).epsilon(1e-12));
}

#include "flarenut/parts/fitting.hpp"

#include "../csv.hpp"
#include "loss_checks.hpp"

using namespace loss_checks;

namespace {

constexpr double inch = 0.0254;
constexpr double density = 850.0, viscosity = 0.01;

TwoKFittingSpec<> two_k(double bore, double k_one, double k_infinity) {
  TwoKFittingSpec<> spec;
  spec.bore = metres(bore);
  spec.laminar_constant = ratio(k_one);
  spec.turbulent_constant = ratio(k_infinity);
  return spec;
}

ThreeKFittingSpec<> three_k(double bore, double k_one, double k_i, double k_d) {
  ThreeKFittingSpec<> spec;
  spec.bore = metres(bore);
  spec.laminar_constant = ratio(k_one);
  spec.turbulent_constant = ratio(k_i);
  spec.size_constant = ratio(k_d);
  return spec;
}

template <class Part, class Spec>
double heads_at(const Spec& spec, double reynolds) {
  const double bore = spec.bore.value();
  return heads(Part(spec, liquid(density, viscosity)), at_reynolds(reynolds, bore, viscosity), bore, density);
}

}  // namespace

TEST_CASE("fittings: every row of Hooper's and Darby's tables gives its K at three places") {
  // W. Hooper 1981, R. Darby 2001: constants and K as in the data file, with their sources.
  int hooper = 0, darby = 0;
  for (const auto& row : csv::read("hydraulics/fitting_constants.csv")) {
    INFO(row.place() << " " << row.text("fitting"));
    const bool two = row.text("method") == "2-K", three = row.text("method") == "3-K";
    if (!two && !three) continue;
    const double k_one = row.number("K1"), k = row.number("Kinf_or_Ki_or_L_over_D_or_K");
    const auto at = [&](double bore, double reynolds) {
      if (two) return heads_at<TwoKFitting<>>(two_k(bore, k_one, k), reynolds);
      return heads_at<ThreeKFitting<>>(three_k(bore, k_one, k, row.number("Kd")), reynolds);
    };
    CHECK(at(inch, 1e3) == Approx(row.number("K_at_Re1000_size_1in")).epsilon(1e-6));
    CHECK(at(inch, 1e5) == Approx(row.number("K_at_Re1e5_size_1in")).epsilon(1e-6));
    CHECK(at(0.5 * inch, 1e5) == Approx(row.number("K_at_Re1e5_size_0.5in")).epsilon(1e-6));
    ++(two ? hooper : darby);
  }
  CHECK(hooper == 22);
  CHECK(darby == 22);
}

TEST_CASE("fittings: the presets are the 90 degree threaded elbow") {
  TwoKFittingSpec<> hooper;
  hooper.bore = metres(inch);
  CHECK(heads_at<TwoKFitting<>>(hooper, 1e5) == Approx(0.808).epsilon(1e-6));  // row H01 of the two-K table
  // Darby's elbow and Hooper's are meant to be the same piece: within 15 % of each other at one inch.
  ThreeKFittingSpec<> darby;
  darby.bore = metres(inch);
  CHECK(heads_at<ThreeKFitting<>>(darby, 1e5) == Approx(0.808).epsilon(0.15));
}

TEST_CASE("fittings: in cold oil the drop follows viscosity and not density") {
  const auto spec = three_k(0.0111, 800.0, 0.14, 4.0);
  const auto drop = [&](double rho, double mu) {
    return ThreeKFitting<>(spec, liquid(rho, mu)).drop(flowing(rho * 2e-5)).value();
  };
  CHECK(drop(900.0, 2.0) == Approx(2.0 * drop(900.0, 1.0)).epsilon(0.01));
  CHECK(drop(600.0, 2.0) == Approx(drop(900.0, 2.0)).epsilon(0.01));
  // By hand: K1 μ V / (2 D).
  const double velocity = 2e-5 / area(0.0111);
  CHECK(drop(900.0, 2.0) == Approx(800.0 * 2.0 * velocity / (2.0 * 0.0111)).epsilon(0.005));
}

TEST_CASE("fittings: backwards costs the same") {
  const ThreeKFitting<> fitting(three_k(0.0087, 800.0, 0.14, 4.0), liquid(750.0, 5e-4));
  for (double flow : {1e-6, 1e-3, 0.1, 10.0})
    CHECK(fitting.drop(flowing(-flow)).value() == Approx(-fitting.drop(flowing(flow)).value()));
}

TEST_CASE("fittings: a missing bore is named") {
  CHECK_THAT(complaint(TwoKFittingSpec<>{}), Catch::Contains("the part: bore"));
  CHECK_THAT(complaint(three_k(0.01, 0.0, 0.1, 4.0)), Catch::Contains("the part: laminar_constant"));
}

// Slopes found on the way back against slopes carried along, and against slopes by hand.
#include "flarenut/autodiff/traced.hpp"

#include <array>
#include <random>

#include "catch_shim.hpp"
#include "flarenut/autodiff/smooth.hpp"

using namespace flarenut;

namespace {

using N = Traced<double>;

template <class T>
T mixture(const T& a, const T& b, const T& c) {
  using std::exp, std::log, std::pow, std::sin, std::sqrt;
  const T shared = a * b - 2.0 / c;
  T sum = shared * shared + sin(a * 0.3) * exp(-b) / (1.0 + sqrt(c));
  sum += smooth_step(T(0.2 * a)) - log(c) * 3.0;
  sum *= 2.0 - pow(c, b);
  sum -= signed_square(-shared) / 7.0;
  sum /= a + b;
  return 1.5 - sum + smooth_positive(T(b - c), 0.3);
}

}  // namespace

TEST_CASE("traced: slopes by hand") {
  Trail<double> trail;
  const N a = trail.start(3.0), b = trail.start(5.0), c = trail.start(2.0), idle = trail.start(9.0);
  const auto slopes = trail.slopes<4>(a * b / c + a, 10.0);
  CHECK(slopes[0] == Approx(10.0 * (5.0 / 2.0 + 1.0)).epsilon(1e-15));
  CHECK(slopes[1] == Approx(10.0 * 3.0 / 2.0).epsilon(1e-15));
  CHECK(slopes[2] == Approx(-10.0 * 15.0 / 4.0).epsilon(1e-15));
  CHECK(slopes[3] == 0.0);
  CHECK(idle.value == 9.0);
  CHECK(trail.slopes<2>(N(4.0), 1.0) == std::array{0.0, 0.0});  // a plain number has none
  CHECK(trail.slopes<2>(b, 2.0) == std::array{0.0, 2.0});       // an input has its own
}

TEST_CASE("traced: the way back finds the slopes that duals carry along") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> some(0.2, 4.0);
  for (int turn = 0; turn < 2000; ++turn) {
    const double a = some(random), b = some(random), c = some(random), weight = some(random) - 2.0;
    const Dual<3> carried = mixture(Dual<3>(a, 0), Dual<3>(b, 1), Dual<3>(c, 2));
    Trail<double> trail;
    const N x = trail.start(a), y = trail.start(b), z = trail.start(c);
    const N traced = mixture(x, y, z);
    const auto slopes = trail.slopes<3>(traced, weight);
    CHECK(trail.whole());
    double largest = 1.0 + std::abs(carried.value);
    for (double slope : carried.slope) largest = std::max(largest, std::abs(slope));
    CHECK(std::abs(traced.value - carried.value) <= 1e-13 * largest);
    for (std::size_t i = 0; i < 3; ++i) CHECK(std::abs(slopes[i] - weight * carried.slope[i]) <= 1e-13 * largest);
  }
}

TEST_CASE("traced: a trail that is too short says so") {
  Trail<double> trail;
  N product = trail.start(1.0);
  while (trail.whole()) product *= product;
  CHECK(product.place == Trail<double>::most_steps);
}

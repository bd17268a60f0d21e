#include <cmath>
#include <random>

#include "catch_shim.hpp"
#include "flarenut/correlations/friction.hpp"
#include "flarenut/lanes/pack.hpp"

// The pack of every processor against the C library, number by number. Kernels for other instruction sets are held to it to the
// bit by the tests of batches.

using namespace flarenut;
using P = lanes::Pack<lanes::PlainSet>;
using Twice = lanes::Pack<lanes::TwoRegisters<lanes::PlainSet>>;
using Single = lanes::Pack<lanes::PlainSingleSet>;
using TwiceSingle = lanes::Pack<lanes::TwoRegisters<lanes::PlainSingleSet>>;

namespace {

template <class Pack>
double lane(const Pack& pack, int which) {
  alignas(64) typename Pack::Number numbers[Pack::width];
  pack.store(numbers);
  return static_cast<double>(numbers[which]);
}

template <class Pack>
Pack pack_of(double first, double second) {
  using Number = typename Pack::Number;
  alignas(64) Number numbers[Pack::width];
  for (int i = 0; i < Pack::width; ++i) numbers[i] = static_cast<Number>(i % 2 == 0 ? first : second);
  return Pack::load(numbers);
}

}  // namespace

TEMPLATE_TEST_CASE("pack: logarithms are good to twelve digits over all normal numbers", "", P, Twice) {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> exponent(-1000.0, 1000.0), near(0.4, 2.5);
  double worst = 0.0, worst_ratio = 0.0;
  for (int i = 0; i < 20000; ++i) {
    const double x = i % 2 == 0 ? std::exp2(exponent(random)) : near(random), y = near(random);
    const auto found = log(pack_of<TestType>(x, y));
    worst = std::max({worst, std::abs(lane(found, 0) / std::log(x) - 1.0), std::abs(lane(found, 1) / std::log(y) - 1.0)});
    const double ratio = std::log(x / y);
    // The quotient itself is rounded: near 1 its logarithm is known no better than that.
    const double unsure = 2e-16 / std::abs(ratio);
    const double away = std::abs(lane(log_of_ratio(pack_of<TestType>(x, x), pack_of<TestType>(y, y)), 0) / ratio - 1.0);
    worst_ratio = std::max(worst_ratio, away / (3e-12 + unsure));
  }
  CHECK(worst <= 3e-12);
  CHECK(worst_ratio <= 1.0);
  CHECK(lane(log(P(1.0)), 0) == 0.0);
}

TEMPLATE_TEST_CASE("pack: what IEEE 754 rounds is the same to the bit as for one number", "", P, Twice) {
  std::mt19937 random(2);
  std::uniform_real_distribution<double> any(-1e3, 1e3);
  for (int i = 0; i < 2000; ++i) {
    const double x = any(random), y = any(random), z = any(random);
    const auto a = pack_of<TestType>(x, y), b = pack_of<TestType>(y, z), c = pack_of<TestType>(z, x);
    const double expected[][2] = {{x + y, y + z}, {x - y, y - z}, {x * y, y * z}, {x / y, y / z},
                                  {std::fma(x, y, z), std::fma(y, z, x)}, {std::sqrt(std::abs(x)), std::sqrt(std::abs(y))},
                                  {std::copysign(x, y), std::copysign(y, z)}, {std::max(x, y), std::max(y, z)},
                                  {std::min(x, y), std::min(y, z)}, {x < y ? z : -x, y < z ? x : -y},
                                  {!(x < y) || x > z ? 1.0 : 2.0, !(y < z) || y > x ? 1.0 : 2.0},
                                  {x <= 0.0 && y >= 0.0 ? x : y, y <= 0.0 && z >= 0.0 ? y : z}};
    const TestType found[] = {a + b, a - b, a * b, a / b, multiply_add(a, b, c), sqrt(abs(a)), copysign(a, b), larger(a, b),
                              smaller(a, b), choose(a < b, [&] { return c; }, [&] { return -a; }),
                              blend(!(a < b) || a > c, TestType(1.0), TestType(2.0)), blend(a <= 0.0 && b >= 0.0, a, b)};
    for (int operation = 0; operation < 12; ++operation)
      for (int which = 0; which < TestType::width; ++which) {
        INFO("operation " << operation << " lane " << which);
        CHECK(lane(found[operation], which) == expected[operation][which % 2]);
      }
  }
}

TEST_CASE("pack: friction in the lanes is the scalar law to round-off, in every regime") {
  for (double roughness : {0.0, 1e-5, 1e-3, 0.05})
    for (double reynolds = 0.01; reynolds < 1e8; reynolds *= 1.07) {
      using D = Dual<1, P>;
      const auto found = correlations::friction_times_reynolds(D(pack_of<P>(reynolds, 0.5 * reynolds), 0), P(roughness));
      for (int which = 0; which < 2; ++which) {
        const double at = which == 0 ? reynolds : 0.5 * reynolds;
        const auto right = correlations::friction_times_reynolds(Dual<1>(at, 0), roughness);
        INFO("Re " << at << " roughness " << roughness);
        CHECK(lane(found.value, which) == Approx(right.value).epsilon(1e-12));
        CHECK(lane(found.slope[0], which) == Approx(right.slope[0]).epsilon(1e-12).margin(1e-16));
      }
    }
}

TEMPLATE_TEST_CASE("pack: logarithms in single precision are good to its last digits", "", Single, TwiceSingle) {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> exponent(-59.0, 59.0), near(0.4, 2.5);
  double worst = 0.0;
  for (int i = 0; i < 20000; ++i) {
    const auto x = static_cast<float>(i % 2 == 0 ? std::exp2(exponent(random)) : near(random));
    const auto y = static_cast<float>(std::exp2(exponent(random)));
    const double right = std::log(static_cast<double>(x) / static_cast<double>(y));
    const auto found = log_of_ratio(pack_of<TestType>(x, y), pack_of<TestType>(y, x));
    for (int which : {0, 1})
      worst = std::max(worst, std::abs(lane(found, which) - (which == 0 ? right : -right)) / std::max(1.0, std::abs(right)));
  }
  CHECK(worst <= 3e-7);
  CHECK(lane(log(TestType(1.0)), 0) == 0.0);
}

TEMPLATE_TEST_CASE("pack: single precision is rounded as for one number", "", Single, TwiceSingle) {
  std::mt19937 random(4);
  std::uniform_real_distribution<float> any(-1e3F, 1e3F);
  for (int i = 0; i < 2000; ++i) {
    const float x = any(random), y = any(random);
    const auto a = pack_of<TestType>(x, y), b = pack_of<TestType>(y, x);
    const float expected[] = {x + y, x - y, x * y, x / y, std::fma(x, y, x), std::sqrt(std::abs(x)), std::copysign(x, y), std::max(x, y),
                              std::min(x, y), x < y ? y : -x};
    const TestType found[] = {a + b, a - b, a * b, a / b, multiply_add(a, b, a), sqrt(abs(a)), copysign(a, b), larger(a, b), smaller(a, b),
                              choose(a < b, [&] { return b; }, [&] { return -a; })};
    for (int operation = 0; operation < 10; ++operation) {
      INFO("operation " << operation);
      CHECK(lane(found[operation], 0) == static_cast<double>(expected[operation]));
    }
  }
}

TEST_CASE("pack: friction in single precision is the law to some millionths, in every regime") {
  // Beyond, its powers leave the range of single precision, and a row goes on without.
  constexpr double most_rough = 4e4;
  for (double roughness : {0.0, 1e-5, 1e-3, 0.05})
    for (double reynolds = 0.01; reynolds < 1e8 && reynolds * roughness < most_rough; reynolds *= 1.07) {
      using D = Dual<1, Single>;
      const auto found = correlations::friction_times_reynolds(D(pack_of<Single>(reynolds, reynolds), 0), Single(roughness));
      const auto right = correlations::friction_times_reynolds(Dual<1>(reynolds, 0), roughness);
      INFO("Re " << reynolds << " roughness " << roughness);
      CHECK(lane(found.value, 0) == Approx(right.value).epsilon(3e-6));
      CHECK(lane(found.slope[0], 0) == Approx(right.slope[0]).epsilon(3e-5).margin(1e-6 * right.value / reynolds));
    }
}

#include "flarenut/autodiff/monotone_curve.hpp"

#include "../catch_shim.hpp"

using flarenut::Dual;
using flarenut::MonotoneCurve;

namespace {

struct Reading {
  double x, value, slope;
};

struct Reference {
  std::vector<double> x, y;
  std::vector<Reading> readings;
  double first_slope, last_slope;
};

// Judge: PchipInterpolator of SciPy 1.17.1 and its derivative, printed to 12 digits. The point sets are invented: a
// pump curve, one with a level stretch and a turn, one with a long last gap, one with a cliff.
const std::vector<Reference> references{
    {{0, 1, 2.5, 4, 7}, {80, 76, 66, 48, -5},
     {{0.21, 79.3317817443, -3.42409530055}, {1.47, 73.4467972591, -5.96198803018},
      {3.36, 56.6364925407, -12.7329754803}, {5.39, 26.2189055441, -17.367397546},
      {6.65, 2.34746495895, -20.5425153944}},
     -2.93333333333, -21.4444444444},
    {{0, 2, 3, 5}, {1, 4, 4, 2},
     {{0.15, 1.368953125, 2.4165625}, {1.05, 3.204671875, 1.5615625}, {2.4, 4.0, 0.0},
      {3.85, 3.56951041667, -0.952708333333}, {4.75, 2.40494791667, -1.56770833333}},
     2.5, -1.66666666667},
    {{0, 1, 10}, {0, 5, 5.5},
     {{0.3, 1.87831762471, 6.63555263737}, {2.1, 5.1465791226, 0.118406400013},
      {4.8, 5.38072139768, 0.0584119060146}, {7.7, 5.48377676087, 0.0165595647404},
      {9.5, 5.49944192256, 0.00234820769454}},
     5.49444444444, 0.0},
    {{0.5, 1, 1.2, 3}, {10, 9.9, 3, 2.9},
     {{0.575, 9.99835327181, -0.0453322147651}, {1.025, 9.59506499573, -22.8631846893},
      {1.7, 2.94173262543, -0.0850597759154}, {2.425, 2.90520631006, -0.0221890394551},
      {2.875, 2.90015927454, -0.00274121571896}},
     0.0, 0.0},
};

double slope_at(const MonotoneCurve& curve, double x) { return curve(Dual<1>(x, 0)).slope[0]; }

}  // namespace

TEST_CASE("monotone curve: value and slope are those of the reference library") {
  for (const auto& reference : references) {
    const MonotoneCurve curve(reference.x, reference.y);
    for (const auto& reading : reference.readings) {
      CHECK(curve(reading.x) == Approx(reading.value).epsilon(1e-10));
      CHECK(slope_at(curve, reading.x) == Approx(reading.slope).epsilon(1e-9).margin(1e-11));
    }
    CHECK(slope_at(curve, reference.x.front()) == Approx(reference.first_slope).epsilon(1e-10).margin(1e-12));
    CHECK(slope_at(curve, reference.x.back()) == Approx(reference.last_slope).epsilon(1e-10).margin(1e-12));
  }
}

TEST_CASE("monotone curve: goes through its points and never overshoots them") {
  for (const auto& reference : references) {
    const MonotoneCurve curve(reference.x, reference.y);
    for (std::size_t i = 0; i < reference.x.size(); ++i) CHECK(curve(reference.x[i]) == Approx(reference.y[i]));
    for (std::size_t i = 1; i < reference.x.size(); ++i) {
      const auto [low, high] = std::minmax(reference.y[i - 1], reference.y[i]);
      for (double share = 0.0; share <= 1.0; share += 0.01) {
        const double y = curve(reference.x[i - 1] + share * (reference.x[i] - reference.x[i - 1]));
        CHECK(y >= low - 1e-12);
        CHECK(y <= high + 1e-12);
      }
    }
  }
}

TEST_CASE("monotone curve: value and slope do not jump at a point or at an end") {
  for (const auto& reference : references) {
    const MonotoneCurve curve(reference.x, reference.y);
    for (double x : reference.x) {
      CHECK(curve(x - 1e-9) == Approx(curve(x + 1e-9)).margin(1e-6));
      CHECK(slope_at(curve, x - 1e-9) == Approx(slope_at(curve, x + 1e-9)).margin(1e-5));
    }
  }
}

TEST_CASE("monotone curve: runs on straight beyond both ends and says when it does") {
  const auto& pump = references.front();
  const MonotoneCurve curve(pump.x, pump.y);
  CHECK(curve(-3.0) == Approx(80.0 + 3.0 * 2.93333333333));
  CHECK(curve(17.0) == Approx(-5.0 - 10.0 * 21.4444444444));
  CHECK(slope_at(curve, 1e6) == Approx(pump.last_slope));
  CHECK(curve.inside(0.0));
  CHECK(curve.inside(7.0));
  CHECK_FALSE(curve.inside(-1e-9));
  CHECK_FALSE(curve.inside(7.001));
}

TEST_CASE("monotone curve: two points make a straight line") {
  const MonotoneCurve curve({1.0, 3.0}, {10.0, 4.0});
  for (double x : {-1.0, 1.0, 1.7, 3.0, 9.0}) {
    CHECK(curve(x) == Approx(13.0 - 3.0 * x));
    CHECK(slope_at(curve, x) == Approx(-3.0));
  }
}

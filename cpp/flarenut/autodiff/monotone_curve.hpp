#pragma once
/// A smooth curve through measured points that never overshoots them: piecewise cubic, monotone wherever the
/// points are, straight beyond both ends.
///
/// The slope at an inner point is the weighted harmonic mean of the two neighbouring secants (zero where they
/// differ in sign); at an end it is the three-point slope, held to the sign of the end secant and to three times
/// it where the curve turns. Value and slope are continuous everywhere.
///
/// Assumes: x strictly rising, at least two points; whoever owns the points checks that and says so in the
/// user's words. Source: F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300.

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

#include "flarenut/autodiff/dual.hpp"

namespace flarenut {

class MonotoneCurve {
 public:
  MonotoneCurve(std::vector<double> x, std::vector<double> y) : x_(std::move(x)) {
    assert(x_.size() >= 2 && x_.size() == y.size());
    const std::size_t last = x_.size() - 1;
    const auto width = [&](std::size_t i) { return x_[i + 1] - x_[i]; };
    const auto secant = [&](std::size_t i) { return (y[i + 1] - y[i]) / width(i); };

    pieces_.resize(x_.size());
    for (std::size_t i = 0; i <= last; ++i) pieces_[i].value = y[i];
    for (std::size_t i = 1; i < last; ++i)
      pieces_[i].slope = inner_slope(width(i - 1), width(i), secant(i - 1), secant(i));
    const std::size_t second = last > 1 ? 1 : 0;  // two points only: both end slopes are the secant
    pieces_[0].slope = end_slope(width(0), width(second), secant(0), secant(second));
    pieces_[last].slope =
        end_slope(width(last - 1), width(last - 1 - second), secant(last - 1), secant(last - 1 - second));
    for (std::size_t i = 0; i < last; ++i) {
      const double from = pieces_[i].slope, to = pieces_[i + 1].slope, h = width(i);
      pieces_[i].bend = (3.0 * secant(i) - 2.0 * from - to) / h;
      pieces_[i].twist = (from + to - 2.0 * secant(i)) / (h * h);
    }
  }

  template <Number N>
  N operator()(const N& x) const {
    const double plain = value_of(x);
    if (plain <= x_.front()) return pieces_.front().value + pieces_.front().slope * (x - x_.front());
    if (plain >= x_.back()) return pieces_.back().value + pieces_.back().slope * (x - x_.back());
    const auto i = static_cast<std::size_t>(std::upper_bound(x_.begin(), x_.end(), plain) - x_.begin()) - 1;
    const Piece& piece = pieces_[i];
    const N from = x - x_[i];
    return piece.value + from * (piece.slope + from * (piece.bend + from * piece.twist));
  }

  /// Area under the curve from its first point to x, exact; negative before the first point.
  template <Number N>
  N area(const N& x) const {
    const double plain = value_of(x);
    const auto under = [](const Piece& piece, const auto& d) {
      return d * (piece.value + d * (piece.slope / 2.0 + d * (piece.bend / 3.0 + d * (piece.twist / 4.0))));
    };
    if (plain <= x_.front()) {
      const Piece straight{pieces_.front().value, pieces_.front().slope, 0.0, 0.0};
      return under(straight, N(x - x_.front()));
    }
    double before = 0.0;
    std::size_t i = 0;
    for (; i + 1 < x_.size() && plain >= x_[i + 1]; ++i) before += under(pieces_[i], x_[i + 1] - x_[i]);
    return before + under(pieces_[i], N(x - x_[i]));  // the last piece has no bend: straight beyond
  }

  /// Whether x lies between the first and the last point, ends included.
  bool inside(double x) const { return x >= x_.front() && x <= x_.back(); }

 private:
  /// value + slope·d + bend·d² + twist·d³, d counted from the point.
  struct Piece {
    double value = 0.0, slope = 0.0, bend = 0.0, twist = 0.0;
  };

  static double inner_slope(double width_before, double width_after, double before, double after) {
    if (before * after <= 0.0) return 0.0;
    const double weight_before = 2.0 * width_after + width_before, weight_after = width_after + 2.0 * width_before;
    return (weight_before + weight_after) / (weight_before / before + weight_after / after);
  }

  static double end_slope(double near_width, double far_width, double near, double far) {
    const double slope = ((2.0 * near_width + far_width) * near - near_width * far) / (near_width + far_width);
    if (slope * near <= 0.0) return 0.0;
    if (near * far <= 0.0 && std::abs(slope) > 3.0 * std::abs(near)) return 3.0 * near;
    return slope;
  }

  std::vector<double> x_;
  std::vector<Piece> pieces_;
};

}  // namespace flarenut

#pragma once
/// A measured pump curve and what it becomes at another speed. Shared by the pumps that are known by a table.
///
/// What it is: points of flow against pressure rise, taken at one speed (or one voltage) and joined by a smooth
/// curve that keeps their fall. At `ratio` times that speed the same pump gives, by the affinity laws of similar
/// flow,
///
///   rise(Q, ratio) = ratio² · f(Q / ratio)  −  c·(Q − ratio·Q₀)₊²  +  c·(−Q)₊²  −  floor·Q
///
/// f runs on straight past its first and last point. Q₀ is where the straight run-on meets zero rise (at most
/// twice the last flow): from there, and for flow driven backwards, a square-law loss joins in, with
/// c = (top rise) / (top flow)², so that a pump that is pushed is steep but finite. At ratio 0 only that loss is
/// left: Δp = c Q|Q|. The floor, 10⁻⁶ · top rise / top flow, keeps a slope where a curve lies flat.
///
/// Assumes: similar flow, so no effect of viscosity on the shape. The run-on beyond the points and c are a
/// convention of this engine (common practice, no source); `inside` says when they are in use.
/// Sign: flow from inlet to outlet, rise from inlet to outlet. Plain SI numbers: m³/s and Pa.
/// Source: affinity laws, any textbook of hydraulic machines.

#include <span>
#include <string_view>
#include <vector>

#include "flarenut/autodiff/monotone_curve.hpp"
#include "flarenut/parts/part.hpp"

namespace flarenut::parts {

class PumpCurve {
 public:
  PumpCurve(std::vector<double> flow, std::vector<double> rise);

  template <Number R, Number M>
  Mixed<R, M> rise(const R& ratio, const M& flow) const {
    // Below a thousandth of the speed the table is worth a millionth of its rise; holding the divisor there
    // keeps it finite down to standstill.
    const R divisor = value_of(ratio) < slowest ? R(slowest) : ratio;
    const Mixed<R, M> pushed = flow - ratio * runout_flow_;
    Mixed<R, M> result = ratio * ratio * curve_(Mixed<R, M>(flow / divisor)) - floor_ * flow;
    if (value_of(pushed) > 0.0) result = result - square_law_ * (pushed * pushed);
    if (value_of(flow) < 0.0) result = result + square_law_ * (flow * flow);
    return result;
  }

  /// Whether a flow at this speed ratio lies between the first and last measured point.
  bool inside(double ratio, double flow) const;
  /// Whether the rise somewhere climbs, or fails to fall, with flow: then several flows may fit one pressure.
  bool has_hump() const { return has_hump_; }
  double top_flow() const { return top_flow_; }      ///< last measured flow
  double top_rise() const { return top_rise_; }      ///< greatest measured rise
  double last_rise() const { return last_rise_; }    ///< rise at the last measured flow

 private:
  static constexpr double slowest = 1e-3;

  MonotoneCurve curve_;
  double first_flow_, top_flow_, top_rise_, last_rise_;
  double runout_flow_ = 0.0, square_law_ = 0.0, floor_ = 0.0;
  bool has_hump_ = false;
};

/// Throws InputError when points do not make a pump curve: unequal columns, fewer than two points, flow not
/// rising or negative, no rise at all. `which` names the curve in the message ("" when there is only one).
void require_pump_curve(std::string_view part, std::string_view which, std::span<const double> flow,
                        std::span<const double> rise);

}  // namespace flarenut::parts

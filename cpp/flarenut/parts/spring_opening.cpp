#include "flarenut/parts/spring_opening.hpp"

#include <algorithm>
#include <cmath>

namespace flarenut::parts {

double limit_spring_travel(double was, double wants) {
  // Opening: at most to half a band past the set point, then at most fourfold a step. Closing: at most to an eighth
  // of the lift; once nearly shut, to half a band below the set point, whence it may reopen as above.
  double may = wants;
  if (was <= 0.0) {
    may = std::min(wants, 0.5);
  } else {
    may = std::min(wants, 4.0 * was + 0.5);
    may = std::max(may, was > 0.04 ? 0.125 * was : -0.5);
  }
  // A point already at its limit, give or take the round-off of turning bands into pressures, is left alone.
  return std::abs(may - wants) <= 1e-9 * (1.0 + std::abs(wants)) ? wants : may;
}

MassFlow<> seat_flow(const PressureDifference<>& drop, const SquareFlowResistance<double>& resistance,
                     const MassFlow<>& linear) {
  const double squares = drop.value() / resistance.value();
  const double l = linear.value();
  return MassFlow<>::from_value(2.0 * squares / (l + std::sqrt(l * l + 4.0 * std::abs(squares))));
}

bool settle_flow(double bands, const PressureDifference<>& drop, const SquareFlowResistance<double>& resistance,
                 const MassFlow<>& linear, const MassFlow<>& most, MassFlow<>& flow) {
  const double passes = seat_flow(drop, resistance, linear).value();
  // Below the linear flow the law is a straight line, and near the answer Newton needs no help: leave both alone.
  if (bands <= 0.0) {
    if (std::abs(flow.value()) <= 4.0 * std::abs(passes) + linear.value()) return false;
    flow = MassFlow<>::from_value(passes);
    return true;
  }
  const double target = std::min(passes, most.value());
  if (bands > 1.0 || passes <= 0.0 || flow.value() >= 0.25 * target - linear.value()) return false;
  flow = MassFlow<>::from_value(target);
  return true;
}

bool is_backflow(const MassFlow<>& flow, const PressureDifference<>& scale, const SquareFlowResistance<double>& resistance) {
  constexpr double notable = 0.01;  // of what the open seat passes at its setting; less is seepage past a shut seat
  return flow < -notable * sqrt(scale / resistance);
}

Regime spring_regime(double bands, Regime between) {
  if (bands <= 0.0) return Regime::shut;
  return bands >= spring_wide_open ? Regime::wide_open : between;
}

}  // namespace flarenut::parts

#include "flarenut/parts/check_valve.hpp"

namespace flarenut::parts {
namespace {

/// A middling flow: what one bar drives through the square-law part.
MassFlow<> middling_flow(const SquareFlowResistance<double>& square) {
  return sqrt(PressureDifference<>::from_value(1e5) / square);
}

}  // namespace

template <>
std::array<MassFlow<>, 1> CheckValve<double>::start_flow() const {
  return {0.3 * middling_flow(square_)};
}

template <>
bool CheckValve<double>::limit(const PartState<double>& last, PartState<double>& proposed) const {
  if (last.flow[0].value() > 0.0 && proposed.flow[0].value() < 0.0) {
    proposed.flow[0] = MassFlow<>::from_value(0.0);
    return true;
  }
  return limit_flow_growth(last.flow[0], proposed.flow[0], 0.05 * middling_flow(square_));
}

template <>
Regime CheckValve<double>::regime(const PartState<double>& state) const {
  // It is open where the forward branch rules: where the corner is behind it.
  return seepage_ * state.flow[0] > crack_ ? Regime::open : Regime::shut;
}

}  // namespace flarenut::parts

#include "flarenut/parts/relief_valve.hpp"

#include <algorithm>

namespace flarenut::parts {

template <Number N>
void ReliefValveSpec<N>::check(std::string_view part) const {
  if (value_of(second_area.value()) > 0.0 &&
      value_of(second_set_pressure.value()) <= value_of(set_pressure.value()))
    throw InputError(part, "second_set_pressure",
                     "must be above set_pressure when there is a second area; raise it, or set second_area to 0");
}
template struct ReliefValveSpec<double>;

template <>
void ReliefValve<double>::start(State<double>& state) const {
  const auto drop = state.pressure_drop();
  const double open = opening(drop);
  state.flow[0] = seat_flow(open * open * drop, resistance_, linear_flow_);
}

template <>
bool ReliefValve<double>::limit(const State<double>& last, State<double>& proposed) const {
  const auto was = last.pressure_drop();
  const auto wants = proposed.pressure_drop();
  const auto pull_back = [&](PressureDifference<> set) {
    const double goes = (wants - set) / band_;
    return (limit_spring_travel<double>((was - set) / band_, goes) - goes) * band_;
  };
  auto moved = pull_back(set_);
  if (two_steps_) {  // both pull towards the last point: the longer pull rules
    const auto second = pull_back(second_set_);
    if (std::abs(second.value()) > std::abs(moved.value())) moved = second;
  }
  if (moved.value() != 0.0) proposed.pressure[0] += moved;
  const auto middling = sqrt(set_ / resistance_);
  const bool slowed = limit_flow_growth<double>(last.flow[0], proposed.flow[0], 0.05 * middling);
  const auto drop = proposed.pressure_drop();
  const double open = opening(drop);
  const bool settled = settle_flow<double>((drop - set_) / band_, open * open * drop, resistance_, linear_flow_,
                                   0.5 * middling, proposed.flow[0]);
  return slowed || settled || moved.value() != 0.0;
}

template <>
Regime ReliefValve<double>::regime(const State<double>& state) const {
  const auto drop = state.pressure_drop();
  const Regime first = spring_regime((drop - set_) / band_, Regime::relieving);
  if (!(second_share_ > 0.0) || first == Regime::shut) return first;
  return (drop - second_set_) / band_ >= spring_wide_open ? Regime::wide_open : Regime::relieving;
}

}  // namespace flarenut::parts

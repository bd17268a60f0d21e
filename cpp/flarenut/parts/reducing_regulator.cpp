#include "flarenut/parts/reducing_regulator.hpp"

namespace flarenut::parts {

template <>
void ReducingRegulator<double>::start(State<double>& state) const {
  state.sensed[0] = state.sensed[1] + (spec_.set_pressure - 0.5 * spec_.band);
  state.pressure[1] = state.sensed[0];
  // A supply not yet known, or below the setting, is taken at half the setting more.
  const auto least_supply = state.pressure[1] + 0.5 * spec_.set_pressure;
  if (state.pressure[0].value() < least_supply.value()) state.pressure[0] = least_supply;
  state.flow[0] = 0.3 * sqrt(state.pressure_drop() / resistance_);
}

template <>
bool ReducingRegulator<double>::limit(const State<double>& last, State<double>& proposed) const {
  const double wants = shortfall(proposed) / spec_.band;
  const double may = limit_spring_travel<double>(shortfall(last) / spec_.band, wants);
  if (may != wants) proposed.sensed[0] -= (may - wants) / (1.0 + spec_.seat_share.value()) * spec_.band;
  const auto middling = sqrt(spec_.set_pressure / resistance_);
  const bool slowed = limit_flow_growth<double>(last.flow[0], proposed.flow[0], 0.05 * middling);
  // Liquid that still flows forward against a risen regulated side would seem to be helped by shutting the valve.
  // Seen at no drop it can only slow down, which is the way to the answer.
  const bool climbs = proposed.flow[0].value() > 0.0 && proposed.pressure_drop() < -0.01 * spec_.band &&
                      last.pressure_drop().value() >= 0.0;
  if (climbs) proposed.pressure[1] = proposed.pressure[0];
  const double open = opening(proposed);
  const bool settled = settle_flow<double>(may, open * open * proposed.pressure_drop(), resistance_, linear_flow_,
                                   0.5 * middling, proposed.flow[0]);
  return slowed || climbs || settled || may != wants;
}

template <>
Regime ReducingRegulator<double>::regime(const State<double>& state) const {
  if (is_backflow(state.flow[0], spec_.set_pressure, resistance_)) return Regime::reversed;
  return spring_regime(shortfall(state) / spec_.band, Regime::regulating);
}

}  // namespace flarenut::parts

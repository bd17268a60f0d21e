#include "flarenut/parts/bypass_regulator.hpp"

namespace flarenut::parts {

template <>
void BypassRegulator<double>::start(State<double>& state) const {
  state.sensed[0] = state.sensed[1] + (spec_.set_pressure + 0.5 * spec_.band);
  state.pressure[0] = state.sensed[0];
  state.pressure[1] = state.sensed[1];
  const auto drop = spec_.set_pressure;
  state.flow[0] = 0.3 * sqrt(drop / flow_to_drop_);
}

template <>
bool BypassRegulator<double>::limit(const State<double>& last, State<double>& proposed) const {
  const double wants = excess(proposed) / spec_.band;
  const double may = limit_spring_travel(excess(last) / spec_.band, wants);
  if (may != wants) proposed.sensed[0] += (may - wants) / (1.0 - seat_share_.value()) * spec_.band;
  const auto middling = sqrt(spec_.set_pressure / flow_to_drop_);
  const bool slowed = limit_flow_growth(last.flow[0], proposed.flow[0], 0.05 * middling);
  const double open = opening(excess(proposed));
  const bool settled = settle_flow(may, open * open * proposed.pressure_drop(), flow_to_drop_, linear_flow_,
                                   0.5 * middling, proposed.flow[0]);
  return slowed || settled || may != wants;
}

template <>
Regime BypassRegulator<double>::regime(const State<double>& state) const {
  if (is_backflow(state.flow[0], spec_.set_pressure, flow_to_drop_)) return Regime::reversed;
  return spring_regime(excess(state) / spec_.band, Regime::regulating);
}

}  // namespace flarenut::parts

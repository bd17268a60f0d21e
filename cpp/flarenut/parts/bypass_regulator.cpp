#include "flarenut/parts/bypass_regulator.hpp"

namespace flarenut::parts {

template <>
void BypassRegulator<double>::start(State<double>& state) const {
  state.sensed[0] = state.sensed[1] + (spec_.set_pressure + 0.3 * spec_.band);
  state.pressure[0] = state.sensed[0];
  state.pressure[1] = state.sensed[1];
  const auto drop = spec_.set_pressure;
  state.flow[0] = 0.3 * sqrt(drop / flow_to_drop_);
}

template <>
Regime BypassRegulator<double>::regime(const State<double>& state) const {
  if (is_backflow(state.flow[0], spec_.set_pressure, flow_to_drop_)) return Regime::reversed;
  return spring_regime(excess(state) / spec_.band, Regime::regulating);
}

}  // namespace flarenut::parts

#include "flarenut/parts/centrifugal_pump.hpp"

#include <cmath>

namespace flarenut::parts {

template <Number N>
void CentrifugalPumpSpec<N>::check(std::string_view part) const {
  require_pump_curve(part, "", curve_flow, curve_rise);
}
template struct CentrifugalPumpSpec<double>;

template <>
Regime CentrifugalPump<double>::regime(const PartState<double>& state) const {
  const double volume_flow = (state.flow[0] / density_).value();
  const double top_flow = speed_ratio_ * curve_.top_flow();
  if (speed_ratio_ < 1e-3) return Regime::stopped;
  if (std::abs(volume_flow) < 0.01 * top_flow) return Regime::dead_headed;
  if (volume_flow < 0.0) return Regime::reversed;
  return drop(state.flow[0]).value() >= 0.0 ? Regime::running_out : Regime::pumping;
}

template <>
bool CentrifugalPump<double>::beyond_data(const PartState<double>& state) const {
  return !curve_.inside(speed_ratio_, (state.flow[0] / density_).value());
}

}  // namespace flarenut::parts

#include "flarenut/parts/positive_displacement_pump.hpp"

#include <cmath>

namespace flarenut::parts {

template <>
Regime PositiveDisplacementPump<double>::regime(const PartState<double>& state) const {
  // Seen in the direction it turns, so that a pump driven backwards on purpose reads as pumping.
  const double forward = delivery_.value() < 0.0 ? -1.0 : 1.0;
  const double carried = forward * delivery_.value();
  const double flow = forward * (state.flow[0] / density_).value();
  if (carried < rounding_) return Regime::stopped;
  if (std::abs(flow) < 0.01 * carried) return Regime::dead_headed;
  if (flow < 0.0) return Regime::reversed;
  return flow >= carried ? Regime::running_out : Regime::pumping;
}

}  // namespace flarenut::parts

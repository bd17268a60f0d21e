#include "flarenut/parts/quadratic_pump.hpp"

#include <cmath>

namespace flarenut::parts {

template <>
Regime QuadraticPump<double>::regime(const PartState<double>& state) const {
  const double volume_flow = (state.flow[0] / density_).value();
  if (drive_ < 1e-3) return Regime::stopped;
  if (std::abs(volume_flow) < 0.01 * drive_ * scale_) return Regime::dead_headed;
  if (volume_flow < 0.0) return Regime::reversed;
  return drop(state.flow[0]).value() >= 0.0 ? Regime::running_out : Regime::pumping;
}

}  // namespace flarenut::parts

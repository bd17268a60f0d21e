#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

bool is_backflow(const MassFlow<>& flow, const PressureDifference<>& scale, const SquareFlowResistance<double>& resistance) {
  constexpr double notable = 0.01;  // of what the open seat passes at its setting; less is seepage past a shut seat
  return flow < -notable * sqrt(scale / resistance);
}

Regime spring_regime(double bands, Regime between) {
  if (bands <= 0.0) return Regime::shut;
  return bands >= spring_wide_open ? Regime::wide_open : between;
}

}  // namespace flarenut::parts

#include "flarenut/parts/check_valve.hpp"

namespace flarenut::parts {

template <>
Regime CheckValve<double>::regime(const PartState<double>& state) const {
  // It is open where the forward branch rules: where the corner is behind it.
  return seepage_ * state.flow[0] > crack_ ? Regime::open : Regime::shut;
}

}  // namespace flarenut::parts

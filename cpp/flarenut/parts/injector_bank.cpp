#include "flarenut/parts/injector_bank.hpp"

#include <algorithm>
#include <cmath>

namespace flarenut::parts {

template <Number N>
void InjectorBankSpec<N>::check(std::string_view part) const {
  const double injectors = value_of(count.value());
  if (injectors != std::round(injectors))
    throw InputError(part, "count", "must be a whole number of injectors; put the share of time into duty");
}
template struct InjectorBankSpec<double>;

template <>
bool InjectorBank<double>::limit(const State<double>& last, State<double>& proposed) const {
  const bool slowed = limit_flow_growth(last.flow[0], proposed.flow[0], 0.1 * rated_duty_flow_ + linear_flow_);
  // Left over from a larger duty, a flow far beyond what this duty passes would only be halved step by step.
  const auto passes = seat_flow(duty_squared_ * proposed.pressure_drop(), resistance_, linear_flow_);
  const double most = 4.0 * std::max(std::abs(passes.value()), rated_duty_flow_.value()) + linear_flow_.value();
  const bool settled = std::abs(proposed.flow[0].value()) > most;
  if (settled) proposed.flow[0] = MassFlow<>::from_value(std::copysign(most, proposed.flow[0].value()));
  return slowed || settled;
}

template <>
Regime InjectorBank<double>::regime(const State<double>& state) const {
  if (!(duty_squared_.value() > 0.0)) return Regime::stopped;
  return state.flow[0].value() < 0.0 ? Regime::reversed : Regime::open;
}

}  // namespace flarenut::parts

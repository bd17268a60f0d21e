#include "flarenut/parts/injector_bank.hpp"

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
Regime InjectorBank<double>::regime(const State<double>& state) const {
  if (!(duty_squared_.value() > 0.0)) return Regime::stopped;
  return state.flow[0].value() < 0.0 ? Regime::reversed : Regime::open;
}

}  // namespace flarenut::parts

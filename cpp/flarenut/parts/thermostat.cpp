#include "flarenut/parts/thermostat.hpp"

namespace flarenut::parts {

template <Number N>
void ThermostatSpec<N>::check(std::string_view part) const {
  constexpr double least_range = 0.1;  // [K], narrower than any wax
  if (!(value_of(full_temperature.value()) - value_of(start_temperature.value()) >= least_range))
    throw InputError(part, "full_temperature",
                     "must be above start_temperature, by 0.1 K or more: a thermostat begins to move before it has done its travel; "
                     "swap the two, or check their units");
}
template struct ThermostatSpec<double>;

}  // namespace flarenut::parts

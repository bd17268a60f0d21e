#include "flarenut/fluids/gas.hpp"

#include <sstream>
#include <utility>

#include "flarenut/base/error.hpp"

namespace flarenut::fluids {

Gas::Gas(GasRecord record) : record_(std::move(record)) {
  if (!(record_.gas_constant > 1.0 && record_.gas_constant < 1e4))
    throw InputError(record_.name, "gas constant", "must be in J/(kg K), between 1 and 10000");
  if (!(record_.least_kelvin > 0.0 && record_.most_kelvin > record_.least_kelvin))
    throw InputError(record_.name, "range", "must run from a lower to a higher absolute temperature");
  if (!(record_.most_pascal > 0.0)) throw InputError(record_.name, "highest pressure", "must be above zero");
}

void Gas::require_within_range(double kelvin, double pascal) const {
  std::ostringstream trouble;
  if (!(kelvin >= record_.least_kelvin && kelvin <= record_.most_kelvin)) {
    trouble << kelvin - ice_point_kelvin << " degC is outside " << record_.least_kelvin - ice_point_kelvin << " to "
            << record_.most_kelvin - ice_point_kelvin << " degC, where its data reach";
    throw InputError(record_.name, "temperature", trouble.str());
  }
  if (!(pascal > 0.0 && pascal <= record_.most_pascal)) {
    trouble << pascal / 1e3 << " kPa absolute is outside 0 to " << record_.most_pascal / 1e3
            << " kPa, where the ideal-gas law serves";
    throw InputError(record_.name, "pressure", trouble.str());
  }
}

}  // namespace flarenut::fluids

// expect: could not convert .* from .*mass_base_dimension.* to .*length_base_dimension,static_rational<3>
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// The can says lb/h, the pump's curve L/h: only a density leads from one to the other.
double turns(VolumeFlow<> flow) { return flow.value(); }

int main() {
#ifdef CONTROL
  return turns(60.0 * pound_per_hour / (745.0 * kilogram_per_cubic_metre)) > 0.0;
#else
  return turns(60.0 * pound_per_hour) > 0.0;
#endif
}

// expect: could not convert .* from .*static_rational<2>.* to .*static_rational<-1>.*mass_base_dimension
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// Centistokes and centipoise differ by the density.
double drag(DynamicViscosity<> viscosity) { return viscosity.value(); }

int main() {
#ifdef CONTROL
  return drag(46.0 * centistoke * (870.0 * kilogram_per_cubic_metre)) > 0.0;
#else
  return drag(46.0 * centistoke) > 0.0;
#endif
}

// expect: could not convert .* from .flarenut::GaugePressure<>. to .flarenut::AbsolutePressure<>.
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// A gauge reading is absolute only once the ambient is named.
double boiling_margin(AbsolutePressure<> pressure) { return pressure.value(); }

int main() {
#ifdef CONTROL
  return boiling_margin(gauge(3.0 * bar).absolute(absolute(1.0 * bar))) > 0.0;
#else
  return boiling_margin(gauge(3.0 * bar)) > 0.0;
#endif
}

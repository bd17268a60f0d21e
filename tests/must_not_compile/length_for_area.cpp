// expect: could not convert .* from .*static_rational<1>.* to .*static_rational<2>
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// A bore is not its area.
double seat(Area<> area) { return area.value(); }

int main() {
#ifdef CONTROL
  return seat(0.25 * inch * inch) > 0.0;
#else
  return seat(0.25 * inch) > 0.0;
#endif
}

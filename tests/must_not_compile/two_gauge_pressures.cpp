// expect: no match for .operator\+. .*GaugePressure<>.*GaugePressure<>
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// Two gauge readings do not add: each is a point above the same ambient.
int main() {
#ifdef CONTROL
  [[maybe_unused]] auto sum = gauge(3.0 * bar).above_ambient() + 1.0 * bar;
#else
  [[maybe_unused]] auto sum = gauge(3.0 * bar) + gauge(1.0 * bar);
#endif
}

// expect: no match for .operator\+. .*AbsolutePressure<>.*AbsolutePressure<>
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// Two pressures above vacuum subtract to a difference; their sum means nothing.
int main() {
#ifdef CONTROL
  [[maybe_unused]] PressureDifference<> rise = absolute(2.0 * bar) - absolute(1.0 * bar);
#else
  [[maybe_unused]] auto sum = absolute(1.0 * bar) + absolute(2.0 * bar);
#endif
}

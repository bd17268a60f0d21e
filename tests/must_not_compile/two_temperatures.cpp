// expect: no match for .operator\+. .*Temperature<>.*Temperature<>
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// 20 degrees and 30 degrees are points; a step may be added to a point.
int main() {
#ifdef CONTROL
  [[maybe_unused]] Temperature<> warmer = celsius(20.0) + (celsius(30.0) - celsius(20.0));
#else
  [[maybe_unused]] auto sum = celsius(20.0) + celsius(30.0);
#endif
}

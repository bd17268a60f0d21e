// expect: no match for .operator\+. .*length_base_dimension.*mass_base_dimension
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// A bore and a pressure do not add.
int main() {
#ifdef CONTROL
  [[maybe_unused]] auto sum = 8.0 * millimetre + 0.5 * inch;
#else
  [[maybe_unused]] auto sum = 8.0 * millimetre + 3.0 * bar;
#endif
}

// expect: conversion from .*mass_base_dimension.* to non-scalar type .*quantity
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// Pressure times area is a force.
int main() {
#ifdef CONTROL
  [[maybe_unused]] Length<> travel = (3.0 * bar) * (1.0 * inch * inch) / (3.0 * bar * inch);
#else
  [[maybe_unused]] Length<> travel = (3.0 * bar) * (1.0 * inch * inch);
#endif
}

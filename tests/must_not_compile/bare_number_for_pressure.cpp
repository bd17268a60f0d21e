// expect: conversion from .double. to non-scalar type .flarenut::PressureDifference<>.
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// A number without a unit is no pressure.
int main() {
#ifdef CONTROL
  [[maybe_unused]] PressureDifference<> set_pressure = 43.5 * psi;
#else
  [[maybe_unused]] PressureDifference<> set_pressure = 43.5;
#endif
}

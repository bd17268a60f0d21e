// expect: conversion from .*mass_base_dimension.* to non-scalar type .flarenut::GaugePressure<>.
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

// A drop along a hose is no reading against the open air, though both are so many psi.
int main() {
#ifdef CONTROL
  [[maybe_unused]] GaugePressure<> rail = gauge(43.5 * psi);
#else
  [[maybe_unused]] GaugePressure<> rail = 43.5 * psi;
#endif
}

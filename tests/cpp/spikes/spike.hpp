#pragma once
/// What the spikes share: small proofs that the contract of parts and plan carries what is not built yet.

#include <cmath>
#include <numbers>

#include "catch_shim.hpp"
#include "flarenut/analysis/gradient.hpp"
#include "flarenut/analysis/steady.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/network/element_of.hpp"

namespace flarenut::spikes {

inline fluids::Liquid liquid(double density, double viscosity, double specific_heat = 2000.0) {
  fluids::ConstantLiquidSpec spec;
  spec.density = Density<>::from_value(density);
  spec.viscosity = DynamicViscosity<>::from_value(viscosity);
  spec.specific_heat = SpecificHeat<>::from_value(specific_heat);
  return fluids::constant_liquid(spec);
}

}  // namespace flarenut::spikes

#pragma once
/// How stiff a liquid is with air in it, when squeezed fast, and when trapped and warmed. Plain numbers in SI.

#include <cmath>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/fluids/property_laws.hpp"

namespace flarenut::fluids {

/// Bulk modulus of a liquid with free air bubbles (standard compression-only model; Merritt 1967, from memory):
///
///     1/K = (1/K_liquid + x/(n p)) / (1 + x),   x = a0 (p0/p)^(1/n)
///
/// with a0 the volume of air per volume of liquid at p0 = one atmosphere, p absolute. n is 1 for slow squeezing (the bubbles
/// stay as warm as the liquid), 1.4 for fast. No air dissolves: a handbook's chart factor at 500 psi with 2 % air lies 6 %
/// above the slow law and 32 % above the fast one. Soft brakes are this: at rest 1 % of air leaves 1 % of the stiffness.
template <Number N>
N aerated_modulus(const N& liquid_modulus, double air_per_liquid, const N& pressure, double exponent) {
  using std::pow;
  const N air = air_per_liquid * pow(N(reference_pressure_pascal / pressure), 1.0 / exponent);
  return (1.0 + air) / (1.0 / liquid_modulus + air / (exponent * pressure));
}

/// Isentropic (fast) modulus from the isothermal (slow) one: 1/K_s = 1/K_T − T α²/(ρ cp). What a pressure wave feels, with
/// speed √(K_s/ρ). For water the two differ by 1 %, for hydrocarbons by 15–25 %.
template <Number N>
N isentropic_modulus(const N& isothermal_modulus, const N& kelvin, const N& expansion, const N& density, const N& specific_heat) {
  return 1.0 / (1.0 / isothermal_modulus - kelvin * expansion * expansion / (density * specific_heat));
}

/// Pressure rise of a liquid shut in a rigid space and warmed: Δp = K α ΔT. About 1 MPa for each kelvin: why a full line
/// between two shut valves bursts.
template <Number N>
N trapped_pressure_rise(const N& modulus, const N& expansion, const N& warming) {
  return modulus * expansion * warming;
}

}  // namespace flarenut::fluids

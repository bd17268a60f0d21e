#pragma once
/// What two liquids stirred together become: the rules for an alcohol (1) in gasoline (2).
///
/// Plain numbers in SI unless the name says otherwise; shares are fractions of the whole, 0–1. Every rule gives the
/// pure liquid exactly at share 0 and 1.

#include <cmath>

#include "flarenut/autodiff/dual.hpp"

namespace flarenut::fluids {

/// Volumes add (C19 textbook rule): 1/ρ = w/ρ1 + (1−w)/ρ2, w by mass. Ethanol in gasoline really swells 0.1–0.3 %.
template <Number N>
N density_by_volumes(double mass_share, const N& first, const N& second) {
  return 1.0 / (mass_share / first + (1.0 - mass_share) / second);
}

/// By mass: specific heat, stoichiometric ratio, heating value.
template <Number N>
N mixed_by_mass(double mass_share, const N& first, const N& second) {
  return mass_share * first + (1.0 - mass_share) * second;
}

/// Refutas blending (as quoted by Maples, Petroleum Refinery Process Economics, 2000), ν in mm²/s, shares by mass:
///   b = 14.534 ln ln(ν + 0.8) + 10.975;  b of the blend is the mass mean.   Needs ν above 0.2 mm²/s.
template <Number N>
N viscosity_by_refutas(double mass_share, const N& first_mm2_s, const N& second_mm2_s) {
  using std::exp;
  using std::log;
  // The two constants cancel: only the double logarithm is averaged.
  const N first = log(log(first_mm2_s + 0.8)), second = log(log(second_mm2_s + 0.8));
  return exp(exp(mixed_by_mass(mass_share, first, second))) - 0.8;
}

/// Filippov's equation for two liquids (as in Reid, Prausnitz and Poling, The Properties of Gases and Liquids; from
/// memory): k = w k1 + (1−w) k2 − 0.72 w (1−w) |k1 − k2|.
template <Number N>
N conductivity_by_filippov(double mass_share, const N& first, const N& second) {
  using std::abs;
  return mixed_by_mass(mass_share, first, second) - 0.72 * mass_share * (1.0 - mass_share) * abs(first - second);
}

/// Compressibilities add by volume: 1/K = v/K1 + (1−v)/K2.
template <Number N>
N modulus_by_volumes(double volume_share, const N& first, const N& second) {
  return 1.0 / (volume_share / first + (1.0 - volume_share) / second);
}

/// Activity coefficients of the Wilson equation (G. M. Wilson, J. Am. Chem. Soc. 86, 1964), x the mole share of 1:
///   ln γ1 = −ln(x + Λ12 (1−x)) + (1−x) κ,   ln γ2 = −ln(Λ21 x + 1−x) − x κ,
///   κ = Λ12/(x + Λ12 (1−x)) − Λ21/(Λ21 x + 1−x).
template <Number N>
struct Activity {
  N first, second;
};
template <Number N>
Activity<N> wilson_activity(double mole_share, const N& lambda_12, const N& lambda_21) {
  using std::exp;
  const double other = 1.0 - mole_share;
  const N down_1 = mole_share + lambda_12 * other, down_2 = lambda_21 * mole_share + other;
  const N kappa = lambda_12 / down_1 - lambda_21 / down_2;
  return {exp(other * kappa) / down_1, exp(-mole_share * kappa) / down_2};
}

/// Bubble pressure of an alcohol in gasoline, the gasoline taken as one substance (pseudo-binary with the Wilson
/// equation: Pumphrey, Brand and Scheller, Fuel 79, 2000, found that this follows measured alcohol–gasoline curves):
///   p = x γ1 p1 + (1−x) γ2 p2,   Λ12 = (V2/V1) e^(−a12/T),  Λ21 = (V1/V2) e^(−a21/T).
/// It gives the hump (10 % ethanol raises the pressure) and the fall beyond about half.
template <Number N>
N bubble_pressure(double mole_share, const N& kelvin, double molar_volume_ratio_21, const N& a12_kelvin,
                  const N& a21_kelvin, const N& first, const N& second) {
  using std::exp;
  const N lambda_12 = molar_volume_ratio_21 * exp(-a12_kelvin / kelvin);
  const N lambda_21 = exp(-a21_kelvin / kelvin) / molar_volume_ratio_21;
  const Activity<N> gamma = wilson_activity(mole_share, lambda_12, lambda_21);
  return mole_share * gamma.first * first + (1.0 - mole_share) * gamma.second * second;
}

}  // namespace flarenut::fluids

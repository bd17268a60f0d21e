#pragma once
/// Dry air at and around the pressure of the atmosphere: what blows through a radiator and round a hose.
///
/// - **Density**: ρ = p/(R T), R = 287.053 J/(kg K), the constant of atmosphere.hpp.
/// - **Viscosity**: thin gas, μ = 0.0266958 √(M T)/(σ² Ω) μPa·s, M = 28.9586 g/mol, σ = 0.360 nm,
///   ln Ω = Σ b_i (ln T/103.3 K)^i; **conductivity**: k = 1.308 μ/μPa·s + 1.405 τ^−1.1 − 1.036 τ^−0.3 mW/(m K),
///   τ = 132.6312 K/T. E. W. Lemmon and R. T. Jacobsen, Int. J. Thermophysics 25, 21 (2004), their dilute-gas terms.
/// - **Specific heat** at constant pressure: cp/R = Σ a_i T^(i−2), i = 0 … 6; B. J. McBride, M. J. Zehe and S. Gordon,
///   NASA TP-2002-211556, record "Air", 200 to 1000 K.
///
/// Coefficients from memory; against the full equations of state (tests/validation) at one atmosphere they hold within 0.15 %
/// (μ), 0.3 % (k), 0.25 % (ρ) and 0.45 % (cp) from 200 to 800 K, the worst at 200 K, and within 0.1, 0.15, 0.1 and 0.2 % above 0 °C.
/// Pressure moves only density, as it does to 0.6 % up to 300 kPa. Moist air is up to 3 % lighter at 40 °C.
/// Range 200 to 1000 K, above 0 to 500 kPa; outside, InputError.

#include <array>
#include <cmath>
#include <sstream>

#include "flarenut/base/error.hpp"
#include "flarenut/units/quantities.hpp"

namespace flarenut::fluids {

inline constexpr double air_gas_constant = 8.31432 / 0.0289644;  ///< [J/(kg K)]
inline constexpr double air_coldest_kelvin = 200.0, air_hottest_kelvin = 1000.0, air_highest_pascal = 5e5;

template <Number N = double>
struct AirState {
  Density<N> density{};
  DynamicViscosity<N> viscosity{};
  SpecificHeat<N> specific_heat{};  ///< at constant pressure
  ThermalConductivity<N> conductivity{};
  Temperature<N> temperature{};

  N prandtl() const { return viscosity.value() * specific_heat.value() / conductivity.value(); }
  KinematicViscosity<N> kinematic_viscosity() const { return KinematicViscosity<N>::from_value(viscosity.value() / density.value()); }
  /// k/(ρ cp) [m²/s].
  N thermal_diffusivity() const { return conductivity.value() / (density.value() * specific_heat.value()); }
  /// Of an ideal gas, 1/T.
  PerTemperature<N> expansion() const { return PerTemperature<N>::from_value(1.0 / temperature.value()); }
};

namespace detail {

/// c0 + c1 x + c2 x² + …
template <Number N, std::size_t count>
N series(const std::array<double, count>& coefficients, const N& x) {
  N sum(0.0);
  for (auto c = coefficients.rbegin(); c != coefficients.rend(); ++c) sum = sum * x + *c;
  return sum;
}

template <Number N>
N air_viscosity_micropascal_second(const N& kelvin) {
  using std::exp;
  using std::log;
  using std::sqrt;
  constexpr std::array b{0.431, -0.4623, 0.08406, 0.005341, -0.00331};
  constexpr double molar_mass = 28.9586, diameter_nm = 0.360, well_kelvin = 103.3;
  const N collision = exp(series(b, N(log(kelvin * (1.0 / well_kelvin)))));
  return 0.0266958 / (diameter_nm * diameter_nm) * sqrt(molar_mass * kelvin) / collision;
}

template <Number N>
N air_specific_heat_over_gas_constant(const N& kelvin) {
  constexpr std::array a{1.009950160e4, -1.968275610e2, 5.009155110, -5.761013730e-3, 1.066859930e-5, -7.940297970e-9,
                         2.185231910e-12};
  return series(a, kelvin) / (kelvin * kelvin);
}

inline void check_air(double kelvin, double pascal) {
  std::ostringstream trouble;
  if (!(kelvin >= air_coldest_kelvin && kelvin <= air_hottest_kelvin)) {
    trouble << kelvin << " K is outside " << air_coldest_kelvin << " to " << air_hottest_kelvin << " K; check its unit";
    throw InputError("air", "temperature", trouble.str());
  }
  if (!(pascal > 0.0 && pascal <= air_highest_pascal)) {
    trouble << pascal << " Pa is outside 0 to " << air_highest_pascal << " Pa absolute; check its unit";
    throw InputError("air", "pressure", trouble.str());
  }
}

}  // namespace detail

template <Number N>
AirState<N> air_at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) {
  using std::pow;
  const N& kelvin = temperature.value();
  detail::check_air(value_of(kelvin), value_of(pressure.value()));
  const N thin = detail::air_viscosity_micropascal_second(kelvin), reduced = kelvin * (1.0 / 132.6312);
  const N conductivity = 1.308 * thin + 1.405 * pow(reduced, 1.1) - 1.036 * pow(reduced, 0.3);
  AirState<N> air;
  air.temperature = temperature;
  air.density = Density<N>::from_value(pressure.value() / (air_gas_constant * kelvin));
  air.viscosity = DynamicViscosity<N>::from_value(1e-6 * thin);
  air.conductivity = ThermalConductivity<N>::from_value(1e-3 * conductivity);
  air.specific_heat = SpecificHeat<N>::from_value(air_gas_constant * detail::air_specific_heat_over_gas_constant(kelvin));
  return air;
}

}  // namespace flarenut::fluids

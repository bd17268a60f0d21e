#pragma once
/// Dry air up to the pressures of boost: what blows through a cooler and round a hose, and stands over the liquid in a tank.
///
/// How thin the gas is enters as π = p/(ρ_c R T), ρ_c = 10 447.7 mol/m³; with τ = 132.6312 K/T:
///
/// - **Density**: ρ = p/(R T Z), Z = 1 + b π, b = Σ n_i τ^(j_i): the second virial coefficient, which is the part of the equation
///   of state that is linear in density (E. W. Lemmon, R. T Jacobsen, S. G. Penoncello and D. G. Friend, J. Phys. Chem. Ref. Data
///   29, 331 (2000), table 13). R = 287.053 J/(kg K), the constant of atmosphere.hpp. Expansion follows from it.
/// - **Viscosity**: μ = μ0 + (10.72 τ^0.2 − 8.876 τ^0.6) π, μ0 = 0.0266958 √(M T)/(σ² Ω) μPa·s, M = 28.9586 g/mol, σ = 0.360 nm,
///   ln Ω = Σ b_i (ln T/103.3 K)^i; **conductivity**: k = 1.308 μ0/μPa·s + 1.405 τ^−1.1 − 1.036 τ^−0.3 + 8.743 τ^0.1 π mW/(m K).
///   E. W. Lemmon and R. T. Jacobsen, Int. J. Thermophysics 25, 21 (2004): thin gas, and the terms linear in density.
/// - **Specific heat** at constant pressure: cp/R = Σ a_i T^(i−2) − π Σ n_i j_i (j_i + 1) τ^(j_i), i = 0 … 6; the first sum from
///   B. J. McBride, M. J. Zehe and S. Gordon, NASA TP-2002-211556, record "Air", 200 to 1000 K; the second follows from b.
///
/// n and j seen, the rest from memory; against the full equations (tests/validation) all hold within 0.03 % at one atmosphere, 0.1 % up
/// to 500 kPa and 0.4 % up to 1 MPa, the worst at 200 K. Moist air is up to 3 % lighter at 40 °C.
/// Range 200 to 1000 K, above 0 to 1 MPa; outside, InputError.

#include <array>
#include <cmath>
#include <sstream>

#include "flarenut/base/error.hpp"
#include "flarenut/fluids/atmosphere.hpp"
#include "flarenut/fluids/property_laws.hpp"
#include "flarenut/units/quantities.hpp"

namespace flarenut::fluids {

inline constexpr double air_coldest_kelvin = 200.0, air_hottest_kelvin = 1000.0, air_highest_pascal = 1e6;

template <Number N = double>
struct AirState {
  Density<N> density{};
  DynamicViscosity<N> viscosity{};
  SpecificHeat<N> specific_heat{};  ///< at constant pressure
  ThermalConductivity<N> conductivity{};
  PerTemperature<N> expansion{};    ///< by volume, at constant pressure; nearly 1/T
  Temperature<N> temperature{};

  N prandtl() const { return viscosity.value() * specific_heat.value() / conductivity.value(); }
  KinematicViscosity<N> kinematic_viscosity() const { return KinematicViscosity<N>::from_value(viscosity.value() / density.value()); }
  /// k/(ρ cp) [m²/s].
  N thermal_diffusivity() const { return conductivity.value() / (density.value() * specific_heat.value()); }
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
N thin_air_viscosity_micropascal_second(const N& kelvin) {
  using std::exp;
  using std::log;
  using std::sqrt;
  constexpr std::array b{0.431, -0.4623, 0.08406, 0.005341, -0.00331};
  constexpr double molar_mass = 28.9586, diameter_nm = 0.360, well_kelvin = 103.3;
  const N collision = exp(series(b, N(log(kelvin * (1.0 / well_kelvin)))));
  return 0.0266958 / (diameter_nm * diameter_nm) * sqrt(molar_mass * kelvin) / collision;
}

template <Number N>
N thin_air_specific_heat_over_gas_constant(const N& kelvin) {
  constexpr std::array a{1.009950160e4, -1.968275610e2, 5.009155110, -5.761013730e-3, 1.066859930e-5, -7.940297970e-9,
                         2.185231910e-12};
  return series(a, kelvin) / (kelvin * kelvin);
}

/// b of the head of this file, and what its first and second slope with temperature come to.
template <Number N>
struct AirVirial {
  N b{0.0};       ///< Σ n τ^j
  N first{0.0};   ///< Σ n j τ^j = −T b′
  N second{0.0};  ///< Σ n j (j + 1) τ^j = T² b″
};

template <Number N>
AirVirial<N> air_virial(const N& inverse_temperature) {
  using std::pow;
  constexpr std::array terms{std::array{0.118160747229, 0.0},   std::array{0.713116392079, 0.33},  std::array{-1.61824192067, 1.01},
                             std::array{-0.101365037912, 1.6}, std::array{-0.146629609713, 3.6}, std::array{0.0148287891978, 3.5}};
  AirVirial<N> sum;
  for (const auto& [n, j] : terms) {
    const N term = n * pow(inverse_temperature, j);
    sum.b += term;
    sum.first += j * term;
    sum.second += j * (j + 1.0) * term;
  }
  return sum;
}

inline void check_air(double kelvin, double pascal) {
  const bool known = kelvin >= air_coldest_kelvin - temperature_rounding_kelvin && kelvin <= air_hottest_kelvin + temperature_rounding_kelvin;
  if (known && pascal > 0.0 && pascal <= air_highest_pascal) return;
  std::ostringstream trouble;
  if (!known) {
    trouble << kelvin - ice_point_kelvin << " degC (" << kelvin << " K) is outside " << air_coldest_kelvin - ice_point_kelvin << " to "
            << air_hottest_kelvin - ice_point_kelvin << " degC (" << air_coldest_kelvin << " to " << air_hottest_kelvin << " K); check its unit";
    throw InputError("air", "temperature", trouble.str());
  }
  trouble << pascal / 1e3 << " kPa absolute is outside 0 to " << air_highest_pascal / 1e3 << " kPa; check its unit";
  throw InputError("air", "pressure", trouble.str());
}

}  // namespace detail

template <Number N>
AirState<N> air_at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) {
  using std::pow;
  constexpr double reducing_kelvin = 132.6312, reducing_mole_per_cubic_metre = 10447.7;
  const N &kelvin = temperature.value(), &pascal = pressure.value();
  detail::check_air(value_of(kelvin), value_of(pascal));
  const N tau = reducing_kelvin / kelvin, pi = pascal / (reducing_mole_per_cubic_metre * molar_gas_constant_1976 * kelvin);
  const detail::AirVirial<N> virial = detail::air_virial(tau);
  const N compressibility = 1.0 + virial.b * pi;
  const N thin = detail::thin_air_viscosity_micropascal_second(kelvin);
  const N viscosity = thin + (10.72 * pow(tau, 0.2) - 8.876 * pow(tau, 0.6)) * pi;
  const N conductivity = 1.308 * thin + 1.405 * pow(tau, -1.1) - 1.036 * pow(tau, -0.3) + 8.743 * pow(tau, 0.1) * pi;
  const N specific_heat = air_gas_constant * (detail::thin_air_specific_heat_over_gas_constant(kelvin) - virial.second * pi);
  return {Density<N>::from_value(pascal / (air_gas_constant * kelvin * compressibility)),
          DynamicViscosity<N>::from_value(1e-6 * viscosity),
          SpecificHeat<N>::from_value(specific_heat),
          ThermalConductivity<N>::from_value(1e-3 * conductivity),
          PerTemperature<N>::from_value((1.0 - pi * (virial.b + virial.first) / compressibility) / kelvin),
          temperature};
}

}  // namespace flarenut::fluids

#pragma once
/// Ambient pressure from altitude: why a pump that is quiet at the coast vapour-locks in the mountains.
///
/// U.S. Standard Atmosphere, 1976 (NOAA, NASA, USAF), troposphere: temperature falls steadily with height, so
///
///     H = r0 z/(r0 + z)                         geopotential height of the altitude z
///     T = 288.15 K − 0.0065 K/m · H
///     p = 101325 Pa · (T / 288.15 K)^(g0 M0/(R* L)),   exponent 5.25588
///
/// A standard day: weather moves the real pressure by ±3 %. Range −2000 m to 11 000 m.

#include <cmath>
#include <sstream>

#include "flarenut/base/error.hpp"
#include "flarenut/units/quantities.hpp"

namespace flarenut::fluids {

inline constexpr double standard_sea_level_pressure_pascal = 101325.0;
/// R* [J/(mol K)] as of 1976, and R = R*/M0 of dry air [J/(kg K)], M0 0.0289644 kg/mol.
inline constexpr double molar_gas_constant_1976 = 8.31432, air_gas_constant = molar_gas_constant_1976 / 0.0289644;

namespace detail {
inline constexpr double sea_level_kelvin = 288.15;
inline constexpr double lapse_kelvin_per_metre = 0.0065;
inline constexpr double earth_radius_metre = 6356766.0;
inline constexpr double barometric_exponent = 9.80665 / (air_gas_constant * lapse_kelvin_per_metre);

inline double geopotential_metre(const Length<>& altitude) {
  const double metres = altitude.value();
  if (!(metres >= -2000.0 && metres <= 11000.0)) {
    std::ostringstream trouble;
    trouble << metres << " m is outside -2000 to 11000 m; check its unit";
    throw InputError("atmosphere", "altitude", trouble.str());
  }
  return earth_radius_metre * metres / (earth_radius_metre + metres);
}
}  // namespace detail

/// Air temperature of a standard day at an altitude.
inline Temperature<> standard_temperature(const Length<>& altitude) {
  return Temperature<>::from_value(detail::sea_level_kelvin -
                                   detail::lapse_kelvin_per_metre * detail::geopotential_metre(altitude));
}

/// Ambient pressure of a standard day at an altitude.
inline AbsolutePressure<> standard_pressure(const Length<>& altitude) {
  const double ratio = standard_temperature(altitude).value() / detail::sea_level_kelvin;
  return AbsolutePressure<>::from_value(standard_sea_level_pressure_pascal *
                                        std::pow(ratio, detail::barometric_exponent));
}

}  // namespace flarenut::fluids

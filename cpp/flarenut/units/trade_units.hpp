#pragma once
/// Units as the trade says them, each a typed quantity: `43.5 * psi`, `11 * foot`, `gauge(3.0 * bar)`.
///
/// Exact by definition unless said: inch 25.4 mm and pound 0.45359237 kg (international yard and pound
/// agreement, 1959), standard gravity 9.80665 m/s² (CGPM 1901), US gallon 231 in³, conventional inch of
/// mercury 3386.389 Pa (ISO 80000-4 / NIST SP 811 gives 3.386389 kPa for mercury at 0 °C).
/// The US gallon is defined here because Boost's US pint is rounded (off by 6e-8).

#include "flarenut/units/quantities.hpp"

namespace flarenut::trade {

inline constexpr double kilograms_per_pound = 0.45359237;
inline constexpr double metres_per_inch = 0.0254;
inline constexpr double standard_gravity_value = 9.80665;

inline const Length<> metre = Length<>::from_value(1.0);
inline const Length<> millimetre = Length<>::from_value(1e-3);
inline const Length<> inch = Length<>::from_value(metres_per_inch);
inline const Length<> foot = 12.0 * inch;
inline const Length<> micron = Length<>::from_value(1e-6);

inline const Volume<> litre = Volume<>::from_value(1e-3);
inline const Volume<> cubic_centimetre = Volume<>::from_value(1e-6);
inline const Volume<> us_gallon = 231.0 * inch * inch * inch;

inline const Time<> second = Time<>::from_value(1.0);
inline const Time<> minute = 60.0 * second;
inline const Time<> hour = 3600.0 * second;

inline const Mass<> kilogram = Mass<>::from_value(1.0);
inline const Mass<> pound = Mass<>::from_value(kilograms_per_pound);

inline const VolumeFlow<> litre_per_hour = litre / hour;
inline const VolumeFlow<> litre_per_minute = litre / minute;
inline const VolumeFlow<> us_gallon_per_hour = us_gallon / hour;
inline const VolumeFlow<> us_gallon_per_minute = us_gallon / minute;
inline const VolumeFlow<> cc_per_minute = cubic_centimetre / minute;
inline const MassFlow<> pound_per_hour = pound / hour;
inline const MassFlow<> kilogram_per_second = kilogram / second;

inline const PressureDifference<> pascal = PressureDifference<>::from_value(1.0);
inline const PressureDifference<> kilopascal = PressureDifference<>::from_value(1e3);
inline const PressureDifference<> bar = PressureDifference<>::from_value(1e5);
inline const PressureDifference<> psi = PressureDifference<>::from_value(
    kilograms_per_pound * standard_gravity_value / (metres_per_inch * metres_per_inch));
inline const PressureDifference<> inch_of_mercury = PressureDifference<>::from_value(3386.389);

inline const Density<> kilogram_per_cubic_metre = Density<>::from_value(1.0);
inline const DynamicViscosity<> pascal_second = DynamicViscosity<>::from_value(1.0);
inline const DynamicViscosity<> centipoise = DynamicViscosity<>::from_value(1e-3);
inline const KinematicViscosity<> centistoke = KinematicViscosity<>::from_value(1e-6);

inline const Velocity<> metre_per_second = Velocity<>::from_value(1.0);
inline const Acceleration<> standard_gravity = Acceleration<>::from_value(standard_gravity_value);
inline const Voltage<> volt = Voltage<>::from_value(1.0);
inline const Power<> watt = Power<>::from_value(1.0);
/// Turns per second as a plain rate: displacement is given per turn, so no 2π hides here.
inline const Frequency<> revolution_per_minute = Frequency<>::from_value(1.0 / 60.0);

inline GaugePressure<> gauge(PressureDifference<> above_ambient) { return GaugePressure<>(above_ambient); }
inline AbsolutePressure<> absolute(PressureDifference<> above_vacuum) {
  return AbsolutePressure<>::from_value(above_vacuum.value());
}
inline Temperature<> kelvin(double degrees) { return Temperature<>::from_value(degrees); }
inline Temperature<> celsius(double degrees) { return Temperature<>::from_value(degrees + 273.15); }
inline Temperature<> fahrenheit(double degrees) {
  return Temperature<>::from_value((degrees + 459.67) / 1.8);
}

}  // namespace flarenut::trade

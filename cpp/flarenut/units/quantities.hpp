#pragma once
/// Physical quantities as types. The only place that includes Boost.
///
/// `Length<>`, `MassFlow<>`, `PressureDifference<>` ... are plain doubles at run time and different types at
/// compile time: adding a bore to a pressure, or passing a volume flow where a mass flow belongs, does not
/// compile. Each alias takes a number type so that a law can be evaluated with `Dual` and give its slopes.
///
/// Pressure comes in three kinds that must never mix:
///   `AbsolutePressure`    a point above vacuum; two of them subtract to a difference and do not add,
///   `GaugePressure`       a point above the ambient; becomes absolute only by naming that ambient,
///   `PressureDifference`  a drop, a rise, a band.
/// Temperature likewise: `Temperature` is a point, `TemperatureDifference` a step.
///
/// Values inside are SI. Names of units for people stand in `trade_units.hpp`.

#include <boost/units/absolute.hpp>
#include <boost/units/cmath.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si.hpp>

#include "flarenut/autodiff/dual.hpp"

// Square roots and powers of typed duals and packs: tell Boost what type comes out. A root of a dual is a dual.
namespace boost::units {
template <int N, class T, long Numerator, long Denominator>
struct power_typeof_helper<flarenut::Dual<N, T>, static_rational<Numerator, Denominator>> {
  using type = flarenut::Dual<N, T>;
  static type value(const flarenut::Dual<N, T>& x) {
    return flarenut::pow(x, static_cast<double>(Numerator) / static_cast<double>(Denominator));
  }
};
template <int N, class T, long Numerator, long Denominator>
struct root_typeof_helper<flarenut::Dual<N, T>, static_rational<Numerator, Denominator>> {
  using type = flarenut::Dual<N, T>;
  static type value(const flarenut::Dual<N, T>& x) {
    if constexpr (Numerator == 2 && Denominator == 1) return flarenut::sqrt(x);
    else return flarenut::pow(x, static_cast<double>(Denominator) / static_cast<double>(Numerator));
  }
};
template <class Pack>
  requires flarenut::IsPack<Pack>::value
struct root_typeof_helper<Pack, static_rational<2>> {
  using type = Pack;
  static type value(const Pack& x) { return sqrt(x); }
};

// Boost multiplies a quantity by a number of its own value type only; laws also mix plain and sloped numbers.
template <class Unit, class Sloped>
  requires(flarenut::IsDual<Sloped>::value || flarenut::IsPack<Sloped>::value)
constexpr quantity<Unit, Sloped> operator*(double factor, const quantity<Unit, Sloped>& x) {
  return quantity<Unit, Sloped>::from_value(factor * x.value());
}
template <class Unit, class Sloped>
  requires(flarenut::IsDual<Sloped>::value || flarenut::IsPack<Sloped>::value)
constexpr quantity<Unit, Sloped> operator*(const quantity<Unit, Sloped>& x, double factor) {
  return quantity<Unit, Sloped>::from_value(x.value() * factor);
}
template <class Unit, class Sloped>
  requires(flarenut::IsDual<Sloped>::value || flarenut::IsPack<Sloped>::value)
constexpr quantity<Unit, Sloped> operator/(const quantity<Unit, Sloped>& x, double divisor) {
  return quantity<Unit, Sloped>::from_value(x.value() / divisor);
}
template <class Unit, int N, class T>
constexpr quantity<Unit, flarenut::Dual<N, T>> operator*(const flarenut::Dual<N, T>& factor, const quantity<Unit, T>& x) {
  return quantity<Unit, flarenut::Dual<N, T>>::from_value(factor * x.value());
}
template <class Unit, int N, class T>
constexpr quantity<Unit, flarenut::Dual<N, T>> operator*(const quantity<Unit, T>& x, const flarenut::Dual<N, T>& factor) {
  return quantity<Unit, flarenut::Dual<N, T>>::from_value(x.value() * factor);
}
template <class Unit, int N, class T>
constexpr quantity<Unit, flarenut::Dual<N, T>> operator/(const quantity<Unit, T>& x, const flarenut::Dual<N, T>& divisor) {
  return quantity<Unit, flarenut::Dual<N, T>>::from_value(x.value() / divisor);
}
template <class D, class S, int N>
constexpr auto operator/(double number, const quantity<unit<D, S>, flarenut::Dual<N>>& x) {
  using inverse = typename power_typeof_helper<unit<D, S>, static_rational<-1>>::type;
  return quantity<inverse, flarenut::Dual<N>>::from_value(number / x.value());
}
}  // namespace boost::units

namespace flarenut {

namespace units_detail {
namespace bu = boost::units;
namespace si = boost::units::si;

using per_pressure = bu::divide_typeof_helper<si::dimensionless, si::pressure>::type;
using mass_flow_unit = bu::divide_typeof_helper<si::mass, si::time>::type;
using volume_flow_unit = bu::divide_typeof_helper<si::volume, si::time>::type;
using specific_heat_unit =
    bu::divide_typeof_helper<bu::divide_typeof_helper<si::energy, si::mass>::type, si::temperature>::type;
using conductivity_unit =
    bu::divide_typeof_helper<bu::divide_typeof_helper<si::power, si::length>::type, si::temperature>::type;
using conductance_unit = bu::divide_typeof_helper<si::power, si::temperature>::type;
using specific_energy_unit = bu::divide_typeof_helper<si::energy, si::mass>::type;
using specific_volume_unit = bu::divide_typeof_helper<si::volume, si::mass>::type;
using displacement_unit = si::volume;
using per_temperature_unit = bu::divide_typeof_helper<si::dimensionless, si::temperature>::type;
using linear_resistance_unit = bu::divide_typeof_helper<si::pressure, volume_flow_unit>::type;
using quadratic_resistance_unit = bu::divide_typeof_helper<linear_resistance_unit, volume_flow_unit>::type;
}  // namespace units_detail

template <Number N = double> using Ratio = boost::units::quantity<boost::units::si::dimensionless, N>;
template <Number N = double> using Length = boost::units::quantity<boost::units::si::length, N>;
template <Number N = double> using Area = boost::units::quantity<boost::units::si::area, N>;
template <Number N = double> using Volume = boost::units::quantity<boost::units::si::volume, N>;
template <Number N = double> using Time = boost::units::quantity<boost::units::si::time, N>;
template <Number N = double> using Mass = boost::units::quantity<boost::units::si::mass, N>;
template <Number N = double> using Velocity = boost::units::quantity<boost::units::si::velocity, N>;
template <Number N = double> using Acceleration = boost::units::quantity<boost::units::si::acceleration, N>;
template <Number N = double> using Density = boost::units::quantity<boost::units::si::mass_density, N>;
template <Number N = double>
using DynamicViscosity = boost::units::quantity<boost::units::si::dynamic_viscosity, N>;
template <Number N = double>
using KinematicViscosity = boost::units::quantity<boost::units::si::kinematic_viscosity, N>;
template <Number N = double> using MassFlow = boost::units::quantity<units_detail::mass_flow_unit, N>;
template <Number N = double> using VolumeFlow = boost::units::quantity<units_detail::volume_flow_unit, N>;
template <Number N = double> using PressureDifference = boost::units::quantity<boost::units::si::pressure, N>;
template <Number N = double>
using AbsolutePressure = boost::units::quantity<boost::units::absolute<boost::units::si::pressure>, N>;
template <Number N = double>
using Temperature = boost::units::quantity<boost::units::absolute<boost::units::si::temperature>, N>;
template <Number N = double>
using TemperatureDifference = boost::units::quantity<boost::units::si::temperature, N>;
template <Number N = double> using Power = boost::units::quantity<boost::units::si::power, N>;
template <Number N = double> using Voltage = boost::units::quantity<boost::units::si::electric_potential, N>;
template <Number N = double> using Frequency = boost::units::quantity<boost::units::si::frequency, N>;
template <Number N = double> using SpecificHeat = boost::units::quantity<units_detail::specific_heat_unit, N>;
template <Number N = double>
using ThermalConductivity = boost::units::quantity<units_detail::conductivity_unit, N>;
/// Watts per degree: an exchanger's or a wall's UA.
template <Number N = double> using ThermalConductance = boost::units::quantity<units_detail::conductance_unit, N>;
/// Joules per kilogram: enthalpy, heat of vaporisation. Cubic metres per kilogram: enthalpy per pressure.
template <Number N = double> using SpecificEnergy = boost::units::quantity<units_detail::specific_energy_unit, N>;
template <Number N = double> using SpecificVolume = boost::units::quantity<units_detail::specific_volume_unit, N>;
/// Fractional change per degree (thermal expansion).
template <Number N = double> using PerTemperature = boost::units::quantity<units_detail::per_temperature_unit, N>;
/// Fractional change per pascal (Barus viscosity rise).
template <Number N = double> using PerPressure = boost::units::quantity<units_detail::per_pressure, N>;
/// Pressure per volume flow, and pressure per volume flow squared: what a filter or core test gives.
template <Number N = double>
using LinearResistance = boost::units::quantity<units_detail::linear_resistance_unit, N>;
template <Number N = double>
using QuadraticResistance = boost::units::quantity<units_detail::quadratic_resistance_unit, N>;

/// A pressure above the ambient. It is a point, not a difference: it neither adds to another gauge pressure
/// nor turns absolute until the ambient is named.
template <Number N = double>
class GaugePressure {
 public:
  constexpr GaugePressure() = default;
  explicit constexpr GaugePressure(PressureDifference<N> above_ambient) : above_ambient_(above_ambient) {}
  static constexpr GaugePressure from_value(const N& pascals) {
    return GaugePressure(PressureDifference<N>::from_value(pascals));
  }
  constexpr const N& value() const { return above_ambient_.value(); }
  constexpr PressureDifference<N> above_ambient() const { return above_ambient_; }
  template <Number M>
  constexpr auto absolute(AbsolutePressure<M> ambient) const { return ambient + above_ambient_; }

 private:
  PressureDifference<N> above_ambient_{};
};

/// The gauge reading of an absolute pressure at a given ambient.
template <Number N, Number M>
constexpr auto gauge(AbsolutePressure<N> pressure, AbsolutePressure<M> ambient) {
  auto difference = pressure - ambient;
  return GaugePressure<std::decay_t<decltype(difference.value())>>(difference);
}

/// The bare SI number of a quantity, and back. For the solver and the binding only.
template <class Quantity>
constexpr auto si_value(const Quantity& quantity) { return quantity.value(); }
template <class Quantity, class N>
constexpr Quantity from_si(const N& value) { return Quantity::from_value(value); }

/// A quantity with the same dimension, its number replaced by `value_of`: drops the slopes.
template <template <class> class Alias, Number N>
constexpr Alias<double> without_slope(const Alias<N>& quantity) {
  return Alias<double>::from_value(value_of(quantity.value()));
}

}  // namespace flarenut

#pragma once
/// A gas as one needs it beside a liquid: air through a cooler, over a hose, in a tank's vent.
///
///     ρ = p/(R T)      viscosity, conductivity and specific heat follow temperature only
///
/// The ideal-gas law reads air 0.1 % light at −40 °C and one atmosphere and is good to 0.5 % up to 1 MPa from 0 °C up. No gas
/// flows in a circuit here: these are properties.

#include <string>

#include "flarenut/fluids/property_laws.hpp"
#include "flarenut/units/quantities.hpp"

namespace flarenut::fluids {

struct GasRecord {
  std::string name;
  double gas_constant = 0.0;  ///< R of this gas [J/(kg K)]
  Law viscosity, conductivity, specific_heat;
  double least_kelvin = 0.0, most_kelvin = 0.0;
  double most_pascal = 1e6;   ///< beyond it the ideal-gas law is not good enough
};

template <Number N = double>
struct GasState {
  Density<N> density{};
  DynamicViscosity<N> viscosity{};
  SpecificHeat<N> specific_heat{};
  ThermalConductivity<N> conductivity{};
  Temperature<N> temperature{};
};

class Gas {
 public:
  /// Throws InputError naming the field.
  explicit Gas(GasRecord record);

  /// Throws InputError outside the range of temperature and above `most_pascal`.
  template <Number N>
  GasState<N> at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) const {
    const N kelvin = temperature.value();
    require_within_range(value_of(kelvin), value_of(pressure.value()));
    return {Density<N>::from_value(pressure.value() / (record_.gas_constant * kelvin)),
            DynamicViscosity<N>::from_value(evaluate(record_.viscosity, kelvin)),
            SpecificHeat<N>::from_value(evaluate(record_.specific_heat, kelvin)),
            ThermalConductivity<N>::from_value(evaluate(record_.conductivity, kelvin)),
            temperature};
  }

  const GasRecord& record() const { return record_; }

 private:
  void require_within_range(double kelvin, double pascal) const;
  GasRecord record_;
};

}  // namespace flarenut::fluids

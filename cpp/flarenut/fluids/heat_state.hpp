#pragma once
/// What an energy balance sees of a liquid at one temperature and pressure. `Liquid::heat_at` works it out when asked; a
/// circuit at one temperature never asks, so it pays nothing.

#include "flarenut/units/quantities.hpp"

namespace flarenut::fluids {

template <Number N = double>
struct HeatState {
  SpecificHeat<N> specific_heat{};           ///< slope of enthalpy with temperature, (∂h/∂T) at constant pressure
  ThermalConductivity<N> conductivity{};
  PerTemperature<N> expansion{};             ///< α = −(∂ρ/∂T)/ρ at one atmosphere; from a table of densities good to 10 %
  SpecificEnergy<N> enthalpy{};              ///< above that at 0 °C and one atmosphere; differences are what count
  SpecificVolume<N> enthalpy_per_pressure{}; ///< slope of enthalpy with pressure, (1 − αT)/ρ [J/kg per Pa]

  /// Warming of a liquid that loses pressure without doing work or giving heat, per pascal lost [K/Pa]; negative where it
  /// would cool.
  N warming_per_pressure() const { return enthalpy_per_pressure.value() / specific_heat.value(); }
};

}  // namespace flarenut::fluids

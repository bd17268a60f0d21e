#pragma once
/// What a part sees of its liquid: the properties at one temperature and pressure.

#include "flarenut/units/quantities.hpp"

namespace flarenut::fluids {

/// What a line asks of it.
template <Number N = double>
struct FlowingState {
  Density<N> density{};
  DynamicViscosity<N> viscosity{};
};

template <Number N = double>
struct LiquidState {
  Density<N> density{};
  DynamicViscosity<N> viscosity{};
  SpecificHeat<N> specific_heat{};
  ThermalConductivity<N> conductivity{};
  PressureDifference<N> bulk_modulus{};
  AbsolutePressure<N> vapour_pressure{};
  Temperature<N> temperature{};

  /// The same liquid on another number type, without slopes.
  template <Number M>
  LiquidState<M> as() const {
    const auto convert = [](const auto& from, auto& to) {
      to = std::decay_t<decltype(to)>::from_value(M(value_of(from.value())));
    };
    LiquidState<M> other;
    convert(density, other.density);
    convert(viscosity, other.viscosity);
    convert(specific_heat, other.specific_heat);
    convert(conductivity, other.conductivity);
    convert(bulk_modulus, other.bulk_modulus);
    convert(vapour_pressure, other.vapour_pressure);
    convert(temperature, other.temperature);
    return other;
  }
};

}  // namespace flarenut::fluids

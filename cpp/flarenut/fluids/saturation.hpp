#pragma once
/// A refrigerant boiling: what pressure goes with what temperature, how heavy liquid and vapour are, and the heat it takes.
///
/// These are properties for reading gauges and for sizing by hand: the charge, what a gauge on a standing system should show,
/// what a relief valve sees. Flow of a boiling fluid is two-phase and outside this program.
///
///     heat of vaporisation   r = T (1/ρ_vapour − 1/ρ_liquid) dp/dT        (Clapeyron, exact for a pure fluid)
///
/// so three tables give four properties that agree with each other. Range: where the tables reach, no further.

#include <string>

#include "flarenut/fluids/property_laws.hpp"
#include "flarenut/units/quantities.hpp"

namespace flarenut::fluids {

struct SaturationRecord {
  std::string name;
  Law pressure;        ///< [Pa] over temperature, rising
  Law liquid_density;  ///< [kg/m³]
  Law vapour_density;  ///< [kg/m³]
  double least_kelvin = 0.0, most_kelvin = 0.0;
};

/// Liquid and vapour side by side.
template <Number N = double>
struct SaturationState {
  Temperature<N> temperature{};
  AbsolutePressure<N> pressure{};
  Density<N> liquid_density{}, vapour_density{};
  SpecificEnergy<N> latent_heat{};
};

class Saturation {
 public:
  /// Throws InputError when pressure does not rise, or vapour is not lighter than liquid, over the whole range.
  explicit Saturation(SaturationRecord record);

  /// Throws InputError outside the range.
  template <Number N>
  SaturationState<N> at(const Temperature<N>& temperature) const;

  /// The temperature at which it boils and condenses under this pressure. Throws InputError outside the range.
  Temperature<> temperature(const AbsolutePressure<>& pressure) const;

  const SaturationRecord& record() const { return record_; }

 private:
  void require_within_range(double kelvin) const;
  SaturationRecord record_;
};

template <Number N>
SaturationState<N> Saturation::at(const Temperature<N>& temperature) const {
  const N kelvin = temperature.value();
  require_within_range(value_of(kelvin));
  const N liquid = evaluate(record_.liquid_density, kelvin), vapour = evaluate(record_.vapour_density, kelvin);
  const N pressure = evaluate(record_.pressure, kelvin);
  return {temperature,
          AbsolutePressure<N>::from_value(pressure),
          Density<N>::from_value(liquid),
          Density<N>::from_value(vapour),
          SpecificEnergy<N>::from_value(kelvin * (1.0 / vapour - 1.0 / liquid) * slope(record_.pressure, kelvin, pressure))};
}

}  // namespace flarenut::fluids

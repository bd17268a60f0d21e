#pragma once
/// A liquid: what is in the tank, as coefficients. Ask it for its state at a temperature and pressure.
///
///     Liquid engine_oil = oil({.name = "break-in oil", ...});     // oils.hpp, blends.hpp build them
///     LiquidState<> here = engine_oil.at(celsius(90), absolute(4.0 * bar));
///     HeatState<> warm = engine_oil.heat_at(celsius(90), absolute(4.0 * bar));   // worked out only when asked for
///
/// A `Liquid` is a value: copy it, keep it, share it between threads. It has no cache and no hidden state; `at` is a
/// pure function. With `Dual` temperature or pressure the state carries its slopes.
///
/// Laws hold at one atmosphere; pressure then acts as
///   density    ρ = ρ(T) · (1 + K' Δp/K)^(1/K')   (Murnaghan 1944: tangent modulus K + K' Δp), Δp = p − 1 atm,
///              below one atmosphere ρ(T)·exp(Δp/K), which has the same value and slope at the seam;
///   modulus    K + K' Δp above one atmosphere, K below;
///   viscosity  μ = μ(T) · exp(β Δp)              (Barus; β = 0 where nobody measured it: thin fuels).
/// Specific heat, conductivity and vapour pressure do not follow pressure (under 1 % below 10 MPa). Enthalpy does:
///   h = ∫cp dT from 0 °C + (1 − αT)/ρ · Δp,  α = −(dρ/dT)/ρ: a drop of pressure without work warms a liquid where αT < 1.
///
/// **Where data end.** Each property knows the range its data cover, and how wrong it may be inside (`band`) and per
/// kelvin outside. Outside the data but inside `outer_limit()` a value is given and `range_findings` names it.
/// Beyond the outer limit `at` throws `InputError`: the liquid freezes, boils away, chars, or nobody knows.

#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <vector>

#include "flarenut/base/error.hpp"
#include "flarenut/fluids/heat_state.hpp"
#include "flarenut/fluids/liquid_record.hpp"
#include "flarenut/fluids/liquid_state.hpp"
#include "flarenut/fluids/mixing.hpp"

namespace flarenut::fluids {

class Liquid {
 public:
  /// Checks the record: every property positive and finite over the whole outer limit. Throws InputError.
  explicit Liquid(LiquidRecord record);
  /// A gasoline with an alcohol in it, any share from 0 to 1.
  Liquid(std::string name, LiquidRecord gasoline, AlcoholBlend blend);

  /// The properties at a temperature and an absolute pressure. Throws InputError beyond the outer limit.
  template <Number N>
  LiquidState<N> at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) const;

  /// Of these, what flow asks for alone, at half the price; the same to the bit.
  template <Number N>
  FlowingState<N> flowing_at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) const;

  /// What an energy balance asks for, at a temperature and an absolute pressure. Throws InputError beyond the outer limit.
  template <Number N>
  HeatState<N> heat_at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) const;

  /// Where the liquid boils under an absolute pressure; nothing when it does not inside the outer limit.
  std::optional<Temperature<>> boiling_temperature(const AbsolutePressure<>& pressure) const;

  /// Which properties are outside their data at this temperature; empty when all are inside. Throws InputError
  /// beyond the outer limit.
  std::vector<RangeFinding> range_findings(const Temperature<>& temperature) const;

  /// Relative uncertainty of a property at a temperature, 0.05 = ±5 %.
  double band(PropertyName property, const Temperature<>& temperature) const;

  const std::string& name() const { return record_.name; }
  TemperatureSpan outer_limit() const { return record_.outer_limit; }
  const LiquidRecord& record() const { return record_; }
  const std::optional<AlcoholBlend>& blend() const { return blend_; }
  std::optional<double> stoichiometric_air_fuel_ratio() const { return record_.stoichiometric_air_fuel_ratio; }
  std::optional<double> lower_heating_value() const { return record_.lower_heating_value; }
  std::vector<PropertyDescription> describe() const;

 private:
  template <Number N>
  static std::array<N, property_count> pure(const LiquidRecord& record, const N& kelvin);
  template <Number N>
  std::array<N, property_count> at_one_atmosphere(const N& kelvin) const;
  // The same of density and viscosity alone, and of what brings them to a pressure.
  template <Number N>
  static std::array<N, 2> pure_flowing(const LiquidRecord& record, const N& kelvin);
  template <Number N>
  std::array<N, 2> mixed_flowing(const std::array<N, 2>& alcohol, const std::array<N, 2>& gasoline) const;
  template <Number N>
  N modulus_at_one_atmosphere(const N& kelvin) const;
  template <Number N>
  void press(std::array<N, 2>& flowing, const N& modulus, const N& above) const;
  /// Plain numbers at the pressure of the laws themselves, as most are asked for, stand as they are.
  template <Number N>
  static bool is_pressed(const N& above) { return IsDual<N>::value || value_of(above) != 0.0; }
  /// Throws naming the liquid, the temperature, the limit and what to do.
  void require_within_limit(double kelvin) const;
  void check() const;
  TemperatureSpan data(PropertyName property) const;

  LiquidRecord record_;  ///< the liquid; for a blend its gasoline, under the blend's name, limits and burning data
  std::optional<AlcoholBlend> blend_;
  // Of a blend, fixed when it is made.
  double mass_share_ = 0.0, mole_share_ = 0.0, molar_volume_ratio_ = 0.0;
};

// ---- templates -----------------------------------------------------------------------------------------------

template <Number N>
std::array<N, 2> Liquid::pure_flowing(const LiquidRecord& record, const N& kelvin) {
  const N density = evaluate(record[PropertyName::density].law, kelvin), viscosity = evaluate(record[PropertyName::viscosity].law, kelvin);
  return {density, record.viscosity_is_kinematic ? N(viscosity * density) : viscosity};
}

template <Number N>
std::array<N, property_count> Liquid::pure(const LiquidRecord& record, const N& kelvin) {
  const auto [density, viscosity] = pure_flowing(record, kelvin);
  std::array<N, property_count> value{density, viscosity};
  for (int i = 2; i < property_count; ++i) value[i] = evaluate(record.properties[i].law, kelvin);
  return value;
}

template <Number N>
std::array<N, 2> Liquid::mixed_flowing(const std::array<N, 2>& alcohol, const std::array<N, 2>& gasoline) const {
  constexpr double mm2_s = detail::mm2_s;
  const N density = density_by_volumes(mass_share_, alcohol[0], gasoline[0]);
  const N kinematic = viscosity_by_refutas(mass_share_, N(alcohol[1] / alcohol[0] / mm2_s), N(gasoline[1] / gasoline[0] / mm2_s));
  return {density, density * kinematic * mm2_s};
}

template <Number N>
std::array<N, property_count> Liquid::at_one_atmosphere(const N& kelvin) const {
  const auto gasoline = pure(record_, kelvin);
  if (!blend_) return gasoline;
  const auto alcohol = pure(blend_->alcohol, kelvin);
  const auto [rho_1, mu_1, cp_1, k_1, modulus_1, vapour_1] = alcohol;
  const auto [rho_2, mu_2, cp_2, k_2, modulus_2, vapour_2] = gasoline;
  const auto [density, viscosity] = mixed_flowing<N>({rho_1, mu_1}, {rho_2, mu_2});
  const WilsonPair& wilson = blend_->wilson;
  return {density,
          viscosity,
          mixed_by_mass(mass_share_, cp_1, cp_2),
          conductivity_by_filippov(mass_share_, k_1, k_2),
          modulus_by_volumes(blend_->volume_share, modulus_1, modulus_2),
          bubble_pressure(mole_share_, kelvin, molar_volume_ratio_, N(wilson.a12_kelvin), N(wilson.a21_kelvin),
                          vapour_1, vapour_2)};
}

template <Number N>
N Liquid::modulus_at_one_atmosphere(const N& kelvin) const {
  const N own = evaluate(record_[PropertyName::bulk_modulus].law, kelvin);
  return blend_ ? modulus_by_volumes(blend_->volume_share, evaluate(blend_->alcohol[PropertyName::bulk_modulus].law, kelvin), own) : own;
}

template <Number N>
void Liquid::press(std::array<N, 2>& flowing, const N& modulus, const N& above) const {
  using std::exp;
  using std::pow;
  auto& [density, viscosity] = flowing;
  if (record_.density_follows_pressure) {
    const double stiffening = record_.modulus_per_pressure;
    density *= value_of(above) > 0.0 ? N(pow(N(1.0 + stiffening * above / modulus), 1.0 / stiffening)) : N(exp(above / modulus));
  }
  if (record_.viscosity_per_pressure != 0.0) viscosity *= exp(record_.viscosity_per_pressure * above);
}

template <Number N>
LiquidState<N> Liquid::at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) const {
  const N kelvin = temperature.value();
  require_within_limit(value_of(kelvin));
  auto [density, viscosity, specific_heat, conductivity, modulus, vapour_pressure] = at_one_atmosphere(kelvin);
  std::array<N, 2> flowing{density, viscosity};

  const N above = pressure.value() - reference_pressure_pascal;
  if (is_pressed(above)) {
    press(flowing, modulus, above);
    if (record_.density_follows_pressure && value_of(above) > 0.0) modulus += record_.modulus_per_pressure * above;
  }
  return {Density<N>::from_value(flowing[0]),
          DynamicViscosity<N>::from_value(flowing[1]),
          SpecificHeat<N>::from_value(specific_heat),
          ThermalConductivity<N>::from_value(conductivity),
          PressureDifference<N>::from_value(modulus),
          AbsolutePressure<N>::from_value(vapour_pressure),
          temperature};
}

template <Number N>
FlowingState<N> Liquid::flowing_at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) const {
  const N kelvin = temperature.value();
  require_within_limit(value_of(kelvin));
  auto flowing = pure_flowing(record_, kelvin);
  if (blend_) flowing = mixed_flowing(pure_flowing(blend_->alcohol, kelvin), flowing);
  const N above = pressure.value() - reference_pressure_pascal;
  if (is_pressed(above)) press(flowing, modulus_at_one_atmosphere(kelvin), above);
  return {Density<N>::from_value(flowing[0]), DynamicViscosity<N>::from_value(flowing[1])};
}

template <Number N>
HeatState<N> Liquid::heat_at(const Temperature<N>& temperature, const AbsolutePressure<N>& pressure) const {
  const N kelvin = temperature.value();
  require_within_limit(value_of(kelvin));
  const auto of = [&](PropertyName property, const auto& ask, const auto& mix) -> N {
    const N own = ask(record_[property].law);
    return blend_ ? mix(ask(blend_->alcohol[property].law), own) : own;
  };
  const auto value = [&](const Law& law) { return evaluate(law, kelvin); };
  const auto by_mass = [&](const N& alcohol, const N& gasoline) { return mixed_by_mass(mass_share_, alcohol, gasoline); };
  N density = evaluate(record_[PropertyName::density].law, kelvin);
  // Volumes add, so their growths add: dv/dT = −(dρ/dT)/ρ², and of a blend by mass.
  const auto growth_of = [&](const Law& law, const N& here) -> N { return -slope(law, kelvin, here) / (here * here); };
  N growth = growth_of(record_[PropertyName::density].law, density);
  if (blend_) {
    const Law& law = blend_->alcohol[PropertyName::density].law;
    const N alcohol = evaluate(law, kelvin);
    growth = by_mass(growth_of(law, alcohol), growth);
    density = density_by_volumes(mass_share_, alcohol, density);
  }
  const N expansion = growth * density;
  const N per_pressure = (1.0 - expansion * kelvin) / density;
  const N specific_heat = of(PropertyName::specific_heat, value, by_mass);
  const N warmth = of(PropertyName::specific_heat, [&](const Law& law) { return area(law, kelvin); }, by_mass);
  const N conductivity = of(PropertyName::conductivity, value, [&](const N& alcohol, const N& gasoline) {
    return conductivity_by_filippov(mass_share_, alcohol, gasoline);
  });
  return {SpecificHeat<N>::from_value(specific_heat),
          ThermalConductivity<N>::from_value(conductivity),
          PerTemperature<N>::from_value(expansion),
          SpecificEnergy<N>::from_value(warmth + per_pressure * (pressure.value() - reference_pressure_pascal)),
          SpecificVolume<N>::from_value(per_pressure)};
}

}  // namespace flarenut::fluids

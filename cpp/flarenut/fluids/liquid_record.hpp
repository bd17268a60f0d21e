#pragma once
/// All that is known of one liquid, as plain data: laws of its properties, how good they are, where they end.

#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "flarenut/fluids/property_laws.hpp"

namespace flarenut::fluids {

enum class PropertyName { density, viscosity, specific_heat, conductivity, bulk_modulus, vapour_pressure };
inline constexpr int property_count = 6;
/// The property in words: "specific heat".
std::string_view name(PropertyName property);

/// A span of temperature, ends included.
struct TemperatureSpan {
  double least_kelvin = 0.0;
  double most_kelvin = 0.0;
  bool contains(double kelvin) const {
    return kelvin >= least_kelvin - temperature_rounding_kelvin && kelvin <= most_kelvin + temperature_rounding_kelvin;
  }
  /// How far outside, 0 inside [K].
  double excess(double kelvin) const;
};

/// One property: its law, and what is known about the law.
struct Property {
  Law law;
  TemperatureSpan data;                 ///< where measurements or the correlation's own range reach
  double band = 0.0;                    ///< relative uncertainty inside the data, 0.05 = ±5 %
  double band_per_kelvin = 0.0;         ///< added for each kelvin outside the data
  std::string source;                   ///< document
  std::string how;                      ///< seen, evaluated, derived, memory, common practice, given by the user
  std::string cold_caution{};           ///< added to the finding below the data; may be empty
};

/// All coefficients of one liquid. Plain data.
struct LiquidRecord {
  std::string name;
  std::array<Property, property_count> properties;
  bool viscosity_is_kinematic = false;  ///< the viscosity law gives m²/s and is multiplied by density
  double modulus_per_pressure = 10.0;   ///< K', dimensionless: 10–11 for hydrocarbons and alcohols (from the reference
                                        ///< equations of state of ethanol, n-heptane, toluene), 6 for water
  double viscosity_per_pressure = 0.0;  ///< Barus β [1/Pa]
  bool density_follows_pressure = true; ///< false for a fluid given by one constant density
  TemperatureSpan outer_limit;
  std::string cold_reason{}, hot_reason{};  ///< why it ends there and what to do, for the error; may be empty
  bool freezes = false;                 ///< the cold end of the outer limit is its freezing point
  // Burning, where it burns: data for demand, not used by the hydraulics.
  std::optional<double> stoichiometric_air_fuel_ratio;  ///< kg air per kg fuel
  std::optional<double> lower_heating_value;            ///< J/kg

  Property& operator[](PropertyName property) { return properties[static_cast<int>(property)]; }
  const Property& operator[](PropertyName property) const { return properties[static_cast<int>(property)]; }
};

/// Constants of the Wilson activity model between an alcohol (1) and a gasoline taken as one substance (2); the
/// equation is in `mixing.hpp`, the fit in `blends.hpp`.
struct WilsonPair {
  double a12_kelvin = 0.0, a21_kelvin = 0.0;
};

/// What turns a gasoline record into a blend with an alcohol.
struct AlcoholBlend {
  LiquidRecord alcohol;
  double volume_share = 0.0;                   ///< alcohol in the blend, 0–1, by volume at 15 °C
  double alcohol_molar_mass = 0.0;             ///< kg/mol
  double gasoline_molar_mass = 0.0;            ///< kg/mol, of the liquid
  WilsonPair wilson;
  std::array<double, property_count> rule_band{};  ///< extra uncertainty of each mixing rule at equal shares; it
                                                   ///< falls to nothing at the pure ends as 4 v (1−v)
  std::array<std::string, property_count> rule;  ///< name of each mixing rule, for the table a person reads
};

/// A property asked for outside its data.
struct RangeFinding {
  PropertyName property;
  double kelvin = 0.0;
  TemperatureSpan data;
  double band = 0.0;     ///< relative uncertainty there
  std::string caution;   ///< what the value rests on below the data; may be empty
  std::string message;   ///< whole sentence with numbers and the caution
};

/// One line of the table a person reads.
struct PropertyDescription {
  PropertyName property;
  TemperatureSpan data;
  double band = 0.0;
  std::string source, how;
};

}  // namespace flarenut::fluids

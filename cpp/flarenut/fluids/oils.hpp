#pragma once
/// Liquids from what a builder can read off a can or a data sheet: an oil by two viscosities, and a liquid given by
/// one density and one viscosity.

#include <optional>
#include <string>
#include <vector>

#include "flarenut/fluids/liquid.hpp"

namespace flarenut::fluids {

/// One line of an oil's data sheet.
struct ViscosityPoint {
  Temperature<> temperature;
  KinematicViscosity<> viscosity;
};

/// A lubricating or hydraulic oil.
struct OilSpec {
  std::string name = "oil";
  /// Two or more points in any order; data sheets give 40 °C and 100 °C. Two make an ASTM D341 curve. A third at low
  /// temperature is worth having: carried to −40 °C from 40 and 100 °C alone, the curve reads 18–70 % low for
  /// oils thickened with polymer (multigrade, ATF), because their thickener hardly works in the cold.
  std::vector<ViscosityPoint> viscosities;
  /// Low-temperature points of like oils, not of this one: they bend the curve down there, but do not count as its data, so
  /// whoever asks there is still told.
  std::vector<ViscosityPoint> cold_samples;
  /// Said in the finding below the data; unless given, what D341 alone does to thickened oils.
  std::string cold_caution;
  /// Density at 15 °C; engine oils 840–900 kg/m³.
  Density<> density_15 = Density<>::from_value(870.0);
  /// Below it the liquid is refused: oil no longer flows, or nobody promises that it does. Unknown: −40 °C.
  std::optional<Temperature<>> pour_point;
  /// Why it ends there and what to do, for the error.
  std::string cold_reason;
  /// Who says so, for the table a person reads.
  std::string source = "given by the user";
  std::string how = "given by the user";
  /// Spread of viscosity and of density among oils of this description: 0 for a measured oil, more for "some oil of
  /// this grade".
  double grade_band = 0.0;
  double density_band = 0.0;
};

/// The oil: density by ASTM D1250 (lubricants), viscosity by D341, specific heat and conductivity by Cragoe, bulk
/// modulus by Hayward, viscosity-pressure by Barus with 2.0e-8 1/Pa (mineral oils at 60 °C range from 16e-9 to
/// 28e-9, Stachowiak and Batchelor, Engineering Tribology, table 2.3). Vapour pressure is taken as zero: an oil
/// boils far above 300 °C; what breaks suction first is the air dissolved in it, which is outside the model.
/// Viscosity data reach 20 K beyond the outermost points; outer limit −40 (or the pour point) to 160 °C.
/// Throws InputError naming the field.
Liquid oil(const OilSpec& spec);

/// A liquid that does not change: for closed-form checks, and when two numbers are all anybody knows.
struct ConstantLiquidSpec {
  std::string name = "constant liquid";
  Density<> density{};
  DynamicViscosity<> viscosity{};
  AbsolutePressure<> vapour_pressure{};                   ///< zero unless given: suction margin is then to vacuum
  std::optional<SpecificHeat<>> specific_heat;            ///< 2000 J/(kg K) is assumed, as for petroleum liquids
  std::optional<ThermalConductivity<>> conductivity;      ///< 0.13 W/(m K) is assumed
  std::optional<PressureDifference<>> bulk_modulus;       ///< 1.5 GPa is assumed, and then density ignores pressure
};

/// Throws InputError naming the field.
Liquid constant_liquid(const ConstantLiquidSpec& spec);

}  // namespace flarenut::fluids

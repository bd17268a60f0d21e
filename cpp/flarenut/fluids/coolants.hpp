#pragma once
/// Glycol and water: what is in a radiator, at any share of glycol.
///
/// Published tables stand at a few shares by volume (30, 40, 50, 60 %). Between two of them density, specific heat and
/// conductivity are joined straight, viscosity straight in its logarithm; below the leanest, plain water is the neighbour.
/// The freezing point comes from its own table over the share, and is the cold end of the liquid: below it ice begins to
/// form, and what flows is slush.
///
/// Vapour pressure: only the water boils off, p = x p_water(T) with x the share of molecules that are water (Raoult). It
/// puts the boiling point of a half-and-half mix at 107.7 °C, where handbooks print 107–108.

#include <string>
#include <vector>

#include "flarenut/autodiff/monotone_curve.hpp"
#include "flarenut/fluids/liquid.hpp"

namespace flarenut::fluids {

/// The published laws at one share. Viscosity is dynamic.
struct GlycolColumn {
  double volume_share = 0.0;  ///< glycol in the mix, 0–1
  Law density, viscosity, specific_heat, conductivity;
};

struct GlycolSpec {
  std::string name;
  double volume_share = 0.0;
  std::vector<GlycolColumn> columns;        ///< rising share, the first is water (0); the last is the most glycol
  std::vector<double> freezing_share, freezing_kelvin, mass_share;  ///< freezing point and mass share over the volume share
  double glycol_molar_mass = 0.0;           ///< kg/mol
  Law water_vapour_pressure;
  Law bulk_modulus;
  double hottest_kelvin = 0.0;              ///< outer limit
  double data_most_kelvin = 0.0;            ///< where the tables end
  double lean_band = 0.0;                   ///< added between water and the leanest table, at their middle
  std::string source;
};

/// The coolant. Throws InputError when the share lies outside 0 to that of the last column.
Liquid glycol_coolant(const GlycolSpec& spec);

}  // namespace flarenut::fluids

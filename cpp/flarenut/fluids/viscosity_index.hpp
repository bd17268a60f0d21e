#pragma once
/// Viscosity index (ASTM D2270): how little an oil thins as it warms. 100 is a good plain mineral oil, 150–200 a
/// multigrade.
///
///   up to 100   VI = 100 (L − U)/(L − H)
///   above       VI = 100 + (10^N − 1)/0.00715,  N = (log H − log U)/log Y
/// with U and Y the kinematic viscosities at 40 °C and 100 °C [mm²/s], and L and H those at 40 °C of reference oils
/// of index 0 and 100 with the same Y. Y from 2 mm²/s. To 70 mm²/s L and H come from the standard's table, handed in;
/// above, L = 0.8353 Y² + 14.67 Y − 216 and H = 0.1684 Y² + 11.85 Y − 97.

#include <vector>

namespace flarenut::fluids {

/// The table of D2270, rows of rising viscosity at 100 °C [mm²/s].
struct ViscosityIndexTable {
  std::vector<double> viscosity_100, low, high;
};

/// Throws InputError when the viscosities are outside the standard.
double viscosity_index(const ViscosityIndexTable& table, double viscosity_40_mm2_s, double viscosity_100_mm2_s);

/// The other way: viscosity at 100 °C of an oil with this viscosity at 40 °C and this index, 0 to 400 [mm²/s].
double viscosity_100_from_index(const ViscosityIndexTable& table, double viscosity_40_mm2_s, double index);

/// And viscosity at 40 °C of an oil with this viscosity at 100 °C and this index [mm²/s]: U of the equations above.
double viscosity_40_from_index(const ViscosityIndexTable& table, double viscosity_100_mm2_s, double index);

}  // namespace flarenut::fluids

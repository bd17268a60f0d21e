#pragma once
/// From a rating to the numbers that a liquid exchanger needs: its wetted area, and how much better than plain each side does.
///
/// A rating says: so many watts from a liquid at a flow, entering at a temperature, to another at a flow and a temperature. That and the
/// arrangement give UA. The share of its resistance that lies on the first side gives each side its (h A), the passages' bore and length
/// the rest. It is worked out on the laws of `liquid_exchanger.hpp`, both liquids at their settled mean temperatures, so that an exchanger
/// so calibrated gives its rating back.

#include "flarenut/fluids/liquid.hpp"
#include "flarenut/heat/liquid_exchanger.hpp"

namespace flarenut::heat {

struct ExchangerRating {
  Power<> heat{};                         ///< from the hotter to the colder, above 0
  VolumeFlow<> first_flow{}, second_flow{};  ///< each at its inlet temperature
  Temperature<> first_inlet{}, second_inlet{};
  double first_share = 0.5;               ///< of the resistance, on the first side; between 0 and 1
};

/// Of `known` the bores, lengths and arrangement count, and areas where they are above 0. Enhancements are found. A side without an area
/// has that of the other, as plates have; where neither is given it is found from the enhancement given on the side of the thicker
/// liquid (in thin, turbulent liquid h A hardly knows its area). The wall's resistance is nil: it is in the two sides.
/// InputError naming the field where flows, arrangement or passages cannot do what the rating asks.
LiquidExchangerSpec<> exchanger_by_rating(const LiquidExchangerSpec<>& known, const ExchangerRating& rating, const fluids::Liquid& first,
                                          const fluids::Liquid& second);

}  // namespace flarenut::heat

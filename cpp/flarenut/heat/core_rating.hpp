#pragma once
/// From a rating to the number that an air core needs: its outside conductance.
///
/// A rating says: so many watts, at this flow of this liquid entering so hot, with air at this temperature and face speed. With the
/// geometry inside known, one number is left, and heat rises with it. It is found on the law of `air_core.hpp` itself, with the
/// liquid's mean temperature settled each time, so that a core so calibrated gives its rating back.
///
/// A rating is that of a clean core. Fouling, where a core has it, comes on top and makes it give less.

#include "flarenut/fluids/liquid.hpp"
#include "flarenut/heat/air_core.hpp"

namespace flarenut::heat {

struct CoreRating {
  Power<> heat{};              ///< given up by the liquid
  VolumeFlow<> liquid_flow{};  ///< at the liquid's inlet temperature
  Temperature<> liquid_inlet{};
  Temperature<> air_inlet{};
  Velocity<> face_speed{};
  AbsolutePressure<> air_pressure = AbsolutePressure<>::from_value(101325.0);  ///< of the test; the liquid's is taken as one atmosphere
};

/// What a liquid does in a core once its mean temperature has settled.
struct CoreState {
  Power<> heat{};  ///< into the liquid
  Temperature<> liquid_mean{}, liquid_outlet{}, air_outlet{};
};
CoreState settled(const AirCore<>& core, const fluids::Liquid& liquid, MassFlow<> flow, Temperature<> inlet);

/// Outside conductance at the rated face speed, which becomes the core's `reference_speed`. Of `core` its face area, passages, enhancement
/// and exponent count. InputError naming the field where the rating asks for more than passages and air can do, with the most
/// that they can.
ThermalConductance<> outside_conductance_from_rating(const AirCoreSpec<>& core, const CoreRating& rating, const fluids::Liquid& liquid);

/// Area that the liquid wets over the area of the face, where nobody knows it: of a core 50 mm deep with passages 3 mm high every 12 mm,
/// 8; of a radiator with one or two rows of flat tubes, 4 to 7 (judgement, no source). Tried between the bounds where it does not do.
inline constexpr double wetted_per_face = 7.0, least_wetted_per_face = 1.0, most_wetted_per_face = 40.0;

/// The same where nobody knows the wetted area: that is taken as `wetted_per_face`, and the enhancement made such that the passages
/// hold `inside_share` of the whole resistance at the rating, between 0 and 1. An enhancement outside 0.2 to 20 is not believed: then
/// the area gives way, and where no area does, InputError. Fills the core's `inside_area`, `enhancement`, `outside_conductance` and
/// `reference_speed`.
AirCoreSpec<> core_by_inside_share(const AirCoreSpec<>& core, const CoreRating& rating, const fluids::Liquid& liquid, double inside_share);

}  // namespace flarenut::heat

#pragma once
/// Liquid at rest in a moving vehicle: what stands between two heights, and what a place of given pressure holds.

#include <array>

#include "flarenut/network/network.hpp"
#include "flarenut/units/trade_units.hpp"

namespace flarenut::network {

/// Flow against which closures are judged: 10 mL/s, a lively fuel line [m3/s].
inline constexpr double volume_flow_scale = 1e-5;

/// Pressure at the end of `reach` above that at its start when the liquid is at rest: ρ (g − a)·reach [Pa].
inline double gravity_head(const Position& reach, double density, const Position& acceleration) {
  const Position pull{-acceleration[0], -acceleration[1], -trade::standard_gravity_value - acceleration[2]};
  double sum = 0.0;
  for (std::size_t axis = 0; axis < 3; ++axis) sum += pull[axis] * reach[axis];
  return density * sum;
}

/// Absolute pressure of a junction that is not free, with its own liquid's density in case it is a tank [Pa].
inline double pressure_held_at(const Junction& junction, double ambient, double density, const Position& acceleration) {
  if (junction.kind != JunctionKind::tank) return ambient + junction.gauge;
  parts::VehicleAcceleration<> pushed;
  for (std::size_t axis = 0; axis < 3; ++axis) pushed[axis] = Acceleration<>::from_value(acceleration[axis]);
  return parts::Tank<>(junction.tank)
      .pressure_at_pickup(AbsolutePressure<>::from_value(ambient), Density<>::from_value(density), pushed)
      .value();
}

}  // namespace flarenut::network

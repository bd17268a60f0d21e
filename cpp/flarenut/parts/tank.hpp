#pragma once
/// Tank: a boundary, not a part with a flow. It holds the pressure at its pick-up.
///
/// What it is: liquid standing above a pick-up, under whatever pressure its vent leaves. Height of liquid pushes;
/// a hard launch or a long corner tilts the liquid, so a pick-up on the far side gains and one on the near side
/// loses.
///
///   p_above  = p_ambient + vent
///   p_pickup = p_above + ρ (g − a)·(x_pickup − x_surface)
///            = p_above + ρ [ (g + a_up)·level − a_forward·pickup_forward − a_left·pickup_left ]
///
/// x_surface is the middle (centroid) of the free surface; `level` is how far it stands above the pick-up, the
/// two offsets how far the pick-up lies forward and to the left of it. Launching (a_forward > 0), a pick-up at
/// the rear (pickup_forward < 0) gains head.
///
/// Assumes: liquid at rest in the car (no slosh), a tank of upright walls over the tilt, so that the surface
/// turns about its middle and touches neither roof nor floor; baffles and pots not followed. Where the formula
/// leaves no liquid above the pick-up, `uncovered` says so: what a pump then draws is outside the model.
/// Range: any acceleration of a road vehicle. Sign: the vent pressure is a gauge pressure: a pressure cap counts
/// above zero, a blocked vent with a pump drawing counts below.
/// Axes: x forward, y left, z up (ISO 8855). Source: hydrostatics in an accelerated frame, any textbook.

#include <array>

#include "flarenut/parts/part.hpp"
#include "flarenut/units/trade_units.hpp"

namespace flarenut::parts {

/// Acceleration of the vehicle: forward, to the left, up.
template <Number N = double>
using VehicleAcceleration = std::array<Acceleration<N>, 3>;

template <Number N = double>
struct TankSpec {
  Length<N> level{};                ///< liquid surface above the pick-up, standing level; the low-fuel case is the hard one
  GaugePressure<N> vent_pressure{};  ///< above the liquid; 0 freely vented, cap setting, or the vacuum of a blocked vent
  Length<N> pickup_forward{};       ///< of the middle of the surface; behind it counts below zero
  Length<N> pickup_left{};          ///< of the middle of the surface; right of it counts below zero

  static constexpr auto fields() {
    using S = TankSpec;
    return std::tuple{
        Field<S, Length<N>>{"level", &S::level, 0.0, 10.0, "m", "liquid surface above the pick-up"},
        Field<S, GaugePressure<N>>{"vent", &S::vent_pressure, -9e4, 1e6, "Pa",
                                   "pressure above the liquid, over ambient"},
        Field<S, Length<N>>{"pickup_forward", &S::pickup_forward, -5.0, 5.0, "m",
                            "pick-up forward of the middle of the surface"},
        Field<S, Length<N>>{"pickup_left", &S::pickup_left, -5.0, 5.0, "m",
                            "pick-up left of the middle of the surface"},
    };
  }
};

template <Number N = double>
class Tank {
 public:
  template <Number M>
  using Spec = TankSpec<M>;

  explicit Tank(const TankSpec<N>& spec) : spec_(spec) {}

  /// Absolute pressure of the air or vapour over the liquid.
  template <Number M>
  AbsolutePressure<Mixed<N, M>> pressure_above_liquid(const AbsolutePressure<M>& ambient) const {
    return AbsolutePressure<Mixed<N, M>>::from_value(ambient.value() + spec_.vent_pressure.value());
  }

  /// Absolute pressure at the pick-up, outside its mouth: its entrance loss belongs to the line.
  template <Number M>
  AbsolutePressure<Mixed<N, M>> pressure_at_pickup(const AbsolutePressure<M>& ambient, const Density<M>& density,
                                                   const VehicleAcceleration<M>& acceleration = {}) const {
    return AbsolutePressure<Mixed<N, M>>::from_value(pressure_above_liquid(ambient).value() +
                                                     density.value() * pull(acceleration));
  }

  /// Whether the tilted surface leaves the pick-up dry.
  bool uncovered(const VehicleAcceleration<>& acceleration = {}) const {
    return value_of(pull(acceleration)) < 0.0;
  }

 private:
  /// (g − a)·(x_pickup − x_surface): pressure at the pick-up per density of liquid [m²/s²].
  template <Number M>
  Mixed<N, M> pull(const VehicleAcceleration<M>& acceleration) const {
    const auto& [forward, left, up] = acceleration;
    return (trade::standard_gravity_value + up.value()) * spec_.level.value() -
           forward.value() * spec_.pickup_forward.value() - left.value() * spec_.pickup_left.value();
  }

  TankSpec<N> spec_;
};

}  // namespace flarenut::parts

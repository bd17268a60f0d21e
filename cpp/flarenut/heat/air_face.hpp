#pragma once
/// The air that goes through the face of a cooler: how fast, how warm, and how much heat it can carry.
///
///     v = √((share · vehicle speed)² + fan² + still²)   [m/s],      C_air = ρ v A cp   [W/K]
///
/// v is the mean speed before the face. The fan and the wind of driving do not add up, since each alone has to push through
/// the same core: the root of their squares is a convention, not a law. What the vehicle's speed leaves of itself at the face depends
/// on grille, duct, core and the way out: measure it, if it matters, with a vane anemometer. `still_speed` is the draught that a warm
/// core makes by itself; it also keeps every law regular where nothing blows.
///
/// Density and specific heat of dry air at its temperature before the face and the ambient pressure (`fluids/air.hpp`).

#include <cmath>

#include "flarenut/fluids/air.hpp"
#include "flarenut/heat/heat_law.hpp"

namespace flarenut::heat {

template <Number N = double>
struct AirFaceSpec {
  Area<N> face_area{};        ///< of the core where air enters, frames left out
  Velocity<N> vehicle_speed{};  ///< 0: standing
  /// Of the vehicle's speed at the face: 0.1–0.3 behind a grille, 0.5 well ducted (common practice, no source).
  Ratio<N> ram_share = Ratio<N>::from_value(N(0.2));
  Velocity<N> fan_speed{};    ///< at the face, by the fan alone; a good electric fan 2–4 m/s (common practice, no source)
  Velocity<N> still_speed = Velocity<N>::from_value(N(0.1));  ///< draught of a warm core in still air (judgement, no source)
  TemperatureDifference<N> air_rise{};  ///< behind a condenser or radiator 10 to 30 K (common practice, no source)

  static constexpr auto air_fields() {
    using S = AirFaceSpec;
    using V = Velocity<N>;
    return std::tuple{
        Field<S, Area<N>>{"face_area", &S::face_area, 1e-4, 10.0, "m2", "area of the core where air enters"},
        Field<S, V>{"vehicle_speed", &S::vehicle_speed, 0.0, 150.0, "m/s", "speed of the vehicle"},
        Field<S, Ratio<N>>{"ram_share", &S::ram_share, 0.0, 1.0, "", "share of the vehicle's speed that goes through the face"},
        Field<S, V>{"fan_speed", &S::fan_speed, 0.0, 50.0, "m/s", "speed at the face that the fan makes alone"},
        Field<S, V>{"still_speed", &S::still_speed, 0.01, 1.0, "m/s", "draught of the warm core in still air"},
        Field<S, TemperatureDifference<N>>{"air_rise", &S::air_rise, -100.0, 300.0, "K", "how much warmer its air is than the case's"},
    };
  }
};

template <Number N = double>
class AirFace {
 public:
  /// InputError when the air is outside the range of `fluids/air.hpp`.
  AirFace(const AirFaceSpec<N>& spec, const Surroundings& around)
      : temperature_(Temperature<N>::from_value(around.air.value() + spec.air_rise.value())) {
    using std::sqrt;
    const N ram = spec.ram_share.value() * spec.vehicle_speed.value(), fan = spec.fan_speed.value(), still = spec.still_speed.value();
    speed_ = Velocity<N>::from_value(sqrt(N(ram * ram + fan * fan + still * still)));
    const auto air = fluids::air_at(temperature_, AbsolutePressure<N>::from_value(N(around.pressure.value())));
    density_ = air.density;
    const N mass_flow = air.density.value() * speed_.value() * spec.face_area.value();
    capacity_rate_ = ThermalConductance<N>::from_value(mass_flow * air.specific_heat.value());
  }

  Temperature<N> temperature() const { return temperature_; }
  Velocity<N> speed() const { return speed_; }
  Density<N> density() const { return density_; }
  ThermalConductance<N> capacity_rate() const { return capacity_rate_; }

 private:
  Temperature<N> temperature_;
  Velocity<N> speed_;
  Density<N> density_;
  ThermalConductance<N> capacity_rate_;
};

}  // namespace flarenut::heat

#pragma once
/// A liquid's properties as a table over its whole outer range, for iterations that are still on their way. Each is a cubic through
/// values and slopes at equal steps; within 1e-6 of the laws, most from the knots of measured tables and of thick cold oil.
/// Properties are those at one atmosphere. The last steps of a solve ask the laws themselves.

#include <algorithm>
#include <array>
#include <vector>

#include "flarenut/fluids/liquid.hpp"

namespace flarenut::fluids {

class PropertyTable {
 public:
  explicit PropertyTable(const Liquid& liquid);

  struct Flowing {
    double density, density_slope, viscosity, viscosity_slope;  ///< slopes with temperature [per K]
  };
  /// What an energy balance asks for; as `HeatState`. The slope of the enthalpy is the specific heat.
  struct Warming {
    double enthalpy, specific_heat, enthalpy_per_pressure, growth;  ///< growth: slope of enthalpy_per_pressure with temperature
  };
  /// What a heat law asks for.
  struct Conducting {
    double specific_heat, specific_heat_slope, conductivity, conductivity_slope;
  };
  /// Temperatures [K] beyond the outer range are taken as its ends.
  Flowing flowing(double kelvin) const {
    const Place here = place(kelvin);
    return {here.value(density), slope(here, density), here.value(viscosity), slope(here, viscosity)};
  }
  Warming warming(double kelvin) const {
    const Place here = place(kelvin);
    return {here.value(enthalpy), here.value(specific_heat), here.value(per_pressure), slope(here, per_pressure)};
  }
  Conducting conducting(double kelvin) const {
    const Place here = place(kelvin);
    return {here.value(specific_heat), slope(here, specific_heat), here.value(conductivity), slope(here, conductivity)};
  }
  /// Of what a heat law leads to, which may lie beyond the outer range: there it goes on straight.
  Warming led_to(double kelvin) const {
    Warming state = warming(kelvin);
    const double beyond = kelvin - std::clamp(kelvin, first_, first_ + static_cast<double>(steps_.size()) / per_kelvin_);
    state.enthalpy += state.specific_heat * beyond;
    state.enthalpy_per_pressure += state.growth * beyond;
    return state;
  }

 private:
  enum { viscosity, density, enthalpy, specific_heat, conductivity, per_pressure, kinds };
  struct Cubic {
    double start = 0.0, rise = 0.0, bend = 0.0, twist = 0.0;  ///< start + rise·s + bend·s² + twist·s³, s from 0 to 1 along a step
  };
  using Step = std::array<Cubic, kinds>;
  struct Place {
    const Step* step;
    double s;
    double value(int kind) const {
      const Cubic& c = (*step)[static_cast<std::size_t>(kind)];
      return c.start + s * (c.rise + s * (c.bend + s * c.twist));
    }
    double slope(int kind) const {
      const Cubic& c = (*step)[static_cast<std::size_t>(kind)];
      return c.rise + s * (2.0 * c.bend + s * (3.0 * c.twist));
    }
  };
  Place place(double kelvin) const {
    const double last = static_cast<double>(steps_.size());
    const double along = std::clamp((kelvin - first_) * per_kelvin_, 0.0, last);
    const auto step = along > 0.0 ? static_cast<std::size_t>(std::min(along, last - 1.0)) : 0;  // the first, too, for what is no number; s is none then
    return {&steps_[step], along - static_cast<double>(step)};
  }
  double slope(const Place& here, int kind) const { return per_kelvin_ * here.slope(kind); }

  double first_ = 0.0, per_kelvin_ = 0.0;
  std::vector<Step> steps_;
};

}  // namespace flarenut::fluids

#pragma once
/// A liquid's properties as a table over its whole outer range, for iterations that are still on their way. Each is a cubic through
/// values and slopes at equal steps; within 1e-6 of the laws (1e-9 away from the knots of a measured table), some ten times quicker.
/// Properties are those at one atmosphere. The last steps of a solve ask the laws themselves.

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
  struct Warming {
    double enthalpy, specific_heat, conductivity, enthalpy_per_pressure, enthalpy_slope;  ///< as `HeatState`
  };
  /// Temperatures [K] beyond the outer range are taken as its ends.
  Flowing flowing(double kelvin) const;
  Warming warming(double kelvin) const;

 private:
  enum { log_viscosity, density, enthalpy, specific_heat, conductivity, per_pressure, kinds };
  struct Node {
    std::array<double, kinds> value, rise;  ///< rise: slope times the step
  };
  struct Place {
    const Node *from, *to;
    double share;
  };
  Place place(double kelvin) const;
  static double between(const Place& place, int kind);
  double slope(const Place& place, int kind) const;

  double first_ = 0.0, per_kelvin_ = 0.0;
  std::vector<Node> nodes_;
};

}  // namespace flarenut::fluids

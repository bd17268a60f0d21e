#pragma once
/// Shorthand of the tests of plain resistances.

#include <cmath>
#include <numbers>
#include <string>

#include "../catch_shim.hpp"
#include "flarenut/network/element_of.hpp"
#include "valve_checks.hpp"

namespace loss_checks {

using namespace flarenut;
using namespace flarenut::parts;
using valve_checks::flow_at_drop;
using valve_checks::flowing;
using valve_checks::liquid;
using valve_checks::pascals;
using valve_checks::ratio;

inline constexpr double pi = std::numbers::pi;
inline constexpr double degree = pi / 180.0;

inline Length<> metres(double value) { return Length<>::from_value(value); }
inline double area(double bore) { return 0.25 * pi * bore * bore; }

/// Mass flow at a Reynolds number in a bore.
inline MassFlow<> at_reynolds(double reynolds, double bore, double viscosity) {
  return flowing(0.25 * pi * bore * viscosity * reynolds);
}

/// What a part costs in velocity heads of a bore.
template <class Part>
double heads(const Part& part, MassFlow<> flow, double bore, double density) {
  const double velocity = flow.value() / (density * area(bore));
  return part.drop(flow).value() / (0.5 * density * velocity * std::abs(velocity));
}

/// Slope of a drop with flow.
template <class Part>
double slope(const Part& part, double flow) {
  return part.drop(MassFlow<Dual<1>>::from_value(Dual<1>(flow, 0))).value().slope[0];
}

template <class Spec>
std::string complaint(const Spec& spec) {
  try {
    parts::validate("the part", spec);
  } catch (const InputError& error) {
    return error.what();
  }
  return "no complaint";
}

}  // namespace loss_checks

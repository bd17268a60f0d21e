#pragma once
/// Solves the law of a one-flow part for the flow or for the inlet pressure, by halving: slow, sure, and independent
/// of the slopes that the solver uses.

#include <cmath>

#include "flarenut/parts/part.hpp"

namespace valve_checks {

using namespace flarenut;

inline fluids::LiquidState<> liquid(double density, double viscosity) {
  fluids::LiquidState<> state;
  state.density = Density<>::from_value(density);
  state.viscosity = DynamicViscosity<>::from_value(viscosity);
  return state;
}

inline PressureDifference<> pascals(double value) { return PressureDifference<>::from_value(value); }
inline AbsolutePressure<> at(double value) { return AbsolutePressure<>::from_value(value); }
inline MassFlow<> flowing(double value) { return MassFlow<>::from_value(value); }
inline Area<> square_metres(double value) { return Area<>::from_value(value); }
inline Ratio<> ratio(double value) { return Ratio<>::from_value(value); }

/// How far a law is from holding: `which` of its mismatches, or what its opening leaves over of the drop.
template <class Part, class State>
double mismatch_of(const Part& part, const State& state, std::size_t which) {
  if constexpr (flarenut::parts::HasOpening<Part>)
    return (part.opening_squared() * state.pressure_drop() - part.drop(state.flow[0])).value();
  else return part.mismatch(state)[which].value();
}

/// Flow [kg/s] at which mismatch `which` vanishes at the state's pressures; the mismatch falls with its flow.
template <class Part, class State>
double solved_flow(const Part& part, State state, std::size_t which = 0) {
  double low = -1e3, high = 1e3;
  for (int turn = 0; turn < 200; ++turn) {
    const double middle = 0.5 * (low + high);
    state.flow[which] = flowing(middle);
    (mismatch_of(part, state, which) > 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// Flow [kg/s] at which a part's drop equals the given one.
template <class Part>
double flow_at_drop(const Part& part, double drop) {
  double low = -1e3, high = 1e3;
  for (int turn = 0; turn < 200; ++turn) {
    const double middle = 0.5 * (low + high);
    (part.drop(flowing(middle)).value() < drop ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// Orifice by hand: Q ρ = C A √(2 ρ Δp), mass flow.
inline double orifice(double coefficient, double area, double density, double drop) {
  return coefficient * area * std::sqrt(2.0 * density * drop);
}

/// The spring opening by hand, sharp-cornered.
inline double sharp_opening(double bands) { return bands <= 0.0 ? 0.0 : bands / std::hypot(1.0, bands); }

}  // namespace valve_checks

#pragma once
/// What a heat law is: what passes heat to or from the stream in a part. Read this, then `line_wall.hpp`.
///
/// A part's pressure and a part's heat are laws of their own (`parts/`, here), for the same core is cooled by air in one car
/// and by coolant in another. A heat law belongs to one part, or to two (an exchanger), and states
///
///   warming(stream, around)                 heat into the stream of its part [W], or
///   exchange(first, second)                 heat from the first stream into the second [W]
///
/// and where the stream's mean temperature lies between inlet and outlet, the **mean share**: mean = inlet + share · (outlet −
/// inlet). A stream that warms evenly has 1/2; one that dies away to its surroundings, nearly 1. Viscosity and density of the
/// part are taken at that mean.
///
/// Rules every law obeys, and its tests check:
///   finite with a finite slope everywhere, at rest included; heat dies with the flow where it comes through the inlet difference
///   alone (bounded by C · (inlet difference), so that an outlet never passes what cools it);
///   properties are those at the mean temperature of the stream (`liquid`, `heat`); they carry slopes when the solver asks. A law of one
///   stream so tells how warm it leaves; the energy balance then counts what the liquid takes up on the way there, its specific heat
///   growing on a straight line (`HeatSystem::follow_specific_heat`).
///
/// A flow here is a magnitude. `forward` says whether it runs from port 0 on; only exchangers of two streams care.
///
/// A law may **borrow** numbers of the part it belongs to, by name (bore and length of a line), so that nobody writes them twice:
/// `static constexpr std::array borrowed{"bore", "length"}`, members of its spec that are no fields.

#include <array>
#include <string_view>

#include "flarenut/fluids/heat_state.hpp"
#include "flarenut/fluids/liquid_state.hpp"
#include "flarenut/parts/part.hpp"

namespace flarenut::heat {

using fluids::HeatState;
using fluids::LiquidState;
using parts::Column;
using parts::Field;
using parts::Mixed;

/// The stream of a part, as it enters.
template <Number N = double>
struct Stream {
  MassFlow<N> flow{};      ///< magnitude
  Temperature<N> inlet{};
  LiquidState<N> liquid{};  ///< at the mean temperature of the stream in the part
  HeatState<N> heat{};      ///< the same; its enthalpy is not used here
  bool forward = true;      ///< from port 0 towards the last

  ThermalConductance<N> capacity_rate() const { return ThermalConductance<N>::from_value(flow.value() * heat.specific_heat.value()); }
};

/// What stands around the plumbing.
struct Surroundings {
  Temperature<> air = Temperature<>::from_value(293.15);  ///< of the case; a law may add to it (under a bonnet)
  AbsolutePressure<> pressure = AbsolutePressure<>::from_value(101325.0);
};

/// Of a law of one stream whose heat comes through the inlet difference alone, Q = K (T_sink − T_in): K, and the mean share. Such a law
/// says `per_degree(stream)`, which leaves the inlet out, and `warming` follows from it and `sink`.
template <Number N = double>
struct PerDegree {
  ThermalConductance<N> conductance{};
  N mean_share{0.5};
};

/// Heat into one stream.
template <Number N = double>
struct Warming {
  Power<N> heat{};
  N mean_share{0.5};
};

/// Heat from the first stream into the second.
template <Number N = double>
struct Exchanged {
  Power<N> heat{};
  N first_mean_share{0.5}, second_mean_share{0.5};
};

template <Number T, Number S, Number M>
Warming<T> warming_between(const PerDegree<T>& per_degree, const Temperature<S>& sink, const Temperature<M>& inlet) {
  return {Power<T>::from_value(per_degree.conductance.value() * (sink.value() - inlet.value())), per_degree.mean_share};
}

}  // namespace flarenut::heat

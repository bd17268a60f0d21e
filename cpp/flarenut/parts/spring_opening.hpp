#pragma once
/// How a spring-loaded valve opens: the shape that the bypass, reducing and relief valves and a filter's bypass share.
///
/// What it is: a seat held shut by a spring. Once the pressure on it beats the spring it lifts, further the more the
/// pressure exceeds the spring, until it meets its stop and is a fixed opening.
///
///   x       = excess / band                         band: the excess that opens it to 71 %
///   x₊      = ½ (x + √(x² + 0.02²))                 x below zero rounded off to 0, so a shut valve keeps a slope
///   opening = x₊ / √(1 + x₊²)                       0 shut, 0.71 at one band, 0.98 at five: wide open
///
/// The flow through the opening is that of an orifice, multiplied out so that a shut valve divides by nothing:
///
///   opening² · Δp = seat_resistance · (q|q| + q_l q)       seat_resistance = 1 / (2 ρ (C_d A)²)
///
/// For small lifts the opening rises in proportion to the excess, as a linear spring says: band is then the pressure
/// that the spring gains over the valve's whole lift (`full_lift_pressure` less `cracking_pressure`).
/// Assumes: no friction, no hysteresis, no flow force. Source: the orifice equation; the shape between shut and wide
/// open is a convention of this engine (common practice, no source).

#include "flarenut/parts/part.hpp"

namespace flarenut::parts {

/// Rounding of the shut corner, in bands.
inline constexpr double spring_corner = 0.02;
/// From here on, in bands, a valve counts as wide open: 98 % of its area.
inline constexpr double spring_wide_open = 5.0;

/// A function of one number, worked out with one slope however many directions the number has. `Held` is the type of the numbers that the
/// function holds besides: where they have slopes of their own, all directions are carried.
template <Number Held = double, Number T, class Function>
T by_one_slope(const T& x, Function&& function) {
  if constexpr (IsDual<T>::value && !IsDual<Held>::value) {
    if constexpr (T::directions != 1) {
      const auto found = function(Dual<1, typename T::Scalar>(x.value, 0));
      return x.chained(found.value, found.slope[0]);
    }
  }
  return function(x);
}

/// Opening, 0 to 1, of a spring-loaded seat whose pressure stands `bands` above what the spring holds.
template <Number T>
T spring_opening(const T& bands) {
  return by_one_slope(bands, []<class N>(const N& x) {
    using std::sqrt;
    const N lifted = smooth_positive(x, spring_corner);
    return N(lifted / sqrt(1.0 + lifted * lifted));
  });
}

/// Pressure per mass flow squared of a wide-open seat.
template <Number N>
using SquareFlowResistance = decltype(PressureDifference<N>{} / (MassFlow<N>{} * MassFlow<N>{}));

template <Number N>
SquareFlowResistance<N> seat_resistance(const Area<N>& area, const Ratio<N>& discharge_coefficient,
                                        const Density<N>& density) {
  const auto effective_area = discharge_coefficient * area;
  return N(1.0) / (2.0 * density * effective_area * effective_area);
}

/// The flow that a seat passes: solves q|q| + linear·q = drop / resistance. `drop` already carries the opening².
template <Number N>
MassFlow<N> seat_flow(const PressureDifference<N>& drop, const SquareFlowResistance<N>& resistance, const MassFlow<N>& linear) {
  using std::abs;
  using std::sqrt;
  const N squares = drop.value() / resistance.value();
  const N l = linear.value();
  return MassFlow<N>::from_value(2.0 * squares / (l + sqrt(l * l + 4.0 * abs(squares))));
}

/// Where Newton may linearise a spring-loaded seat that stood at `was` and would go to `wants`, both in bands: between
/// the two, and never across the seat or the stop in one step.
template <Number N>
N limit_spring_travel(const N& was, const N& wants) {
  using std::abs;
  // Opening: at most to half a band past the set point, then at most fourfold a step. Closing: at most to an eighth
  // of the lift; once nearly shut, to half a band below the set point, whence it may reopen as above.
  const auto from_shut = [&] { return smaller(wants, N(0.5)); };
  const auto from_open = [&] {
    const N least = choose(was > 0.04, [&] { return N(0.125 * was); }, [] { return N(-0.5); });
    return larger(smaller(wants, N(4.0 * was + 0.5)), least);
  };
  const N may = choose(was <= 0.0, from_shut, from_open);
  // A point already at its limit, give or take the round-off of turning bands into pressures, is left alone.
  const auto there = abs(may - wants) <= 1e-9 * (1.0 + abs(wants));
  return choose(there, [&] { return wants; }, [&] { return may; });
}

/// Where a seat that shuts comes to lie, in bands: at most half a band below the set point, whence it may reopen.
template <Number N>
N spring_travel_to_shut(const N& wants) {
  return choose(wants < -0.5 * (1.0 + 1e-9), [] { return N(-0.5); }, [&] { return wants; });
}

/// The square law leads Newton astray where the flow is far from what the seat passes: a shut valve's flow would only
/// be halved step by step, and a valve that reopens would look frictionless. Takes the point of linearisation to what
/// the seat passes when the flow is more than four times too large (shut), or four times too small or of the wrong
/// sign (open; then at most `most`). `drop` already carries the opening². Returns whether it acted.
template <Number N>
auto settle_flow(const N& bands, const PressureDifference<N>& drop, const SquareFlowResistance<N>& resistance,
                 const MassFlow<N>& linear, const MassFlow<N>& most, MassFlow<N>& flow) {
  using std::abs;
  const N passes = seat_flow(drop, resistance, linear).value(), now = flow.value();
  const N target = smaller(passes, most.value());
  // Below the linear flow the law is a straight line, and near the answer Newton needs no help: leave both alone.
  const auto shut = bands <= 0.0;
  const auto too_large = shut && !(abs(now - passes) <= 0.25 * abs(passes) + 0.01 * linear.value());
  const auto too_small = !(shut || bands > 1.0 || passes <= 0.0 || now >= 0.25 * target - linear.value());
  const N opened = choose(too_small, [&] { return target; }, [&] { return now; });
  flow = MassFlow<N>::from_value(choose(too_large, [&] { return passes; }, [&] { return opened; }));
  return too_large || too_small;
}

/// Whether a regulator passes liquid against its written direction by more than seepage. `scale`: its setting.
bool is_backflow(const MassFlow<>& flow, const PressureDifference<>& scale, const SquareFlowResistance<double>& resistance);

/// Shut, `between`, or wide open.
Regime spring_regime(double bands, Regime between);

// ---- from spring and poppet to pressures ----

template <Number N = double>
using SpringRate = decltype(PressureDifference<N>{} * Length<N>{});  ///< force per length, N/m

/// Pressure difference at which a poppet just leaves its seat: spring rate × preload / seat area.
inline PressureDifference<> cracking_pressure(SpringRate<> rate, Length<> preload, Area<> seat) {
  return rate * preload / seat;
}
/// Pressure difference that holds it lifted by `lift`.
inline PressureDifference<> full_lift_pressure(SpringRate<> rate, Length<> preload, Length<> lift, Area<> seat) {
  return rate * (preload + lift) / seat;
}

}  // namespace flarenut::parts

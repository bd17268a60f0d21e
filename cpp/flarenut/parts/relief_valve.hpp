#pragma once
/// Relief valve: spills when the pressure gets too high. One step or two.
///
/// What it is: a spring-loaded valve between a pressure passage and somewhere lower (sump, tank, pump inlet). Below
/// its setting it is shut, but for seepage that grows close to it. Above, it lifts and lets the surplus go; the pressure
/// still rises with the flow it must pass (the override), and once the lift is spent it is a fixed opening and the
/// pressure climbs as it likes. A two-step valve opens a small port at its first setting and a second port at a higher one.
///
///   pressure ──[ spring ]── outlet
///
/// Equation, in words: the opening follows the excess of the pressure difference across the valve over the setting;
/// the flow through the opening is that of an orifice.
///
///   excess₁ = p_inlet − p_outlet − set              excess₂ = p_inlet − p_outlet − second set
///   opening = [A₁ o(excess₁/band) + A₂ o(excess₂/band)] / (A₁ + A₂) + leak
///   opening² · (p_inlet − p_outlet) = (q|q| + q_l q) / (2 ρ (C_d (A₁ + A₂))²)
///
/// o is the spring opening of `spring_opening.hpp`: 0.01 at the setting, where its corner is rounded, and 0.001 a tenth
/// of a band below it; 0.71 at one band, 0.98 at five. A valve with a wide port passes something before it counts as
/// open. q_l is the flow at Reynolds 10 in the opening. Without a second area the valve has one step.
///
/// The spring chamber drains into the outlet, as in nearly every engine oil pump and inline valve: back-pressure in
/// the outlet adds to the setting one for one. A valve whose spring chamber is vented elsewhere is a bypass regulator
/// with that place as its reference.
///
/// Assumes: steady flow; no friction, hysteresis, chatter or flow force, so real valves override somewhat more and
/// reseat somewhat lower. Range: Reynolds above about 100 in the opening; thicker oil is an estimate.
/// Sign: positive flow from inlet (port 0) to outlet (port 1).
/// Source: force balance on the poppet (F = k·x, worked example in `tests/cpp/parts/test_relief_valve.cpp`) and the
/// orifice equation.

#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N = double>
struct ReliefValveSpec {
  PressureDifference<N> set_pressure{};  ///< drop at which it just opens (cracking), not at rated flow
  PressureDifference<N> band = PressureDifference<N>::from_value(N(50e3));  ///< override: excess for 71 % opening
  Area<N> full_area{};  ///< flow area of the (first) port when wide open
  PressureDifference<N> second_set_pressure{};  ///< drop at which the second port opens; 0 without a second port
  Area<N> second_area{};                        ///< flow area of the second port; 0 makes it a one-step valve
  Ratio<N> discharge_coefficient = Ratio<N>::from_value(N(0.7));  ///< sharp seat 0.6, rounded 0.8
  Ratio<N> leak = Ratio<N>::from_value(N(1e-4));  ///< opening left when shut; also keeps a slope there

  static constexpr auto fields() {
    using S = ReliefValveSpec;
    using P = PressureDifference<N>;
    return std::tuple{
        Field<S, P>{"set_pressure", &S::set_pressure, 1e3, 1e8, "Pa", "drop at which it just opens"},
        Field<S, P>{"band", &S::band, 10.0, 1e7, "Pa", "pressure excess that opens a step to 71 %"},
        Field<S, Area<N>>{"full_area", &S::full_area, 1e-9, 1e-2, "m2", "flow area of the first port, wide open"},
        Field<S, P>{"second_set_pressure", &S::second_set_pressure, 0.0, 1e8, "Pa",
                    "drop at which the second port opens"},
        Field<S, Area<N>>{"second_area", &S::second_area, 0.0, 1e-2, "m2",
                          "flow area of the second port; 0 for a one-step valve"},
        Field<S, Ratio<N>>{"discharge_coefficient", &S::discharge_coefficient, 0.1, 1.0, "",
                           "orifice coefficient of the ports"},
        Field<S, Ratio<N>>{"leak", &S::leak, 1e-7, 1e-2, "", "opening that remains when shut"},
    };
  }
  void check(std::string_view part) const;
};

template <Number N = double>
class ReliefValve {
 public:
  template <Number M>
  using Spec = ReliefValveSpec<M>;
  static constexpr std::string_view kind = "relief valve";
  static constexpr Shape shape{};
  template <Number M>
  using State = PartState<M>;

  ReliefValve(const ReliefValveSpec<N>& spec, const LiquidState<N>& liquid);

  /// Opening² times the drop, less what the flow costs through the wide-open valve. Zero when the law holds.
  template <Number M>
  std::array<PressureDifference<Mixed<N, M>>, 1> mismatch(const State<M>& state) const {
    const auto open = opening(state.pressure_drop());
    const auto flow = state.flow[0];
    return {open * open * state.pressure_drop() - resistance_ * (signed_square_flow(flow) + linear_flow_ * flow)};
  }

  /// Keeps Newton from jumping across the seat, the second step or the stop. Returns whether it moved the point.
  bool limit(const State<double>& last, State<double>& proposed) const;

  /// A cold solve begins at the flow that the guessed pressures drive.
  void start(State<double>& state) const;

  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const State<double>& state) const;

 private:
  template <Number M>
  Mixed<N, M> opening(const PressureDifference<M>& drop) const {
    const auto first = (drop - set_) / band_;
    Mixed<N, M> open = leak_ + first_share_ * spring_opening(first.value());
    if (two_steps_) {
      const auto second = (drop - second_set_) / band_;
      open = open + second_share_ * spring_opening(second.value());
    }
    return open;
  }

  PressureDifference<N> set_, second_set_, band_;
  N first_share_, second_share_, leak_;
  bool two_steps_;
  MassFlow<N> linear_flow_;
  SquareFlowResistance<N> resistance_;
};

// ---- body ----

template <Number N>
ReliefValve<N>::ReliefValve(const ReliefValveSpec<N>& spec, const LiquidState<N>& liquid)
    : set_(spec.set_pressure), second_set_(spec.second_set_pressure), band_(spec.band), leak_(spec.leak.value()) {
  const auto area = spec.full_area + spec.second_area;
  first_share_ = (spec.full_area / area).value();
  second_share_ = (spec.second_area / area).value();
  // A slope with respect to the second area needs the second step even at area zero, so ask the set pressure too.
  two_steps_ = value_of(spec.second_area.value()) > 0.0 || value_of(spec.second_set_pressure.value()) > 0.0;
  linear_flow_ = laminar_flow_floor(area, liquid.viscosity);
  resistance_ = seat_resistance(area, spec.discharge_coefficient, liquid.density);
}

}  // namespace flarenut::parts

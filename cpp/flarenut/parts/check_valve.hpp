#pragma once
/// Check valve: lets liquid through one way.
///
/// What it is: a ball, flap or poppet on a seat, with or without a spring. It opens when the pressure before it beats
/// the pressure behind it by the cracking pressure, costs that much plus a flow loss while it is open, and blocks the
/// way back, apart from a little seepage past the seat.
///
/// Equation, in words: forward, the cracking pressure plus an orifice loss that turns linear for thick oil; below
/// cracking and backwards, a steep straight line through zero; the lower of the two rules, the corner rounded.
///
///   forward(q) = p_crack + (q₊² + q_v q) / (2 ρ (C_d A)²)          q₊: q when positive, else 0
///   seepage(q) = (R_seep / ρ) q + the same linear part
///   Δp         = smooth lower of the two                           rounded over 10 % of the cracking pressure
///   q_v        = √(π/4 · A) · μ · Re_v                             flow at which viscous and square loss are equal
///
/// The curve passes exactly through zero and always rises, so the valve never makes energy. Forward, its loss leaves
/// the sharp-cornered law by less than 0.25 % of the cracking pressure.
///
/// Assumes: steady flow, no chatter, no hysteresis (real valves close a little below the pressure they open at);
/// seepage does not depend on viscosity. Range: Δp to either side as the body allows; forward loss good at Reynolds
/// above about 100, an estimate below. Sign: positive flow in the free direction, port 0 to port 1.
/// Source: orifice equation; viscous share after the two-K figures of W. B. Hooper, Chem. Eng. 88 (24 Aug 1981):
/// K = K1/Re + K∞ with 1500 and 1.5 for a swing check valve, equal at Reynolds 1000. The rounding is this engine's.

#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N = double>
struct CheckValveSpec {
  /// Drop at which it just opens; half a psi is a usual light spring (common practice, no source).
  PressureDifference<N> cracking_pressure = PressureDifference<N>::from_value(N(3.5e3));
  Area<N> full_area{};  ///< flow area when open; from its Cv or Kv, or from a drop at a known flow
  Ratio<N> discharge_coefficient = Ratio<N>::from_value(N(0.7));  ///< sharp seat 0.6, rounded 0.8
  /// Reynolds number in the opening at which viscous and square loss are equal: swing check after Hooper.
  Ratio<N> viscous_reynolds = Ratio<N>::from_value(N(1000.0));
  /// Backward pressure per seepage: 3 bar pushes 1.8 cm³/min through the preset (common practice, no source).
  LinearResistance<N> seepage_resistance = LinearResistance<N>::from_value(N(1e13));

  static constexpr auto fields() {
    using S = CheckValveSpec;
    return std::tuple{
        Field<S, PressureDifference<N>>{"cracking_pressure", &S::cracking_pressure, 10.0, 1e7, "Pa",
                                        "drop at which it just opens"},
        Field<S, Area<N>>{"full_area", &S::full_area, 1e-9, 1e-2, "m2", "flow area when open"},
        Field<S, Ratio<N>>{"discharge_coefficient", &S::discharge_coefficient, 0.1, 1.0, "",
                           "orifice coefficient of the seat"},
        Field<S, Ratio<N>>{"viscous_reynolds", &S::viscous_reynolds, 1.0, 1e4, "",
                           "Reynolds number at which viscous and square loss are equal"},
        Field<S, LinearResistance<N>>{"seepage_resistance", &S::seepage_resistance, 1e9, 1e17, "Pa s/m3",
                                      "backward pressure per volume flow that seeps past the seat"},
    };
  }
};

template <Number N = double>
class CheckValve {
 public:
  template <Number M>
  using Spec = CheckValveSpec<M>;
  static constexpr std::string_view kind = "check valve";
  static constexpr Shape shape{};

  CheckValve(const CheckValveSpec<N>& spec, const LiquidState<N>& liquid);

  template <Number M>
  PressureDifference<Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    const auto forward = crack_ + (viscous_ * flow + square_ * forward_square(flow));
    const auto seepage = seepage_ * flow;
    const auto above = (forward - seepage) / corner_;
    return forward - smooth_positive(above.value(), 1.0) * corner_ + lift_to_zero_;
  }

  /// A valve that would swing from open to backward flow is taken at rest first; from rest it opens by bounded steps.
  template <Number M>
  auto limit(const PartState<M>& last, PartState<M>& proposed) const {
    const auto swings = last.flow[0].value() > 0.0 && proposed.flow[0].value() < 0.0;
    const auto slowed = limit_flow_growth(last.flow[0], proposed.flow[0], MassFlow<M>(0.05 * middling_flow()));
    const M bounded = proposed.flow[0].value();
    proposed.flow[0] = MassFlow<M>::from_value(choose(swings, [] { return M(0.0); }, [&] { return bounded; }));
    return swings || slowed;
  }

  std::array<MassFlow<N>, 1> start_flow() const { return {0.3 * middling_flow()}; }
  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const PartState<double>& state) const;

 private:
  using FlowToPressure = decltype(PressureDifference<N>{} / MassFlow<N>{});

  template <Number M>
  static auto forward_square(const MassFlow<M>& flow) {
    return choose(value_of(flow.value()) > 0.0, [&] { return flow * flow; }, [] { return decltype(flow * flow){}; });
  }

  /// What one bar drives through the square-law part.
  MassFlow<N> middling_flow() const { return sqrt(PressureDifference<N>::from_value(N(1e5)) / square_); }

  static constexpr double corner_share = 0.1;  ///< rounding of the cracking corner, of the cracking pressure

  PressureDifference<N> crack_, corner_, lift_to_zero_;
  FlowToPressure viscous_, seepage_;
  SquareFlowResistance<N> square_;
};

// ---- body ----

template <Number N>
CheckValve<N>::CheckValve(const CheckValveSpec<N>& spec, const LiquidState<N>& liquid) {
  // The rounded corner would leave the curve a little below zero at rest. Lift it back to zero, and start the forward
  // branch that much lower, so that cracking pressure keeps its meaning: crack + lift = cracking pressure, exactly.
  lift_to_zero_ = 0.25 * corner_share * corner_share * spec.cracking_pressure;
  crack_ = spec.cracking_pressure - lift_to_zero_;
  corner_ = corner_share * spec.cracking_pressure;
  square_ = seat_resistance(spec.full_area, spec.discharge_coefficient, liquid.density);
  // laminar_flow_floor is for Reynolds 10.
  viscous_ = square_ * (0.1 * spec.viscous_reynolds * laminar_flow_floor(spec.full_area, liquid.viscosity));
  // Backward is never easier than forward, whatever the numbers.
  seepage_ = spec.seepage_resistance / liquid.density + viscous_;
}

}  // namespace flarenut::parts

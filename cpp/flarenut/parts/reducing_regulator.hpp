#pragma once
/// Reducing regulator: the dead-head pressure regulator.
///
/// What it is: a spring-loaded valve in the supply that closes as the pressure behind it reaches the setting. It
/// throttles a higher supply down, so that what is downstream stays a set amount above the reference (open air, or
/// a hose to the intake). Nothing flows back to the tank: with no demand it shuts and the line dead-heads.
///
///            reference (no flow)
///                 |
///   supply ──[ spring ]── regulated side
///
/// Equation, in words: the opening follows how far the regulated side has fallen short of the setting; the flow
/// through the opening is that of an orifice; when the opening is spent it is a fixed orifice and the regulated side
/// falls with flow. Above the setting the valve is shut (lock-up) and only its leak passes.
///
///   shortfall = p_reference + set − p_sensed + s·(p_supply − p_sensed)      s = seat area / diaphragm area
///   opening   = o(shortfall / band) + leak                                  o as in `spring_opening.hpp`
///   opening² · (p_supply − p_regulated) = (q|q| + q_l q) / (2 ρ (C_d A)²)
///
/// `set` is what the spring holds, spread over the diaphragm. The flow just ceases (lock-up) when the sensed side stands
/// (set + s·(p_supply − p_reference)) / (1 + s) above the reference: with s = 0 that is `set`. As flow grows the regulated
/// side droops below it by a part of the band. s is for a needle that the supply pushes open: a rise of the supply then
/// lifts lock-up by s / (1 + s) of it. Regulators whose supply pushes the needle shut fall instead; take s = 0 for them and for
/// balanced valves. q_l is the flow at Reynolds 10 in the opening. In reverse the drop is negative while the valve is
/// still governed by the sensed pressure: it is no check valve.
///
/// Assumes: steady flow, no friction or hysteresis, no pulsation from a needle slower than its demand.
/// Range: fuel and oil at Reynolds above about 100 in the opening.
/// Sign: positive flow from supply (port 0) to regulated side (port 1). Senses: the downstream tapping, then the
/// reference. Source: force balance on the diaphragm and the orifice equation; the shape between shut and wide open
/// is a convention of this engine (common practice, no source).

#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N = double>
struct ReducingRegulatorSpec {
  PressureDifference<N> set_pressure{};  ///< what the spring holds; with seat_share 0, sensed side over reference at lock-up
  PressureDifference<N> band = PressureDifference<N>::from_value(N(5e3));  ///< droop: shortfall for 71 % opening
  Area<N> full_area{};  ///< flow area when wide open; from the drop at a known flow with the spring screwed home
  Ratio<N> discharge_coefficient = Ratio<N>::from_value(N(0.7));  ///< sharp seat 0.6, rounded 0.8
  Ratio<N> seat_share{};  ///< seat area over diaphragm area: how much supply pressure pushes the valve open
  Ratio<N> leak = Ratio<N>::from_value(N(1e-4));  ///< opening left when shut; also keeps a slope there

  static constexpr auto fields() {
    using S = ReducingRegulatorSpec;
    using P = PressureDifference<N>;
    return std::tuple{
        Field<S, P>{"set_pressure", &S::set_pressure, 1e3, 1e8, "Pa", "regulated side above reference at lock-up"},
        Field<S, P>{"band", &S::band, 10.0, 1e7, "Pa", "shortfall that opens it to 71 %"},
        Field<S, Area<N>>{"full_area", &S::full_area, 1e-9, 1e-2, "m2", "flow area when wide open"},
        Field<S, Ratio<N>>{"discharge_coefficient", &S::discharge_coefficient, 0.1, 1.0, "",
                           "orifice coefficient of the seat"},
        Field<S, Ratio<N>>{"seat_share", &S::seat_share, 0.0, 0.5, "", "seat area over diaphragm area"},
        Field<S, Ratio<N>>{"leak", &S::leak, 1e-7, 1e-2, "", "opening that remains when shut"},
    };
  }
};

template <Number N = double>
class ReducingRegulator {
 public:
  template <Number M>
  using Spec = ReducingRegulatorSpec<M>;
  static constexpr std::string_view kind = "reducing regulator";
  static constexpr Shape shape{.ports = 2, .flows = 1, .senses = 2};
  static constexpr bool wet(int i) { return i != 3; }  ///< the reference hose holds air
  template <Number M>
  using State = PartState<M, 2, 1, 2>;

  ReducingRegulator(const ReducingRegulatorSpec<N>& spec, const LiquidState<N>& liquid)
      : spec_(spec),
        linear_flow_(laminar_flow_floor(spec.full_area, liquid.viscosity)),
        resistance_(seat_resistance(spec.full_area, spec.discharge_coefficient, liquid.density)) {}

  /// Opening² times the drop, less what the flow costs through the wide-open seat. Zero when the law holds.
  template <Number M>
  std::array<PressureDifference<Mixed<N, M>>, 1> mismatch(const State<M>& state) const {
    const auto open = opening(state);
    const auto flow = state.flow[0];
    return {open * open * state.pressure_drop() - resistance_ * (signed_square_flow(flow) + linear_flow_ * flow)};
  }

  /// Keeps Newton from jumping across the seat or the stop. Returns whether it moved the point.
  bool limit(const State<double>& last, State<double>& proposed) const;

  /// Where a cold solve begins: half a band open, with the regulated side near its setting.
  void start(State<double>& state) const;

  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const State<double>& state) const;

 private:
  template <Number M>
  auto shortfall(const State<M>& state) const {
    const auto missing = state.sensed[1] - state.sensed[0];
    const auto from_supply = spec_.seat_share * (state.pressure[0] - state.sensed[0]);
    return missing + from_supply + spec_.set_pressure;
  }

  template <Number M>
  auto opening(const State<M>& state) const {
    const auto bands = shortfall(state) / spec_.band;
    return spring_opening(bands.value()) + spec_.leak.value();
  }

  ReducingRegulatorSpec<N> spec_;
  MassFlow<N> linear_flow_;
  SquareFlowResistance<N> resistance_;
};

}  // namespace flarenut::parts

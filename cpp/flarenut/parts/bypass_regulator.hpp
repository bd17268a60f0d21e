#pragma once
/// Bypass regulator: the return-style fuel pressure regulator.
///
/// What it is: a spring-loaded valve teed to the supply. When the supply rises more than the set pressure above
/// the reference (the hose to the intake manifold, or open air), it lifts and spills the surplus into the
/// return line, so the supply stays a set amount above the reference.
///
///            reference (no flow)
///                 |
///   supply ──[ spring ]── return
///
/// Equation, in words: the opening follows the excess of the supply over what the spring holds; the flow through
/// the opening is that of an orifice; when the opening is spent it is a fixed orifice, and the supply creeps up
/// with flow and with every pascal of return back-pressure.
///
///   excess  = (1 − s)·p_sensed + s·p_return − p_reference − set        s = seat area / diaphragm area
///   x       = excess / band
///   opening = x₊ / √(1 + x₊²) + leak                0 shut, 0.71 at one band, 0.98 at five: wide open
///   opening² · (p_supply − p_return) = (q|q| + q_l q) / (2 ρ (C_d A)²)
///
/// x₊ is x below zero rounded off to 0 (`spring_opening.hpp`, shared by all spring valves), so a shut valve keeps a
/// slope; `leak` is the opening that remains on the seat. q_l is the flow at Reynolds 10 in the opening: below it the loss turns
/// linear in flow, as every small passage does.
///
/// Where it opens: `set` is what the spring holds, spread over the diaphragm. The valve just opens when the supply it
/// senses stands (set − s·(p_return − p_reference)) / (1 − s) above the reference: with s = 0 that is `set`, whatever
/// stands in the return; with a seat share and nothing pushing back it is set / (1 − s), a little more than `set`.
/// A bench setting made at some flow stands a part of the band above the opening: see `set_flow` in the Python words.
/// Assumes: steady flow; no friction or hysteresis of the valve. Range: fuel and oil at Reynolds above about 100 in the opening.
/// Sign: positive flow from supply (port 0) to return (port 1). Senses: the supply tapping, then the reference.
/// Source: force balance on the diaphragm and the orifice equation; the shape between shut and wide open is a
/// convention of this engine (common practice, no source).

#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N = double>
struct BypassRegulatorSpec {
  PressureDifference<N> set_pressure{};  ///< what the spring holds; with seat_share 0, supply over reference where it opens
  PressureDifference<N> band = PressureDifference<N>::from_value(N(20e3));  ///< stiffness: excess for 71 % opening
  Area<N> full_area{};  ///< flow area when wide open; from the drop at a known flow with the spring unloaded
  Ratio<N> discharge_coefficient = Ratio<N>::from_value(N(0.7));  ///< sharp seat 0.6, rounded 0.8
  Ratio<N> seat_share{};  ///< seat area over diaphragm area: how much return pressure helps to open it
  Ratio<N> leak = Ratio<N>::from_value(N(1e-4));  ///< opening left when shut; also keeps a slope there

  static constexpr auto fields() {
    using S = BypassRegulatorSpec;
    using P = PressureDifference<N>;
    return std::tuple{
        Field<S, P>{"set_pressure", &S::set_pressure, 1e3, 1e8, "Pa", "supply above reference at which it opens"},
        Field<S, P>{"band", &S::band, 10.0, 1e7, "Pa", "pressure excess that opens it to 71 %"},
        Field<S, Area<N>>{"full_area", &S::full_area, 1e-9, 1e-2, "m2", "flow area when wide open"},
        Field<S, Ratio<N>>{"discharge_coefficient", &S::discharge_coefficient, 0.1, 1.0, "",
                           "orifice coefficient of the seat"},
        Field<S, Ratio<N>>{"seat_share", &S::seat_share, 0.0, 0.5, "", "seat area over diaphragm area"},
        Field<S, Ratio<N>>{"leak", &S::leak, 1e-7, 1e-2, "", "opening that remains when shut"},
    };
  }
};

template <Number N = double>
class BypassRegulator {
 public:
  template <Number M>
  using Spec = BypassRegulatorSpec<M>;
  static constexpr std::string_view kind = "bypass regulator";
  static constexpr Shape shape{.ports = 2, .flows = 1, .senses = 2};
  static constexpr bool wet(int i) { return i != 3; }  ///< the reference hose holds air
  template <Number M>
  using State = PartState<M, 2, 1, 2>;

  BypassRegulator(const BypassRegulatorSpec<N>& spec, const LiquidState<N>& liquid);

  /// Opening² times the drop, less what the flow costs through the wide-open seat. Zero when the law holds.
  template <Number M>
  std::array<PressureDifference<Mixed<N, M>>, 1> mismatch(const State<M>& state) const {
    using Mix = Mixed<N, M>;
    const Mix open_squared = by_one_slope<N>(Mix((excess(state) / spec_.band).value()), [&]<class T>(const T& bands) {
      const T open = spring_opening(bands) + spec_.leak.value();
      return T(open * open);
    });
    const Mix seat_drop = by_one_slope<N>(Mix(state.flow[0].value()), [&]<class T>(const T& flow) {
      return T(flow_to_drop_.value() * (signed_square(flow) + linear_flow_.value() * flow));
    });
    return {PressureDifference<Mix>::from_value(open_squared * state.pressure_drop().value() - seat_drop)};
  }

  /// Newton linearises here instead of at `proposed` when the valve would jump across its seat or its stop:
  /// it then sees the opening it is heading for. Returns whether it moved the point.
  template <Number M>
  auto limit(const State<M>& last, State<M>& proposed) const {
    const M wants = (excess(proposed) / spec_.band).value();
    const M was = (excess(last) / spec_.band).value();
    const auto middling = sqrt(spec_.set_pressure / flow_to_drop_);
    // Where it would have to flow backwards against the drop, or no more than the shut seat passes, it is shut, however far it stood open.
    const M shut = spring_travel_to_shut(wants), open_when_shut = spring_opening(shut) + spec_.leak.value();
    const auto passes = seat_flow(PressureDifference<M>(open_when_shut * open_when_shut * proposed.pressure_drop()), flow_to_drop_, linear_flow_);
    const auto shuts = was > 0.0 && wants < 0.0 && proposed.pressure_drop().value() > 0.0 &&
                       proposed.flow[0].value() <= 1.25 * passes.value() + 0.01 * linear_flow_.value();
    const M may = choose(shuts, [&] { return shut; }, [&] { return limit_spring_travel(was, wants); });
    proposed.sensed[0] += PressureDifference<M>::from_value((may - wants) / (1.0 - seat_share_.value()) * spec_.band.value());
    const auto slowed = limit_flow_growth(last.flow[0], proposed.flow[0], MassFlow<M>(0.05 * middling));
    const M open = opening(excess(proposed));
    const auto settled = settle_flow(may, PressureDifference<M>(open * open * proposed.pressure_drop()), flow_to_drop_, linear_flow_,
                                     MassFlow<M>(0.5 * middling), proposed.flow[0]);
    return slowed || settled || may != wants;
  }

  /// Where a cold solve begins: a third of a band open, at the flow that the set pressure then drives.
  void start(State<double>& state) const;

  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const State<double>& state) const;

 private:
  template <Number M>
  auto excess(const State<M>& state) const {
    const auto sensed = state.sensed[0] - state.sensed[1];
    const auto from_return = seat_share_ * (state.pressure[1] - state.sensed[0]);
    return sensed + from_return - spec_.set_pressure;
  }

  template <class Pressure>
  auto opening(const Pressure& excess) const {
    const auto bands = excess / spec_.band;
    return spring_opening(bands.value()) + spec_.leak.value();
  }

  BypassRegulatorSpec<N> spec_;
  Ratio<N> seat_share_;
  MassFlow<N> linear_flow_;
  SquareFlowResistance<N> flow_to_drop_;
};

// ---- body ----

template <Number N>
BypassRegulator<N>::BypassRegulator(const BypassRegulatorSpec<N>& spec, const LiquidState<N>& liquid)
    : spec_(spec), seat_share_(spec.seat_share) {
  flow_to_drop_ = seat_resistance(spec.full_area, spec.discharge_coefficient, liquid.density);
  linear_flow_ = laminar_flow_floor(spec.full_area, liquid.viscosity);
}

}  // namespace flarenut::parts

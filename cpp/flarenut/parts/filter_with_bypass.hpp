#pragma once
/// Filter with a bypass valve: when the element costs too much, a spring valve lets liquid round it, unfiltered.
///
/// What it is: the usual engine oil filter. Cold thick oil or a loaded element raises the drop; at the bypass
/// pressure a valve in the base or the element opens, so that the engine gets dirty oil instead of none.
///
///            ┌──[ element ]──┐
///   inlet ───┤               ├─── outlet
///            └──[ spring  ]──┘
///
/// Two flows side by side between the same two ports, each by its own law:
///
///   flow 0, through the element:  p_in − p_out = the drop of `filter.hpp`
///   flow 1, through the valve:    opening² · (p_in − p_out) = (q|q| + q_l q) / (2 ρ (C_d A)²)
///                                 opening = o((p_in − p_out − bypass pressure) / band) + leak   (`spring_opening.hpp`)
///
/// The part's flow is the sum of the two. Assumes: as filter and relief valve; the bypass liquid does not pass the
/// element's housing loss. Sign: both flows positive from port 0 to port 1. Source: as filter and relief valve.

#include "flarenut/parts/filter.hpp"

namespace flarenut::parts {

template <Number N = double>
struct FilterWithBypassSpec : FilterSpec<N> {
  PressureDifference<N> bypass_pressure{};  ///< drop at which the bypass just opens; 55–180 kPa on engine oil filters
  PressureDifference<N> bypass_band = PressureDifference<N>::from_value(N(20e3));  ///< excess for 71 % opening
  Area<N> bypass_area{};  ///< flow area of the bypass, wide open
  Ratio<N> discharge_coefficient = Ratio<N>::from_value(N(0.7));  ///< sharp seat 0.6, rounded 0.8
  Ratio<N> leak = Ratio<N>::from_value(N(1e-4));  ///< opening left when shut; also keeps a slope there

  static constexpr auto fields() {
    using S = FilterWithBypassSpec;
    using P = PressureDifference<N>;
    return std::tuple_cat(
        FilterSpec<N>::fields(),
        std::tuple{
            Field<S, P>{"bypass_pressure", &S::bypass_pressure, 1e2, 1e7, "Pa", "drop at which the bypass just opens"},
            Field<S, P>{"bypass_band", &S::bypass_band, 10.0, 1e6, "Pa", "excess that opens the bypass to 71 %"},
            Field<S, Area<N>>{"bypass_area", &S::bypass_area, 1e-9, 1e-2, "m2", "flow area of the bypass, wide open"},
            Field<S, Ratio<N>>{"discharge_coefficient", &S::discharge_coefficient, 0.1, 1.0, "",
                               "orifice coefficient of the bypass"},
            Field<S, Ratio<N>>{"leak", &S::leak, 1e-7, 1e-2, "", "opening of the bypass that remains when shut"},
        });
  }
};

template <Number N = double>
class FilterWithBypass {
 public:
  template <Number M>
  using Spec = FilterWithBypassSpec<M>;
  static constexpr std::string_view kind = "filter with bypass";
  static constexpr Shape shape{.ports = 2, .flows = 2, .senses = 0};
  template <Number M>
  using State = PartState<M, 2, 2, 0>;

  FilterWithBypass(const FilterWithBypassSpec<N>& spec, const LiquidState<N>& liquid)
      : element_(spec, liquid),
        opens_at_(spec.bypass_pressure),
        band_(spec.bypass_band),
        leak_(spec.leak.value()),
        linear_flow_(laminar_flow_floor(spec.bypass_area, liquid.viscosity)),
        resistance_(seat_resistance(spec.bypass_area, spec.discharge_coefficient, liquid.density)) {}

  /// Element, then bypass valve; each zero when its law holds.
  template <Number M>
  std::array<PressureDifference<Mixed<N, M>>, 2> mismatch(const State<M>& state) const {
    const auto across = state.pressure_drop();
    const auto open = opening(across);
    const auto bypass = state.flow[1];
    return {across - element_.drop(state.flow[0]),
            open * open * across - resistance_ * (signed_square_flow(bypass) + linear_flow_ * bypass)};
  }

  /// Keeps Newton from jumping across the bypass seat or its stop. Returns whether it moved the point.
  bool limit(const State<double>& last, State<double>& proposed) const;
  /// A cold solve begins with the bypass shut.
  void start(State<double>& state) const;

  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const State<double>& state) const;

 private:
  template <Number M>
  Mixed<N, M> opening(const PressureDifference<M>& across) const {
    const auto bands = (across - opens_at_) / band_;
    return spring_opening(bands.value()) + leak_;
  }

  Filter<N> element_;
  PressureDifference<N> opens_at_, band_;
  N leak_;
  MassFlow<N> linear_flow_;
  SquareFlowResistance<N> resistance_;
};

}  // namespace flarenut::parts

#pragma once
/// Thermostat: a valve that a wax element opens with the heat of the liquid, or its other end, which the same wax shuts.
///
/// What it is: a pellet of wax that swells as it melts and pushes a valve off its seat: in an engine's coolant outlet, in the
/// sandwich plate of an oil cooler, in the transmission's line. Cold, it is shut but for a bleed that keeps the cooler filled and
/// the wax in moving liquid. A three-way one shuts the bypass leg as it opens the cooler's: that is two parts between the same
/// places, a `thermostat` in the cooler's branch and a `thermostat bypass` in the leg round it.
///
///   heated  = (T − start) / (full − start)                T of the liquid at the wax
///   lift    = step(heated), or 1 − step(heated) of the bypass leg
///   opening = bleed + (1 − bleed) · lift
///   opening² · Δp = (q|q| + q_l q) / (2 ρ (C_d A)²)
///
/// step is 0 below 0, 1 above 1, 10x³ − 15x⁴ + 6x⁵ between (`smooth.hpp`): no corner where the valve leaves its seat or meets
/// its stop. q_l is the flow at Reynolds 10 in the area A, below which the loss turns linear. T is the temperature of the
/// liquid the part is made for: one that moves with the flow makes the part anew, and the opening carries its slope.
///
/// Assumes: the wax has come to rest at the temperature of the liquid. Left out are its lag (tens of seconds) and its hysteresis (it
/// shuts some kelvins below where it opened; both common practice, no source), and the push of the pressure on the valve.
/// Range: loss good at Reynolds above about 100 in the opening, an estimate below. Sign: positive flow from port 0 to port 1, the
/// same backwards.
/// Source: orifice equation; the shape between shut and open is a convention of this engine (common practice, no source).

#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N = double>
struct ThermostatSpec {
  Temperature<N> start_temperature{};  ///< where it just begins to move: stamped on most
  Temperature<N> full_temperature{};   ///< where it has done its travel, usually 10 to 15 K later (common practice, no source)
  Area<N> full_area{};                 ///< flow area when open; from its bore, or from a drop at a known flow
  /// Share of the area that passes when shut: that of a sandwich plate for oil (common practice, no source).
  Ratio<N> bleed = Ratio<N>::from_value(N(0.1));
  Ratio<N> discharge_coefficient = Ratio<N>::from_value(N(0.7));  ///< sharp seat 0.6, rounded 0.8
  Length<N> bore{};                                               ///< of its ports; 0 (preset): velocity head not told

  static constexpr auto fields() {
    using S = ThermostatSpec;
    return std::tuple{
        Field<S, Temperature<N>>{"start_temperature", &S::start_temperature, 220.0, 600.0, "K", "where it just begins to move"},
        Field<S, Temperature<N>>{"full_temperature", &S::full_temperature, 220.0, 600.0, "K", "where it has done its travel"},
        Field<S, Area<N>>{"full_area", &S::full_area, 1e-9, 1e-2, "m2", "flow area when open"},
        Field<S, Ratio<N>>{"bleed", &S::bleed, 0.0, 1.0, "", "share of the area that passes when shut"},
        Field<S, Ratio<N>>{"discharge_coefficient", &S::discharge_coefficient, 0.1, 1.0, "",
                           "orifice coefficient of the opening"},
        Field<S, Length<N>>{"bore", &S::bore, 0.0, 0.5, "m", "bore of its ports; 0: not told"},
    };
  }
  void check(std::string_view part) const;
};

/// What both kinds share.
template <Number N, bool opens_with_heat>
class ThermostatLaw {
 public:
  template <Number M>
  using Spec = ThermostatSpec<M>;
  static constexpr Shape shape{};
  template <Number M>
  using State = PartState<M>;

  ThermostatLaw(const ThermostatSpec<N>& spec, const LiquidState<N>& liquid);

  /// What the flow would cost wide open; opening² times the pressure difference pays for it.
  template <Number M>
  auto drop(const MassFlow<M>& flow) const { return resistance_ * (signed_square_flow(flow) + linear_flow_ * flow); }
  Ratio<N> opening_squared() const { return Ratio<N>::from_value(opening_ * opening_); }

  /// Bounds the growth of the flow: nearly shut, the law is almost flat at rest. Returns whether it moved the point.
  template <Number M>
  auto limit(const State<M>& last, State<M>& proposed) const {
    return limit_flow_growth(last.flow[0], proposed.flow[0], MassFlow<M>(0.1 * start_ + linear_flow_));
  }

  std::array<MassFlow<>, 1> start_flow() const { return {without_slope<MassFlow>(start_)}; }
  std::array<Length<>, 2> bores() const { return {bore_, bore_}; }
  Regime regime(const State<double>&) const {
    return lift_ <= 0.0 ? Regime::shut : lift_ >= 1.0 ? Regime::wide_open : Regime::regulating;
  }

 private:
  Length<> bore_;
  double lift_;  ///< without its slope, for the regime
  N opening_;
  MassFlow<N> linear_flow_, start_;
  SquareFlowResistance<N> resistance_;
};

template <Number N = double>
class Thermostat : public ThermostatLaw<N, true> {
 public:
  using ThermostatLaw<N, true>::ThermostatLaw;
  static constexpr std::string_view kind = "thermostat";
};

template <Number N = double>
class ThermostatBypass : public ThermostatLaw<N, false> {
 public:
  using ThermostatLaw<N, false>::ThermostatLaw;
  static constexpr std::string_view kind = "thermostat bypass";
};

// ---- body ----

template <Number N, bool opens_with_heat>
ThermostatLaw<N, opens_with_heat>::ThermostatLaw(const ThermostatSpec<N>& spec, const LiquidState<N>& liquid)
    : bore_(without_slope<Length>(spec.bore)) {
  const auto heated = (liquid.temperature - spec.start_temperature) / (spec.full_temperature - spec.start_temperature);
  const N risen = smooth_step(N(heated.value()));
  const N lift = opens_with_heat ? risen : N(1.0 - risen);
  lift_ = value_of(lift);
  opening_ = spec.bleed.value() + (1.0 - spec.bleed.value()) * lift;
  linear_flow_ = laminar_flow_floor(spec.full_area, liquid.viscosity);
  resistance_ = seat_resistance(spec.full_area, spec.discharge_coefficient, liquid.density);
  // A cold solve begins at what a fifth of a bar drives through the opening: a guess.
  start_ = opening_ * sqrt(PressureDifference<N>::from_value(N(2e4)) / resistance_);
}

}  // namespace flarenut::parts

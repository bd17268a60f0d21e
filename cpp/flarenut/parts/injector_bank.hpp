#pragma once
/// Injector bank: the injectors of one rail, as the rail sees them on average.
///
/// What it is: valves that open for a share of the time, their duty, and squirt fuel into the manifold. The mean flow
/// is the duty's share of what an open injector passes under the pressure between rail and manifold.
///
///   q = duty · count · Q_rated · √(ρ_rated ρ) · √(Δp / Δp_rated)           Δp = p_rail − p_manifold
///
/// (an orifice: mass flow goes with √(ρ Δp), so an injector rated with test fluid at ρ_rated passes
/// Q_rated·√(ρ_rated/ρ) of the real fuel by volume). Multiplied out so that a duty of zero divides by nothing, and
/// with a linear part so that there is a slope at rest:
///
///   duty² · Δp = [q|q| + (duty + 0.001) q_l q] · Δp_rated / (count² Q_rated² ρ_rated ρ)
///
/// q_l is the flow at Reynolds 10 in open injectors of that size. It changes the flow by less than 0.1 % in use.
///
/// Assumes: rated static flow; opening delay is the tuner's business: duty here is the effective, flowing share. The
/// pulsation of single squirts is not in it. An injector taken below manifold pressure passes flow backwards, which
/// real ones do only for gas. Range: Δp about a third to three times the rated pressure.
/// Sign: positive flow from rail (port 0) to manifold (port 1). Source: orifice equation.

#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N = double>
struct InjectorBankSpec {
  Ratio<N> count = Ratio<N>::from_value(N(1.0));  ///< injectors at this point of the rail
  VolumeFlow<N> rated_flow{};                     ///< one injector held open at the rated pressure: its "cc/min"
  /// Pressure across it at which it was rated; 3 bar is the usual one (common practice, no source).
  PressureDifference<N> rated_pressure = PressureDifference<N>::from_value(N(3e5));
  Density<N> rating_density{};  ///< of the liquid on the flow bench: fuel, or test fluid (n-heptane near 684 kg/m³, memory)
  Ratio<N> duty{};              ///< share of the time it flows, 0 shut to 1 held open

  static constexpr auto fields() {
    using S = InjectorBankSpec;
    return std::tuple{
        Field<S, Ratio<N>>{"count", &S::count, 1.0, 64.0, "", "injectors at this point of the rail"},
        Field<S, VolumeFlow<N>>{"rated_flow", &S::rated_flow, 1e-9, 1e-3, "m3/s",
                                "flow of one injector held open at the rated pressure"},
        Field<S, PressureDifference<N>>{"rated_pressure", &S::rated_pressure, 1e3, 1e8, "Pa",
                                        "pressure across it at which it was rated"},
        Field<S, Density<N>>{"rating_density", &S::rating_density, 300.0, 2000.0, "kg/m3",
                             "density of the liquid it was rated with"},
        Field<S, Ratio<N>>{"duty", &S::duty, 0.0, 1.0, "", "share of the time it flows", true},
    };
  }
  void check(std::string_view part) const;
  /// Whether `check` finds nothing: a whole number of injectors.
  auto plain() const {
    constexpr double grain = 4503599627370496.0;  // 2^52: numbers beyond have no fraction
    return count.value() + grain - grain == count.value();
  }
};

template <Number N = double>
class InjectorBank {
 public:
  template <Number M>
  using Spec = InjectorBankSpec<M>;
  static constexpr std::string_view kind = "injector bank";
  static constexpr Shape shape{};
  static constexpr bool wet(int port) { return port == 0; }  ///< it sprays: the manifold begins at its tip
  template <Number M>
  using State = PartState<M>;

  InjectorBank(const InjectorBankSpec<N>& spec, const LiquidState<N>& liquid);

  /// What the flow would cost through open injectors; duty² times the pressure difference pays for it.
  template <Number M>
  auto drop(const MassFlow<M>& flow) const { return resistance_ * (signed_square_flow(flow) + linear_flow_ * flow); }
  Ratio<N> opening_squared() const { return duty_squared_; }

  /// Bounds the growth of the flow: at a small duty the law is nearly flat at rest. Returns whether it moved the point.
  template <Number M>
  auto limit(const State<M>& last, State<M>& proposed) const {
    using std::abs;
    using std::copysign;
    const M now = abs(proposed.flow[0].value()), usual = 4.0 * rated_duty_flow_.value() + linear_flow_.value();
    const auto slowed = limit_flow_growth(last.flow[0], proposed.flow[0], MassFlow<M>(0.1 * rated_duty_flow_ + linear_flow_));
    if (all(now <= usual)) return slowed;
    // Left over from a larger duty, a flow far beyond what this duty passes would only be halved step by step.
    const auto passes = seat_flow(PressureDifference<M>(duty_squared_ * proposed.pressure_drop()), resistance_, linear_flow_);
    const M most = 4.0 * larger(M(abs(passes.value())), rated_duty_flow_.value()) + linear_flow_.value();
    const M flow = proposed.flow[0].value();
    const auto settled = abs(flow) > most;
    proposed.flow[0] =
        MassFlow<M>::from_value(choose(settled, [&] { return M(copysign(most, flow)); }, [&] { return flow; }));
    return slowed || settled;
  }

  std::array<MassFlow<N>, 1> start_flow() const { return {rated_duty_flow_}; }
  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const State<double>& state) const;

 private:
  Ratio<N> duty_squared_;
  MassFlow<N> linear_flow_, rated_duty_flow_;
  SquareFlowResistance<N> resistance_;
};

// ---- body ----

template <Number N>
InjectorBank<N>::InjectorBank(const InjectorBankSpec<N>& spec, const LiquidState<N>& liquid)
    : duty_squared_(spec.duty * spec.duty) {
  const auto rated = spec.count * spec.rated_flow;  // of all, by volume
  resistance_ = spec.rated_pressure / (liquid.density * spec.rating_density * (rated * rated));
  rated_duty_flow_ = spec.duty * (rated * sqrt(spec.rating_density * liquid.density));
  // One injector as an effective area: Q = A √(2 Δp / ρ).
  const auto effective_area = spec.rated_flow * sqrt(spec.rating_density / (2.0 * spec.rated_pressure));
  linear_flow_ = (spec.duty + Ratio<N>::from_value(N(1e-3))) *
                 (spec.count * laminar_flow_floor(effective_area, liquid.viscosity));
}

}  // namespace flarenut::parts

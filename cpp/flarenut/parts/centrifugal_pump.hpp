#pragma once
/// Centrifugal pump: an impeller in a volute; coolant pumps, transfer pumps, some lift pumps.
///
/// What it is: a pump known by its curve of pressure rise over flow at one speed with one liquid. Turned faster it
/// moves more and lifts more; a heavier liquid is lifted to the same height, hence to more pressure.
///
///   Δp(Q, n, ρ) = (ρ / ρ_rated) · r² f(Q / r)         r = n / n_rated        Q ∝ n,  Δp ∝ ρ n²
///
/// f, and how it runs on beyond its points, backwards and at standstill, stands in `pump_curve.hpp`.
/// A curve given as head [m] becomes rise by ρ_rated g.
///
/// Assumes: similar flow; no correction for viscosity (thick or cold liquids lift and move less than this says:
/// trust it for water, coolant and fuel, not for cold oil); no cavitation (check the suction margin). Driven
/// backwards by a stronger pump it is a resistance, not a turbine map.
/// A curve that climbs before it falls answers one pressure with two flows: `has_hump` says so.
/// Sign: positive flow from inlet (port 0) to outlet (port 1).
/// Source: affinity laws, any textbook of hydraulic machines.

#include "flarenut/parts/pump_curve.hpp"

namespace flarenut::parts {

/// The measured curve: points at rising flow.
struct CentrifugalPumpCurve {
  std::vector<double> curve_flow;
  std::vector<double> curve_rise;
};

template <Number N = double>
struct CentrifugalPumpSpec : CentrifugalPumpCurve {
  using Fixed = CentrifugalPumpCurve;

  Frequency<N> speed{};        ///< turns per second of the impeller: engine speed times pulley ratio
  Frequency<N> rated_speed{};  ///< at which the curve was taken
  Density<N> rated_density = Density<N>::from_value(N(998.2));  ///< of the test liquid: water at 20 °C (IAPWS)

  static constexpr auto fields() {
    using S = CentrifugalPumpSpec;
    return std::tuple{
        Field<S, Frequency<N>>{"speed", &S::speed, 0.0, 2000.0, "1/s", "turns per second of the impeller", true},
        Field<S, Frequency<N>>{"rated_speed", &S::rated_speed, 0.1, 2000.0, "1/s", "speed of the measured curve"},
        Field<S, Density<N>>{"rated_density", &S::rated_density, 300.0, 3000.0, "kg/m3",
                             "density of the liquid of the measured curve"},
    };
  }
  static constexpr auto columns() {
    using S = CentrifugalPumpSpec;
    return std::tuple{
        Column<S>{"curve_flow", &S::curve_flow, "m3/s", "flows of the measured curve, rising"},
        Column<S>{"curve_rise", &S::curve_rise, "Pa", "pressure rises of the measured curve"},
    };
  }
  void check(std::string_view part) const;
};

template <Number N = double>
class CentrifugalPump {
 public:
  template <Number M>
  using Spec = CentrifugalPumpSpec<M>;
  static constexpr std::string_view kind = "centrifugal pump";
  static constexpr Shape shape{};

  CentrifugalPump(const CentrifugalPumpSpec<N>& spec, const LiquidState<N>& liquid)
      : density_(liquid.density), curve_(spec.curve_flow, spec.curve_rise),
        speed_ratio_((spec.speed / spec.rated_speed).value()),
        density_ratio_((liquid.density / spec.rated_density).value()) {
    const N still = 1.0 - smooth_step(N(speed_ratio_ / slow_speed));
    standstill_slope_ = 1e-3 * still * (curve_.top_rise() / curve_.top_flow());
  }

  template <Number M>
  PressureDifference<Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    const auto volume_flow = (flow / density_).value();
    return PressureDifference<Mixed<N, M>>::from_value(
        density_ratio_ * (standstill_slope_ * volume_flow - curve_.rise(speed_ratio_, volume_flow)));
  }

  /// Half the last measured flow at this speed.
  std::array<MassFlow<>, 1> start_flow() const {
    return {MassFlow<>::from_value(0.5 * value_of(speed_ratio_) * curve_.top_flow() * value_of(density_.value()))};
  }
  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const PartState<double>& state) const;

  /// Whether the flow lies outside the measured points at this speed.
  bool beyond_data(const PartState<double>& state) const;
  /// Whether the curve climbs with flow somewhere: several flows may then fit one pressure.
  bool has_hump() const { return curve_.has_hump(); }

 private:
  static constexpr double slow_speed = 0.1;  ///< share of rated speed below which the slope at rest needs help

  Density<N> density_;
  PumpCurve curve_;
  N speed_ratio_, density_ratio_;
  N standstill_slope_{};
};

}  // namespace flarenut::parts

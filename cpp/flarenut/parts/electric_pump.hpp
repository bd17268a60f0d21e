#pragma once
/// Electric pump: an in-tank or in-line fuel pump, known by its maker's flow charts at one or more voltages.
///
/// What it is: a motor and a pump in one can. More volts turn it faster; more pressure costs flow. Most carry a
/// small relief valve inside that spills from outlet back to inlet when the outlet is blocked.
///
/// Equation: every chart is a curve of pressure rise f over flow Q (`pump_curve.hpp`). At a voltage V between
/// two charts both are moved to V by the affinity laws (flow ∝ V, rise ∝ V²) and blended,
///
///   rise₀ = (1 − w)·r₁² f₁(Q / r₁) + w·r₂² f₂(Q / r₂)      r = V / V_chart      w = smooth step from V₁ to V₂
///   rise₁ = S·rise₀ − stall·c_s (Q|Q| + Q_l Q)             stall = 1 at rest, 0 above the stall voltage
///   rise  = rise₁ − (1 − o)·(rise₁ − relief)₊              o = relief_override; no relief when its setting is 0
///
/// so each chart is met exactly at its own voltage, and slopes with V are continuous. Below the lowest and above
/// the highest chart the nearest one is moved alone: that, and flow beyond the points, is `beyond_data`.
/// S = 1 + density_share·(ρ/ρ_test − 1). c_s lets `stopped_leak` of the top measured flow through a stopped pump
/// at the top measured rise; Q_l (10⁻³ of the top flow) keeps a slope. ( )₊ is rounded over 2 % of the relief.
///
/// Assumes: speed follows volts (a loaded motor far below its lowest chart slows more than that, so the answer is
/// hopeful there); thin liquids (no effect of viscosity); relief wear and motor heating not followed. For the
/// positive-displacement types (roller, gerotor, screw) and for turbine types at a motor-limited speed a chart of
/// rise over volume flow is taken to hold whatever the liquid (density_share 0); an impeller type lifts in
/// proportion to density (density_share 1).
/// A current-limited controller or a voltage drop in the wiring is not followed: give the volts at the pump.
/// Sign: positive flow from inlet (port 0) to outlet (port 1). A check valve at the outlet is a part of its own.
/// Source: affinity laws, any textbook of hydraulic machines; the blend, the standstill loss and the shape of the
/// relief are conventions of this engine (common practice, no source).

#include <algorithm>

#include "flarenut/parts/pump_curve.hpp"

namespace flarenut::parts {

/// The charts, one after the other: charts at rising volts, points of a chart at rising flow.
struct ElectricPumpCharts {
  std::vector<double> curve_volts;   ///< voltage of each chart
  std::vector<double> curve_points;  ///< how many points each chart has
  std::vector<double> curve_flow;    ///< flows of all charts
  std::vector<double> curve_rise;    ///< pressure rises of all charts

  std::span<const double> flow_of(std::size_t chart) const { return slice(curve_flow, chart); }
  std::span<const double> rise_of(std::size_t chart) const { return slice(curve_rise, chart); }

 private:
  std::span<const double> slice(const std::vector<double>& column, std::size_t chart) const;
};

template <Number N = double>
struct ElectricPumpSpec : ElectricPumpCharts {
  using Fixed = ElectricPumpCharts;

  Voltage<N> volts = Voltage<N>::from_value(N(13.5));        ///< at the pump's terminals, engine running
  Voltage<N> stall_volts = Voltage<N>::from_value(N(2.0));   ///< runs freely above; at half of it, stands (no source)
  Ratio<N> stopped_leak = Ratio<N>::from_value(N(0.05));     ///< clearances of a stopped pump (no source)
  PressureDifference<N> relief_set_pressure{};               ///< 0: none, or already in the charts
  Ratio<N> relief_override = Ratio<N>::from_value(N(0.1));   ///< from the dead-head pressure, if known (no source)
  Ratio<N> density_share{};                                  ///< 0: positive displacement, the usual fuel pump
  Density<N> test_density = Density<N>::from_value(N(770.0));  ///< calibration fluid: mineral spirit (memory: 760–780)

  static constexpr auto fields() {
    using S = ElectricPumpSpec;
    using P = PressureDifference<N>;
    return std::tuple{
        Field<S, Voltage<N>>{"volts", &S::volts, 0.0, 60.0, "V", "at the pump's terminals while it runs", true},
        Field<S, Voltage<N>>{"stall_volts", &S::stall_volts, 0.1, 12.0, "V", "above it the motor turns freely"},
        Field<S, Ratio<N>>{"stopped_leak", &S::stopped_leak, 1e-3, 1.0, "",
                           "share of its flow that seeps through when stopped"},
        Field<S, P>{"relief_set_pressure", &S::relief_set_pressure, 0.0, 1e8, "Pa",
                    "rise at which its own relief opens; 0 for none"},
        Field<S, Ratio<N>>{"relief_override", &S::relief_override, 1e-3, 1.0, "",
                           "share of the rise above the relief setting that remains"},
        Field<S, Ratio<N>>{"density_share", &S::density_share, 0.0, 1.0, "",
                           "0: chart holds for any liquid; 1: rise goes with density"},
        Field<S, Density<N>>{"test_density", &S::test_density, 300.0, 3000.0, "kg/m3", "liquid of the charts"},
    };
  }
  static constexpr auto columns() {
    using S = ElectricPumpSpec;
    return std::tuple{
        Column<S>{"curve_volts", &S::curve_volts, "V", "voltage of each chart, rising"},
        Column<S>{"curve_points", &S::curve_points, "", "number of points of each chart"},
        Column<S>{"curve_flow", &S::curve_flow, "m3/s", "flows of all charts, rising within each"},
        Column<S>{"curve_rise", &S::curve_rise, "Pa", "pressure rises of all charts"},
    };
  }
  void check(std::string_view part) const;
};

template <Number N = double>
class ElectricPump {
 public:
  template <Number M>
  using Spec = ElectricPumpSpec<M>;
  static constexpr std::string_view kind = "electric pump";
  static constexpr Shape shape{};

  ElectricPump(const ElectricPumpSpec<N>& spec, const LiquidState<N>& liquid);

  template <Number M>
  PressureDifference<Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    return PressureDifference<Mixed<N, M>>::from_value(-spilled(unspilled_rise((flow / density_).value())));
  }

  /// Half the top flow at this voltage: the middle of the chart.
  std::array<MassFlow<>, 1> start_flow() const {
    return {MassFlow<>::from_value(0.5 * top_flow_ * value_of(density_.value()))};
  }
  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const PartState<double>& state) const;

  /// Whether the answer leans on volts or flows that no chart covers.
  bool beyond_data(const PartState<double>& state) const;
  /// Whether a chart climbs with flow somewhere: several flows may then fit one pressure.
  bool has_hump() const { return has_hump_; }

 private:
  static constexpr double relief_corner = 0.02;  ///< rounding of the relief's knee, as a share of its setting

  /// One chart at the present voltage. Its weight in the blend carries the density factor.
  struct Charted {
    PumpCurve curve;
    N ratio, weight;
  };

  void add(const ElectricPumpCharts& charts, std::size_t chart, const N& volts, const N& weight);

  template <Number M>
  Mixed<N, M> unspilled_rise(const M& volume_flow) const {
    const Mixed<N, M> standstill = stall_loss_ * (signed_square(volume_flow) + linear_flow_ * volume_flow);
    Mixed<N, M> rise = -standstill;
    for (const Charted& chart : charts_) rise = rise + chart.weight * chart.curve.rise(chart.ratio, volume_flow);
    return rise;
  }

  template <Number R>
  R spilled(const R& rise) const {
    if (!has_relief_) return rise;
    const R excess = (rise - relief_set_) / relief_set_;
    return rise - spill_share_ * relief_set_ * smooth_positive(excess, relief_corner);
  }

  Density<N> density_;
  std::vector<Charted> charts_;  ///< one or two
  N stall_loss_{}, relief_set_{}, spill_share_{};
  double linear_flow_ = 0.0, top_flow_ = 0.0;
  bool has_relief_ = false, has_hump_ = false, stands_ = false, volts_beyond_ = false;
};

// ---- body ----

template <Number N>
ElectricPump<N>::ElectricPump(const ElectricPumpSpec<N>& spec, const LiquidState<N>& liquid)
    : density_(liquid.density) {
  const N volts = spec.volts.value();
  const auto& chart_volts = spec.curve_volts;
  const std::size_t last = chart_volts.size() - 1;
  volts_beyond_ = value_of(volts) < chart_volts.front() - 1e-9 || value_of(volts) > chart_volts.back() + 1e-9;

  std::size_t upper = 0;
  while (upper < last && chart_volts[upper] < value_of(volts)) ++upper;
  const N heaviness = (liquid.density / spec.test_density).value();
  const N weight = 1.0 + spec.density_share.value() * (heaviness - 1.0);
  charts_.reserve(2);
  if (upper == 0 || value_of(volts) > chart_volts[last]) {
    add(spec, upper, volts, weight);
  } else {
    const double below = chart_volts[upper - 1], above = chart_volts[upper];
    const N blend = smooth_step(N((volts - below) / (above - below)));
    if (value_of(blend) < 1.0) add(spec, upper - 1, volts, weight * (1.0 - blend));
    add(spec, upper, volts, weight * blend);
  }

  double top_rise = 0.0, full_flow = 0.0;
  for (const Charted& chart : charts_) {
    top_rise = std::max(top_rise, chart.curve.top_rise());
    full_flow = std::max(full_flow, chart.curve.top_flow());
    top_flow_ = std::max(top_flow_, chart.curve.top_flow() * value_of(chart.ratio));
  }
  const N leak_flow = spec.stopped_leak.value() * full_flow;
  const N turning = smooth_step(N(volts / spec.stall_volts.value()));
  stall_loss_ = (1.0 - turning) * top_rise / (leak_flow * leak_flow);
  linear_flow_ = 1e-3 * full_flow;
  stands_ = value_of(volts) < 0.5 * value_of(spec.stall_volts.value());

  relief_set_ = spec.relief_set_pressure.value();
  has_relief_ = value_of(relief_set_) > 0.0;
  spill_share_ = 1.0 - spec.relief_override.value();
}

template <Number N>
void ElectricPump<N>::add(const ElectricPumpCharts& charts, std::size_t chart, const N& volts, const N& weight) {
  const auto flow = charts.flow_of(chart), rise = charts.rise_of(chart);
  charts_.push_back({PumpCurve({flow.begin(), flow.end()}, {rise.begin(), rise.end()}),
                     volts / charts.curve_volts[chart], weight});
  has_hump_ = has_hump_ || charts_.back().curve.has_hump();
}

}  // namespace flarenut::parts

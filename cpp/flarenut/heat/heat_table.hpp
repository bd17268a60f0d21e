#pragma once
/// Heat table: a cooler known by a test, as heat per degree between liquid inlet and air inlet, over liquid flow and face speed.
///
///     Q = K (T_air − T_in),     K = C g(K_table(Q_v, v)/C)      [W], into the liquid
///
/// K_table is the test's heat over its inlet difference [W/K]; makers give it for one difference, which is no matter, since heat goes
/// with it (within what viscosity does). Points are joined by smooth curves that do not overshoot (`autodiff/monotone_curve.hpp`),
/// first along the face speed, then along the flow Q_v. Before the first flow K falls to zero with the flow; past the last it levels out
/// within a fifth of that flow: a table says nothing there, and `beyond_data` tells. Face speeds beyond the table: falling to zero
/// below it, held above it.
///
/// g keeps K below C, as nature does: g(s) = s up to 0.9, then 0.9 + 0.1 tanh((s − 0.9)/0.1). Above 0.9 a table was made with another
/// liquid, or is wrong.
///
/// The table is for its own liquid. Another liquid, or the same at another temperature, cools otherwise: describe the core as an
/// `air core`. Thin air in the mountains cools less than the table says.
///
/// The mean of the stream lies at ½ + K/(12 C) of its way, the first terms of what it is in air of one temperature.
/// Sign: heat into the liquid.

#include <cmath>
#include <vector>

#include "flarenut/autodiff/monotone_curve.hpp"
#include "flarenut/heat/air_face.hpp"

namespace flarenut::heat {

/// The points. `heat_per_degree` holds a row for each flow, of a value for each speed: flow 1 at all speeds, flow 2 at all speeds, …
struct HeatTablePoints {
  std::vector<double> flow, air_speed, heat_per_degree;
};

template <Number N = double>
struct HeatTableSpec : AirFaceSpec<N>, HeatTablePoints {
  using Fixed = HeatTablePoints;

  static constexpr auto fields() { return AirFaceSpec<N>::air_fields(); }
  static constexpr auto columns() {
    using S = HeatTableSpec;
    return std::tuple{
        Column<S>{"flow", &S::flow, "m3/s", "liquid flows of the test, rising"},
        Column<S>{"air_speed", &S::air_speed, "m/s", "face speeds of the test, rising"},
        Column<S>{"heat_per_degree", &S::heat_per_degree, "W/K",
                  "heat per degree of inlet difference: the first flow at all speeds, then the second, and so on"},
    };
  }
  void check(std::string_view part) const { check_heat_table(part, *this); }
};

/// InputError naming column, point and cure.
void check_heat_table(std::string_view part, const HeatTablePoints& points);

/// K_table along the flow at one face speed; plain SI numbers.
class MeasuredHeat {
 public:
  MeasuredHeat(const HeatTablePoints& points, double air_speed);

  /// Heat per degree over what a flow of a volumetric heat ρ cp [J/(m³ K)] carries, K_table/C; finite at rest.
  template <Number T>
  T of_capacity(const T& flow, const T& volumetric_heat) const {
    if (value_of(flow) <= 1e-12 * last_flow_) return at_rest_ / volumetric_heat;
    return along(flow) / (flow * volumetric_heat);
  }
  bool inside(double flow) const { return speed_inside_ && (flow >= first_flow_ || flow == 0.0) && flow <= last_flow_; }

 private:
  template <Number T>
  T along(const T& flow) const {
    using std::tanh;
    if (value_of(flow) <= last_flow_) return curve_(flow);
    const double width = 0.2 * last_flow_;
    return last_value_ + (last_slope_ * width) * tanh(T((flow - last_flow_) * (1.0 / width)));
  }

  MonotoneCurve curve_;
  double first_flow_, last_flow_;
  double at_rest_, last_value_, last_slope_;  ///< slope at zero; value and slope at the end
  bool speed_inside_;
};

template <Number N = double>
class HeatTable {
 public:
  template <Number M>
  using Spec = HeatTableSpec<M>;
  static constexpr std::string_view kind = "heat table";
  static constexpr int streams = 1;

  HeatTable(const HeatTableSpec<N>& spec, const Surroundings& around)
      : face_(spec, around), measured_(spec, value_of(face_.speed().value())) {}

  template <Number M>
  PerDegree<Mixed<N, M>> per_degree(const Stream<M>& stream) const {
    using T = Mixed<N, M>;
    const M &density = stream.liquid.density.value();
    const M share = held(measured_.of_capacity(M(stream.flow.value() / density), M(density * stream.heat.specific_heat.value())));
    return {ThermalConductance<T>::from_value(T(share * stream.capacity_rate().value())), T(0.5 + (1.0 / 12.0) * share)};
  }
  template <Number M>
  Warming<Mixed<N, M>> warming(const Stream<M>& stream) const { return warming_between(per_degree(stream), sink(), stream.inlet); }

  Temperature<N> sink() const { return face_.temperature(); }
  const AirFace<N>& face() const { return face_; }
  Temperature<N> air_outlet(const Stream<>& stream) const {
    return Temperature<N>::from_value(face_.temperature().value() - warming(stream).heat.value() / face_.capacity_rate().value());
  }
  bool beyond_data(const Stream<>& stream) const { return !measured_.inside(stream.flow.value() / stream.liquid.density.value()); }

 private:
  /// g of the head of this file.
  template <Number T>
  static T held(const T& share) {
    using std::tanh;
    if (value_of(share) <= 0.9) return share;
    return 0.9 + 0.1 * tanh(T((share - 0.9) * 10.0));
  }

  AirFace<N> face_;
  MeasuredHeat measured_;
};

}  // namespace flarenut::heat

#pragma once
/// Line wall: what a bare or sleeved hose or tube gives to the air around it, or takes from it.
///
/// What it is: heat goes from the stream through the film inside, the wall, a sleeve if there is one, and the film outside (wind,
/// rising air, radiation), one after the other:
///
///     1/(UA)' = 1/(π k Nu) + Σ ln(d_outer/d_inner)/(2π k) + 1/G'(T_outside)            [m K/W]
///     Q = C (1 − e^(−UA/C)) (T_air − T_in),   UA = (UA)' L,   C = (mass flow)·cp       [W], into the stream
///
/// Nu inside: `internal_convection.hpp`; layers: `heat_path.hpp`; G' outside: `outer_film.hpp`. The outside's temperature follows
/// from the heat: G'(T) (T − T_air) = (T_mean − T)/(resistance inside it), which has one root between air and stream. Newton finds it to the
/// last digit, and slopes come from the equation.
///
/// Assumes: the line lies level (still air rises across it); one temperature of air along it, which is also what its surface
/// glows at; steady state; no heat along the wall; viscosity at the wall as in the stream, which makes the film inside of a cooling oil up
/// to 20 % too good, where it hardly counts beside air; fittings and ends left out.
/// Range: air 200 to 1000 K; films held beyond. Uncertainty ±25 % (docs/theory/heat_transfer.md), and the wind under a bonnet is known worse.
/// Sign: heat into the stream.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "flarenut/correlations/heat_path.hpp"
#include "flarenut/correlations/internal_convection.hpp"
#include "flarenut/correlations/mean_share.hpp"
#include "flarenut/heat/heat_law.hpp"
#include "flarenut/heat/outer_film.hpp"

namespace flarenut::heat {

template <Number N = double>
struct LineWallSpec {
  // Lent by the line.
  Length<N> bore = Length<N>::from_value(N(0.01)), length = Length<N>::from_value(N(1.0));

  Length<N> wall_thickness = Length<N>::from_value(N(0.003));  ///< of hose; tube 0.9 to 1.5 mm (common practice, no source)
  /// Rubber 0.15–0.3, PTFE 0.25, stainless 16, aluminium 170 (handbook values from memory).
  ThermalConductivity<N> wall_conductivity = ThermalConductivity<N>::from_value(N(0.2));
  Length<N> sleeve_thickness{};  ///< 0: none
  /// Glass-fibre sleeve with the air in it; silicone over glass 0.1–0.2 (from memory).
  ThermalConductivity<N> sleeve_conductivity = ThermalConductivity<N>::from_value(N(0.06));
  /// Rubber, paint, anodised 0.8–0.95; bright metal 0.05–0.2 (handbook values from memory).
  Ratio<N> emissivity = Ratio<N>::from_value(N(0.9));
  Velocity<N> air_speed{};              ///< across the line; 0: still air
  TemperatureDifference<N> air_rise{};  ///< under a bonnet 20 to 60 K (common practice, no source)

  static constexpr auto borrowed() {
    using S = LineWallSpec;
    return std::tuple{
        Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.5, "m", "inside diameter"},
        Field<S, Length<N>>{"length", &S::length, 0.0, 1e3, "m", "developed length, bends included"},
    };
  }
  static constexpr auto fields() {
    using S = LineWallSpec;
    using K = ThermalConductivity<N>;
    return std::tuple{
        Field<S, Length<N>>{"wall_thickness", &S::wall_thickness, 0.0, 0.1, "m", "thickness of the wall"},
        Field<S, K>{"wall_conductivity", &S::wall_conductivity, 0.01, 500.0, "W/(m K)", "heat conductivity of the wall"},
        Field<S, Length<N>>{"sleeve_thickness", &S::sleeve_thickness, 0.0, 0.1, "m", "thickness of a sleeve; 0: none"},
        Field<S, K>{"sleeve_conductivity", &S::sleeve_conductivity, 0.01, 500.0, "W/(m K)", "heat conductivity of the sleeve"},
        Field<S, Ratio<N>>{"emissivity", &S::emissivity, 0.0, 1.0, "", "share of a black surface's glow that the outside has"},
        Field<S, Velocity<N>>{"air_speed", &S::air_speed, 0.0, 100.0, "m/s", "wind across the line"},
        Field<S, TemperatureDifference<N>>{"air_rise", &S::air_rise, -100.0, 300.0, "K", "how much warmer its air is than the case's"},
    };
  }
};

template <Number N = double>
class LineWall {
 public:
  template <Number M>
  using Spec = LineWallSpec<M>;
  static constexpr std::string_view kind = "line wall";
  static constexpr int streams = 1;

  LineWall(const LineWallSpec<N>& spec, const Surroundings& around)
      : air_(around.air.value() + spec.air_rise.value()),
        bore_(spec.bore.value()),
        length_(spec.length.value()),
        bore_over_length_(value_of(length_) > value_of(bore_) ? N(bore_ / length_) : N(1.0)),
        outside_film_(Length<N>::from_value(outside_diameter(spec)), spec.air_speed, spec.emissivity, Temperature<N>::from_value(air_),
                      around.pressure) {
    const N hose = bore_ + 2.0 * spec.wall_thickness.value();
    layers_ = correlations::layer_resistance(bore_, hose, spec.wall_conductivity.value()) +
              correlations::layer_resistance(hose, outside_diameter(spec), spec.sleeve_conductivity.value());
    note_usual();
  }

  /// The same line in air of another temperature, under the same pressure.
  void follow_air(const LineWallSpec<N>& spec, const Surroundings& around) {
    const N air = around.air.value() + spec.air_rise.value();
    outside_film_.follow_air(Temperature<N>::from_value(air), around.pressure);
    air_ = air;
    note_usual();
  }

  template <Number M>
  PerDegree<Mixed<N, M>> per_degree(const Stream<M>& stream) const {
    using T = Mixed<N, M>;
    const T conductance = length_ * (1.0 / path_to(stream).resistance);
    const T capacity_rate(stream.capacity_rate().value());
    return {ThermalConductance<T>::from_value(correlations::line_heat_per_inlet_difference(conductance, capacity_rate)),
            correlations::line_mean_share(conductance, capacity_rate)};
  }
  template <Number M>
  Warming<Mixed<N, M>> warming(const Stream<M>& stream) const { return warming_between(per_degree(stream), sink(), stream.inlet); }

  Temperature<N> sink() const { return Temperature<N>::from_value(air_); }
  /// Of the outside, where the stream has its mean temperature: what a hand would touch.
  Temperature<N> outside_temperature(const Stream<>& stream) const { return Temperature<N>::from_value(path_to(stream).outside); }

 private:
  template <Number T>
  struct Path {
    T resistance;  ///< of all layers and films [m K/W]
    T outside;     ///< temperature of the outside [K]
  };

  static N outside_diameter(const LineWallSpec<N>& spec) {
    return spec.bore.value() + 2.0 * (spec.wall_thickness.value() + spec.sleeve_thickness.value());
  }

  template <Number M>
  Path<Mixed<N, M>> path_to(const Stream<M>& stream) const {
    using T = Mixed<N, M>;
    const T reynolds = 1.27323954473516268615 * stream.flow.value() / (bore_ * stream.liquid.viscosity.value());  // 4/π
    const M prandtl = stream.liquid.viscosity.value() * stream.heat.specific_heat.value() / stream.heat.conductivity.value();
    const T nusselt = correlations::tube_nusselt(reynolds, prandtl, bore_over_length_, 1.0);
    const T inside = 1.0 / (std::numbers::pi * stream.heat.conductivity.value() * nusselt) + layers_;
    const T mean(stream.liquid.temperature.value()), conducts = 1.0 / inside;
    const double surface = plain_outside(value_of(mean), value_of(conducts)), beyond_air = surface - value_of(air_);
    // One turn of Newton in all directions gives the slopes of the root, and of the film there.
    const Dual<1> film = plain_film(surface);
    const N film_there = film_with_slopes(surface, film.value);
    const T balance = (mean - surface) * conducts - film_there * (surface - air_);
    const T outside = surface + balance * (1.0 / (value_of(conducts) + film.value + film.slope[0] * beyond_air));
    return {inside + 1.0 / (film_there + film.slope[0] * (outside - surface)), outside};
  }

  void note_usual() { usual_ = plain_film(value_of(air_) + usual_rise); }

  /// About where the outside is, by a film that grows along a straight line: from there one turn of Newton mostly does.
  double likely_outside(double stream, double g) const {
    const double air = value_of(air_), across = stream - air;
    double share = 0.9;
    for (int turn = 0; turn < 2; ++turn) {
      const double film = std::max(0.3 * usual_.value, usual_.value + usual_.slope[0] * (share * std::abs(across) - usual_rise));
      share = g / (g + film);
    }
    return air + share * across;
  }

  /// Root of (T_mean − T) g = G'(T) (T − T_air), g being what conducts up to the outside. The right side bends away from the air's
  /// temperature, so Newton overshoots from no side but the air's, and then stops at the stream's.
  double plain_outside(double stream, double g) const {
    const double air = value_of(air_), least = std::min(air, stream), most = std::max(air, stream);
    double surface = likely_outside(stream, g);
    for (int turn = 0; turn < 20; ++turn) {
      const Dual<1> film = plain_film(surface);
      const double step = ((stream - surface) * g - film.value * (surface - air)) / (g + film.value + film.slope[0] * (surface - air));
      const double next = std::clamp(surface + step, least, most), moved = std::abs(next - surface);
      surface = next;
      // What is left, at most some six tenths of its square over the distance from air, the turn of `path_to` squares once more.
      if (moved <= std::max(1e-6, 0.006 * std::abs(surface - air))) break;
    }
    return surface;
  }
  Dual<1> plain_film(double surface) const { return outside_film_.template conductance_per_length<true>(Dual<1>(surface, 0)); }
  N film_with_slopes(double surface, double value) const {
    if constexpr (IsDual<N>::value) return outside_film_.conductance_per_length(surface);
    else return value;
  }

  N air_, bore_, length_, bore_over_length_;
  OuterFilm<N> outside_film_;
  static constexpr double usual_rise = 60.0;  ///< of the outside over its air [K]
  Dual<1> usual_{};                           ///< the film there
  N layers_{};
};

}  // namespace flarenut::heat

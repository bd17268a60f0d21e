#pragma once
/// A line: hose, hard tube or drilled passage.
///
/// What it is: a round bore of some length. It costs pressure by wall friction along its length, by what its bends
/// cost beyond their length, and by the extra losses that the builder lumps into it.
///
///   Δp = (f·L/D + f·B + b + K) · ρ v² / 2        v = q / (ρ A)
///
/// f is the Darcy friction factor (`correlations/friction.hpp`: laminar exactly 64/Re, turbulent
/// Colebrook–White, smooth between Reynolds 2000 and 4000). Written with f·Re, which is 64 at rest, so the loss
/// is regular at zero flow and its slope there is the laminar one: Δp = (f·Re) μ L v / (2 D²) + K ρ v|v| / 2.
///
/// B and b are the excess of the bends over straight line (`correlations/curved_tube.hpp`: Rennels and Hudson 2012, which
/// fits Ito's smooth bends of 1960). `bend_angle` is the sum of all bends: up to 90° it is one bend, beyond that it
/// counts as so many bends of 90° of the same radius; their own length is part of `length` and not counted twice.
///
/// A line without length (a lumped loss) keeps a slope at rest: each unit of its loss counts as 0.15 bores of length,
/// which is the flow of Reynolds 10 where square law turns linear (common practice, no source).
///
/// Assumes: steady, incompressible, developed flow; round bore; bends not kinked or flattened. Sign: positive flow from port 0 to port 1.
/// Source: Darcy–Weisbach; C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939).

#include "flarenut/correlations/curved_tube.hpp"
#include "flarenut/correlations/friction.hpp"
#include "flarenut/parts/part.hpp"
#include "flarenut/parts/together.hpp"

namespace flarenut::parts {

template <Number N = double>
struct LineSpec {
  Length<N> bore{};       ///< inside diameter; a dash number is a tube's outside diameter, not this
  Length<N> length{};     ///< developed length, bends included
  Length<N> roughness = Length<N>::from_value(N(1.5e-6));  ///< drawn tube and smooth liners (Moody 1944)
  Ratio<N> extra_loss{};  ///< sum of loss coefficients K lumped into the line, on its own bore
  Ratio<N> bend_angle{};   ///< sum of the angles of all bends [rad]; 0: straight, or bends so wide that they cost nothing
  Length<N> bend_radius{}; ///< of the centreline; needed when there is a bend angle

  static constexpr auto fields() {
    using S = LineSpec;
    return std::tuple{
        Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.5, "m", "inside diameter"},
        Field<S, Length<N>>{"length", &S::length, 0.0, 1e3, "m", "developed length, bends included"},
        Field<S, Length<N>>{"roughness", &S::roughness, 0.0, 5e-3, "m", "equivalent sand roughness of the bore"},
        Field<S, Ratio<N>>{"extra_loss", &S::extra_loss, 0.0, 1e6, "", "loss coefficients lumped into the line"},
        Field<S, Ratio<N>>{"bend_angle", &S::bend_angle, 0.0, 1e3, "rad", "sum of the angles of all bends"},
        Field<S, Length<N>>{"bend_radius", &S::bend_radius, 0.0, 1e3, "m", "radius of the bends' centreline"},
    };
  }
  /// Without an angle, angle and radius count for nothing.
  static constexpr FieldsTogether together{.first = 4, .count = 2};
  void check(std::string_view part) const;
  /// A line without bends in which `check` finds nothing: what the lanes prepare side by side.
  auto plain() const {
    return bend_angle.value() <= 0.0 && roughness.value() <= 0.05 * bore.value() && (length.value() > 0.0 || extra_loss.value() > 0.0);
  }
};

template <Number N = double>
class Line {
 public:
  template <Number M>
  using Spec = LineSpec<M>;
  static constexpr std::string_view kind = "line";
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  Line(const LineSpec<N>& spec, const LiquidState<N>& liquid)
      : bore_(spec.bore), relative_roughness_(spec.roughness / spec.bore) {
    const auto area = bore_area(spec.bore);
    reynolds_per_flow_ = 1.27323954473516268615 / (spec.bore.value() * liquid.viscosity.value());  // 4/π
    const auto bends = bend_excess(spec);
    Ratio<N> constant_loss = spec.extra_loss;
    constant_loss += Ratio<N>::from_value(bends.constant);
    Ratio<N> bores_long = spec.length / spec.bore;
    bores_long += Ratio<N>::from_value(bends.per_friction_factor);
    bores_long += choose(value_of(spec.length.value()) == 0.0, [&] { return Ratio<N>(least_bores_per_loss * constant_loss); },
                         [] { return Ratio<N>{}; });
    friction_scale_ = bores_long * liquid.viscosity / (2.0 * spec.bore * liquid.density * area);
    turbulent_scale_ = constant_loss / (2.0 * liquid.density * (area * area));
    start_flow_ = liquid.density * area * Velocity<N>::from_value(N(1.5));
  }

  template <Number M>
  auto drop(const MassFlow<M>& flow) const { return drop(flow, friction(flow)); }

  /// q · f·Re, of which any length of the same bore, roughness and liquid has the same.
  template <Number M>
  auto friction(const MassFlow<M>& flow) const {
    return MassFlow<Mixed<N, M>>::from_value(
        correlations::friction_times_flow(flow.value(), reynolds_per_flow_, relative_roughness_.value()));
  }
  template <Number M, Number F>
  auto drop(const MassFlow<M>& flow, const MassFlow<F>& friction) const {
    return friction_scale_ * friction + turbulent_scale_ * signed_square_flow(flow);
  }
  auto rubs_as(const Line& other) const {
    return reynolds_per_flow_ == other.reynolds_per_flow_ && relative_roughness_.value() == other.relative_roughness_.value();
  }

  std::array<MassFlow<N>, 1> start_flow() const { return {start_flow_}; }
  std::array<Length<>, 2> bores() const { return {bore_, bore_}; }
  Regime regime(const PartState<double>& state) const;

 private:
  /// Reynolds 10 times a loss of 1, over the 64 of laminar friction.
  static constexpr double least_bores_per_loss = 10.0 / correlations::laminar_friction_times_reynolds;

  /// Of all bends together. Worked out once: a law with bends costs no more to evaluate than one without.
  static correlations::BendShapeOf<N> bend_excess(const LineSpec<N>& spec) {
    constexpr double quarter_turn = 1.57079632679489661923;
    if constexpr (IsPack<N>::value) {
      return {};  // they are plain
    } else {
      const N angle = spec.bend_angle.value();
      const auto straight = value_of(angle) <= 0.0, one = value_of(angle) <= quarter_turn;
      if (left_out(angle)) return {};
      // Of a straight line beside others that bend, nothing is counted; what is worked out for it must only be finite.
      const N radius = choose(straight, [] { return N(1.0); }, [&] { return N((spec.bend_radius / spec.bore).value()); });
      const N each = choose(one && !straight, [&] { return angle; }, [&] { return N(quarter_turn); });
      const N bends = choose(one, [&] { return choose(straight, [] { return N(0.0); }, [] { return N(1.0); }); },
                             [&] { return N(angle * (1.0 / quarter_turn)); });
      auto all_bends = correlations::bend_shape(each, radius);
      all_bends.per_friction_factor *= bends;
      all_bends.constant *= bends;
      return all_bends;
    }
  }

  using FlowToPressure = decltype(PressureDifference<N>{} / MassFlow<N>{});
  using SquareFlowToPressure = decltype(PressureDifference<N>{} / (MassFlow<N>{} * MassFlow<N>{}));

  Length<N> bore_;
  N reynolds_per_flow_{};  ///< per kg/s: what `reynolds_number` divides by, divided once
  Ratio<N> relative_roughness_;
  FlowToPressure friction_scale_;
  SquareFlowToPressure turbulent_scale_;
  MassFlow<N> start_flow_;
};

}  // namespace flarenut::parts

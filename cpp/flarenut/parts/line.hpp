#pragma once
/// A line: hose, hard tube or drilled passage.
///
/// What it is: a round bore of some length. It costs pressure by wall friction along its length and by the
/// extra losses that the builder lumps into it.
///
///   Δp = (f·L/D + K) · ρ v² / 2        v = q / (ρ A)
///
/// f is the Darcy friction factor (`correlations/friction.hpp`: laminar exactly 64/Re, turbulent
/// Colebrook–White, smooth between Reynolds 2000 and 4000). Written with f·Re, which is 64 at rest, so the loss
/// is regular at zero flow and its slope there is the laminar one: Δp = (f·Re) μ L v / (2 D²) + K ρ v|v| / 2.
///
/// Assumes: steady, incompressible, developed flow; round bore. Sign: positive flow from port 0 to port 1.
/// Source: Darcy–Weisbach; C. F. Colebrook, J. Inst. Civ. Eng. 11 (1939).

#include "flarenut/correlations/friction.hpp"
#include "flarenut/parts/part.hpp"

namespace flarenut::parts {

template <Number N = double>
struct LineSpec {
  Length<N> bore{};       ///< inside diameter; a dash number is a tube's outside diameter, not this
  Length<N> length{};     ///< developed length, bends included
  Length<N> roughness = Length<N>::from_value(N(1.5e-6));  ///< drawn tube and smooth liners (Moody 1944)
  Ratio<N> extra_loss{};  ///< sum of loss coefficients K lumped into the line, on its own bore

  static constexpr auto fields() {
    using S = LineSpec;
    return std::tuple{
        Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.5, "m", "inside diameter"},
        Field<S, Length<N>>{"length", &S::length, 0.0, 1e3, "m", "developed length, bends included"},
        Field<S, Length<N>>{"roughness", &S::roughness, 0.0, 5e-3, "m", "equivalent sand roughness of the bore"},
        Field<S, Ratio<N>>{"extra_loss", &S::extra_loss, 0.0, 1e6, "", "loss coefficients lumped into the line"},
    };
  }
  void check(std::string_view part) const;
};

template <Number N = double>
class Line {
 public:
  template <Number M>
  using Spec = LineSpec<M>;
  static constexpr std::string_view kind = "line";
  static constexpr Shape shape{};

  Line(const LineSpec<N>& spec, const LiquidState<N>& liquid)
      : bore_(spec.bore), viscosity_(liquid.viscosity), relative_roughness_(spec.roughness / spec.bore) {
    const auto area = bore_area(spec.bore);
    friction_scale_ = liquid.viscosity * spec.length / (2.0 * (spec.bore * spec.bore) * liquid.density * area);
    turbulent_scale_ = spec.extra_loss / (2.0 * liquid.density * (area * area));
    start_flow_ = liquid.density * area * Velocity<N>::from_value(N(1.5));
  }

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    const auto reynolds = reynolds_number(flow, bore_, viscosity_);
    const auto friction = correlations::friction_times_reynolds(reynolds, relative_roughness_.value());
    return friction * (friction_scale_ * flow) + turbulent_scale_ * signed_square_flow(flow);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {without_slope<MassFlow>(start_flow_)}; }
  std::array<Length<>, 2> bores() const { return {bore_, bore_}; }
  Regime regime(const PartState<double>& state) const;

 private:
  using FlowToPressure = decltype(PressureDifference<N>{} / MassFlow<N>{});
  using SquareFlowToPressure = decltype(PressureDifference<N>{} / (MassFlow<N>{} * MassFlow<N>{}));

  Length<N> bore_;
  DynamicViscosity<N> viscosity_;
  Ratio<N> relative_roughness_;
  FlowToPressure friction_scale_;
  SquareFlowToPressure turbulent_scale_;
  MassFlow<N> start_flow_;
};

}  // namespace flarenut::parts

#pragma once
/// Short tube orifice: a drilled restrictor, two to ten times as long as its hole is wide.
///
/// What it is: a hole long enough for the stream to fill it again. It passes more than a thin plate of the same hole,
/// and feels viscosity sooner.
///
///   Δp = K · ρ V² / 2,   K = 1/Cd² − β² (2 − β²)         V in the hole of diameter d, β = d/D, D the bore of the line
///   1/Cd = 1/Cu + (20/Re*)(1 + 2.25 L/d) − 0.005 (L/d) / (1 + 7.5 (log10 0.00015 Re*)²),   Cu = 0.827 − 0.0085 L/d
///
/// Re* on the ideal velocity √(2Δp/ρ). The second term of K is what a line of bore D gives back of the jet's head
/// (Borda–Carnot: (1 − β²)² is lost instead of 1); nothing between wide spaces, β = 0. At rest Cd ∝ Re and Δp is linear.
///
/// Assumes: sharp entry; no cavitation (a short tube may let go of its wall and pass as little as a thin plate when the
/// drop is several times the pressure behind it). The gentler contraction from a narrow line is not counted.
/// Range: L/d 2 to 10; shorter: `orifice`, longer: `line` with openings at its ends. Re 10 to 20000 in the data.
/// Sign: positive flow from port 0 to port 1, the same backwards.
/// Source: A. Lichtarowicz, R. Duggins, E. Markland, J. Mech. Eng. Sci. 7 (1965) 210 (`correlations/orifice.hpp`).

#include "flarenut/correlations/orifice.hpp"
#include "flarenut/parts/local_loss.hpp"
#include "flarenut/parts/orifice.hpp"

namespace flarenut::parts {

template <Number N = double>
struct ShortTubeOrificeSpec {
  Length<N> bore{};       ///< diameter of the hole
  Length<N> length{};     ///< of the hole
  Length<N> line_bore{};  ///< of the line on both sides; 0 (preset): much wider than the hole

  static constexpr auto fields() {
    using S = ShortTubeOrificeSpec;
    return std::tuple{
        Field<S, Length<N>>{"bore", &S::bore, 2e-5, 0.1, "m", "diameter of the hole"},
        Field<S, Length<N>>{"length", &S::length, 4e-5, 1.0, "m", "length of the hole, 2 to 10 times its diameter"},
        Field<S, Length<N>>{"line_bore", &S::line_bore, 0.0, 0.5, "m", "bore of the line; 0: much wider than the hole"},
    };
  }
  void check(std::string_view part) const;
};

template <Number N = double>
class ShortTubeOrifice {
 public:
  template <Number M>
  using Spec = ShortTubeOrificeSpec<M>;
  static constexpr std::string_view kind = "short tube orifice";
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  ShortTubeOrifice(const ShortTubeOrificeSpec<N>& spec, const LiquidState<N>& liquid)
      : bore_(spec.bore), viscosity_(liquid.viscosity), line_bore_(without_slope<Length>(spec.line_bore)),
        start_(middling_flow(spec.bore, liquid)), length_over_bore_((spec.length / spec.bore).value()),
        scale_(viscous_loss_scale(spec.bore, liquid)) {
    if (value_of(spec.line_bore.value()) > 0.0) {
      const N beta = (spec.bore / spec.line_bore).value();
      regained_ = beta * beta * (2.0 - beta * beta);
    }
  }

  template <Number M>
  PressureDifference<Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    const auto reynolds = reynolds_number(flow, bore_, viscosity_);
    const auto loss = correlations::short_tube_times_reynolds(reynolds, length_over_bore_) - regained_ * reynolds;
    return loss * (scale_ * flow);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {start_}; }
  std::array<Length<>, 2> bores() const { return {line_bore_, line_bore_}; }

 private:
  Length<N> bore_;
  DynamicViscosity<N> viscosity_;
  Length<> line_bore_;
  MassFlow<> start_;
  N length_over_bore_;
  N regained_{};
  LinearFlowResistance<N> scale_;
};

}  // namespace flarenut::parts

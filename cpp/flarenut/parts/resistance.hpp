#pragma once
/// Resistance: anything whose pressure loss follows a power of the flow and is known at one point.
///
/// What it is: a cooler, a strainer, a gallery, a whole branch that nobody took apart: "5 psi at 3 gal/min".
///
///   Δp = rated_drop · (μ/μ_rated)^(2−n) · (ρ/ρ_rated)^(n−1) · x (x² + ε²)^((n−1)/2) / (1 + ε²)^((n−1)/2)
///   x  = Q / rated_flow,   Q = q / ρ,   ε = 0.001
///
/// that is |Q|^n with the sign of Q, turned linear below a thousandth of the rated flow, and exact at the rated flow.
/// The exponent n is 1 for creeping flow through fine passages (viscosity alone counts), 1.75 for smooth tubes in
/// turbulent flow, 2 for orifices and sharp turns (density alone counts; preset, as most odd hardware is that).
/// The powers of viscosity and density are the only ones that agree with a pure power of the flow in similar passages
/// (dimensional analysis). For n = 2 the rating viscosity does not matter.
///
/// Assumes: one power law over the whole range; a laminar passage that turns turbulent has two. Two rated points give n:
/// ln(Δp₂/Δp₁) / ln(Q₂/Q₁). Sign: positive flow from port 0 to port 1, the same backwards.
/// Source: dimensional analysis; the exponents: Hagen–Poiseuille, H. Blasius 1913, orifice equation.

#include "flarenut/parts/part.hpp"

namespace flarenut::parts {

template <Number N = double>
struct ResistanceSpec {
  PressureDifference<N> rated_drop{};      ///< pressure lost at the rated flow
  VolumeFlow<N> rated_flow{};              ///< the flow it was measured at
  Ratio<N> exponent = Ratio<N>::from_value(N(2.0));  ///< n: square law, as most odd hardware
  DynamicViscosity<N> rating_viscosity{};  ///< of the liquid it was rated with
  Density<N> rating_density{};             ///< of the liquid it was rated with

  static constexpr auto fields() {
    using S = ResistanceSpec;
    return std::tuple{
        Field<S, PressureDifference<N>>{"rated_drop", &S::rated_drop, 1.0, 1e8, "Pa", "pressure lost at the rated flow"},
        Field<S, VolumeFlow<N>>{"rated_flow", &S::rated_flow, 1e-9, 1.0, "m3/s", "the flow it was measured at"},
        Field<S, Ratio<N>>{"exponent", &S::exponent, 1.0, 2.0, "", "power of the flow: 1 creeping, 2 square law"},
        Field<S, DynamicViscosity<N>>{"rating_viscosity", &S::rating_viscosity, 1e-5, 100.0, "Pa s",
                                      "viscosity of the liquid it was rated with"},
        Field<S, Density<N>>{"rating_density", &S::rating_density, 1.0, 2e4, "kg/m3",
                             "density of the liquid it was rated with"},
    };
  }
};

template <Number N = double>
class Resistance {
 public:
  template <Number M>
  using Spec = ResistanceSpec<M>;
  static constexpr std::string_view kind = "resistance";
  static constexpr Shape shape{};

  Resistance(const ResistanceSpec<N>& spec, const LiquidState<N>& liquid)
      : rated_flow_(spec.rated_flow * liquid.density), half_excess_(0.5 * (spec.exponent.value() - 1.0)),
        drop_(spec.rated_drop * scale(spec, liquid)) {}

  template <Number M>
  PressureDifference<Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    using std::pow;
    const auto share = (flow / rated_flow_).value();
    return (share * pow((share * share + linear_share_squared) * normal, half_excess_)) * drop_;
  }

  std::array<MassFlow<>, 1> start_flow() const { return {0.5 * without_slope<MassFlow>(rated_flow_)}; }
  std::array<Length<>, 2> bores() const { return {}; }

 private:
  static constexpr double linear_share_squared = 1e-6;
  static constexpr double normal = 1.0 / (1.0 + linear_share_squared);

  static N scale(const ResistanceSpec<N>& spec, const LiquidState<N>& liquid) {
    using std::exp;
    using std::log;
    const N thicker = log(N((liquid.viscosity / spec.rating_viscosity).value()));
    const N heavier = log(N((liquid.density / spec.rating_density).value()));
    const N n = spec.exponent.value();
    return exp(N((2.0 - n) * thicker + (n - 1.0) * heavier));
  }

  MassFlow<N> rated_flow_;
  N half_excess_;
  PressureDifference<N> drop_;
};

}  // namespace flarenut::parts

#pragma once
/// Filter or strainer: a screen or element that the whole flow passes.
///
/// What it is: a medium full of small passages in a housing with ports. The medium costs pressure in proportion to
/// flow and viscosity, and costs more as it loads with dirt; housing and ports cost pressure with the square of flow
/// and with density, and do not load.
///
///   Δp = loading · linear · (μ/μ_rated) · Q  +  quadratic · (ρ/ρ_rated) · Q|Q|         Q = q / ρ
///
/// linear and quadratic belong to the liquid the rating was made with, and so do rating_viscosity and rating_density:
/// they must be given together. From one rated drop at one rated flow the split is a judgement: a pleated element at
/// rated flow is mostly linear, a wire strainer mostly quadratic (common practice, no source).
///
/// loading is 1 for a clean element and says how many times its medium resists now; an element at its change-out drop
/// is often at 3 to 10. Assumes: steady flow, a medium that neither swells nor collapses.
/// Range: linear part for creeping flow through the medium; thick cold oil follows viscosity as long as it is
/// Newtonian. Sign: positive flow from port 0 to port 1; backwards it costs the same.
/// Source: Darcy's law for the medium with Forchheimer's square term, in the form of a plain test curve.

#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N = double>
struct FilterSpec {
  LinearResistance<N> linear{};        ///< drop per volume flow of the clean medium, at the rating viscosity
  QuadraticResistance<N> quadratic{};  ///< drop per volume flow squared of housing and ports, at the rating density
  DynamicViscosity<N> rating_viscosity{};  ///< of the liquid it was rated with; no preset, oil and fuel differ 100×
  Density<N> rating_density{};             ///< of the liquid it was rated with
  Ratio<N> loading = Ratio<N>::from_value(N(1.0));  ///< resistance of the medium now over clean: 1 is clean

  static constexpr auto fields() {
    using S = FilterSpec;
    return std::tuple{
        Field<S, LinearResistance<N>>{"linear", &S::linear, 1e3, 1e14, "Pa s/m3",
                                      "drop per volume flow of the clean medium"},
        Field<S, QuadraticResistance<N>>{"quadratic", &S::quadratic, 0.0, 1e18, "Pa s2/m6",
                                         "drop per volume flow squared of housing and ports"},
        Field<S, DynamicViscosity<N>>{"rating_viscosity", &S::rating_viscosity, 1e-5, 100.0, "Pa s",
                                      "viscosity of the liquid it was rated with"},
        Field<S, Density<N>>{"rating_density", &S::rating_density, 1.0, 2e4, "kg/m3",
                             "density of the liquid it was rated with"},
        Field<S, Ratio<N>>{"loading", &S::loading, 1.0, 1e4, "", "resistance of the medium over clean"},
    };
  }
};

template <Number N = double>
class Filter {
 public:
  template <Number M>
  using Spec = FilterSpec<M>;
  static constexpr std::string_view kind = "filter";
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  Filter(const FilterSpec<N>& spec, const LiquidState<N>& liquid)
      : linear_(spec.loading * spec.linear * (liquid.viscosity / spec.rating_viscosity) / liquid.density),
        square_(spec.quadratic / (spec.rating_density * liquid.density)) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return linear_ * flow + square_ * signed_square_flow(flow);
  }

  /// The flow that 5 kPa drives: a usual clean drop (common practice, no source). It may have no square part at all.
  std::array<MassFlow<N>, 1> start_flow() const {
    using std::sqrt;
    constexpr double drop = 5e3;
    const N linear = linear_.value();
    return {MassFlow<N>::from_value(2.0 * drop / (linear + sqrt(linear * linear + 4.0 * square_.value() * drop)))};
  }
  std::array<Length<>, 2> bores() const { return {}; }

 private:
  decltype(PressureDifference<N>{} / MassFlow<N>{}) linear_;
  SquareFlowResistance<N> square_;
};

}  // namespace flarenut::parts

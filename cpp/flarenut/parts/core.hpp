#pragma once
/// Core: the liquid side of a cooler, a radiator, a heater or a heat exchanger.
///
/// What it is: many fine passages side by side between two headers. Thick liquid creeps through them and costs pressure in
/// proportion to flow and viscosity; headers, turns and ends cost with the square of flow and with density.
///
///   Δp = viscous · μ Q + inertial · ρ Q|Q|             Q = q / ρ
///
/// Both coefficients are of the shape alone; `correlations/core_loss.hpp` makes them of one or two points of a bench test or of
/// the passages. Two terms, because one loss coefficient cannot serve an oil cooler: engine oil at 65 °F is about four times as thick
/// as at 120 °F, and the drop of the passages follows it.
///
/// Assumes: a Newtonian liquid, the whole core at one temperature (of a stream that cools on its way, the mean).
/// Range: best between the points it was made from; laminar passages that turn turbulent are joined smoothly, some 10 to 20 %
/// off between (common practice, no source). Sign: positive flow from port 0 to port 1, the same backwards.
/// Source: Hagen–Poiseuille and the head of velocity, added: Forchheimer's form.

#include "flarenut/correlations/core_loss.hpp"
#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

/// Pressure per viscosity and flow [1/m³], and per density and flow squared [1/m⁴].
template <Number N = double>
using ViscousCoefficient = decltype(LinearResistance<N>{} / DynamicViscosity<N>{});
template <Number N = double>
using InertialCoefficient = decltype(QuadraticResistance<N>{} / Density<N>{});

template <Number N = double>
struct CoreSpec {
  ViscousCoefficient<N> viscous{};    ///< an oil cooler of 20 kPa at 20 L/min of hot oil: some 10⁹
  InertialCoefficient<N> inertial{};  ///< the same: some 10⁸
  Length<N> inlet_bore{};             ///< of its connections; 0 (preset): velocity head not told
  Length<N> outlet_bore{};

  static constexpr auto fields() {
    using S = CoreSpec;
    return std::tuple{
        Field<S, ViscousCoefficient<N>>{"viscous", &S::viscous, 1e3, 1e17, "1/m3", "drop per viscosity and volume flow"},
        Field<S, InertialCoefficient<N>>{"inertial", &S::inertial, 0.0, 1e17, "1/m4", "drop per density and volume flow squared"},
        Field<S, Length<N>>{"inlet_bore", &S::inlet_bore, 0.0, 0.5, "m", "bore of the inlet connection; 0: not told"},
        Field<S, Length<N>>{"outlet_bore", &S::outlet_bore, 0.0, 0.5, "m", "bore of the outlet connection; 0: not told"},
    };
  }
};

template <Number N = double>
class Core {
 public:
  template <Number M>
  using Spec = CoreSpec<M>;
  static constexpr std::string_view kind = "core";
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  Core(const CoreSpec<N>& spec, const LiquidState<N>& liquid)
      : linear_(spec.viscous * liquid.viscosity / liquid.density),
        square_(spec.inertial / liquid.density),
        inlet_(without_slope<Length>(spec.inlet_bore)),
        outlet_(without_slope<Length>(spec.outlet_bore)) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return linear_ * flow + square_ * signed_square_flow(flow);
  }

  std::array<MassFlow<>, 1> start_flow() const;
  std::array<Length<>, 2> bores() const { return {inlet_, outlet_}; }

 private:
  decltype(PressureDifference<N>{} / MassFlow<N>{}) linear_;
  SquareFlowResistance<N> square_;
  Length<> inlet_, outlet_;
};

}  // namespace flarenut::parts

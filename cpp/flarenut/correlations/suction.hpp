#pragma once
/// Suction side of a pump: how far the liquid is from boiling where the pump takes it.
///
///   NPSH available = (p_total − p_vapour) / (ρ g)          total absolute pressure at the pump inlet
///
/// To be set against the NPSH the pump requires (its maker's figure, on the same total-pressure footing, at the
/// same flow and speed). Below zero the liquid boils before it arrives.
/// g is standard gravity, 9.80665 m/s² (CGPM 1901), whatever the place: NPSH is a pressure told as a height.
/// Assumes: one liquid; for blends the vapour pressure is the bubble pressure at that temperature. Dissolved air
/// comes out earlier. Source: ISO 17769-1 definition of NPSH (from memory).

#include "flarenut/units/trade_units.hpp"

namespace flarenut::correlations {

template <Number N>
Length<N> net_positive_suction_head(const AbsolutePressure<N>& total, const AbsolutePressure<N>& vapour,
                                    const Density<N>& density) {
  return (total - vapour) / (density * trade::standard_gravity);
}

/// The absolute total pressure a pump inlet must not fall below to leave `required` NPSH.
template <Number N>
AbsolutePressure<N> least_inlet_pressure(const Length<N>& required, const AbsolutePressure<N>& vapour,
                                         const Density<N>& density) {
  return vapour + density * trade::standard_gravity * required;
}

}  // namespace flarenut::correlations

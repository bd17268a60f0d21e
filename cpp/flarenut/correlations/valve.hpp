#pragma once
/// Valve coefficients: Kv (metric) and Cv (US), the flow of water a valve passes at one bar or one psi.
///
///     Kv = Q[m³/h] √((ρ/ρ0)/Δp[bar]),    Cv = Q[US gal/min] √((ρ/ρ0)/Δp[psi])      (IEC 60534-1, from memory)
///
/// ρ0 is water; both definitions leave it to a temperature, and it moves the result by its square root. Used here:
/// 999.1 kg/m³, water at 15 °C (60 °F gives 999.0). With a round 1000 the SI coefficient would be 0.05 % larger.
///
/// In SI everything is one number, the flow area Av [m²]:  Q = Av √(Δp/ρ),  Δp = ρ Q²/Av².
/// In turbulent flow only: no viscous share is published with a Kv; the part adds its own leak or laminar term.

#include <cmath>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/correlations/chain.hpp"

namespace flarenut::correlations {

inline constexpr double valve_water_density = 999.1;        // kg/m³ at 15 °C
inline constexpr double us_gallon_m3 = 231.0 * 0.0254 * 0.0254 * 0.0254;  // 231 in³, exact
inline constexpr double psi_pa = 6894.757293168361;         // lbf/in², from 0.45359237 kg · 9.80665 / 0.0254²

/// SI flow area Av [m²] from Kv [m³/h at 1 bar].
inline double valve_area_from_kv(double kv) { return kv / 3600.0 * std::sqrt(valve_water_density / 1e5); }

/// SI flow area Av [m²] from Cv [US gal/min at 1 psi].
inline double valve_area_from_cv(double cv) {
  return cv * us_gallon_m3 / 60.0 * std::sqrt(valve_water_density / psi_pa);
}

inline double kv_from_valve_area(double area_m2) { return area_m2 * 3600.0 / std::sqrt(valve_water_density / 1e5); }
inline double cv_from_valve_area(double area_m2) {
  return area_m2 * 60.0 / us_gallon_m3 / std::sqrt(valve_water_density / psi_pa);
}

/// Loss coefficient K on the velocity head of a bore of area A: K = 2 A²/Av².
template <Number Bore, Number Area>
Combined<Bore, Area> loss_from_valve_area(const Bore& bore_area_m2, const Area& valve_area_m2) {
  const auto ratio = bore_area_m2 / valve_area_m2;
  return 2.0 * ratio * ratio;
}

/// FF, the share of the vapour pressure that counts when a valve chokes (IEC 60534-2-1 Eq. 4).
/// `pressure_ratio` is vapour pressure over thermodynamic critical pressure, both absolute.
template <Number T>
T critical_pressure_ratio_factor(const T& pressure_ratio) {
  using std::sqrt;
  return 0.96 - 0.28 * sqrt(pressure_ratio);
}

/// Largest pressure drop that still adds flow, liquid (IEC 60534-2-1 Eq. 3): FL² (p1 − FF pv), absolute pressures [Pa].
/// Beyond it the liquid flashes in the throat and flow no longer rises.
template <Number Inlet, Number Vapour, Number Factor>
Combined<Inlet, Vapour, Factor> choking_pressure_drop(const Inlet& inlet_pressure, const Vapour& vapour_pressure,
                                                      const Factor& critical_factor, double recovery_factor) {
  return recovery_factor * recovery_factor * (inlet_pressure - critical_factor * vapour_pressure);
}

}  // namespace flarenut::correlations

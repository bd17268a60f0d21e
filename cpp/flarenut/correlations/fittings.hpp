#pragma once
/// Elbows, tees and valves by table constants: loss coefficients that depend on size and Reynolds number.
///
/// Δp = K · ½ρV², V the mean velocity in the bore the fitting belongs to. A fixed K is right only for large bores and
/// high Reynolds numbers; these methods add a viscous share that takes over in cold oil:
///
/// - **Two-K** (W. B. Hooper, "The two-K method predicts head losses in pipe fittings", Chem. Eng., Aug. 24, 1981):
///   K = K1/Re + K∞ (1 + 1/D), D the bore in **inches**.
/// - **Three-K** (R. Darby, "Correlate pressure drops through fittings", Chem. Eng., 2001; Chemical Engineering Fluid
///   Mechanics): K = K1/Re + Ki (1 + Kd/Dn^0.3), Dn the nominal size in **inches**, Kd in in^0.3.
/// - **Equivalent length**: K = f · (L/D); with f the friction of the bore at the actual Re it is regular at rest.
///   The handbook form K = fT · (L/D) (Crane Technical Paper 410) uses the fully rough factor and has no viscous share.
///
/// Laws need a slope at rest, so the functions return K·Re: Δp = (K·Re) · μV/(2D). The constants are data, see
/// fitting_constants.csv in the catalogue. Both methods were fitted to process pipe of 1/2 in and more: for the small
/// bores of vehicles they extrapolate, and the 1/D of the two-K method extrapolates hard (1/4 in: 5 K∞); prefer three-K.
/// Bores here are in metres. Re ≥ 0 is a magnitude, on the same bore.

#include <cmath>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/correlations/friction.hpp"

namespace flarenut::correlations {

inline constexpr double metres_per_inch = 0.0254;  // exact, international inch 1959

/// K at high Reynolds number over K∞, by the two-K method.
template <Number Bore>
Bore two_k_size_factor(const Bore& bore_m) {
  return 1.0 + metres_per_inch / bore_m;
}

/// K·Re by the two-K method.
template <Number Re, Number Bore>
Combined<Re, Bore> two_k_times_reynolds(const Re& reynolds, const Bore& bore_m, double k_one, double k_infinity) {
  return k_one + k_infinity * two_k_size_factor(bore_m) * reynolds;
}

/// K at high Reynolds number over Ki, by the three-K method.
template <Number Bore, Number Kd>
Combined<Bore, Kd> three_k_size_factor(const Bore& nominal_bore_m, const Kd& k_d) {
  using std::pow;
  return 1.0 + k_d * pow(nominal_bore_m * (1.0 / metres_per_inch), -0.3);
}

/// K·Re by the three-K method.
template <Number Re, Number Bore>
Combined<Re, Bore> three_k_times_reynolds(const Re& reynolds, const Bore& nominal_bore_m, double k_one, double k_i,
                                          double k_d) {
  return k_one + k_i * three_k_size_factor(nominal_bore_m, k_d) * reynolds;
}

/// K·Re of a fitting worth `length_over_bore` bores of straight tube; `f_re` is f·Re of that tube.
template <Number F>
F equivalent_length_times_reynolds(const F& f_re, double length_over_bore) {
  return f_re * length_over_bore;
}

/// Darcy f of a fully rough bore (von Kármán 1930, the Re → ∞ limit of Colebrook–White): the fT of the handbook's
/// K = fT (L/D), there for clean steel with ε = 0.0018 in.
template <Number T>
T fully_rough_friction_factor(const T& relative_roughness) {
  using std::log;
  const T inverse_root = -detail::colebrook_slope * log(relative_roughness * (1.0 / detail::colebrook_roughness_divisor));
  return 1.0 / (inverse_root * inverse_root);
}

}  // namespace flarenut::correlations

#pragma once
/// How one property of a liquid follows temperature. Each law is a small record of coefficients and one formula.
///
/// These are the published dimensional correlations, so inside this file numbers are plain: temperature in kelvin
/// in, SI out (kg/m³, Pa·s or m²/s, J/(kg K), W/(m K), Pa). Types come back at the public interface, `liquid.hpp`.
/// Every law is finite and sloped at any positive temperature. Where its *data* end is not the law's business but
/// that of the `Property` record holding it.

#include <cmath>
#include <string_view>
#include <type_traits>
#include <variant>
#include <vector>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/autodiff/monotone_curve.hpp"

namespace flarenut::fluids {

/// 0 °C. Correlations printed in °C are turned with it.
inline constexpr double ice_point_kelvin = 273.15;
/// What turning degC or degF into kelvin may leave: a limit said in them still belongs to the range it ends.
inline constexpr double temperature_rounding_kelvin = 1e-9;
/// One standard atmosphere: the pressure at which density and viscosity laws hold; bulk modulus takes it from there.
inline constexpr double reference_pressure_pascal = 101325.0;

/// y = c0 + c1 (T − reference) + c2 (T − reference)² + …   One coefficient is a constant.
struct Polynomial {
  double reference_kelvin = ice_point_kelvin;
  std::vector<double> coefficients;
};

/// y = value · exp(−rate (T − reference)): bulk modulus of oils.
struct Exponential {
  double reference_kelvin = ice_point_kelvin;
  double value = 0.0;
  double rate = 0.0;  ///< [1/K]
};

/// Density of petroleum products (API MPMS chapter 11.1 / ASTM D1250):
///   ρ = ρ15 · exp(−α ΔT (1 + 0.8 α ΔT)),  ΔT = T − 15 °C,  α = expansion at 15 °C [1/K], see `petroleum_expansion`.
struct PetroleumDensity {
  double density_15 = 0.0;
  double expansion_15 = 0.0;
};

/// Kinematic viscosity of oils and fuels (Walther 1931; MacCoull; ASTM D341), ν in mm²/s inside, m²/s out:
///   log10 log10 Z = A − B log10 T
///   usual form   Z = ν + 0.7                              for ν above 2 mm²/s
///   thin form    Z = ν + 0.7 + exp(−1.47 − 1.84 ν − 0.51 ν²)   for fuels, down to 0.21 mm²/s,
///                ν = (Z−0.7) − exp(−0.7487 − 3.295 (Z−0.7) + 0.6119 (Z−0.7)² − 0.3193 (Z−0.7)³)
/// Build it from two measured points with `walther_through`.
struct WaltherViscosity {
  double intercept = 0.0;  ///< A
  double slope = 0.0;      ///< B
  bool thin = false;       ///< the form for ν below 2 mm²/s
};

/// Dynamic viscosity, three constants (Vogel 1921): μ = a · exp(b/(T − c)). With c = 0 it is Andrade's law.
struct VogelViscosity {
  double scale = 0.0;      ///< a [Pa·s]
  double activation = 0.0; ///< b [K]
  double offset = 0.0;     ///< c [K]; the law is infinite there, keep well above it
};

/// Vapour pressure: p = exp(A − B/(T + C)) [Pa]. C = 0 is Clausius–Clapeyron with a constant heat of vaporisation
/// over compressibility; C ≠ 0 is Antoine's equation.
struct SaturationLine {
  double intercept = 0.0;  ///< A, natural logarithm of pascals
  double slope = 0.0;      ///< B [K]
  double offset = 0.0;     ///< C [K]
};

/// In which coordinates a table is interpolated: those in which the property is nearly straight.
enum class TableScale {
  plain,       ///< y against T
  saturation,  ///< ln y against 1/T: vapour pressure, and viscosity of thin liquids
  walther,     ///< ln ln(ν + 0.7) against ln T with ν in mm²/s: viscosity of oils (y in m²/s)
};

/// Measured points joined by a monotone curve in the coordinates of `scale`: it passes through every point, overshoots
/// none, has a continuous slope, and goes on straight beyond its ends. Build it with `table_through`.
struct Table {
  TableScale scale = TableScale::plain;
  MonotoneCurve curve;
};

using Law = std::variant<Polynomial, Exponential, PetroleumDensity, WaltherViscosity, VogelViscosity, SaturationLine,
                         Table>;

/// The law's value at a temperature [K]; with `Dual`, its slopes too.
template <Number N>
N evaluate(const Law& law, const N& kelvin);

/// The law's slope with temperature, where its value there is known: exact for polynomials, exponentials, petroleum densities and saturation
/// lines, for others a difference over ±0.05 K, good to 1e-6 of the slope. It is had on any number type, and carries slopes of its own.
template <Number N>
N slope(const Law& law, const N& kelvin, const N& value);

/// Area under the law from 0 °C to a temperature, exact; with a law of specific heat this is enthalpy [J/kg]. For
/// polynomials, exponentials and plain tables; `has_area` says whether.
template <Number N>
N area(const Law& law, const N& kelvin);
bool has_area(const Law& law);

// ---- building laws from data ---------------------------------------------------------------------------------

/// Expansion coefficient α = K0/ρ15² + K1/ρ15 at 15 °C [1/K] from density at 15 °C, for refined products; metric
/// constants of Table 54B by density: gasoline, a transition, jet fuel and kerosene, diesel and fuel oil. Throws
/// InputError outside 653–1075 kg/m³. The gasoline value is 10 % above one published constant and 6 % below another.
double petroleum_expansion(double density_15);
/// The same for lubricating oils, Table 54D: α = 0.6278/ρ15. Throws InputError outside 800–1164 kg/m³.
double lubricant_expansion(double density_15);

/// D341 through two points; T in K, ν in mm²/s. Takes the thin form when asked.
WaltherViscosity walther_through(double first_kelvin, double first_mm2_s, double second_kelvin, double second_mm2_s,
                                 bool thin);
/// Vogel through three points; T in K, μ in Pa·s.
VogelViscosity vogel_through(const double (&kelvin)[3], const double (&pascal_second)[3]);

/// Antoine constants as usually printed, log10(p/mmHg) = A − B/(C + t/°C), turned into our form.
SaturationLine antoine_mmhg(double a, double b, double c);
/// A vapour-pressure line from one boiling point at one atmosphere: p = 1 atm · exp(f (1 − Tb/T)), f the heat of vaporisation
/// over R Tb: 10.6 for plain liquids (Trouton's rule, 88 J/(mol K)), 13.1 where water is what boils (109). From memory;
/// good to a factor of 1.5 some 60 K below the boiling point.
SaturationLine boiling_line(double boiling_kelvin, double heat_over_r_t);
/// AP-42 chapter 7.1 equation for refined stocks: true vapour pressure from Reid vapour pressure and the slope of the
/// ASTM D86 curve at 10 % evaporated, S [°F per vol %], 3.0 for motor gasoline:
///   p[psia] = exp(A − B/(t°F + 459.6)),  A = 15.64 − 1.854 √S − (0.8742 − 0.3280 √S) ln RVP,
///   B = 8742 − 1042 √S − (1049 − 179.4 √S) ln RVP.      RVP 2–20 psi, 0–140 °F (−18 to 60 °C).
SaturationLine refined_stock_saturation(double reid_pascal, double distillation_slope = 3.0);

/// Specific heat of petroleum liquids: cp = (1684.8 + 3.391 t/°C)/√d, d specific gravity 15.6/15.6 °C; 0–200 °C,
/// ±4 % (Cragoe, NBS Miscellaneous Publication 97, 1929; constants from memory).
Polynomial petroleum_specific_heat(double specific_gravity);
/// Conductivity of petroleum liquids: k = 0.1172 (1 − 0.00054 t/°C)/d; ±10 % claimed, but 39 % above measured jet fuel
/// (Cragoe 1929; constants from memory). For oils; fuels have better data.
Polynomial petroleum_conductivity(double specific_gravity);
/// Isothermal secant bulk modulus of mineral oil at one atmosphere from its viscosity at 20 °C:
///   K = (1.30 + 0.15 log10 ν20) · 10^(0.0023 (20 − t/°C)) GPa, ν in mm²/s; 5–100 °C (Hayward 1970; from memory).
Exponential mineral_oil_bulk_modulus(double viscosity_20_mm2_s);

/// A monotone curve through points (T in K, y in SI); needs two points or more with T rising. `what` names the
/// property in messages.
Table table_through(TableScale scale, const std::vector<double>& kelvin, const std::vector<double>& value,
                    std::string_view what);

// ---- evaluation ----------------------------------------------------------------------------------------------

namespace detail {

inline constexpr double mm2_s = 1e-6;  // one mm²/s in m²/s
inline constexpr double walther_shift = 0.7;

template <Number N>
N law(const Polynomial& p, const N& kelvin) {
  const N step = kelvin - p.reference_kelvin;
  N sum(0.0);
  for (auto c = p.coefficients.rbegin(); c != p.coefficients.rend(); ++c) sum = sum * step + *c;
  return sum;
}

template <Number N>
N law(const Exponential& e, const N& kelvin) {
  using std::exp;
  return e.value * exp(-e.rate * (kelvin - e.reference_kelvin));
}

template <Number N>
N law(const PetroleumDensity& d, const N& kelvin) {
  using std::exp;
  const N growth = d.expansion_15 * (kelvin - (ice_point_kelvin + 15.0));
  return d.density_15 * exp(-growth * (1.0 + 0.8 * growth));
}

template <Number N>
N law(const WaltherViscosity& w, const N& kelvin) {
  using std::exp;
  using std::log;
  constexpr double ln10 = 2.302585092994045684;
  // Z = 10^(10^(A − B log10 T)), in natural logarithms.
  const N inner = exp(ln10 * w.intercept - w.slope * log(kelvin));
  const N shifted = exp(ln10 * inner) - walther_shift;
  if (!w.thin) return mm2_s * shifted;
  const N correction = -0.7487 + shifted * (-3.295 + shifted * (0.6119 - 0.3193 * shifted));
  return mm2_s * (shifted - exp(correction));
}

template <Number N>
N law(const VogelViscosity& v, const N& kelvin) {
  using std::exp;
  return v.scale * exp(v.activation / (kelvin - v.offset));
}

template <Number N>
N law(const SaturationLine& s, const N& kelvin) {
  using std::exp;
  return exp(s.intercept - s.slope / (kelvin + s.offset));
}

/// Temperature in the table's coordinate; rises with temperature.
template <Number N>
N table_x(TableScale scale, const N& kelvin) {
  using std::log;
  if (scale == TableScale::saturation) return -1.0 / kelvin;
  if (scale == TableScale::walther) return log(kelvin);
  return kelvin;
}

/// The property in the table's coordinate, and back.
inline double table_y(TableScale scale, double value) {
  if (scale == TableScale::saturation) return std::log(value);
  if (scale == TableScale::walther) return std::log(std::log(value / mm2_s + walther_shift));
  return value;
}
template <Number N>
N from_table_y(TableScale scale, const N& y) {
  using std::exp;
  if (scale == TableScale::saturation) return exp(y);
  if (scale == TableScale::walther) return mm2_s * (exp(exp(y)) - walther_shift);
  return y;
}

template <Number N>
N law(const Table& t, const N& kelvin) {
  return from_table_y(t.scale, t.curve(table_x(t.scale, kelvin)));
}

/// Slope of each law, where it has that value.
template <Number N>
N derivative(const Polynomial& p, const N& kelvin, const N&) {
  const N step = kelvin - p.reference_kelvin;
  N sum(0.0);
  for (std::size_t i = p.coefficients.size(); i-- > 1;) sum = sum * step + static_cast<double>(i) * p.coefficients[i];
  return sum;
}
template <Number N>
N derivative(const Exponential& e, const N&, const N& value) {
  return -e.rate * value;
}
template <Number N>
N derivative(const PetroleumDensity& d, const N& kelvin, const N& value) {
  const N growth = d.expansion_15 * (kelvin - (ice_point_kelvin + 15.0));
  return -d.expansion_15 * (1.0 + 1.6 * growth) * value;
}
template <Number N>
N derivative(const SaturationLine& s, const N& kelvin, const N& value) {
  const N from_pole = kelvin + s.offset;
  return s.slope * value / (from_pole * from_pole);
}
template <Number N, class Other>
N derivative(const Other& other, const N& kelvin, const N&) {
  constexpr double step = 0.05;
  return (law(other, N(kelvin + step)) - law(other, N(kelvin - step))) / (2.0 * step);
}

/// Area under each law up to a constant.
template <Number N>
N antiderivative(const Polynomial& p, const N& kelvin) {
  const N step = kelvin - p.reference_kelvin;
  N sum(0.0);
  for (std::size_t i = p.coefficients.size(); i-- > 0;) sum = sum * step + p.coefficients[i] / static_cast<double>(i + 1);
  return sum * step;
}
template <Number N>
N antiderivative(const Exponential& e, const N& kelvin) {
  return law(e, kelvin) / -e.rate;
}
template <Number N>
N antiderivative(const Table& t, const N& kelvin) {
  return t.curve.area(kelvin);
}
template <Number N, class Other>
N antiderivative(const Other&, const N&) {
  return N(0.0);  // refused by `has_area` before anybody asks
}

}  // namespace detail

template <Number N>
N evaluate(const Law& law, const N& kelvin) {
  return std::visit([&](const auto& form) { return detail::law(form, kelvin); }, law);
}

template <Number N>
N slope(const Law& law, const N& kelvin, const N& value) {
  return std::visit([&](const auto& form) { return N(detail::derivative(form, kelvin, value)); }, law);
}

template <Number N>
N area(const Law& law, const N& kelvin) {
  return std::visit([&](const auto& form) {
    return N(detail::antiderivative(form, kelvin) - detail::antiderivative(form, ice_point_kelvin));
  }, law);
}

}  // namespace flarenut::fluids

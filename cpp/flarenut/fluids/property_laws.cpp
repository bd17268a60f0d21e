#include "flarenut/fluids/property_laws.hpp"

#include <algorithm>
#include <sstream>
#include <utility>

#include "flarenut/base/error.hpp"

namespace flarenut::fluids {

namespace {

void require_density(std::string_view group, double density_15, double least, double most) {
  if (density_15 >= least && density_15 <= most) return;
  std::ostringstream trouble;
  trouble << density_15 << " kg/m3 is outside " << least << " to " << most << " kg/m3, the range of ASTM D1250 for "
          << group << "; check its unit";
  throw InputError("density law", "density at 15 degC", trouble.str());
}

void require_positive(std::string_view what, std::string_view field, double value) {
  if (std::isfinite(value) && value > 0.0) return;
  std::ostringstream trouble;
  trouble << value << " must be a finite number above zero";
  throw InputError(what, field, trouble.str());
}

/// log10 log10 Z of a viscosity in mm²/s.
double walther_ordinate(double mm2_s, bool thin) {
  double z = mm2_s + detail::walther_shift;
  if (thin) z += std::exp(-1.47 - mm2_s * (1.84 + 0.51 * mm2_s));
  return std::log10(std::log10(z));
}

}  // namespace

bool has_area(const Law& law) {
  if (const auto* table = std::get_if<Table>(&law)) return table->scale == TableScale::plain;
  return std::holds_alternative<Polynomial>(law) || std::holds_alternative<Exponential>(law);
}

double petroleum_expansion(double density_15) {
  require_density("refined products", density_15, 653.0, 1075.0);
  // Table 54B, metric constants at 15 °C. Codes differ by 1–2 kg/m³ on where the transition lies.
  const double square = density_15 * density_15;
  if (density_15 < 770.0) return 346.4228 / square + 0.4388 / density_15;
  if (density_15 < 787.5) return 2680.3206 / square - 0.00336312;
  if (density_15 < 838.5) return 594.5418 / square;
  return 186.9696 / square + 0.4862 / density_15;
}

double lubricant_expansion(double density_15) {
  require_density("lubricating oils", density_15, 800.0, 1164.0);
  return 0.6278 / density_15;
}

WaltherViscosity walther_through(double first_kelvin, double first_mm2_s, double second_kelvin, double second_mm2_s,
                                 bool thin) {
  // log10(ν + 0.7) must stay above zero; the thin form lifts Z at small ν.
  const double least = thin ? 0.21 : 0.31;
  for (double viscosity : {first_mm2_s, second_mm2_s}) {
    require_positive("viscosity law", "kinematic viscosity", viscosity);
    if (viscosity < least) {
      std::ostringstream trouble;
      trouble << viscosity << " mm2/s is below " << least << " mm2/s, the lower end of ASTM D341; check its unit";
      throw InputError("viscosity law", "kinematic viscosity", trouble.str());
    }
  }
  if (!(first_kelvin > 0.0) || !(second_kelvin > 0.0) || std::abs(first_kelvin - second_kelvin) < 1.0)
    throw InputError("viscosity law", "temperature", "the two points must be at least 1 K apart");
  if ((first_kelvin < second_kelvin) != (first_mm2_s > second_mm2_s)) {
    std::ostringstream trouble;
    trouble << "viscosity must fall as temperature rises, but it goes from " << first_mm2_s << " mm2/s at "
            << first_kelvin - ice_point_kelvin << " degC to " << second_mm2_s << " mm2/s at "
            << second_kelvin - ice_point_kelvin << " degC; were the two swapped?";
    throw InputError("viscosity law", "kinematic viscosity", trouble.str());
  }
  const double first = walther_ordinate(first_mm2_s, thin), second = walther_ordinate(second_mm2_s, thin);
  WaltherViscosity law;
  law.thin = thin;
  law.slope = (first - second) / (std::log10(second_kelvin) - std::log10(first_kelvin));
  law.intercept = first + law.slope * std::log10(first_kelvin);
  return law;
}

VogelViscosity vogel_through(const double (&kelvin)[3], const double (&pascal_second)[3]) {
  for (double viscosity : pascal_second) require_positive("viscosity law", "dynamic viscosity", viscosity);
  // ln μ = ln a + b/(T − c): eliminate a and b, then c follows in closed form from the three differences.
  const double u12 = std::log(pascal_second[0] / pascal_second[1]);
  const double u13 = std::log(pascal_second[0] / pascal_second[2]);
  const double ratio = u12 * (kelvin[2] - kelvin[0]) / (u13 * (kelvin[1] - kelvin[0]));
  // ratio = (T3 − c)/(T2 − c)
  const double offset = (ratio * kelvin[1] - kelvin[2]) / (ratio - 1.0);
  const double activation = u12 / (1.0 / (kelvin[0] - offset) - 1.0 / (kelvin[1] - offset));
  if (!std::isfinite(offset) || !(activation > 0.0) || offset >= std::min({kelvin[0], kelvin[1], kelvin[2]}))
    throw InputError("viscosity law", "dynamic viscosity", "no Vogel curve passes through the three points; check them");
  return {pascal_second[0] / std::exp(activation / (kelvin[0] - offset)), activation, offset};
}

SaturationLine antoine_mmhg(double a, double b, double c) {
  constexpr double ln10 = 2.302585092994045684;
  constexpr double pascal_per_mmhg = 101325.0 / 760.0;
  return {a * ln10 + std::log(pascal_per_mmhg), b * ln10, c - ice_point_kelvin};
}

SaturationLine boiling_line(double boiling_kelvin, double heat_over_r_t) {
  require_positive("vapour pressure law", "boiling point", boiling_kelvin);
  require_positive("vapour pressure law", "heat of vaporisation over R T", heat_over_r_t);
  return {std::log(reference_pressure_pascal) + heat_over_r_t, heat_over_r_t * boiling_kelvin, 0.0};
}

SaturationLine refined_stock_saturation(double reid_pascal, double distillation_slope) {
  constexpr double pascal_per_psi = 6894.757293168361;
  const double reid_psi = reid_pascal / pascal_per_psi;
  if (!(reid_psi >= 2.0 && reid_psi <= 20.0)) {
    std::ostringstream trouble;
    trouble << reid_psi << " psi is outside 2 to 20 psi, the range of the AP-42 equation; motor gasoline has 7 to 15";
    throw InputError("vapour pressure law", "Reid vapour pressure", trouble.str());
  }
  require_positive("vapour pressure law", "distillation slope", distillation_slope);
  const double root = std::sqrt(distillation_slope), log_reid = std::log(reid_psi);
  const double a = 15.64 - 1.854 * root - (0.8742 - 0.3280 * root) * log_reid;
  const double b = 8742.0 - 1042.0 * root - (1049.0 - 179.4 * root) * log_reid;
  // t°F + 459.6 = 1.8 (T − 0.0389 K): the equation's own zero, kept.
  return {a + std::log(pascal_per_psi), b / 1.8, (459.6 - 459.67) / 1.8};
}

Polynomial petroleum_specific_heat(double specific_gravity) {
  require_positive("specific heat law", "specific gravity", specific_gravity);
  const double root = std::sqrt(specific_gravity);
  return {ice_point_kelvin, {1684.8 / root, 3.391 / root}};
}

Polynomial petroleum_conductivity(double specific_gravity) {
  require_positive("conductivity law", "specific gravity", specific_gravity);
  return {ice_point_kelvin, {0.1172 / specific_gravity, -0.1172 * 0.00054 / specific_gravity}};
}

Exponential mineral_oil_bulk_modulus(double viscosity_20_mm2_s) {
  require_positive("bulk modulus law", "viscosity at 20 degC", viscosity_20_mm2_s);
  constexpr double ln10 = 2.302585092994045684;
  return {ice_point_kelvin + 20.0, 1e9 * (1.30 + 0.15 * std::log10(viscosity_20_mm2_s)), 0.0023 * ln10};
}

Table table_through(TableScale scale, const std::vector<double>& kelvin, const std::vector<double>& value,
                    std::string_view what) {
  const std::size_t count = kelvin.size();
  if (count < 2 || value.size() != count)
    throw InputError("property table", what, "needs two points or more, with as many values as temperatures");
  std::vector<double> x, y;
  for (std::size_t i = 0; i < count; ++i) {
    require_positive("property table", what, value[i]);
    if (!(kelvin[i] > 0.0) || (i > 0 && !(kelvin[i] > kelvin[i - 1])))
      throw InputError("property table", what, "temperatures must rise from row to row and be absolute");
    if (scale == TableScale::walther && value[i] < 0.31 * detail::mm2_s)
      throw InputError("property table", what, "viscosity is below 0.31 mm2/s, too thin for this table");
    x.push_back(detail::table_x(scale, kelvin[i]));
    y.push_back(detail::table_y(scale, value[i]));
  }
  return {scale, MonotoneCurve(std::move(x), std::move(y))};
}

}  // namespace flarenut::fluids

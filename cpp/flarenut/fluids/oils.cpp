#include "flarenut/fluids/oils.hpp"

#include <algorithm>
#include <sstream>

namespace flarenut::fluids {

namespace {

constexpr double kelvin(double degrees_celsius) { return degrees_celsius + ice_point_kelvin; }

void require_between(const std::string& place, std::string_view field, double value, double least, double most,
                     std::string_view unit) {
  if (value >= least && value <= most) return;
  std::ostringstream trouble;
  trouble << value << ' ' << unit << " is outside " << least << " to " << most << ' ' << unit << "; check its unit";
  throw InputError(place, field, trouble.str());
}

/// D341 through two points, or a monotone curve in the same coordinates through more.
Law viscosity_law(const OilSpec& spec, const std::vector<ViscosityPoint>& points) {
  if (points.size() == 2) {
    const double first = points[0].viscosity.value() / detail::mm2_s;
    const double second = points[1].viscosity.value() / detail::mm2_s;
    return walther_through(points[0].temperature.value(), first, points[1].temperature.value(), second,
                           std::min(first, second) < 2.0);
  }
  std::vector<double> temperatures, values;
  for (const ViscosityPoint& point : points) {
    if (!values.empty() && point.viscosity.value() >= values.back())
      throw InputError(spec.name, "viscosities", "viscosity must fall from each temperature to the next hotter one");
    temperatures.push_back(point.temperature.value());
    values.push_back(point.viscosity.value());
  }
  return table_through(TableScale::walther, temperatures, values, "kinematic viscosity");
}

}  // namespace

Liquid oil(const OilSpec& spec) {
  if (spec.viscosities.size() < 2)
    throw InputError(spec.name, "viscosities", "needs two points or more, usually at 40 degC and 100 degC");
  require_between(spec.name, "density at 15 degC", spec.density_15.value(), 800.0, 1164.0, "kg/m3");
  const auto colder = [](const ViscosityPoint& a, const ViscosityPoint& b) { return a.temperature.value() < b.temperature.value(); };
  const auto [coldest, hottest] = std::minmax_element(spec.viscosities.begin(), spec.viscosities.end(), colder);
  std::vector<ViscosityPoint> points = spec.viscosities;
  points.insert(points.end(), spec.cold_samples.begin(), spec.cold_samples.end());
  std::sort(points.begin(), points.end(), colder);
  for (const ViscosityPoint& point : points) {
    require_between(spec.name, "temperature of a viscosity", point.temperature.value() - ice_point_kelvin, -60.0, 200.0,
                    "degC");
    require_between(spec.name, "viscosities", point.viscosity.value() / detail::mm2_s, 0.5, 2e7, "mm2/s");
  }

  LiquidRecord record;
  record.name = spec.name;
  record.outer_limit = {kelvin(-40.0), kelvin(160.0)};
  if (spec.pour_point) {
    require_between(spec.name, "pour point", spec.pour_point->value() - ice_point_kelvin, -90.0, 50.0, "degC");
    record.outer_limit.least_kelvin = std::max(record.outer_limit.least_kelvin, spec.pour_point->value());
  }
  record.cold_reason = spec.cold_reason;
  record.viscosity_is_kinematic = true;
  record.viscosity_per_pressure = 2.0e-8;
  record.modulus_per_pressure = 11.0;  // twice the 5.6 of Hayward's secant modulus

  const double density_15 = spec.density_15.value();
  const double gravity = density_15 / 999.1;  // water at 15 °C (IAPWS)
  const Law viscosity = viscosity_law(spec, points);
  record[PropertyName::density] = {PetroleumDensity{density_15, lubricant_expansion(density_15)},
                                   {kelvin(-20.0), kelvin(150.0)}, 0.005 + spec.density_band, 1e-4,
                                   spec.source + "; expansion by ASTM D1250 Table 54D", spec.how};
  // Between and near its points D341 holds within 3 %, 5 % at worst; towards −40 °C up to 70 % for multigrades,
  // which is 1 % for each kelvin below 20 °C.
  record[PropertyName::viscosity] = {viscosity,
                                     {coldest->temperature.value() - 20.0, hottest->temperature.value() + 20.0},
                                     0.05 + spec.grade_band, 0.01,
                                     spec.source + "; between the points by ASTM D341", spec.how, spec.cold_caution};
  if (spec.cold_caution.empty())
    record[PropertyName::viscosity].cold_caution =
        "carried by ASTM D341, which does not know an oil's thickener: multigrades and transmission fluids have measured from 0.6 "
        "to 3.4 times as thick at -25 to -40 degC; give a low-temperature point of your oil";
  record[PropertyName::specific_heat] = {petroleum_specific_heat(gravity), {kelvin(0.0), kelvin(200.0)}, 0.06, 0.0005,
                                         "Cragoe, NBS Misc. Publ. 97, 1929", "memory"};
  record[PropertyName::conductivity] = {petroleum_conductivity(gravity), {kelvin(0.0), kelvin(200.0)}, 0.25, 0.0005,
                                        "Cragoe, NBS Misc. Publ. 97, 1929", "memory"};
  const double viscosity_20 = evaluate(viscosity, kelvin(20.0)) / detail::mm2_s;
  record[PropertyName::bulk_modulus] = {mineral_oil_bulk_modulus(viscosity_20), {kelvin(5.0), kelvin(100.0)}, 0.15,
                                        0.002, "Hayward 1970", "memory"};
  record[PropertyName::vapour_pressure] = {Polynomial{ice_point_kelvin, {0.0}}, {kelvin(-60.0), kelvin(160.0)}, 0.0, 0.0,
                                           "taken as zero", "common practice"};
  return Liquid(record);
}

Liquid constant_liquid(const ConstantLiquidSpec& spec) {
  require_between(spec.name, "density", spec.density.value(), 0.01, 25000.0, "kg/m3");
  require_between(spec.name, "viscosity", spec.viscosity.value(), 1e-7, 1e4, "Pa s");
  require_between(spec.name, "vapour pressure", spec.vapour_pressure.value(), 0.0, 1e8, "Pa");

  LiquidRecord record;
  record.name = spec.name;
  record.outer_limit = {100.0, 1500.0};
  record.density_follows_pressure = spec.bulk_modulus.has_value();
  const auto set = [&](PropertyName property, double value, bool given) {
    record[property] = {Polynomial{ice_point_kelvin, {value}}, record.outer_limit, given ? 0.0 : 0.5, 0.0,
                        given ? "given by the user" : "assumed: not given",
                        given ? "given by the user" : "common practice"};
  };
  const auto optional = [&](PropertyName property, const auto& given, double assumed, double most, std::string_view unit) {
    if (given) require_between(spec.name, name(property), given->value(), 1e-6, most, unit);
    set(property, given ? given->value() : assumed, given.has_value());
  };
  set(PropertyName::density, spec.density.value(), true);
  set(PropertyName::viscosity, spec.viscosity.value(), true);
  set(PropertyName::vapour_pressure, spec.vapour_pressure.value(), true);
  optional(PropertyName::specific_heat, spec.specific_heat, 2000.0, 1e5, "J/(kg K)");
  optional(PropertyName::conductivity, spec.conductivity, 0.13, 1e3, "W/(m K)");
  optional(PropertyName::bulk_modulus, spec.bulk_modulus, 1.5e9, 1e12, "Pa");
  return Liquid(record);
}

}  // namespace flarenut::fluids

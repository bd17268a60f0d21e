#include "flarenut/fluids/coolants.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace flarenut::fluids {

namespace {

constexpr double water_molar_mass = 0.0180153;  // kg/mol
constexpr double step = 5.0;                    // K between the rows of the mix's own tables
constexpr double carried = 0.03;                // share by which freezing points may be carried straight beyond their last row

/// The two columns a share lies between, and how far it is on the way.
struct Between {
  const GlycolColumn &lean, &rich;
  double way;
};

Between between(const GlycolSpec& spec) {
  const auto& columns = spec.columns;
  if (columns.size() < 2) throw InputError(spec.name, "columns", "needs water and one share of glycol or more");
  const double most = columns.back().volume_share;
  if (!(spec.volume_share > 0.0 && spec.volume_share <= most)) {
    std::ostringstream trouble;
    trouble << 100.0 * spec.volume_share << " % by volume is outside 0 to " << 100.0 * most
            << " %, where its data end; more glycol than that protects less and cools worse, plain water has its own name";
    throw InputError(spec.name, "share of glycol", trouble.str());
  }
  std::size_t rich = 1;
  while (rich + 1 < columns.size() && spec.volume_share > columns[rich].volume_share) ++rich;
  const GlycolColumn &a = columns[rich - 1], &b = columns[rich];
  return {a, b, (spec.volume_share - a.volume_share) / (b.volume_share - a.volume_share)};
}

/// Rows from the freezing point to the hottest, both ends included.
std::vector<double> rows(double coldest, double hottest) {
  std::vector<double> kelvin{coldest};
  const int first = static_cast<int>(std::ceil((coldest + 0.1 * step) / step));
  for (int row = first; step * row < hottest - 0.1 * step; ++row) kelvin.push_back(step * row);
  kelvin.push_back(hottest);
  return kelvin;
}

}  // namespace

Liquid glycol_coolant(const GlycolSpec& spec) {
  const Between at = between(spec);
  if (spec.freezing_share.size() < 2 || spec.freezing_share.size() != spec.freezing_kelvin.size() ||
      spec.freezing_share.size() != spec.mass_share.size() || spec.freezing_share.back() + carried < spec.columns.back().volume_share)
    throw InputError(spec.name, "freezing points", "needs rows of share, temperature and mass share up to the richest column");
  const double freezing = MonotoneCurve(spec.freezing_share, spec.freezing_kelvin)(spec.volume_share);
  const double mass_share = MonotoneCurve(spec.freezing_share, spec.mass_share)(spec.volume_share);
  const double water_moles = (1.0 - mass_share) / water_molar_mass;
  const double water_share = water_moles / (water_moles + mass_share / spec.glycol_molar_mass);

  const std::vector<double> kelvin = rows(freezing, spec.hottest_kelvin);
  const auto mixed = [&](Law GlycolColumn::*law, TableScale scale, std::string_view what) {
    std::vector<double> values;
    for (const double t : kelvin) {
      const double lean = evaluate(at.lean.*law, t), rich = evaluate(at.rich.*law, t);
      values.push_back(scale == TableScale::plain ? lean + at.way * (rich - lean) : lean * std::pow(rich / lean, at.way));
    }
    return Law(table_through(scale, kelvin, values, what));
  };
  std::vector<double> vapour;
  vapour.reserve(kelvin.size());
  for (const double t : kelvin) vapour.push_back(water_share * evaluate(spec.water_vapour_pressure, t));

  LiquidRecord record;
  record.name = spec.name;
  record.outer_limit = {freezing, spec.hottest_kelvin};
  record.freezes = true;
  record.cold_reason = "ice begins to form there; a coolant with more glycol, up to 60 % by volume, stays liquid to lower";
  record.hot_reason = "no pressure cap in common use keeps it from boiling there; lower the temperature";
  record.modulus_per_pressure = 6.0;  // as water
  const TemperatureSpan data{freezing, spec.data_most_kelvin};
  const bool lean = at.lean.volume_share == 0.0;
  const double extra = lean ? spec.lean_band * 4.0 * at.way * (1.0 - at.way) : 0.0;
  const std::string how = lean ? "seen; derived between water and the leanest table" : "seen; derived between shares";
  record[PropertyName::density] = {mixed(&GlycolColumn::density, TableScale::plain, "density"), data, 0.012 + 0.05 * extra, 2e-4,
                                   spec.source, how};
  record[PropertyName::viscosity] = {mixed(&GlycolColumn::viscosity, TableScale::saturation, "viscosity"), data, 0.13 + extra, 0.003,
                                     spec.source, how};
  record[PropertyName::specific_heat] = {mixed(&GlycolColumn::specific_heat, TableScale::plain, "specific heat"), data,
                                         0.04 + 0.1 * extra, 5e-4, spec.source, how};
  record[PropertyName::conductivity] = {mixed(&GlycolColumn::conductivity, TableScale::plain, "conductivity"), data,
                                        0.06 + 0.1 * extra, 1e-3, spec.source, how};
  record[PropertyName::bulk_modulus] = {spec.bulk_modulus, {ice_point_kelvin, ice_point_kelvin + 60.0}, 0.15, 2e-3,
                                        "typical values", "memory"};
  record[PropertyName::vapour_pressure] = {table_through(TableScale::saturation, kelvin, vapour, "vapour pressure"),
                                           {freezing, ice_point_kelvin + 130.0}, 0.06, 1e-3,
                                           "Raoult's law: mole share of water times the vapour pressure of water (IAPWS-95)", "derived"};
  return Liquid(record);
}

}  // namespace flarenut::fluids

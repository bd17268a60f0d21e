#include "flarenut/fluids/liquid.hpp"

#include <algorithm>
#include <sstream>
#include <utility>

namespace flarenut::fluids {

namespace {

/// A temperature for a message, to a tenth of a degree.
std::string celsius(double kelvin) {
  std::ostringstream text;
  text << std::round((kelvin - ice_point_kelvin) * 10.0) / 10.0 << " degC";
  return text.str();
}

std::string percent(double share) {
  std::ostringstream text;
  text << std::round(share * 1000.0) / 10.0 << " %";
  return text.str();
}

TemperatureSpan overlap(const TemperatureSpan& a, const TemperatureSpan& b) {
  return {std::max(a.least_kelvin, b.least_kelvin), std::min(a.most_kelvin, b.most_kelvin)};
}

double own_band(const Property& property, double kelvin) {
  return property.band + property.band_per_kelvin * property.data.excess(kelvin);
}

}  // namespace

std::string_view name(PropertyName property) {
  switch (property) {
    case PropertyName::density: return "density";
    case PropertyName::viscosity: return "viscosity";
    case PropertyName::specific_heat: return "specific heat";
    case PropertyName::conductivity: return "conductivity";
    case PropertyName::bulk_modulus: return "bulk modulus";
    case PropertyName::vapour_pressure: return "vapour pressure";
  }
  return "unknown";
}

double TemperatureSpan::excess(double kelvin) const {
  return std::max({0.0, least_kelvin - kelvin, kelvin - most_kelvin});
}

Liquid::Liquid(LiquidRecord record) : record_(std::move(record)) { check(); }

Liquid::Liquid(std::string name, LiquidRecord gasoline, AlcoholBlend blend) : record_(std::move(gasoline)) {
  const double share = blend.volume_share;
  if (!(share >= 0.0 && share <= 1.0)) {
    std::ostringstream trouble;
    trouble << share << " is outside 0 to 1; it is a fraction by volume (0.85 for E85)";
    throw InputError(name, "alcohol share", trouble.str());
  }
  for (const auto& [field, mass] : {std::pair{"alcohol molar mass", blend.alcohol_molar_mass},
                                    std::pair{"gasoline molar mass", blend.gasoline_molar_mass}})
    if (!(mass > 0.01 && mass < 1.0)) throw InputError(name, field, "must be in kg/mol, between 0.01 and 1");

  const LiquidRecord& alcohol = blend.alcohol;
  const double kelvin_15 = ice_point_kelvin + 15.0;
  const double rho_1 = evaluate(alcohol[PropertyName::density].law, kelvin_15);
  const double rho_2 = evaluate(record_[PropertyName::density].law, kelvin_15);
  mass_share_ = share * rho_1 / (share * rho_1 + (1.0 - share) * rho_2);
  const double moles_1 = mass_share_ / blend.alcohol_molar_mass;
  const double moles_2 = (1.0 - mass_share_) / blend.gasoline_molar_mass;
  mole_share_ = moles_1 / (moles_1 + moles_2);
  molar_volume_ratio_ = (blend.gasoline_molar_mass / rho_2) / (blend.alcohol_molar_mass / rho_1);

  record_.name = std::move(name);
  record_.outer_limit = overlap(record_.outer_limit, alcohol.outer_limit);
  record_.modulus_per_pressure =
      mixed_by_mass(share, alcohol.modulus_per_pressure, record_.modulus_per_pressure);
  record_.viscosity_per_pressure =
      mixed_by_mass(mass_share_, alcohol.viscosity_per_pressure, record_.viscosity_per_pressure);
  const auto burn = [&](std::optional<double> LiquidRecord::*datum) {
    record_.*datum = alcohol.*datum && record_.*datum
                         ? std::optional(mixed_by_mass(mass_share_, *(alcohol.*datum), *(record_.*datum)))
                         : std::nullopt;
  };
  burn(&LiquidRecord::stoichiometric_air_fuel_ratio);
  burn(&LiquidRecord::lower_heating_value);
  blend_ = std::move(blend);
  check();
}

void Liquid::check() const {
  const TemperatureSpan& limit = record_.outer_limit;
  if (!(limit.least_kelvin > 0.0 && limit.most_kelvin > limit.least_kelvin))
    throw InputError(record_.name, "outer limit", "must run from a lower to a higher absolute temperature");
  if (!(record_.modulus_per_pressure > 0.0))
    throw InputError(record_.name, "rise of bulk modulus with pressure", "must be above zero");
  if (!has_area(record_[PropertyName::specific_heat].law))
    throw InputError(record_.name, "specific heat", "must be a polynomial, an exponential or a plain table, so that enthalpy is exact");
  constexpr int samples = 64;
  for (int i = 0; i <= samples; ++i) {
    const double kelvin = limit.least_kelvin + (limit.most_kelvin - limit.least_kelvin) * i / samples;
    const auto values = at_one_atmosphere(kelvin);
    for (int p = 0; p < property_count; ++p) {
      const bool may_be_zero = static_cast<PropertyName>(p) == PropertyName::vapour_pressure;
      if (std::isfinite(values[p]) && (values[p] > 0.0 || (may_be_zero && values[p] == 0.0))) continue;
      std::ostringstream trouble;
      trouble << "comes out as " << values[p] << " at " << celsius(kelvin)
              << ", inside the outer limit; mend the data or narrow the limit";
      throw InputError(record_.name, fluids::name(static_cast<PropertyName>(p)), trouble.str());
    }
  }
}

void Liquid::require_within_limit(double kelvin) const {
  const TemperatureSpan& limit = record_.outer_limit;
  if (limit.contains(kelvin)) return;
  std::ostringstream trouble;
  if (!std::isfinite(kelvin)) {
    trouble << "is not a number";
  } else {
    const bool cold = kelvin < limit.least_kelvin;
    trouble << celsius(kelvin) << " is " << (cold ? "below " : "above ")
            << celsius(cold ? limit.least_kelvin : limit.most_kelvin)
            << (cold ? ", the coldest" : ", the hottest") << " this liquid's properties may be carried to";
    const std::string& reason = cold ? record_.cold_reason : record_.hot_reason;
    if (reason.empty())
      trouble << "; " << (cold ? "raise" : "lower") << " the temperature or choose a liquid with data there";
    else
      trouble << ": " << reason;
  }
  throw InputError(record_.name, "temperature", trouble.str());
}

TemperatureSpan Liquid::data(PropertyName property) const {
  const TemperatureSpan own = record_[property].data;
  return blend_ ? overlap(own, blend_->alcohol[property].data) : own;
}

double Liquid::band(PropertyName property, const Temperature<>& temperature) const {
  const double kelvin = temperature.value();
  require_within_limit(kelvin);
  const double own = own_band(record_[property], kelvin);
  if (!blend_) return own;
  const double share = blend_->volume_share;
  // Each part's doubt counts by what the part gives: its volume, or its share of the vapour (most of which is gasoline,
  // even over E85).
  double weight = share;
  if (property == PropertyName::vapour_pressure) {
    const double alcohol = evaluate(blend_->alcohol[property].law, kelvin), gasoline = evaluate(record_[property].law, kelvin);
    const auto pressure = [&](double gasoline_part) {
      return bubble_pressure(mole_share_, kelvin, molar_volume_ratio_, blend_->wilson.a12_kelvin,
                             blend_->wilson.a21_kelvin, alcohol, gasoline_part);
    };
    weight = pressure(0.0) / pressure(gasoline);
  }
  return mixed_by_mass(weight, own_band(blend_->alcohol[property], kelvin), own) +
         4.0 * share * (1.0 - share) * blend_->rule_band[static_cast<int>(property)];
}

std::optional<Temperature<>> Liquid::boiling_temperature(const AbsolutePressure<>& pressure) const {
  const auto excess = [&](double kelvin) {
    return at_one_atmosphere(kelvin)[static_cast<int>(PropertyName::vapour_pressure)] - pressure.value();
  };
  double low = record_.outer_limit.least_kelvin, high = record_.outer_limit.most_kelvin;
  // A limit set at a boiling point may miss it by round-off.
  const double margin = 1e-9 * pressure.value();
  if (!(excess(low) <= margin && excess(high) >= -margin)) return std::nullopt;
  // Vapour pressure rises with temperature, so halving cannot miss; 60 halvings reach round-off.
  for (int halving = 0; halving < 60; ++halving) {
    const double middle = 0.5 * (low + high);
    (excess(middle) < 0.0 ? low : high) = middle;
  }
  return Temperature<>::from_value(0.5 * (low + high));
}

std::vector<RangeFinding> Liquid::range_findings(const Temperature<>& temperature) const {
  const double kelvin = temperature.value();
  require_within_limit(kelvin);
  std::vector<RangeFinding> findings;
  for (int p = 0; p < property_count; ++p) {
    const auto property = static_cast<PropertyName>(p);
    const TemperatureSpan span = data(property);
    if (span.contains(kelvin)) continue;
    const double uncertainty = band(property, temperature);
    std::ostringstream message;
    message << record_.name << ": " << fluids::name(property) << " at " << celsius(kelvin)
            << " is carried beyond its data (" << celsius(span.least_kelvin) << " to " << celsius(span.most_kelvin)
            << "); taken as good to within " << percent(uncertainty);
    const std::string caution = kelvin < span.least_kelvin ? record_[property].cold_caution : "";
    if (!caution.empty()) message << "; " << caution;
    findings.push_back({property, kelvin, span, uncertainty, caution, message.str()});
  }
  return findings;
}

std::vector<PropertyDescription> Liquid::describe() const {
  std::vector<PropertyDescription> lines;
  for (int p = 0; p < property_count; ++p) {
    const auto property = static_cast<PropertyName>(p);
    const TemperatureSpan span = data(property);
    const double middle = 0.5 * (std::max(span.least_kelvin, record_.outer_limit.least_kelvin) +
                                 std::min(span.most_kelvin, record_.outer_limit.most_kelvin));
    const Property& own = record_[property];
    std::string source = own.source, how = own.how;
    if (blend_) {
      const Property& other = blend_->alcohol[property];
      source = "alcohol: " + other.source + "; gasoline: " + own.source + "; mixed: " + blend_->rule[p];
      how = other.how + "; " + own.how + "; derived";
    }
    lines.push_back({property, span, band(property, Temperature<>::from_value(middle)), source, how});
  }
  return lines;
}

}  // namespace flarenut::fluids

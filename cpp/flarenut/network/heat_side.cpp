#include "flarenut/network/heat_side.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "flarenut/network/network.hpp"

namespace flarenut::network {
namespace {

constexpr double most_heat = 1e7, most_conductance = 1e6, most_capacity = 1e9;  // W, W/K, J/K

/// What stands around may be outside what air is known for: that is said of the part that it stands around.
void prepare_law(HeatElement& law, const std::string& owner, const heat::Surroundings& around) {
  try {
    law.prepare(around);
  } catch (const InputError& refusal) {
    const std::string what = refusal.place() == owner ? "" : refusal.place() + " ";
    throw InputError(owner, what + refusal.field(), refusal.trouble());
  }
}

}  // namespace

HeatSide::HeatSide(const Network& network) : heat_(network.heat()) {
  heat_.junctions.resize(static_cast<std::size_t>(network.junction_count()));
  heat_.parts.resize(static_cast<std::size_t>(network.part_count()));
  stale_part_.assign(heat_.parts.size(), 1);
  stale_exchanger_.assign(heat_.exchangers.size(), 1);
  name_numbers(network);
  note_loans(network);
}

void HeatSide::name_numbers(const Network& network) {
  const auto law_numbers = [&](const std::string& owner_name, const HeatElement& law, What what, int owner) {
    const KindInfo info = law.info();
    for (std::size_t f = 0; f < info.fields.size(); ++f)
      numbers_.push_back({owner_name + "." + std::string(info.fields[f].name), what, owner, static_cast<int>(f), info.fields[f].least,
                          info.fields[f].most, ""});
  };
  for (std::size_t p = 0; p < heat_.parts.size(); ++p) {
    const PartEntry& part = network.parts()[p];
    const int owner = static_cast<int>(p);
    numbers_.push_back({part.name + ".heat", What::part_heat, owner, 0, -most_heat, most_heat, "W"});
    numbers_.push_back({part.name + ".heat_capacity", What::part_capacity, owner, 0, 0.0, most_capacity, "J/K"});
    if (part.element->kind().ends_with("pump")) {
      numbers_.push_back({part.name + ".efficiency", What::efficiency, owner, 0, 0.01, 1.0, ""});
      numbers_.push_back({part.name + ".power", What::terminals, owner, 0, 0.0, most_heat, "W"});
    }
    if (heat_.parts[p].law) law_numbers(part.name, *heat_.parts[p].law, What::law_field, owner);
  }
  for (std::size_t e = 0; e < heat_.exchangers.size(); ++e)
    law_numbers(heat_.exchangers[e].name, *heat_.exchangers[e].law, What::exchanger_field, static_cast<int>(e));
  for (std::size_t j = 0; j < heat_.junctions.size(); ++j) {
    const std::string& name = network.junctions()[j].name;
    const int owner = static_cast<int>(j);
    numbers_.push_back({name + ".heat", What::junction_heat, owner, 0, -most_heat, most_heat, "W"});
    numbers_.push_back({name + ".conductance", What::conductance, owner, 0, 0.0, most_conductance, "W/K"});
    numbers_.push_back({name + ".heat_capacity", What::junction_capacity, owner, 0, 0.0, most_capacity, "J/K"});
    numbers_.push_back({name + ".temperature", What::inlet_temperature, owner, 0, least_temperature, most_temperature, "K"});
  }
  numbers_.push_back({"air.temperature", What::air_temperature, 0, 0, 200.0, 500.0, "K"});
}

double& HeatSide::place(const Number& number) {
  const auto owner = static_cast<std::size_t>(number.owner);
  switch (number.what) {
    case What::part_heat: return heat_.parts[owner].heat;
    case What::efficiency: return heat_.parts[owner].efficiency;
    case What::terminals: return heat_.parts[owner].terminals;
    case What::part_capacity: return heat_.parts[owner].capacity;
    case What::junction_heat: return heat_.junctions[owner].heat;
    case What::conductance: return heat_.junctions[owner].conductance;
    case What::junction_capacity: return heat_.junctions[owner].capacity;
    default: return air_temperature_;
  }
}

double HeatSide::get(int index) const {
  const Number& number = numbers_.at(static_cast<std::size_t>(index));
  const auto owner = static_cast<std::size_t>(number.owner);
  switch (number.what) {
    case What::law_field: return heat_.parts[owner].law->field(number.field);
    case What::exchanger_field: return heat_.exchangers[owner].law->field(number.field);
    case What::inlet_temperature: return heat_.junctions[owner].temperature.value_or(std::numeric_limits<double>::quiet_NaN());
    default: return const_cast<HeatSide*>(this)->place(number);
  }
}

void HeatSide::set(int index, double value) {
  const Number& number = numbers_.at(static_cast<std::size_t>(index));
  const auto owner = static_cast<std::size_t>(number.owner);
  if (number.what == What::inlet_temperature && std::isnan(value)) {
    heat_.junctions[owner].temperature.reset();
    return;
  }
  if (!(value >= number.least && value <= number.most)) {
    const auto dot = number.name.rfind('.');
    parts::require_in_range(number.name.substr(0, dot), number.name.substr(dot + 1), value, number.least, number.most, number.unit);
  }
  switch (number.what) {
    case What::inlet_temperature: heat_.junctions[owner].temperature = value; return;
    case What::law_field:
    case What::exchanger_field: {
      HeatElement& law = number.what == What::law_field ? *heat_.parts[owner].law : *heat_.exchangers[owner].law;
      const double before = law.field(number.field);
      law.set_field(number.field, value);
      try {
        law.validate(number.name.substr(0, number.name.rfind('.')));
      } catch (...) {
        law.set_field(number.field, before);
        throw;
      }
      (number.what == What::law_field ? stale_part_ : stale_exchanger_)[owner] = 1;
      return;
    }
    default: place(number) = value;
  }
}

void HeatSide::note_loans(const Network& network) {
  for (std::size_t p = 0; p < heat_.parts.size(); ++p) {
    if (!heat_.parts[p].law) continue;
    const auto wanted = heat_.parts[p].law->borrowed();
    const auto fields = network.parts()[p].element->info().fields;
    for (std::size_t i = 0; i < wanted.size(); ++i)
      for (std::size_t f = 0; f < fields.size(); ++f)
        if (fields[f].name == wanted[i])
          loans_.push_back({static_cast<int>(p), static_cast<int>(f), static_cast<int>(i), std::numeric_limits<double>::quiet_NaN()});
  }
}

void HeatSide::prepare(const Network& network, double ambient_pressure) {
  for (Loan& loan : loans_) {
    const auto p = static_cast<std::size_t>(loan.part);
    const double value = network.parts()[p].element->field(loan.field);
    if (value == loan.value) continue;
    loan.value = value;
    heat_.parts[p].law->lend(loan.as, value);
    stale_part_[p] = 1;
  }
  if (air_temperature_ != prepared_air_ || ambient_pressure != prepared_pressure_) {
    std::fill(stale_part_.begin(), stale_part_.end(), char(1));
    std::fill(stale_exchanger_.begin(), stale_exchanger_.end(), char(1));
  }
  const heat::Surroundings around{Temperature<>::from_value(air_temperature_), AbsolutePressure<>::from_value(ambient_pressure)};
  for (std::size_t p = 0; p < heat_.parts.size(); ++p)
    if (heat_.parts[p].law && stale_part_[p]) prepare_law(*heat_.parts[p].law, network.parts()[p].name, around);
  for (std::size_t e = 0; e < heat_.exchangers.size(); ++e)
    if (stale_exchanger_[e]) prepare_law(*heat_.exchangers[e].law, heat_.exchangers[e].name, around);
  std::fill(stale_part_.begin(), stale_part_.end(), char(0));
  std::fill(stale_exchanger_.begin(), stale_exchanger_.end(), char(0));
  prepared_air_ = air_temperature_;
  prepared_pressure_ = ambient_pressure;
}

}  // namespace flarenut::network

/// Names of a plan's numbers, and one number at a time; several together: `plan_set_many.cpp`.

#include <stdexcept>

#include "flarenut/network/plan.hpp"
#include "flarenut/network/tank_numbers.hpp"

namespace flarenut::network {
namespace {

void require(const std::string& name, double value, double least, double most, const char* unit) {
  if (value >= least && value <= most) return;
  const auto dot = name.rfind('.');
  parts::require_in_range(name.substr(0, dot), name.substr(dot + 1), value, least, most, unit);
}

/// The heat side: it is there where a number is one of it.
template <class Side>
auto& there(Side& heat) {
  if (!heat) throw std::logic_error("a number of heat where none is followed");
  return *heat;
}

}  // namespace

void Plan::add_number(std::string name, NumberPlace place, double least, double most) {
  index_.emplace(name, static_cast<int>(names_.size()));
  names_.push_back(std::move(name));
  places_.push_back(place);
  ranges_.push_back({least, most});
}

void Plan::name_numbers() {
  using What = NumberPlace::What;
  for (std::size_t p = 0; p < network_.parts().size(); ++p) {
    const PartEntry& part = network_.parts()[p];
    const KindInfo info = part.element->info();
    for (std::size_t f = 0; f < info.fields.size(); ++f)
      add_number(part.name + "." + std::string(info.fields[f].name),
                 {What::field, static_cast<int>(p), static_cast<int>(f)}, info.fields[f].least, info.fields[f].most);
    if (!heat_) add_number(part.name + ".temperature", {What::part_temperature, static_cast<int>(p)});
  }
  for (std::size_t j = 0; j < junctions_.size(); ++j) {
    const int owner = static_cast<int>(j);
    switch (junctions_[j].kind) {
      case JunctionKind::free: add_number(junctions_[j].name + ".demand", {What::demand, owner}); break;
      case JunctionKind::fixed: add_number(junctions_[j].name + ".gauge", {What::gauge, owner}); break;
      case JunctionKind::tank:
        for (const TankField& field : tank_fields())
          add_number(junctions_[j].name + "." + std::string(field.name), {What::tank, owner, field.index});
        break;
    }
  }
  if (heat_)
    for (std::size_t n = 0; n < heat_->numbers().size(); ++n) {
      const HeatSide::Number& number = heat_->numbers()[n];
      add_number(number.name, {What::heat, static_cast<int>(n)}, number.least, number.most);
    }
  // The surroundings give way to a part or junction of the same name.
  const auto add_surrounding = [&](const char* name, NumberPlace place) {
    if (!index_.contains(name)) add_number(name, place);
  };
  add_surrounding("ambient.pressure", {What::ambient});
  add_surrounding("liquid.temperature", {What::liquid_temperature});
  add_surrounding("acceleration.x", {What::acceleration, 0});
  add_surrounding("acceleration.y", {What::acceleration, 1});
  add_surrounding("acceleration.z", {What::acceleration, 2});
}

int Plan::index(const std::string& name) const {
  const auto found = index_.find(name);
  if (found == index_.end()) throw InputError(name, "number", "the circuit has no number of that name");
  return found->second;
}

double Plan::get(int number) const {
  using What = NumberPlace::What;
  const NumberPlace& where = places_.at(static_cast<std::size_t>(number));
  const auto owner = static_cast<std::size_t>(where.owner);
  switch (where.what) {
    case What::field: return element(where.owner).field(where.field);
    case What::part_temperature: return temperature_of_part(where.owner);
    case What::demand: return junctions_[owner].demand;
    case What::gauge: return junctions_[owner].gauge;
    case What::tank: return number_at(junctions_[owner].tank, where.field);
    case What::ambient: return ambient_;
    case What::liquid_temperature: return liquid_temperature_;
    case What::acceleration: return acceleration_[owner];
    case What::heat: return there(heat_).get(where.owner);
  }
  return 0.0;
}

void Plan::set(int number, double value) {
  using What = NumberPlace::What;
  const NumberPlace& where = places_.at(static_cast<std::size_t>(number));
  const std::string& name = names_[static_cast<std::size_t>(number)];
  const auto owner = static_cast<std::size_t>(where.owner);
  switch (where.what) {
    case What::field: {
      Element& part = element(where.owner);
      const double before = part.field(where.field);
      if (before == value) return;
      part.set_field(where.field, value);
      try {
        part.validate(network_.parts()[owner].name);
      } catch (...) {
        part.set_field(where.field, before);
        throw;
      }
      mark_stale(owner);
      return;
    }
    case What::part_temperature:
      require(name, value, least_temperature, most_temperature, "K");
      part_temperature_[owner] = value;
      mark_stale(owner);
      return;
    case What::demand: require(name, value, -most_demand, most_demand, "kg/s"); junctions_[owner].demand = value; return;
    case What::gauge: require(name, value, least_gauge, most_gauge, "Pa"); junctions_[owner].gauge = value; hold(owner); return;
    case What::tank: {
      parts::TankSpec<> changed = junctions_[owner].tank;
      set_number_at(changed, where.field, value);
      parts::validate(junctions_[owner].name, changed);
      junctions_[owner].tank = changed;
      tanks_stale_ = any_stale_ = true;  // its liquid may be about to change, too, and is not asked before `refresh`
      return;
    }
    case What::ambient: require(name, value, least_ambient, most_ambient, "Pa"); ambient_ = value; break;
    case What::liquid_temperature:
      require(name, value, least_temperature, most_temperature, "K");
      liquid_temperature_ = value;
      break;
    case What::acceleration: require(name, value, -most_acceleration, most_acceleration, "m/s2"); acceleration_[owner] = value; break;
    case What::heat:
      there(heat_).set(where.owner, value);
      any_stale_ = true;
      return;
  }
  all_stale_ = any_stale_ = true;
}

}  // namespace flarenut::network

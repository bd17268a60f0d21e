#include "flarenut/network/network.hpp"

#include <cmath>
#include <numeric>

#include "flarenut/network/kinds.hpp"

namespace flarenut::network {

int Network::add_liquid(fluids::Liquid liquid) {
  liquids_.push_back(std::move(liquid));
  return static_cast<int>(liquids_.size()) - 1;
}

void Network::require_free_name(const std::string& name) const {
  if (name.empty()) throw InputError("(unnamed)", "name", "is empty; give every part and junction a name");
  if (named_.contains(name) || row_junction(name) || row_part(name))
    throw InputError(name, "name", "is used twice; parts and junctions need names of their own");
}

int Network::add(Junction junction) {
  require_free_name(junction.name);
  for (double metres : junction.position)
    if (!(std::abs(metres) <= 1e3)) throw InputError(junction.name, "position", "is not within 1000 m; check its unit");
  parts::validate(junction.name, junction.tank);
  for (double number : {junction.demand, junction.gauge})
    if (!std::isfinite(number)) throw InputError(junction.name, "number", "is not finite");
  const int index = junction_count_++;
  junction_index_.push_back(index);
  named_.emplace(junction.name, Named{false, index});
  junctions_.push_back(std::move(junction));
  return index;
}

int Network::add_junction(std::string name, Position position, double demand) {
  return add({.name = std::move(name), .kind = JunctionKind::free, .position = position, .demand = demand});
}
int Network::add_fixed(std::string name, double gauge, Position position) {
  return add({.name = std::move(name), .kind = JunctionKind::fixed, .position = position, .gauge = gauge});
}
int Network::add_tank(std::string name, const parts::TankSpec<>& tank, Position position, int liquid) {
  return add({.name = std::move(name), .kind = JunctionKind::tank, .position = position, .tank = tank, .liquid = liquid});
}

int Network::add_part(std::string name, std::string_view kind, std::vector<int> ports, std::vector<int> senses,
                      const Numbers& numbers, const Columns& columns, int liquid) {
  auto element = make_element(kind);
  const KindInfo info = element->info();
  const auto place_of = [&](const auto& list, const std::string& wanted) {
    for (std::size_t i = 0; i < list.size(); ++i)
      if (list[i].name == wanted) return static_cast<int>(i);
    throw InputError(name, wanted, "is not a number that a " + std::string(kind) + " has");
  };
  for (const auto& [field, value] : numbers) element->set_field(place_of(info.fields, field), value);
  for (const auto& [column, values] : columns) element->set_column(place_of(info.columns, column), values);
  return add_element(std::move(name), std::move(element), std::move(ports), std::move(senses), liquid);
}

int Network::add_element(std::string name, std::unique_ptr<Element> element, std::vector<int> ports,
                         std::vector<int> senses, int liquid) {
  require_free_name(name);
  const Shape shape = element->shape();
  const auto require_count = [&](std::size_t given, int wanted, const char* what) {
    if (static_cast<int>(given) != wanted)
      throw InputError(name, what, "a " + std::string(element->kind()) + " takes " + std::to_string(wanted) +
                                       ", not " + std::to_string(given));
  };
  require_count(ports.size(), shape.ports, "ports");
  require_count(senses.size(), shape.senses, "senses");
  for (const auto* list : {&ports, &senses})
    for (int junction : *list)
      if (junction < 0 || junction >= junction_count_)
        throw InputError(name, "junction", "number " + std::to_string(junction) + " does not exist");
  for (std::size_t a = 0; a < ports.size(); ++a)
    for (std::size_t b = a + 1; b < ports.size(); ++b)
      if (ports[a] == ports[b])
        throw InputError(name, "ports", "both ends meet junction '" + junction_name(ports[a]) +
                                            "'; a part needs different junctions at its ends");
  element->validate(name);
  PartEntry entry;
  entry.name = std::move(name);
  entry.element = std::move(element);
  entry.ports = std::move(ports);
  entry.senses = std::move(senses);
  entry.liquid = liquid;
  const int index = part_count_++;
  part_index_.push_back(index);
  named_.emplace(entry.name, Named{true, index});
  parts_.push_back(std::move(entry));
  return index;
}

int Network::junction(std::string_view name) const {
  const auto found = named_.find(std::string(name));
  if (found != named_.end() && !found->second.is_part) return found->second.index;
  if (const auto row = row_junction(name)) return *row;
  throw InputError(name, "junction", "there is no junction of that name");
}
int Network::part(std::string_view name) const {
  const auto found = named_.find(std::string(name));
  if (found != named_.end() && found->second.is_part && found->second.index >= 0) return found->second.index;
  if (const auto row = row_part(name)) return *row;
  throw InputError(name, "part", "there is no part of that name");
}

void Network::require_well_posed() const {
  if (liquids_.empty()) throw InputError("circuit", "liquid", "no liquid is given");
  if (part_count_ == 0) throw InputError("circuit", "parts", "has no parts; nothing to solve");
  const auto liquid_exists = [&](int index) { return index >= 0 && index < static_cast<int>(liquids_.size()); };
  for (const PartEntry& part : parts_)
    if (!liquid_exists(part.liquid)) throw InputError(part.name, "liquid", "does not exist");
  for (const auto& lines : line_rows_)
    if (!liquid_exists(lines->liquid)) throw InputError(lines->names.prefix, "liquid", "does not exist");
  for (const Junction& junction : junctions_)
    if (junction.kind == JunctionKind::tank && !liquid_exists(junction.liquid))
      throw InputError(junction.name, "liquid", "does not exist");

  // Islands of junctions joined by parts; each needs a fixed pressure somewhere.
  const auto count = static_cast<std::size_t>(junction_count_);
  std::vector<int> island(count);
  std::iota(island.begin(), island.end(), 0);
  const auto root = [&](int i) {
    while (island[static_cast<std::size_t>(i)] != i) {
      int& up = island[static_cast<std::size_t>(i)];
      i = up = island[static_cast<std::size_t>(up)];  // halves the way for whoever comes next
    }
    return i;
  };
  std::vector<bool> joined(count, false), sensed(count, false);
  const auto join = [&](int port, int first) {
    joined[static_cast<std::size_t>(port)] = true;
    island[static_cast<std::size_t>(root(port))] = root(first);
  };
  for (const PartEntry& part : parts_) {
    for (int port : part.ports) join(port, part.ports.front());
    for (int sense : part.senses) sensed[static_cast<std::size_t>(sense)] = true;
  }
  for (const auto& lines : line_rows_)
    for (std::size_t row = 0; row < lines->from.size(); ++row) {
      join(lines->from[row], lines->from[row]);
      join(lines->to[row], lines->from[row]);
    }
  std::vector<bool> held(count, false), free(count, true);
  for (std::size_t i = 0; i < junctions_.size(); ++i) {
    if (junctions_[i].kind == JunctionKind::free) continue;
    free[static_cast<std::size_t>(junction_index_[i])] = false;
    held[static_cast<std::size_t>(root(junction_index_[i]))] = true;
  }
  for (std::size_t i = 0; i < count; ++i) {
    const int junction = static_cast<int>(i);
    if (!free[i]) continue;
    if (!joined[i])
      throw InputError(junction_name(junction), "", sensed[i] ? "is sensed by a device but no part connects to it"
                                                              : "no part connects to it");
    if (!held[static_cast<std::size_t>(root(junction))])
      throw InputError(junction_name(junction), "",
                       "has no path to a fixed pressure: nothing sets the level of pressure in this part of the "
                       "circuit; connect it to a tank or to open air");
  }
}

}  // namespace flarenut::network

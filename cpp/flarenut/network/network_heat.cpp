#include "flarenut/network/network_heat.hpp"

#include <algorithm>

#include "flarenut/network/network.hpp"

namespace flarenut::network {
namespace {

/// A heat law of a kind with these numbers; InputError naming the owner when it knows no number of that name.
std::unique_ptr<HeatElement> law_of(const std::string& owner, std::string_view kind, int streams, const Network::Numbers& numbers,
                                    const Network::Columns& columns) {
  auto law = make_heat_element(kind);
  if (law->streams() != streams)
    throw InputError(owner, "heat", "a " + std::string(kind) + (law->streams() == 1 ? " is for one stream" : " is between two streams"));
  const KindInfo info = law->info();
  const auto place_of = [&](const auto& list, const std::string& wanted) {
    const auto found = std::find_if(list.begin(), list.end(), [&](const auto& one) { return one.name == wanted; });
    if (found == list.end()) throw InputError(owner, wanted, "is not a number that a " + std::string(kind) + " has");
    return static_cast<int>(found - list.begin());
  };
  for (const auto& [field, value] : numbers) law->set_field(place_of(info.fields, field), value);
  for (const auto& [column, values] : columns) law->set_column(place_of(info.columns, column), values);
  law->validate(owner);
  return law;
}

/// Heat is put on what was added one by one, by its place there: beside rows that is not its index.
void require_no_rows(const Network& network, const char* what) {
  if (network.has_rows()) throw InputError("circuit", what, "temperatures are not followed through a network of rows; add its lines one by one");
}

template <class Vector>
auto& grown(Vector& vector, int index) {
  if (vector.size() <= static_cast<std::size_t>(index)) vector.resize(static_cast<std::size_t>(index) + 1);
  return vector[static_cast<std::size_t>(index)];
}

}  // namespace

JunctionHeat& NetworkHeat::junction(int index) { return grown(junctions, index); }
PartHeat& NetworkHeat::part(int index) { return grown(parts, index); }

const PartEntry& Network::entry_of(int part, const char* what) const {
  require_no_rows(*this, what);
  if (part < 0 || part >= part_count_) throw InputError("circuit", what, "part number " + std::to_string(part) + " does not exist");
  return parts_[static_cast<std::size_t>(part)];
}

void Network::add_heat_law(int part, std::string_view kind, const Numbers& numbers, const Columns& columns) {
  const PartEntry& entry = entry_of(part, "heat law");
  auto law = law_of(entry.name, kind, 1, numbers, columns);
  if (heat_.part(part).law) throw InputError(entry.name, "heat law", "is given twice");
  const auto fields = entry.element->info().fields;
  for (const FieldInfo& field : law->info().fields)
    if (std::any_of(fields.begin(), fields.end(), [&](const FieldInfo& own) { return own.name == field.name; }))
      throw InputError(entry.name, field.name, "is a number of the part and of its heat law: a " + std::string(kind) +
                                                   " does not go with a " + std::string(entry.element->kind()));
  for (std::string_view wanted : law->borrowed())
    if (std::none_of(fields.begin(), fields.end(), [&](const FieldInfo& own) { return own.name == wanted; }))
      throw InputError(entry.name, wanted, "is what a " + std::string(kind) + " asks of its part, and a " +
                                               std::string(entry.element->kind()) + " has none");
  heat_.part(part).law = std::move(law);
}

void Network::add_exchanger(std::string name, std::string_view kind, int first, int second, const Numbers& numbers, const Columns& columns) {
  entry_of(first, "exchanger");
  entry_of(second, "exchanger");
  require_free_name(name);
  if (first == second) throw InputError(name, "exchanger", "has the same part on both sides");
  for (const Exchanger& other : heat_.exchangers)
    for (int part : {first, second})
      if (other.first == part || other.second == part)
        throw InputError(name, "exchanger", "part '" + parts_[static_cast<std::size_t>(part)].name + "' already belongs to exchanger '" + other.name + "'");
  auto law = law_of(name, kind, 2, numbers, columns);
  named_.emplace(name, Named{true, -1});
  heat_.exchangers.push_back({std::move(name), std::move(law), first, second});
}

void Network::put_heat(int part, double watts, double efficiency, double capacity, double terminals) {
  entry_of(part, "heat");
  PartHeat& heat = heat_.part(part);
  heat.heat = watts;
  heat.efficiency = efficiency;
  heat.terminals = terminals;
  heat.capacity = capacity;
}

void Network::sense_temperature(int part, int junction) {
  entry_of(part, "temperature");
  if (junction < 0 || junction >= junction_count_) throw InputError("circuit", "temperature", "of a junction that does not exist");
  heat_.part(part).senses = junction;
}

void Network::put_heat_at(int junction, double watts, double conductance, double capacity) {
  require_no_rows(*this, "heat");
  if (junction < 0 || junction >= junction_count_) throw InputError("circuit", "heat", "at a junction that does not exist");
  JunctionHeat& heat = heat_.junction(junction);
  heat.heat = watts;
  heat.conductance = conductance;
  heat.capacity = capacity;
}

void Network::let_mix(int tank) {
  require_no_rows(*this, "temperature");
  if (tank < 0 || tank >= junction_count_ || junctions_[static_cast<std::size_t>(tank)].kind != JunctionKind::tank)
    throw InputError("circuit", "temperature", "is found from what returns in tanks only");
  heat_.junction(tank).mixes = true;
}

void Network::drain(int from, int to) {
  require_no_rows(*this, "drain");
  const auto exists = [&](int junction) { return junction >= 0 && junction < junction_count_; };
  if (!exists(from) || !exists(to)) throw InputError("circuit", "drain", "from or to a junction that does not exist");
  const auto kind = [&](int junction) { return junctions_[static_cast<std::size_t>(junction)].kind; };
  if (kind(from) == JunctionKind::free || kind(to) != JunctionKind::tank || from == to)
    throw InputError(junctions_[static_cast<std::size_t>(from)].name, "drain",
                     "leads from a place of given pressure (open air, a crankcase) or a tank to another tank");
  heat_.junction(from).drains_to = to;
}

}  // namespace flarenut::network

#include <algorithm>
#include <cmath>

#include "flarenut/network/kinds.hpp"
#include "flarenut/network/network.hpp"

// What a network does with rows: taking them in, finding them by name, and writing them out.

namespace flarenut::network {
namespace {

/// A column has a value for each row, or one for all.
void require_length(const std::string& prefix, std::string_view column, std::size_t given, int rows) {
  if (given == 1 || given == static_cast<std::size_t>(rows)) return;
  throw InputError(prefix, column, "has " + std::to_string(given) + " values for " + std::to_string(rows) +
                                       " rows; give one for each, or a single one for all");
}

/// Some bytes of each junction are kept beside what the caller gives, and indices are of type int.
constexpr int most_junctions = 100'000'000;

template <class Groups>
std::string name_in(const Groups& groups, int index) {
  for (const auto& group : groups)
    if (group->names.holds(index)) return group->names.name(index - group->names.first);
  return {};
}

template <class Groups>
std::optional<int> index_in(const Groups& groups, std::string_view name) {
  for (const auto& group : groups)
    if (const auto row = group->names.row(name)) return group->names.first + *row;
  return {};
}

template <class Entries>
const std::string* name_of_entry(const Entries& entries, const std::vector<int>& indices, int index) {
  const auto found = std::lower_bound(indices.begin(), indices.end(), index);
  if (found == indices.end() || *found != index) return nullptr;
  return &entries[static_cast<std::size_t>(found - indices.begin())].name;
}

}  // namespace

std::optional<int> Network::row_junction(std::string_view name) const { return index_in(junction_rows_, name); }
std::optional<int> Network::row_part(std::string_view name) const { return index_in(line_rows_, name); }

std::string Network::junction_name(int junction) const {
  const std::string* const own = name_of_entry(junctions_, junction_index_, junction);
  return own != nullptr ? *own : name_in(junction_rows_, junction);
}
std::string Network::part_name(int part) const {
  const std::string* const own = name_of_entry(parts_, part_index_, part);
  return own != nullptr ? *own : name_in(line_rows_, part);
}

/// No row of that prefix may bear a name that is taken, whatever its number.
void Network::require_free_prefix(const std::string& prefix) const {
  if (prefix.empty()) throw InputError("(unnamed)", "name", "is empty; rows are named after it");
  const auto refuse = [&] { throw InputError(prefix, "name", "is used twice; rows, parts and junctions need names of their own"); };
  for (const auto& rows : junction_rows_)
    if (rows->names.prefix == prefix) refuse();
  for (const auto& rows : line_rows_)
    if (rows->names.prefix == prefix) refuse();
  for (const auto& [name, place] : named_)
    if (name.starts_with(prefix + '[') && name.ends_with(']')) refuse();
}

int Network::add_junctions(std::string prefix, int count, std::vector<double> demand, std::vector<Position> position) {
  require_free_prefix(prefix);
  if (count < 1) throw InputError(prefix, "count", "is " + std::to_string(count) + "; give at least one row");
  if (count > most_junctions - junction_count_)
    throw InputError(prefix, "count", "is " + std::to_string(count) + "; a network has at most " + std::to_string(most_junctions) + " junctions");
  if (demand.empty()) demand.push_back(0.0);
  require_length(prefix, "demand", demand.size(), count);
  if (position.size() > 0) require_length(prefix, "position", position.size(), count);
  JunctionRows rows{{std::move(prefix), junction_count_, count}, RowColumn(std::move(demand)), {}};
  for (int row = 0; row < static_cast<int>(rows.demand.size()); ++row)
    if (const double value = rows.demand[row]; !(std::abs(value) <= most_demand))
      parts::require_in_range(rows.names.name(row), "demand", value, -most_demand, most_demand, "kg/s");
  constexpr double most_metres = 1e3;
  for (std::size_t row = 0; row < position.size(); ++row)
    for (double metres : position[row])
      if (!(std::abs(metres) <= most_metres))
        parts::require_in_range(rows.names.name(static_cast<int>(row)), "position", metres, -most_metres, most_metres, "m");
  if (position.size() == 1) position.resize(static_cast<std::size_t>(count), position.front());
  rows.position = std::move(position);
  junction_count_ += count;
  junction_rows_.emplace_back(std::move(rows));
  return junction_rows_.back()->names.first;
}

int Network::add_lines(std::string prefix, std::vector<int> from, std::vector<int> to, const Columns& numbers, int liquid) {
  require_free_prefix(prefix);
  const int count = static_cast<int>(from.size());
  if (count < 1) throw InputError(prefix, "from", "is empty; give at least one row");
  if (to.size() != from.size())
    throw InputError(prefix, "to", "has " + std::to_string(to.size()) + " values and from has " + std::to_string(count) + "; each line needs both");
  LineRows rows{{std::move(prefix), part_count_, count}, std::move(from), std::move(to), {}, liquid};
  const auto fields = make_element("line")->info().fields;
  for (std::size_t field = 0; field < fields.size(); ++field) rows.numbers[field] = RowColumn({fields[field].preset});
  for (const auto& [name, values] : numbers) {
    const auto field = std::find_if(fields.begin(), fields.end(), [&](const FieldInfo& one) { return one.name == name; });
    if (field == fields.end()) throw InputError(rows.names.prefix, name, "is not a number that a line has");
    require_length(rows.names.prefix, name, values.size(), count);
    rows.numbers[static_cast<std::size_t>(field - fields.begin())] = RowColumn(values);
  }
  for (int row = 0; row < count; ++row) {
    const int a = rows.from[static_cast<std::size_t>(row)], b = rows.to[static_cast<std::size_t>(row)];
    for (int junction : {a, b})
      if (junction < 0 || junction >= junction_count_)
        throw InputError(rows.names.name(row), "junction", "number " + std::to_string(junction) + " does not exist; there are " +
                                                               std::to_string(junction_count_) + ", counted from 0");
    if (a == b)
      throw InputError(rows.names.name(row), "ports", "both ends meet junction '" + junction_name(a) +
                                                          "'; a part needs different junctions at its ends");
    const auto spec = rows.spec(row);
    try {
      parts::validate({}, spec);  // names are made for those that are refused only
    } catch (const InputError&) {
      parts::validate(rows.names.name(row), spec);
      throw;
    }
  }
  part_count_ += count;
  line_rows_.emplace_back(std::move(rows));
  return line_rows_.back()->names.first;
}

void Network::set_row_demand(std::size_t group, int row, double value) {
  JunctionRows& rows = junction_rows_[group].own();
  rows.demand.set(row, rows.names.count, value);
}
void Network::set_row_number(std::size_t group, int row, std::size_t field, double value) {
  LineRows& rows = line_rows_[group].own();
  rows.numbers[field].set(row, rows.names.count, value);
}

Network Network::written_out() const {
  Network whole;
  whole.liquids_ = liquids_;
  std::size_t own = 0, group = 0;
  while (whole.junction_count_ < junction_count_) {
    if (own < junctions_.size() && junction_index_[own] == whole.junction_count_) {
      whole.add(junctions_[own++]);
      continue;
    }
    const JunctionRows& rows = *junction_rows_[group++];
    for (int row = 0; row < rows.names.count; ++row)
      whole.add_junction(rows.names.name(row), rows.position.empty() ? Position{} : rows.position[static_cast<std::size_t>(row)], rows.demand[row]);
  }
  own = group = 0;
  while (whole.part_count_ < part_count_) {
    if (own < parts_.size() && part_index_[own] == whole.part_count_) {
      const PartEntry& part = parts_[own++];
      whole.add_element(part.name, part.element->clone(), part.ports, part.senses, part.liquid);
      continue;
    }
    const LineRows& rows = *line_rows_[group++];
    for (int row = 0; row < rows.names.count; ++row) {
      auto line = make_element("line");
      for (std::size_t field = 0; field < rows.numbers.size(); ++field) line->set_field(static_cast<int>(field), rows.numbers[field][row]);
      const auto i = static_cast<std::size_t>(row);
      whole.add_element(rows.names.name(row), std::move(line), {rows.from[i], rows.to[i]}, {}, rows.liquid);
    }
  }
  return whole;
}

}  // namespace flarenut::network

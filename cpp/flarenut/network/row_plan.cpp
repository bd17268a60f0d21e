#include "flarenut/network/row_plan.hpp"

#include <algorithm>

#include "flarenut/network/kinds.hpp"
#include "flarenut/network/rest.hpp"
#include "flarenut/network/tank_numbers.hpp"

namespace flarenut::network {
namespace {

constexpr int temperature_field = LineRows::fields;  ///< after those of the spec
constexpr int numbers_per_line = LineRows::fields + 1;
constexpr const char* axes[] = {"x", "y", "z"};

const std::vector<FieldInfo>& line_fields() {
  static const std::vector<FieldInfo> fields = make_element("line")->info().fields;
  return fields;
}

int numbers_of(const Junction& junction) {
  return junction.kind == JunctionKind::tank ? static_cast<int>(tank_fields().size()) : 1;
}

std::string field_of(const Junction& junction, int field) {
  if (junction.kind == JunctionKind::tank) return std::string(tank_fields()[static_cast<std::size_t>(field)].name);
  return junction.kind == JunctionKind::free ? "demand" : "gauge";
}

}  // namespace

RowPlan::RowPlan(Network network) : network_(std::move(network)), own_junctions_(network_.junctions()) {
  network_.require_well_posed();
  for (std::size_t group = 0; group < network_.line_rows().size(); ++group)
    add_segment(What::lines, network_.line_rows()[group]->names.count, group, numbers_per_line);
  std::size_t own = 0, group = 0;
  for (int junction = 0; junction < network_.junction_count();) {
    if (own < own_junctions_.size() && network_.index_of_junction(own) == junction) {
      add_segment(What::own_junction, 1, own, numbers_of(own_junctions_[own]));
      ++own;
      ++junction;
      continue;
    }
    const int rows = network_.junction_rows()[group]->names.count;
    add_segment(What::demands, rows, group++);
    junction += rows;
  }
  add_segment(What::ambient, 1);
  add_segment(What::liquid_temperature, 1);
  add_segment(What::acceleration, 3);
  refresh_liquids();
}

void RowPlan::add_segment(What what, int rows, std::size_t owner, int each) {
  segments_.push_back({what, number_count_, rows * each, owner, each});
  number_count_ += rows * each;
}

const RowPlan::Segment& RowPlan::segment_of(int number) const {
  if (number < 0 || number >= number_count_) throw InputError("plan", "number", std::to_string(number) + " does not exist");
  return *std::prev(std::upper_bound(segments_.begin(), segments_.end(), number,
                                     [](int wanted, const Segment& segment) { return wanted < segment.first; }));
}

std::string RowPlan::name(int number) const {
  const Segment& segment = segment_of(number);
  const int row = segment.row(number), field = segment.field(number);
  switch (segment.what) {
    case What::lines:
      return network_.line_rows()[segment.owner]->names.name(row) + '.' +
             (field == temperature_field ? "temperature" : std::string(line_fields()[static_cast<std::size_t>(field)].name));
    case What::demands: return network_.junction_rows()[segment.owner]->names.name(row) + ".demand";
    case What::own_junction: return own_junctions_[segment.owner].name + '.' + field_of(own_junctions_[segment.owner], field);
    case What::ambient: return "ambient.pressure";
    case What::liquid_temperature: return "liquid.temperature";
    case What::acceleration: return std::string("acceleration.") + axes[row];
  }
  return {};
}

int RowPlan::index(const std::string& name) const {
  const auto dot = name.rfind('.');
  const std::string owner = name.substr(0, dot);
  for (const Segment& segment : segments_) {
    int row = 0;
    if (segment.what == What::lines || segment.what == What::demands) {
      const RowNames& names =
          segment.what == What::lines ? network_.line_rows()[segment.owner]->names : network_.junction_rows()[segment.owner]->names;
      const auto found = names.row(owner);
      if (!found) continue;
      row = *found;
    } else if (segment.what == What::own_junction && own_junctions_[segment.owner].name != owner) {
      continue;
    }
    const int first = segment.first + row * segment.each;
    const bool surrounding = segment.what == What::acceleration;
    for (int number = first; number < first + (surrounding ? segment.count : segment.each); ++number)
      if (this->name(number) == name) return number;
  }
  throw InputError(name, "number", "the circuit has no number of that name");
}

double RowPlan::get_own_junction(const Junction& junction, int field) const {
  if (junction.kind == JunctionKind::tank) return number_at(junction.tank, field);
  return junction.kind == JunctionKind::free ? junction.demand : junction.gauge;
}

double RowPlan::get(int number) const {
  const Segment& segment = segment_of(number);
  const int row = segment.row(number), field = segment.field(number);
  switch (segment.what) {
    case What::lines:
      return field == temperature_field ? liquid_temperature_
                                        : network_.line_rows()[segment.owner]->numbers[static_cast<std::size_t>(field)][row];
    case What::demands: return network_.junction_rows()[segment.owner]->demand[row];
    case What::own_junction: return get_own_junction(own_junctions_[segment.owner], field);
    case What::ambient: return ambient_;
    case What::liquid_temperature: return liquid_temperature_;
    case What::acceleration: return acceleration_[static_cast<std::size_t>(row)];
  }
  return 0.0;
}

bool RowPlan::holds(int number) const {
  const Segment& segment = segment_of(number);
  return segment.what != What::lines || segment.field(number) != temperature_field;
}

void RowPlan::set_own_junction(Junction& junction, int field, double value) {
  if (junction.kind == JunctionKind::tank) {
    parts::TankSpec<> changed = junction.tank;
    set_number_at(changed, field, value);
    parts::validate(junction.name, changed);
    junction.tank = changed;
  } else if (junction.kind == JunctionKind::free) {
    parts::require_in_range(junction.name, "demand", value, -most_demand, most_demand, "kg/s");
    junction.demand = value;
  } else {
    parts::require_in_range(junction.name, "gauge", value, least_gauge, most_gauge, "Pa");
    junction.gauge = value;
  }
}

void RowPlan::set(int number, double value) {
  const Segment& segment = segment_of(number);
  const int row = segment.row(number), field = segment.field(number);
  switch (segment.what) {
    case What::lines: {
      if (field == temperature_field) throw InputError(name(number), "", "a line kept in rows has the temperature of the liquid");
      const LineRows& lines = *network_.line_rows()[segment.owner];
      const double before = lines.numbers[static_cast<std::size_t>(field)][row];
      network_.set_row_number(segment.owner, row, static_cast<std::size_t>(field), value);
      try {
        parts::validate(lines.names.name(row), network_.line_rows()[segment.owner]->spec(row));
      } catch (const InputError&) {
        network_.set_row_number(segment.owner, row, static_cast<std::size_t>(field), before);
        throw;
      }
      break;
    }
    case What::demands:
      parts::require_in_range(network_.junction_rows()[segment.owner]->names.name(row), "demand", value, -most_demand, most_demand, "kg/s");
      network_.set_row_demand(segment.owner, row, value);
      break;
    case What::own_junction: set_own_junction(own_junctions_[segment.owner], field, value); break;
    case What::ambient: parts::require_in_range("ambient", "pressure", value, least_ambient, most_ambient, "Pa"), ambient_ = value; break;
    case What::liquid_temperature:
      parts::require_in_range("liquid", "temperature", value, least_temperature, most_temperature, "K");
      liquid_temperature_ = value;
      break;
    case What::acceleration:
      parts::require_in_range("acceleration", axes[row], value, -most_acceleration, most_acceleration, "m/s2");
      acceleration_[static_cast<std::size_t>(row)] = value;
      break;
  }
  if (segment.what == What::ambient || segment.what == What::liquid_temperature) refresh_liquids();
  ++version_;
}

void RowPlan::refresh_liquids() {
  liquid_states_.clear();
  for (const fluids::Liquid& liquid : network_.liquids())
    liquid_states_.push_back(liquid.at(Temperature<>::from_value(liquid_temperature_), AbsolutePressure<>::from_value(ambient_)));
}

const LiquidState<>& RowPlan::liquid_in(int line) const {
  for (const auto& lines : network_.line_rows())
    if (lines->names.holds(line)) return liquid_states_[static_cast<std::size_t>(lines->liquid)];
  throw InputError("plan", "line", std::to_string(line) + " does not exist");
}

PlainCircuit RowPlan::circuit() const {
  PlainCircuit circuit;
  const auto junctions = static_cast<std::size_t>(network_.junction_count());
  circuit.place.assign(junctions, 0);
  bool raised = false;
  for (const auto& rows : network_.junction_rows()) raised = raised || !rows->position.empty();
  for (const Junction& junction : own_junctions_) raised = raised || junction.position != Position{};
  for (std::size_t own = 0; own < own_junctions_.size(); ++own)
    if (own_junctions_[own].kind != JunctionKind::free) circuit.place[static_cast<std::size_t>(network_.index_of_junction(own))] = -1;
  for (int& place : circuit.place)
    if (place == 0) place = circuit.unknowns++;
  int next = circuit.unknowns;
  for (int& place : circuit.place)
    if (place < 0) place = next++;
  const auto lines = static_cast<std::size_t>(network_.part_count());
  circuit.from.reserve(lines);
  circuit.to.reserve(lines);
  for (const auto& rows : network_.line_rows()) {
    for (int junction : rows->from) circuit.from.push_back(circuit.place[static_cast<std::size_t>(junction)]);
    for (int junction : rows->to) circuit.to.push_back(circuit.place[static_cast<std::size_t>(junction)]);
  }
  circuit.held.resize(junctions - static_cast<std::size_t>(circuit.unknowns));
  circuit.demand.resize(static_cast<std::size_t>(circuit.unknowns));
  circuit.lines.reserve(lines);
  if (raised) circuit.head.resize(lines);
  update(circuit);
  return circuit;
}

void RowPlan::update(PlainCircuit& circuit) const {
  const auto place = [&](int junction) { return circuit.place[static_cast<std::size_t>(junction)]; };
  std::vector<Position> position(circuit.head.empty() ? 0 : circuit.place.size());
  for (const auto& rows : network_.junction_rows())
    for (int row = 0; row < rows->names.count; ++row) {
      const int junction = rows->names.first + row;
      circuit.demand[static_cast<std::size_t>(place(junction))] = rows->demand[row];
      if (!position.empty() && !rows->position.empty()) position[static_cast<std::size_t>(junction)] = rows->position[static_cast<std::size_t>(row)];
    }
  for (std::size_t own = 0; own < own_junctions_.size(); ++own) {
    const Junction& junction = own_junctions_[own];
    const int index = network_.index_of_junction(own);
    if (!position.empty()) position[static_cast<std::size_t>(index)] = junction.position;
    if (junction.kind == JunctionKind::free)
      circuit.demand[static_cast<std::size_t>(place(index))] = junction.demand;
    else
      circuit.held[static_cast<std::size_t>(place(index) - circuit.unknowns)] =
          pressure_held_at(junction, ambient_, density_of(junction.liquid), acceleration_);
  }
  circuit.lines.clear();
  double heaviest = 0.0;
  for (const auto& rows : network_.line_rows()) {
    const LiquidState<>& liquid = liquid_states_[static_cast<std::size_t>(rows->liquid)];
    heaviest = std::max(heaviest, liquid.density.value());
    for (int row = 0; row < rows->names.count; ++row) {
      if (!circuit.head.empty()) {
        const Position& a = position[static_cast<std::size_t>(rows->from[static_cast<std::size_t>(row)])];
        const Position& b = position[static_cast<std::size_t>(rows->to[static_cast<std::size_t>(row)])];
        circuit.head[circuit.lines.size()] = -gravity_head({b[0] - a[0], b[1] - a[1], b[2] - a[2]}, liquid.density.value(), acceleration_);
      }
      circuit.lines.emplace_back(rows->spec(row), liquid);
    }
  }
  circuit.ambient = ambient_;
  circuit.flow_scale = volume_flow_scale * heaviest;
}

Plan RowPlan::written_out() const {
  Plan plan(network_);
  std::vector<std::pair<int, double>> changed;
  for (const Segment& segment : segments_) {
    if (segment.what == What::lines || segment.what == What::demands) continue;  // the rows themselves hold what was set
    for (int number = segment.first; number < segment.first + segment.count; ++number) changed.emplace_back(number, get(number));
  }
  plan.set_many(changed);
  plan.refresh();
  return plan;
}

}  // namespace flarenut::network

#include <algorithm>
#include <limits>
#include <numbers>

#include "flarenut/analysis/heat_system.hpp"
#include "flarenut/units/trade_units.hpp"

// What of a plan never changes: which junctions have temperatures to be found, and where every part writes in the matrix.

namespace flarenut::analysis {

using network::HeatSide;
using network::JunctionKind;

HeatSystem::HeatSystem(Plan& plan, FlowSystem& flow) : plan_(plan), flow_(flow), matrix_(0, {}), warmth_(0, {}) {
  find_nodes();
  note_parts();
  lay_out_matrix();
  size_vectors();
}

double HeatSystem::potential(int junction) const {
  const auto& position = plan_.junction_state(junction).position;
  const auto& pushed = plan_.acceleration();
  return pushed[0] * position[0] + pushed[1] * position[1] + (trade::standard_gravity_value + pushed[2]) * position[2];
}

/// Whose temperature is to be found, and what liquid stands where.
void HeatSystem::find_nodes() {
  const HeatSide& heat = *plan_.heat();
  const auto junctions = static_cast<std::size_t>(plan_.junction_count());
  const auto& branches = plan_.branches();
  pressures_ = plan_.unknown_count();
  liquid_.assign(junctions, -1);
  for (std::size_t b = 0; b < branches.size(); ++b)
    for (int port = 0; port < branches[b].ports; ++port) {
      int& liquid = liquid_[static_cast<std::size_t>(branches[b].junction[static_cast<std::size_t>(port)])];
      const int own = plan_.network().parts()[b].liquid;
      if (liquid >= 0 && liquid != own)
        throw InputError(plan_.network().parts()[b].name, "liquid", "is another than that of its neighbour; liquids do not mix here");
      liquid = own;
    }
  row_.assign(junctions, -1);
  held_.assign(junctions, 0);
  span_.assign(junctions, {});
  for (std::size_t j = 0; j < junctions; ++j) {
    const auto& junction = plan_.junction_state(static_cast<int>(j));
    if (liquid_[j] < 0) continue;
    const auto limit = plan_.network().liquids()[static_cast<std::size_t>(liquid_[j])].outer_limit();
    span_[j] = {limit.least_kelvin, limit.most_kelvin};
    const bool found = junction.kind == JunctionKind::free || heat.junction(static_cast<int>(j)).mixes;
    if (!found || heat.node_of(static_cast<int>(j)) != static_cast<int>(j)) continue;
    row_[j] = pressures_ + nodes_++;
    node_junction_.push_back(static_cast<int>(j));
  }
  for (std::size_t j = 0; j < junctions; ++j) {
    const int node = heat.node_of(static_cast<int>(j));
    if (node != static_cast<int>(j)) row_[j] = row_[static_cast<std::size_t>(node)];
  }
  for (std::size_t j = 0; j < junctions; ++j) {
    tanks_.push_back(liquid_[j] >= 0 && plan_.junction_state(static_cast<int>(j)).kind == JunctionKind::tank);
    node_.push_back(heat.node_of(static_cast<int>(j)));
  }
}

/// What each part is to the balance of heat.
void HeatSystem::note_parts() {
  const HeatSide& heat = *plan_.heat();
  const auto& branches = plan_.branches();
  slots_.resize(branches.size());
  needs_heat_.assign(branches.size(), 0);
  for (const fluids::Liquid& liquid : plan_.network().liquids()) tables_.push_back(std::make_shared<fluids::PropertyTable>(liquid));
  for (const network::PartEntry& part : plan_.network().parts()) {
    const network::Shape shape = part.element->shape();
    pumps_.push_back(shape.ports == 2 && shape.flows == 1 && part.element->kind().ends_with("pump"));
  }
  for (std::size_t b = 0; b < branches.size(); ++b) {
    Slots& slots = slots_[b];
    const Branch& branch = branches[b];
    slots.junction.fill(-1);
    for (int port = 0; port < branch.ports; ++port) slots.junction[static_cast<std::size_t>(port)] = branch.junction[static_cast<std::size_t>(port)];
    slots.junction[P] = heat.part(static_cast<int>(b)).senses;
    needs_heat_[b] = static_cast<bool>(heat.part(static_cast<int>(b)).law);
  }
  for (std::size_t b = 0; b < branches.size(); ++b)
    if (needs_heat_[b] || pumps_[b]) lawful_.push_back(static_cast<int>(b));
  for (std::size_t b = 0; b < branches.size(); ++b)
    if (flow_.field().place_of(static_cast<int>(b)) < 0) beside_field_.push_back(static_cast<int>(b));
  for (const network::Exchanger& exchanger : heat.exchangers())
    for (int part : {exchanger.first, exchanger.second}) needs_heat_[static_cast<std::size_t>(part)] = 1;
}

/// Every part couples the pressures it feels and the temperatures it looks at to the mass and the energy of its ports; an exchanger, those of
/// one side to the energy of the other.
void HeatSystem::lay_out_matrix() {
  const HeatSide& heat = *plan_.heat();
  const auto& branches = plan_.branches();
  std::vector<solver::FixedLU::Entry> entries;
  const auto each_entry = [&](std::size_t rows_of, std::size_t columns_of, bool mass_too, auto&& visit) {
    const Branch& rows = branches[rows_of];
    const Branch& columns = branches[columns_of];
    const auto column = [&](auto&& use) {
      for (int i = 0; i < columns.pressures(); ++i) use(columns.unknown[static_cast<std::size_t>(i)]);
      for (int j : slots_[columns_of].junction) use(j < 0 ? -1 : row_[static_cast<std::size_t>(j)]);
    };
    if (mass_too)
      for (int port = 0; port < rows.ports; ++port) column([&](int c) { visit(rows.unknown[static_cast<std::size_t>(port)], c); });
    for (int port = 0; port < rows.ports; ++port)
      column([&](int c) { visit(row_[static_cast<std::size_t>(rows.junction[static_cast<std::size_t>(port)])], c); });
  };
  const auto collect = [&](int row, int column) {
    if (row >= 0 && column >= 0) entries.emplace_back(row, column);
  };
  for (std::size_t b = 0; b < branches.size(); ++b) each_entry(b, b, true, collect);
  for (const network::Exchanger& exchanger : heat.exchangers()) {
    each_entry(static_cast<std::size_t>(exchanger.first), static_cast<std::size_t>(exchanger.second), false, collect);
    each_entry(static_cast<std::size_t>(exchanger.second), static_cast<std::size_t>(exchanger.first), false, collect);
  }
  const int size = pressures_ + nodes_;
  std::vector<solver::FixedLU::Entry> warm;
  for (const auto& [row, column] : entries)
    if (row >= pressures_ && column >= pressures_) warm.emplace_back(row - pressures_, column - pressures_);
  for (int node = 0; node < nodes_; ++node) warm.emplace_back(node, node);
  std::sort(warm.begin(), warm.end());
  warm.erase(std::unique(warm.begin(), warm.end()), warm.end());
  matrix_ = solver::FixedLU(size, std::move(entries));
  warmth_ = solver::FixedLU(nodes_, warm);
  for (const auto& [row, column] : warm)
    warmth_places_.emplace_back(matrix_.place(pressures_ + row, pressures_ + column), warmth_.place(row, column));
  const auto place = [&](int row, int column) { return row < 0 || column < 0 ? matrix_.spare() : matrix_.place(row, column); };
  for (std::size_t b = 0; b < branches.size(); ++b)
    each_entry(b, b, true, [&](int row, int column) { slots_[b].place.push_back(place(row, column)); });
  for (const network::Exchanger& exchanger : heat.exchangers()) {
    const auto first = static_cast<std::size_t>(exchanger.first), second = static_cast<std::size_t>(exchanger.second);
    each_entry(first, second, false, [&](int row, int column) { exchanger_slots_.push_back(place(row, column)); });
    each_entry(second, first, false, [&](int row, int column) { exchanger_slots_.push_back(place(row, column)); });
  }
  for (int i = 0; i < size; ++i) diagonal_.push_back(matrix_.place(i, i));
}

namespace {

/// Whether its density comes from a table, as a liquid or as a part of a blend.
bool has_tabled_density(const fluids::Liquid& liquid) {
  const auto tabled = [](const fluids::LiquidRecord& record) {
    return std::holds_alternative<fluids::Table>(record[fluids::PropertyName::density].law);
  };
  const auto& blend = liquid.blend();
  return tabled(liquid.record()) || (blend && tabled(blend->alcohol));
}

}  // namespace

void HeatSystem::size_vectors() {
  const auto junctions = static_cast<std::size_t>(plan_.junction_count()), parts = plan_.branches().size();
  measure_contents();
  level_.resize(plan_.network().liquids().size());
  temperature_.assign(junctions, plan_.liquid_temperature());
  for (auto* by_junction : {&before_, &enthalpy_, &specific_heat_, &energy_per_kelvin_, &per_pressure_, &potential_, &pull_, &held_by_kelvin_,
                            &node_residual_, &step_pressure_, &step_temperature_})
    by_junction->assign(junctions, 0.0);
  mean_.assign(parts, plan_.liquid_temperature());
  constexpr double never = std::numeric_limits<double>::quiet_NaN();
  asked_.assign(parts, never);
  asked_at_.assign(junctions, never);
  stood_ = pressed_ = asked_at_;
  carried_at_.assign(junctions, carried);
  for (std::size_t j = 0; j < junctions; ++j)
    if (liquid_[j] >= 0 && has_tabled_density(plan_.network().liquids()[static_cast<std::size_t>(liquid_[j])])) carried_at_[j] = carried_in_table;
  liquid_in_.resize(parts);
  heat_in_.resize(parts);
  legs_.resize(parts);
  said_.resize(parts);
  step_mean_.assign(parts, 0.0);
  right_side_.assign(static_cast<std::size_t>(pressures_ + nodes_) + 1, 0.0);
  step_ = right_side_;
  step_flow_.assign(static_cast<std::size_t>(plan_.flow_count()), 0.0);
}

void HeatSystem::measure_contents() {
  content_.clear();
  for (const network::PartEntry& part : plan_.network().parts()) {
    double bore = 0.0, length = 0.0;
    const auto fields = part.element->info().fields;
    for (std::size_t f = 0; part.element->kind() == "line" && f < fields.size(); ++f) {
      if (fields[f].name == "bore") bore = part.element->field(static_cast<int>(f));
      if (fields[f].name == "length") length = part.element->field(static_cast<int>(f));
    }
    content_.push_back(0.25 * std::numbers::pi * bore * bore * length);
  }
}

}  // namespace flarenut::analysis

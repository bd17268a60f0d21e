#include <algorithm>
#include <cmath>

#include "flarenut/analysis/heat_system.hpp"

// Newton's step of everything: found from what all parts leave in the matrix, and taken.

namespace flarenut::analysis {

using network::HeatSide;

bool HeatSystem::find_step(Moving moving) {
  std::fill(matrix_.values().begin(), matrix_.values().end(), 0.0);
  std::fill(right_side_.begin(), right_side_.end(), 0.0);
  const HeatSide& heat = *plan_.heat();
  double* const values = matrix_.values().data();
  for (int i = 0; i < pressures_ && moving == Moving::all; ++i)
    right_side_[static_cast<std::size_t>(i)] = -flow_.imbalances()[static_cast<std::size_t>(i)];
  for (int node = 0; node < nodes_; ++node) {
    const int junction = node_junction_[static_cast<std::size_t>(node)];
    const auto j = static_cast<std::size_t>(junction);
    const auto row = static_cast<std::size_t>(pressures_ + node);
    if (held_[j]) {
      values[diagonal_[row]] = 1.0;
      continue;
    }
    right_side_[row] = -node_residual_[j];
    const network::JunctionHeat& here = heat.junction(junction);
    double slope = here.conductance;
    const double supply = std::max(0.0, -plan_.demand(junction));
    slope += supply * energy_per_kelvin_[j];
    if (time_step_ > 0.0) slope += capacity_at(junction) / time_step_;
    values[diagonal_[row]] -= slope;
  }
  assemble_drops(moving);
  for (int part : beside_field_) {
    eliminate(static_cast<std::size_t>(part), moving);
    assemble_part(static_cast<std::size_t>(part), moving);
  }
  assemble_exchangers(moving);
  return moving == Moving::all ? solve_matrix(false) : solve_temperatures();
}

bool HeatSystem::find_step_again() {
  for (int i = 0; i < pressures_; ++i) right_side_[static_cast<std::size_t>(i)] = -flow_.imbalances()[static_cast<std::size_t>(i)];
  for (int node = 0; node < nodes_; ++node)
    right_side_[static_cast<std::size_t>(pressures_ + node)] = -node_residual_[static_cast<std::size_t>(node_junction_[static_cast<std::size_t>(node)])];
  for (std::size_t b = 0; b < legs_.size(); ++b) shift_again(b);
  return solve_matrix(true);
}

/// With pressures as they are only the rows and columns of temperatures are left.
bool HeatSystem::solve_temperatures() {
  for (const auto& [from, to] : warmth_places_) warmth_.values()[static_cast<std::size_t>(to)] = matrix_.values()[static_cast<std::size_t>(from)];
  std::fill(step_.begin(), step_.begin() + pressures_, 0.0);
  warmth_.factorise();
  return warmth_.solve(right_side_.data() + pressures_, step_.data() + pressures_);
}

bool HeatSystem::solve_matrix(bool factorised) {
  // As in `FlowSystem`: a poor linear solve shows in the balance of masses, and the next one is looked after.
  careful_ = careful_ || flow_.mass_error() > 1e-8;
  const bool sound = factorised || matrix_.factorise();
  if (sound && !careful_ && matrix_.listed()) matrix_.solve_unchecked(right_side_.data(), step_.data());
  else if (!matrix_.solve(right_side_.data(), step_.data())) return false;
  double nothing = 0.0;  // not a number as soon as one change is none
  for (double change : step_) nothing += 0.0 * change;
  return nothing == 0.0;
}

/// Changes of a part's flows, and of its mean temperature, that go with those of pressures and temperatures.
void HeatSystem::find_changes(std::size_t b, Moving moving) {
  const Branch& branch = plan_.branches()[b];
  const Leg& leg = legs_[b];
  const int senses = slots_[b].junction[P];
  const double sensed = senses < 0 ? 0.0 : step_temperature_[static_cast<std::size_t>(senses)];
  const int pressures = moving == Moving::all ? branch.pressures() : 0;
  const auto changed = [&](std::size_t row) {
    double change = leg.shift[row] + leg.by_temperature[row][P] * sensed;
    for (int i = 0; i < pressures; ++i)
      change += leg.by_pressure[row][static_cast<std::size_t>(i)] * step_pressure_[static_cast<std::size_t>(branch.junction[static_cast<std::size_t>(i)])];
    for (std::size_t t = 0; t < static_cast<std::size_t>(branch.ports); ++t)
      change += leg.by_temperature[row][t] * step_temperature_[static_cast<std::size_t>(branch.junction[t])];
    return change;
  };
  if (moving == Moving::all)
    for (std::size_t f = 0; f < static_cast<std::size_t>(branch.flows); ++f) step_flow_[static_cast<std::size_t>(branch.first_flow) + f] = changed(f);
  step_mean_[b] = changed(F);
}

void HeatSystem::take_step(Moving moving, double most_kelvin, double share) {
  double largest = 0.0;
  for (int node = 0; node < nodes_; ++node) largest = std::max(largest, std::abs(step_[static_cast<std::size_t>(pressures_ + node)]));
  const double length = share * (largest > most_kelvin ? most_kelvin / largest : 1.0);
  for (std::size_t j = 0; j < temperature_.size(); ++j) {
    step_temperature_[j] = row_[j] < 0 ? 0.0 : step_[static_cast<std::size_t>(row_[j])];
    if (row_[j] >= 0) temperature_[j] = std::clamp(temperature_[j] + length * step_temperature_[j], span_[j].least, span_[j].most);
  }
  if (moving == Moving::all)
    for (int i = 0; i < pressures_; ++i) step_pressure_[static_cast<std::size_t>(plan_.junction_of(i))] = step_[static_cast<std::size_t>(i)];
  for (const DropField::Part& part : flow_.field().parts()) find_drop_changes(part, moving);
  for (int part : beside_field_) find_changes(static_cast<std::size_t>(part), moving);
  for (std::size_t b = 0; b < legs_.size(); ++b) {
    const Span& span = span_[static_cast<std::size_t>(plan_.branches()[b].junction[0])];
    mean_[b] = std::clamp(mean_[b] + std::clamp(length * step_mean_[b], -most_kelvin, most_kelvin), span.least, span.most);
  }
  if (moving == Moving::all) flow_.take_step(step_pressure_, step_flow_, length);
  warmed_ = false;
}

}  // namespace flarenut::analysis

#include "flarenut/network/plan.hpp"

#include <algorithm>

#include "flarenut/network/rest.hpp"

namespace flarenut::network {

Plan::Plan(Network network)
    : network_(network.has_rows() ? network.written_out() : std::move(network)), junctions_(network_.junctions()) {
  network_.require_well_posed();
  part_temperature_.resize(network_.parts().size());
  tank_temperature_.resize(junctions_.size());
  if (network_.follows_heat()) {
    heat_.emplace(network_);
    follows_heat_ = true;
  }
  stale_.assign(network_.parts().size(), 0);
  renewed_at_.assign(network_.parts().size(), 0);
  for (const PartEntry& part : network_.parts()) has_check_.push_back(part.element->has_check());
  liquid_in_.resize(network_.parts().size());
  held_pressure_.assign(junctions_.size(), ambient_);
  unknown_of_.assign(junctions_.size(), -1);
  for (std::size_t j = 0; j < junctions_.size(); ++j)
    if (junctions_[j].kind == JunctionKind::free) {
      unknown_of_[j] = static_cast<int>(unknown_junction_.size());
      unknown_junction_.push_back(static_cast<int>(j));
    }
  lay_out_branches();
  name_numbers();
  refresh();
}

void Plan::lay_out_branches() {
  for (const PartEntry& part : network_.parts()) {
    const Shape shape = part.element->shape();
    Branch branch;
    branch.ports = shape.ports;
    branch.senses = shape.senses;
    branch.flows = shape.flows;
    branch.first_flow = flow_count_;
    branch.has_limit = part.element->has_limit();
    for (int i = 0; i < branch.pressures(); ++i) {
      const auto k = static_cast<std::size_t>(i);
      const int junction = i < shape.ports ? part.ports[k] : part.senses[k - part.ports.size()];
      branch.junction[k] = junction;
      branch.unknown[k] = unknown_of(junction);
      if (!part.element->wet(i)) continue;
      const Position& here = junctions_[static_cast<std::size_t>(junction)].position;
      const Position& origin = junctions_[static_cast<std::size_t>(part.ports.front())].position;
      for (std::size_t axis = 0; axis < 3; ++axis) branch.reach[k][axis] = here[axis] - origin[axis];
    }
    for (int port = 0; port < shape.ports; ++port)
      for (int flow = 0; flow < shape.flows; ++flow)
        branch.inflow[static_cast<std::size_t>(port * shape.flows + flow)] =
            static_cast<signed char>(part.element->inflow(port, flow));
    flow_count_ += shape.flows;
    branches_.push_back(branch);
  }
}

double Plan::temperature_of_part(int part) const {
  return part_temperature_[static_cast<std::size_t>(part)].value_or(liquid_temperature_);
}

LiquidState<> Plan::liquid_at(int liquid, double kelvin) const {
  return network_.liquids()[static_cast<std::size_t>(liquid)].at(Temperature<>::from_value(kelvin),
                                                                 AbsolutePressure<>::from_value(ambient_));
}

LiquidState<> Plan::whole_liquid_in(int part) const {
  return heat() == nullptr ? liquid_in(part) : liquid_at(network_.parts()[static_cast<std::size_t>(part)].liquid, temperature_of_part(part));
}

void Plan::hold(std::size_t j) {
  const Junction& junction = junctions_[j];
  const bool tank = junction.kind == JunctionKind::tank;
  const double density = tank ? liquid_at(junction.liquid, tank_temperature_[j].value_or(liquid_temperature_)).density.value() : 0.0;
  held_pressure_[j] = pressure_held_at(junction, ambient_, density, acceleration_);
}

void Plan::mark_stale(std::size_t part) {
  any_stale_ = true;
  if (stale_[part]) return;
  stale_[part] = 1;
  stale_parts_.push_back(static_cast<int>(part));
}

void Plan::renew(std::size_t part) {
  element(static_cast<int>(part)).prepare(liquid_in_[part]);
  stale_[part] = 0;
  renewed_at_[part] = ++renewals_;
}

void Plan::lift(std::size_t part) {
  Branch& branch = branches_[part];
  const double density = liquid_in_[part].density.value();
  for (std::size_t i = 1; i < static_cast<std::size_t>(branch.pressures()); ++i)  // the first is where heights are counted from
    branch.head[i] = -(density * branch.lift[i]);
}

void Plan::follow_heat(bool follow) {
  if (!heat_ || follow == follows_heat_) return;
  follows_heat_ = follow;
  forget_temperatures();
}

void Plan::forget_temperatures() {
  std::fill(part_temperature_.begin(), part_temperature_.end(), std::nullopt);
  std::fill(tank_temperature_.begin(), tank_temperature_.end(), std::nullopt);
  all_stale_ = any_stale_ = true;
}

void Plan::level_temperatures(const std::vector<double>& kelvin) {
  for (std::size_t p = 0; p < part_temperature_.size(); ++p) part_temperature_[p] = kelvin[static_cast<std::size_t>(network_.parts()[p].liquid)];
  for (std::size_t j = 0; j < tank_temperature_.size(); ++j)
    if (junctions_[j].kind == JunctionKind::tank) tank_temperature_[j] = kelvin[static_cast<std::size_t>(junctions_[j].liquid)];
  all_stale_ = any_stale_ = true;
}

void Plan::warm(int part, double kelvin, double density, double viscosity) {
  const auto p = static_cast<std::size_t>(part);
  part_temperature_[p] = kelvin;
  liquid_in_[p].temperature = Temperature<>::from_value(kelvin);
  liquid_in_[p].density = Density<>::from_value(density);
  liquid_in_[p].viscosity = DynamicViscosity<>::from_value(viscosity);
  renew(p);
  lift(p);
  heads_at_ = renewals_;
}

void Plan::warm_tank(int junction, double kelvin) {
  const auto j = static_cast<std::size_t>(junction);
  if (tank_temperature_[j] == kelvin) return;
  tank_temperature_[j] = kelvin;
  hold(j);
}

void Plan::renew_with_liquids() {
  double heaviest = 0.0;
  heads_at_ = ++renewals_;
  // Most parts hold the liquid of the part before them, as warm: its properties are worked out once.
  int last_liquid = -1;
  double last_kelvin = 0.0;
  LiquidState<> last_state;
  for (std::size_t p = 0; p < branches_.size(); ++p) {
    if (!stale_[p] && !all_stale_) continue;
    if (all_stale_)
      for (std::size_t i = 1; i < static_cast<std::size_t>(branches_[p].pressures()); ++i)
        branches_[p].lift[i] = gravity_head(branches_[p].reach[i], 1.0, acceleration_);
    const PartEntry& part = network_.parts()[p];
    if (all_stale_ || part_temperature_[p]) {
      const double kelvin = temperature_of_part(static_cast<int>(p));
      if (part.liquid != last_liquid || kelvin != last_kelvin) last_state = liquid_at(part.liquid, kelvin);
      last_liquid = part.liquid;
      last_kelvin = kelvin;
      liquid_in_[p] = last_state;
    }
    renew(p);
    heaviest = std::max(heaviest, liquid_in_[p].density.value());
    lift(p);
  }
  if (all_stale_) flow_scale_ = volume_flow_scale * heaviest;
}

void Plan::refresh() {
  if (!any_stale_) return;
  if (heat_ && follows_heat_) heat_->prepare(network_, ambient_);
  const bool liquids_may_differ = all_stale_ || std::any_of(stale_parts_.begin(), stale_parts_.end(), [&](int part) {
    return part_temperature_[static_cast<std::size_t>(part)].has_value();
  });
  if (liquids_may_differ) renew_with_liquids();
  else for (int part : stale_parts_) renew(static_cast<std::size_t>(part));
  if (all_stale_ || tanks_stale_)
    for (std::size_t j = 0; j < junctions_.size(); ++j)
      if (all_stale_ || junctions_[j].kind == JunctionKind::tank) hold(j);
  stale_parts_.clear();
  all_stale_ = any_stale_ = tanks_stale_ = false;
}

}  // namespace flarenut::network

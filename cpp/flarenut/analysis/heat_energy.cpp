#include <algorithm>
#include <cmath>
#include <limits>

#include "flarenut/analysis/heat_system.hpp"

// What the streams carry, part by part, and the balance of every node.

namespace flarenut::analysis {

using network::HeatLinearisation;
using network::HeatSide;
using network::StreamPoint;

namespace {

/// In short steps of time a change of temperature is a small difference of large numbers, known to so much of them.
constexpr double rounding = 1e-6;

}  // namespace

void HeatSystem::evaluate_nodes() {
  at_limit_ = false;
  for (std::size_t j = 0; j < temperature_.size(); ++j) {
    if (liquid_[j] < 0) continue;
    const double pressure = flow_.pressures()[j], kelvin = temperature_[j];
    const fluids::PropertyTable& table = *tables_[static_cast<std::size_t>(liquid_[j])];
    if (exact_) {
      evaluate_node(j);
    } else {
      const auto state = table.warming(kelvin);
      const double gauge = pressure - fluids::reference_pressure_pascal;
      per_pressure_[j] = state.enthalpy_per_pressure;
      enthalpy_[j] = state.enthalpy + per_pressure_[j] * gauge;
      specific_heat_[j] = state.specific_heat;
      energy_per_kelvin_[j] = state.specific_heat + state.growth * gauge;
      asked_at_[j] = std::numeric_limits<double>::quiet_NaN();
    }
    stood_[j] = kelvin;
    pressed_[j] = pressure;
    if (tanks_[j]) held_by_kelvin_[j] = pull_[j] * table.flowing(kelvin).density_slope;
    const Span& span = span_[j];
    if ((kelvin <= span.least || kelvin >= span.most) && row_[j] >= 0 && !held_[j]) {
      at_limit_ = true;
      limit_node_ = static_cast<int>(j);
    }
  }
}

/// By the laws themselves, or carried on from what they said.
void HeatSystem::evaluate_node(std::size_t j) {
  // On its way an iterate may fall below absolute zero, where no liquid has an enthalpy: it goes on straight.
  const double pressure = flow_.pressures()[j], lowest = std::max(0.0, pressure);
  if (std::abs(temperature_[j] - asked_at_[j]) <= carried_at_[j]) {
    enthalpy_[j] += energy_per_kelvin_[j] * (temperature_[j] - stood_[j]) + per_pressure_[j] * (pressure - pressed_[j]);
    return;
  }
  const auto liquid = static_cast<std::size_t>(liquid_[j]);
  const auto state = plan_.network().liquids()[liquid].heat_at(Temperature<>::from_value(temperature_[j]), AbsolutePressure<>::from_value(lowest));
  enthalpy_[j] = state.enthalpy.value() + state.enthalpy_per_pressure.value() * (pressure - lowest);
  specific_heat_[j] = state.specific_heat.value();
  per_pressure_[j] = state.enthalpy_per_pressure.value();
  energy_per_kelvin_[j] = specific_heat_[j] + tables_[liquid]->warming(temperature_[j]).growth * (pressure - fluids::reference_pressure_pascal);
  asked_at_[j] = temperature_[j];
}

network::StreamPoint HeatSystem::stream_of(std::size_t b) const {
  const Leg& leg = legs_[b];
  return {leg.through, leg.inlet, leg.in[0] > 0.0 || leg.through <= 0.0, &liquid_in_[b], &heat_in_[b]};
}

/// What the law says of a part's stream; carried on along its slopes where the stream has hardly changed since.
void HeatSystem::ask_law(std::size_t b) {
  const Leg& leg = legs_[b];
  Said& said = said_[b];
  const StreamPoint stream = stream_of(b);
  const bool near = exact_ && std::abs(mean_[b] - said.mean) <= carried && std::abs(leg.inlet - said.inlet) <= carried &&
                    std::abs(leg.through - said.through) <= carried_flow * said.through && stream.forward == said.forward;
  if (near) return;
  HeatLinearisation says;
  plan_.heat()->part(static_cast<int>(b)).law->linearise(&stream, says);
  said = {leg.through, leg.inlet, exact_ ? mean_[b] : std::numeric_limits<double>::quiet_NaN(), stream.forward, says.heat, says.mean_share[0]};
}

void HeatSystem::evaluate_laws() {
  for (int part : lawful_) {
    const auto b = static_cast<std::size_t>(part);
    if (plan_.heat()->part(part).law) {
      ask_law(b);
      hear_law(b);
      follow_enthalpy(b);
    }
    if (pumps_[b]) evaluate_pump(b);
  }
}

/// Takes over what was said, here.
void HeatSystem::hear_law(std::size_t b) {
  Leg& leg = legs_[b];
  const Said& said = said_[b];
  const double flow = leg.through - said.through, inlet = leg.inlet - said.inlet;
  const double mean = std::isnan(said.mean) ? 0.0 : mean_[b] - said.mean;
  const auto here = [&](const network::HeatSlopes& number) {
    return number.value + number.by_flow[0] * flow + number.by_inlet[0] * inlet + number.by_mean[0] * mean;
  };
  leg.wall = here(said.heat);
  leg.heat += leg.wall;
  leg.heat_by_flow = said.heat.by_flow[0];
  leg.heat_by_inlet = said.heat.by_inlet[0];
  leg.heat_by_mean = said.heat.by_mean[0];
  leg.mean = here(said.share);
  leg.mean_by_through = said.share.by_flow[0];
  leg.mean_by_inlet = said.share.by_inlet[0];
  leg.mean_by_mean = said.share.by_mean[0];
}

/// The power that reaches the liquid.
void HeatSystem::evaluate_pump(std::size_t b) {
  const Branch& branch = plan_.branches()[b];
  const network::PartHeat& heat = plan_.heat()->part(static_cast<int>(b));
  Leg& leg = legs_[b];
  if (heat.terminals > 0.0) {
    if (leg.through > 0.0) leg.power = heat.terminals;
    return;
  }
  const double rise = flow_.pressures()[static_cast<std::size_t>(branch.junction[1])] + branch.head[1] -
                      flow_.pressures()[static_cast<std::size_t>(branch.junction[0])];
  const double flow = flow_.flows()[static_cast<std::size_t>(branch.first_flow)];
  if (!(flow * rise > 0.0)) return;
  const Dual<1>& density = liquid_in_[b].density.value();
  const double per_work = 1.0 / (density.value * heat.efficiency);
  leg.power_by_flow = rise * per_work;
  leg.power_by_rise = flow * per_work;
  leg.power = flow * leg.power_by_flow;
  leg.heat_by_mean -= leg.power * density.slope[0] / density.value;
}

void HeatSystem::evaluate_exchangers() {
  heated_.clear();
  for (const network::Exchanger& exchanger : plan_.heat()->exchangers()) {
    const std::array<int, 2> part{exchanger.first, exchanger.second};
    const std::array<StreamPoint, 2> streams{stream_of(static_cast<std::size_t>(part[0])), stream_of(static_cast<std::size_t>(part[1]))};
    HeatLinearisation says;
    exchanger.law->linearise(streams.data(), says);
    for (std::size_t side = 0; side < 2; ++side) {
      const double sign = side == 0 ? -1.0 : 1.0;  // what leaves the first warms the second
      const std::size_t other = 1 - side;
      Leg& leg = legs_[static_cast<std::size_t>(part[side])];
      leg.wall += sign * says.heat.value;
      leg.heat += sign * says.heat.value;
      leg.heat_by_flow += sign * says.heat.by_flow[side];
      leg.heat_by_inlet += sign * says.heat.by_inlet[side];
      leg.heat_by_mean += sign * says.heat.by_mean[side];
      leg.mean = says.mean_share[side].value;
      leg.mean_by_through = says.mean_share[side].by_flow[side];
      leg.mean_by_inlet = says.mean_share[side].by_inlet[side];
      leg.mean_by_mean = says.mean_share[side].by_mean[side];
      heated_.push_back({part[side], part[other], sign * says.heat.by_flow[other], sign * says.heat.by_inlet[other],
                         sign * says.heat.by_mean[other]});
    }
  }
}

void HeatSystem::balance() {
  const HeatSide& heat = *plan_.heat();
  std::fill(node_residual_.begin(), node_residual_.end(), 0.0);
  const bool timed = time_step_ > 0.0;
  double moved = 0.0;
  for (std::size_t b = 0; b < legs_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    const Leg& leg = legs_[b];
    const double put = leg.heat + leg.power;
    moved += std::abs(leg.heat) + std::abs(leg.power);
    if (branch.ports == 2 && leg.through > 0.0 && !timed) {  // from one end to the other
      const std::size_t down = leg.out[0] > 0.0 ? 0 : 1;
      const int from = branch.junction[1 - down], to = branch.junction[down], source = node_[static_cast<std::size_t>(from)];
      const auto into = static_cast<std::size_t>(node_[static_cast<std::size_t>(to)]), out_of = static_cast<std::size_t>(source);
      const double conducted = conduction * (temperature_[static_cast<std::size_t>(from)] - temperature_[static_cast<std::size_t>(to)]);
      node_residual_[into] += leg.through * (leg.energy - energy_of(node_[static_cast<std::size_t>(to)])) + put + conducted;
      node_residual_[out_of] -= (source == from ? 0.0 : leg.through * (energy_of(from) - energy_of(source))) + conducted;
      continue;
    }
    for (int port = 0; port < branch.ports; ++port) {
      const auto k = static_cast<std::size_t>(port);
      const int junction = branch.junction[k], node = node_[static_cast<std::size_t>(junction)];
      const auto n = static_cast<std::size_t>(node);
      const double here = energy_of(node);
      double brought = 0.0;
      if (leg.through <= 0.0) brought = leg.share[k] * (leg.heat - leg.wall);
      else if (leg.out[k] > 0.0) brought = leg.out[k] * (leg.energy - here) + leg.share[k] * put;
      else if (node != junction) brought = -leg.in[k] * (energy_of(junction) - here);
      const int next = branch.junction[static_cast<std::size_t>((port + 1) % branch.ports)];
      brought += conduction * (temperature_[static_cast<std::size_t>(next)] - temperature_[static_cast<std::size_t>(junction)]);
      if (branch.ports > 2) {
        const int last = branch.junction[static_cast<std::size_t>((port + branch.ports - 1) % branch.ports)];
        brought += conduction * (temperature_[static_cast<std::size_t>(last)] - temperature_[static_cast<std::size_t>(junction)]);
      }
      if (timed && leg.through > 0.0 && leg.out[k] > 0.0) {
        const double stored = leg.share[k] * capacity_in(b) / time_step_;
        brought -= stored * (temperature_[n] - before_[n]);
        moved += stored * (std::abs(temperature_[n] - before_[n]) + rounding * temperature_[n]);
      }
      node_residual_[n] += brought;
    }
  }
  double worst = 0.0;
  for (int junction : node_junction_) {
    const auto j = static_cast<std::size_t>(junction);
    const network::JunctionHeat& here = heat.junction(junction);
    const double lost = here.conductance * (temperature_[j] - heat.air_temperature());
    node_residual_[j] += here.heat - lost;
    moved += std::abs(here.heat) + std::abs(lost);
    const double supply = -plan_.demand(junction);
    if (supply > 0.0) {
      const auto state = plan_.network().liquids()[static_cast<std::size_t>(liquid_[j])].heat_at(
          Temperature<>::from_value(here.temperature.value_or(plan_.liquid_temperature())),
          AbsolutePressure<>::from_value(std::max(0.0, flow_.pressures()[j])));
      node_residual_[j] += supply * (state.enthalpy.value() - enthalpy_[j]);
    }
    if (timed) {
      const double stored = capacity_at(junction) / time_step_;
      node_residual_[j] -= stored * (temperature_[j] - before_[j]);
      moved += stored * (std::abs(temperature_[j] - before_[j]) + rounding * temperature_[j]);
    }
    if (junction == anchor_) anchor_heat_ = node_residual_[j];
    if (held_[j]) node_residual_[j] = 0.0;  // whatever heat that takes
    if (!(std::abs(node_residual_[j]) <= worst)) {
      worst = std::abs(node_residual_[j]);
      worst_node_ = junction;
    }
  }
  constexpr double least_heat = 1.0;  // W: against which closure is judged where next to nothing is moved
  heat_moved_ = moved;
  energy_error_ = worst / std::max(moved, least_heat);
}

}  // namespace flarenut::analysis

#include <algorithm>
#include <cmath>

#include "flarenut/analysis/heat_system.hpp"

// Newton's step of the parts whose drop is of one flow between two ends, and what of a step needs no slopes.

namespace flarenut::analysis {

/// ∂(residual of a drop)/∂(mean temperature), at the flow that it is linearised at.
double HeatSystem::residual_by_mean(const DropField::Part& part) const {
  const auto b = static_cast<std::size_t>(part.branch);
  const network::Element& element = plan_.element(part.branch);
  const DropField& field = flow_.field();
  const Dual<1>& density = liquid_in_[b].density.value();
  const double lighter = density.slope[0] / density.value, head = part.opening_squared * part.head * lighter;
  if (!element.is_similar()) {
    double slope = 0.0;
    const double point[] = {flow_.pressures()[static_cast<std::size_t>(part.from)], flow_.pressures()[static_cast<std::size_t>(part.to)] - part.head,
                            field.at[part.place]};
    element.residual_by_liquid(point, liquid_in_[b], &slope);
    return slope + head;
  }
  const Dual<1>& viscosity = liquid_in_[b].viscosity.value();
  const double thinner = viscosity.slope[0] / viscosity.value;
  return head + field.at[part.place] * field.slope[part.place] * thinner - field.drop[part.place] * (2.0 * thinner - lighter);
}

/// `eliminate` and `assemble_part` for the many parts whose drop is of one flow between two ends.
void HeatSystem::assemble_drops(Moving moving) {
  for (const DropField::Part& part : flow_.field().parts()) assemble_drop(part, moving);
}

void HeatSystem::assemble_drop(const DropField::Part& part, Moving moving) {
  const auto b = static_cast<std::size_t>(part.branch);
  const Branch& branch = plan_.branches()[b];
  Leg& leg = legs_[b];
  const bool all = moving == Moving::all, stands = leg.through <= 0.0, forward = leg.in[0] > 0.0, senses = slots_[b].junction[P] >= 0;
  const std::size_t up = forward ? 0 : 1, down = 1 - up;
  const std::array<std::size_t, 2> end{static_cast<std::size_t>(part.from), static_cast<std::size_t>(part.to)};
  double* const values = matrix_.values().data();
  constexpr std::size_t columns = 2 + T;
  const int* const slot = slots_[b].place.data();

  // ΔT_m = own + by_flow Δq + by_drop Δ(p₀ − p₁) + Σ by_temperature ΔT, of both ends and the sensed one
  const double gain = 1.0 / (1.0 - std::min(leg.mean_by_mean, 0.9));
  const double own = gain * (leg.mean - mean_[b]), mean_by_inlet = gain * leg.mean_by_inlet;
  const std::array<double, 3> mean_by{stands ? 0.5 * mean_by_inlet : forward ? mean_by_inlet : 0.0,
                                      stands ? 0.5 * mean_by_inlet : forward ? 0.0 : mean_by_inlet, gain * leg.mean_by_sense};
  double shift = 0.0, by_rise = 0.0, mean_shift = own, mean_by_rise = 0.0;
  std::array<double, 3> flow_by{}, stream_by = mean_by;  // slopes of flow and of mean temperature with temperatures
  if (all) {
    const double mean_by_flow = gain * leg.mean_by_through * leg.through_by_flow[0], mean_by_drop = gain * leg.mean_by_drop;
    const double by_mean = residual_by_mean(part), inverse = 1.0 / (flow_.field().slope[part.place] - by_mean * mean_by_flow);
    shift = inverse * (part.residual + by_mean * own);
    by_rise = inverse * (part.opening_squared + by_mean * mean_by_drop);
    mean_shift += mean_by_flow * shift;
    mean_by_rise = mean_by_drop + mean_by_flow * by_rise;
    for (std::size_t t = 0; t < 3; ++t) {
      flow_by[t] = inverse * by_mean * mean_by[t];
      stream_by[t] += mean_by_flow * flow_by[t];
    }
    if (tanks_[end[0]] || tanks_[end[1]]) {  // whose liquid presses less when it is warm
      for (std::size_t port = 0; port < 2; ++port) {
        const double held = port == 0 ? held_by_kelvin_[end[0]] : -held_by_kelvin_[end[1]];
        flow_by[port] += held * by_rise;
        stream_by[port] += held * mean_by_rise;
      }
    }
    leg.gain = gain;
    leg.inverse[0][0] = inverse;
    leg.by_mean[0] = by_mean;
    leg.mean_by_flow[0] = mean_by_flow;
    for (std::size_t port = 0; port < 2; ++port) {
      const int row = branch.unknown[port];
      if (row < 0) continue;
      const double out = port == 0 ? 1.0 : -1.0, rise = out * by_rise;
      const int* const at = slot + port * columns;
      right_side_[static_cast<std::size_t>(row)] -= out * shift;
      values[at[0]] += rise;
      values[at[1]] -= rise;
      values[at[2]] += out * flow_by[0];
      values[at[3]] += out * flow_by[1];
      if (senses) values[at[2 + P]] += out * flow_by[2];
    }
  }
  leg.shift[0] = shift;
  leg.shift[F] = mean_shift;
  leg.by_pressure[0][0] = by_rise;
  leg.by_pressure[0][1] = -by_rise;
  leg.by_pressure[F][0] = mean_by_rise;
  leg.by_pressure[F][1] = -mean_by_rise;
  leg.by_temperature[0] = {flow_by[0], flow_by[1], 0.0, flow_by[2]};
  leg.by_temperature[F] = {stream_by[0], stream_by[1], 0.0, stream_by[2]};

  leg.energy_by[0][0] = leg.energy_by[0][F] = leg.energy_by[1][0] = leg.energy_by[1][F] = 0.0;
  const auto is_free = [&](std::size_t port) { return row_[end[port]] >= 0 && !held_[end[port]]; };
  // Beside a stream it is no digit, and a place left zero costs nothing in the factors.
  if (leg.through * specific_heat_[end[up]] < 1e6 * conduction) {
    for (std::size_t port = 0; port < 2; ++port) {
      if (!is_free(port)) continue;
      const int* const at = slot + (2 + port) * columns;
      values[at[2 + port]] -= conduction;
      values[at[2 + (1 - port)]] += conduction;
    }
  }
  if (stands || !is_free(down)) return;
  const int* const at = slot + (2 + down) * columns;
  const int node = node_[end[down]];
  const std::size_t from = end[up], to = static_cast<std::size_t>(node);
  const double flow = leg.through, by_stream = leg.heat_by_mean;
  double warmer = by_stream * stream_by[0], warmer_after = by_stream * stream_by[1], sensed = by_stream * stream_by[2], shifted = by_stream * mean_shift;
  if (all) {
    const double by_flow = (forward ? 1.0 : -1.0) * (leg.energy - energy_of(node) + leg.heat_by_flow) + leg.power_by_flow;
    leg.energy_by[down][0] = by_flow;
    leg.energy_by[down][F] = by_stream;
    shifted += by_flow * shift;
    warmer += by_flow * flow_by[0];
    warmer_after += by_flow * flow_by[1];
    sensed += by_flow * flow_by[2];
    const double by_both = by_flow * by_rise + by_stream * mean_by_rise - leg.power_by_rise;
    values[at[0]] += by_both;
    values[at[1]] -= by_both;
    values[at[up]] += flow * per_pressure_[from];
    if (end[down] == to) values[at[down]] -= flow * per_pressure_[to];
  }
  right_side_[static_cast<std::size_t>(row_[end[down]])] -= shifted;
  values[at[2]] += warmer;
  values[at[3]] += warmer_after;
  if (senses) values[at[2 + P]] += sensed;
  values[at[2 + up]] += flow * energy_per_kelvin_[from] + leg.heat_by_inlet;
  values[at[2 + down]] -= flow * energy_per_kelvin_[to];
  if (time_step_ > 0.0) values[at[2 + down]] -= capacity_in(b) / time_step_;
}

/// Changes of its flow and of its mean temperature, as `find_changes`.
void HeatSystem::find_drop_changes(const DropField::Part& part, Moving moving) {
  const auto b = static_cast<std::size_t>(part.branch);
  const Leg& leg = legs_[b];
  const auto first = static_cast<std::size_t>(part.from), second = static_cast<std::size_t>(part.to);
  const double warmer = step_temperature_[first], warmer_after = step_temperature_[second];
  const int senses = slots_[b].junction[P];
  const double sensed = senses < 0 ? 0.0 : step_temperature_[static_cast<std::size_t>(senses)];
  const auto changed = [&](std::size_t row) {
    const auto& by = leg.by_temperature[row];
    return leg.shift[row] + by[0] * warmer + by[1] * warmer_after + by[P] * sensed;
  };
  step_mean_[b] = changed(F);
  if (moving == Moving::temperatures) return;
  const double along = step_pressure_[first] - step_pressure_[second];
  step_flow_[static_cast<std::size_t>(part.flow)] = changed(0) + leg.by_pressure[0][0] * along;
  step_mean_[b] += leg.by_pressure[F][0] * along;
}

/// What a part's residuals of now make of its changes and of the right side, with the slopes that were kept.
void HeatSystem::shift_again(std::size_t b) {
  const Branch& branch = plan_.branches()[b];
  Leg& leg = legs_[b];
  const int place = flow_.field().place_of(static_cast<int>(b));
  const double own = leg.gain * (leg.mean - mean_[b]);
  std::array<double, F> residual{};
  if (place >= 0) residual[0] = flow_.field().parts()[static_cast<std::size_t>(place)].residual;
  else residual = flow_.linearisation_here(static_cast<int>(b)).residual;
  const auto flows = static_cast<std::size_t>(branch.flows);
  for (std::size_t f = 0; f < flows; ++f) residual[f] += leg.by_mean[f] * own;
  leg.shift[F] = own;
  for (std::size_t f = 0; f < flows; ++f) {
    leg.shift[f] = 0.0;
    for (std::size_t g = 0; g < flows; ++g) leg.shift[f] += leg.inverse[f][g] * residual[g];
    leg.shift[F] += leg.mean_by_flow[f] * leg.shift[f];
  }
  for (std::size_t port = 0; port < static_cast<std::size_t>(branch.ports); ++port) {
    const auto j = static_cast<std::size_t>(branch.junction[port]);
    if (branch.unknown[port] >= 0)
      for (std::size_t f = 0; f < flows; ++f)
        right_side_[static_cast<std::size_t>(branch.unknown[port])] += branch.inflow[port * flows + f] * leg.shift[f];
    if (row_[j] < 0 || held_[j]) continue;
    double brought = leg.energy_by[port][F] * leg.shift[F];
    for (std::size_t f = 0; f < flows; ++f) brought += leg.energy_by[port][f] * leg.shift[f];
    right_side_[static_cast<std::size_t>(row_[j])] -= brought;
  }
}

}  // namespace flarenut::analysis

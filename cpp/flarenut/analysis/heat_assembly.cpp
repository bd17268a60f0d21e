#include <algorithm>
#include <cmath>

#include "flarenut/analysis/flow_block.hpp"
#include "flarenut/analysis/heat_system.hpp"

// Newton's step: each part's flows and mean temperature put in terms of pressures and temperatures, and what that leaves for the
// matrix.

namespace flarenut::analysis {

using network::Linearisation;

/// Solves a part's own equations for its changes:
///   r + ∂r/∂q Δq + ∂r/∂p Δp + ∂r/∂T_m ΔT_m = 0,      T_m + ΔT_m = mean + its slopes · (Δq, Δp, ΔT)
void HeatSystem::eliminate(std::size_t b, Moving moving) {
  const Branch& branch = plan_.branches()[b];
  Leg& leg = legs_[b];
  leg.shift.fill(0.0);
  for (auto& row : leg.by_pressure) row.fill(0.0);
  for (auto& row : leg.by_temperature) row.fill(0.0);

  // ΔT_m = shift + Σ by_flow Δq + Σ by_temperature ΔT, its own feedback taken off.
  const double feedback = std::min(leg.mean_by_mean, 0.9);
  const double gain = 1.0 / (1.0 - feedback);
  std::array<double, F> mean_by_flow{};
  for (int f = 0; f < branch.flows; ++f) mean_by_flow[static_cast<std::size_t>(f)] = gain * leg.mean_by_through * leg.through_by_flow[static_cast<std::size_t>(f)];
  leg.shift[F] = gain * (leg.mean - mean_[b]);
  for (int port = 0; port < branch.ports; ++port) {
    const auto k = static_cast<std::size_t>(port);
    if (leg.through <= 0.0 || leg.in[k] > 0.0) leg.by_temperature[F][k] = gain * leg.mean_by_inlet * leg.share[k];
  }
  leg.by_temperature[F][P] = gain * leg.mean_by_sense;
  if (moving == Moving::temperatures) return;
  leg.by_pressure[F][0] = gain * leg.mean_by_drop;
  leg.by_pressure[F][1] = -gain * leg.mean_by_drop;

  Linearisation line = flow_.linearisation_here(static_cast<int>(b));
  std::array<double, F> by_mean{};
  plan_.element(static_cast<int>(b)).residual_by_liquid(flow_.point(static_cast<int>(b)).data(), liquid_in_[b], by_mean.data());
  const int n = branch.pressures();
  const double lighter = liquid_in_[b].density.value().slope[0] / liquid_in_[b].density.value().value;
  for (int f = 0; f < branch.flows; ++f) {
    const auto r = static_cast<std::size_t>(f);
    for (int i = 0; i < n; ++i) by_mean[r] += lighter * line.by_pressure[static_cast<std::size_t>(f * n + i)] * branch.head[static_cast<std::size_t>(i)];
    for (int g = 0; g < branch.flows; ++g) line.by_flow[static_cast<std::size_t>(f * branch.flows + g)] += by_mean[r] * mean_by_flow[static_cast<std::size_t>(g)];
    line.residual[r] += by_mean[r] * leg.shift[F];
  }
  const auto solve = [&](auto&& right) {
    std::array<double, F> change{};
    if (branch.flows == 1) {
      change[0] = -right(0) / line.by_flow[0];
    } else {
      const auto [first, second] = flow_block(line, 0.0).solve(right(0), right(1));
      change = {-first, -second};
    }
    return change;
  };
  const auto put = [&](auto&& row_of, const std::array<double, F>& change) {
    for (int f = 0; f < branch.flows; ++f) row_of(static_cast<std::size_t>(f)) = change[static_cast<std::size_t>(f)];
    for (int f = 0; f < branch.flows; ++f) row_of(F) += mean_by_flow[static_cast<std::size_t>(f)] * change[static_cast<std::size_t>(f)];
  };
  put([&](std::size_t row) -> double& { return leg.shift[row]; }, solve([&](std::size_t f) { return line.residual[f]; }));
  for (int i = 0; i < n; ++i) {
    const auto k = static_cast<std::size_t>(i);
    put([&](std::size_t row) -> double& { return leg.by_pressure[row][k]; },
        solve([&](std::size_t f) { return line.by_pressure[f * static_cast<std::size_t>(n) + k] + by_mean[f] * leg.by_pressure[F][k]; }));
  }
  for (std::size_t t = 0; t < T; ++t) {
    const double mean = leg.by_temperature[F][t];
    if (mean == 0.0) continue;
    put([&](std::size_t row) -> double& { return leg.by_temperature[row][t]; }, solve([&](std::size_t f) { return by_mean[f] * mean; }));
  }
  // A tank's liquid presses less when it is warm.
  for (std::size_t port = 0; port < static_cast<std::size_t>(branch.ports); ++port) {
    const double held = held_by_kelvin_[static_cast<std::size_t>(branch.junction[port])];
    for (std::size_t row = 0; held != 0.0 && row <= F; ++row) leg.by_temperature[row][port] += held * leg.by_pressure[row][port];
  }
}

/// ∂(residual of a drop)/∂(mean temperature), at the flow that it is linearised at.
double HeatSystem::residual_by_mean(std::size_t b) const {
  const network::Element& element = plan_.element(static_cast<int>(b));
  const DropField& field = flow_.field();
  const DropField::Part& part = field.parts()[static_cast<std::size_t>(field.place_of(static_cast<int>(b)))];
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
void HeatSystem::assemble_drop(std::size_t b, Moving moving) {
  const Branch& branch = plan_.branches()[b];
  const DropField::Part& part = flow_.field().parts()[static_cast<std::size_t>(flow_.field().place_of(static_cast<int>(b)))];
  Leg& leg = legs_[b];
  const bool stands = leg.through <= 0.0, forward = leg.in[0] > 0.0, senses = slots_[b].junction[P] >= 0;
  const std::size_t up = forward ? 0 : 1, down = 1 - up;
  const std::array<std::size_t, 2> end{static_cast<std::size_t>(branch.junction[0]), static_cast<std::size_t>(branch.junction[1])};

  // ΔT_m = own + by_flow Δq + by_drop Δ(p₀ − p₁) + Σ by_temperature ΔT, of both ends and the sensed one
  const double gain = 1.0 / (1.0 - std::min(leg.mean_by_mean, 0.9));
  const double own = gain * (leg.mean - mean_[b]), mean_by_flow = gain * leg.mean_by_through * leg.through_by_flow[0];
  const double mean_by_drop = moving == Moving::all ? gain * leg.mean_by_drop : 0.0, mean_by_inlet = gain * leg.mean_by_inlet;
  const std::array<double, 3> mean_by{stands ? 0.5 * mean_by_inlet : forward ? mean_by_inlet : 0.0,
                                      stands ? 0.5 * mean_by_inlet : forward ? 0.0 : mean_by_inlet, gain * leg.mean_by_sense};
  double shift = 0.0, by_rise = 0.0, by_mean = 0.0, inverse = 0.0;
  if (moving == Moving::all) {
    by_mean = residual_by_mean(b);
    inverse = 1.0 / (flow_.field().slope[part.place] - by_mean * mean_by_flow);
    shift = inverse * (part.residual + by_mean * own);
    by_rise = inverse * (part.opening_squared + by_mean * mean_by_drop);
  }
  const double mean_shift = own + mean_by_flow * shift, mean_by_rise = mean_by_drop + mean_by_flow * by_rise;
  std::array<double, 3> flow_by{}, stream_by{};  // slopes of flow and of mean temperature with temperatures
  for (std::size_t t = 0; t < 3; ++t) {
    flow_by[t] = inverse * by_mean * mean_by[t];
    stream_by[t] = mean_by[t] + mean_by_flow * flow_by[t];
  }
  for (std::size_t port = 0; port < 2; ++port) {  // a tank's liquid presses less when it is warm
    const double held = port == 0 ? held_by_kelvin_[end[0]] : -held_by_kelvin_[end[1]];
    flow_by[port] += held * by_rise;
    stream_by[port] += held * mean_by_rise;
  }
  leg.shift[0] = shift;
  leg.shift[F] = mean_shift;
  leg.by_pressure[0][0] = by_rise;
  leg.by_pressure[0][1] = -by_rise;
  leg.by_pressure[F][0] = mean_by_rise;
  leg.by_pressure[F][1] = -mean_by_rise;
  for (std::size_t t = 0; t < 2; ++t) {
    leg.by_temperature[0][t] = flow_by[t];
    leg.by_temperature[F][t] = stream_by[t];
  }
  leg.by_temperature[0][P] = flow_by[2];
  leg.by_temperature[F][P] = stream_by[2];

  double* const values = matrix_.values().data();
  constexpr std::size_t columns = 2 + T;
  const int* const slot = slots_[b].place.data();
  for (std::size_t port = 0; port < 2 && moving == Moving::all; ++port) {
    const int row = branch.unknown[port];
    if (row < 0) continue;
    const double out = port == 0 ? 1.0 : -1.0;
    const int* const at = slot + port * columns;
    right_side_[static_cast<std::size_t>(row)] -= out * shift;
    values[at[0]] += out * by_rise;
    values[at[1]] -= out * by_rise;
    values[at[2]] += out * flow_by[0];
    values[at[3]] += out * flow_by[1];
    if (senses) values[at[2 + P]] += out * flow_by[2];
  }

  for (std::size_t port = 0; port < 2; ++port) {
    const int row = row_[end[port]];
    if (row < 0 || held_[end[port]]) continue;
    const int* const at = slot + (2 + port) * columns;
    // Beside a stream it is no digit, and a place left zero costs nothing in the factors.
    if (leg.through * specific_heat_[end[port]] < 1e6 * conduction) {
      values[at[2 + port]] -= conduction;
      values[at[2 + (1 - port)]] += conduction;
    }
    if (stands || port != down) continue;
    const int node = node_[end[port]];
    const std::size_t from = end[up], to = static_cast<std::size_t>(node);
    const double flow = leg.through, by_stream = leg.heat_by_mean;
    const double by_flow = (forward ? 1.0 : -1.0) * (leg.energy - energy_of(node) + leg.heat_by_flow) + leg.power_by_flow;
    right_side_[static_cast<std::size_t>(row)] -= by_flow * shift + by_stream * mean_shift;
    if (moving == Moving::all) {
      const double by_both = by_flow * by_rise + by_stream * mean_by_rise - leg.power_by_rise;
      values[at[0]] += by_both;
      values[at[1]] -= by_both;
      values[at[up]] += flow * per_pressure_[from];
      if (end[down] == to) values[at[down]] -= flow * per_pressure_[to];
    }
    values[at[2]] += by_flow * flow_by[0] + by_stream * stream_by[0];
    values[at[3]] += by_flow * flow_by[1] + by_stream * stream_by[1];
    if (senses) values[at[2 + P]] += by_flow * flow_by[2] + by_stream * stream_by[2];
    values[at[2 + up]] += flow * specific_heat_[from] + leg.heat_by_inlet;
    values[at[2 + down]] -= flow * specific_heat_[to] + (time_step_ > 0.0 ? capacity_in(b) / time_step_ : 0.0);
  }
}

void HeatSystem::assemble_part(std::size_t b, Moving moving) {
  const Branch& branch = plan_.branches()[b];
  const Leg& leg = legs_[b];
  double* const values = matrix_.values().data();
  const int* slot = slots_[b].place.data();
  const int n = branch.pressures();

  for (int port = 0; port < branch.ports; ++port, slot += n + static_cast<int>(T)) {
    const int row = branch.unknown[static_cast<std::size_t>(port)];
    if (row < 0 || moving == Moving::temperatures) continue;
    for (int f = 0; f < branch.flows; ++f) {
      const auto r = static_cast<std::size_t>(f);
      const double out = -branch.inflow[static_cast<std::size_t>(port * branch.flows + f)];
      right_side_[static_cast<std::size_t>(row)] -= out * leg.shift[r];
      for (int i = 0; i < n; ++i) values[slot[i]] += out * leg.by_pressure[r][static_cast<std::size_t>(i)];
      for (std::size_t t = 0; t < T; ++t) values[slot[n + static_cast<int>(t)]] += out * leg.by_temperature[r][t];
    }
  }

  for (int port = 0; port < branch.ports; ++port, slot += n + static_cast<int>(T)) {
    const auto k = static_cast<std::size_t>(port);
    const int junction = branch.junction[k];
    const int row = row_[static_cast<std::size_t>(junction)];
    if (row < 0 || held_[static_cast<std::size_t>(junction)]) continue;
    const int node = node_[static_cast<std::size_t>(junction)];
    const auto s = static_cast<std::size_t>(node);
    std::array<double, F> by_flow{};
    std::array<double, Q> by_pressure{};
    std::array<double, T> by_temperature{};
    double by_mean = 0.0;
    if (leg.through > 0.0 && leg.out[k] > 0.0) {
      const double out = leg.out[k];
      for (int f = 0; f < branch.flows; ++f) {
        const auto r = static_cast<std::size_t>(f);
        by_flow[r] = branch.inflow[static_cast<std::size_t>(port * branch.flows + f)] * (leg.energy - energy_of(node)) +
                     leg.share[k] * (leg.heat_by_flow * leg.through_by_flow[r] + leg.power_by_flow);
        for (int other = 0; other < branch.ports; ++other) {
          const auto o = static_cast<std::size_t>(other);
          if (leg.in[o] <= 0.0) continue;
          const double in_by_flow = -branch.inflow[static_cast<std::size_t>(other * branch.flows + f)];
          by_flow[r] += out * (in_by_flow - leg.share[o] * leg.through_by_flow[r]) / leg.through * energy_of(branch.junction[o]);
        }
      }
      by_mean = leg.share[k] * leg.heat_by_mean;
      for (int other = 0; other < branch.ports; ++other) {
        const auto o = static_cast<std::size_t>(other);
        if (leg.in[o] <= 0.0) continue;
        const auto from = static_cast<std::size_t>(branch.junction[o]);
        by_temperature[o] += leg.share[o] * (out * specific_heat_[from] + leg.share[k] * leg.heat_by_inlet);
        by_pressure[o] += leg.share[o] * out * per_pressure_[from];
      }
      by_temperature[k] -= out * specific_heat_[s];
      if (node == junction) by_pressure[k] -= out * per_pressure_[s];
      by_pressure[1] += leg.share[k] * leg.power_by_rise;
      by_pressure[0] -= leg.share[k] * leg.power_by_rise;
      if (time_step_ > 0.0) by_temperature[k] -= leg.share[k] * capacity_in(b) / time_step_;
    }
    for (int step = 1; step < branch.ports; ++step) {
      const auto o = static_cast<std::size_t>((port + step) % branch.ports);
      by_temperature[o] += conduction;
      by_temperature[k] -= conduction;
    }

    double shift = by_mean * leg.shift[F];
    for (int f = 0; f < branch.flows; ++f) shift += by_flow[static_cast<std::size_t>(f)] * leg.shift[static_cast<std::size_t>(f)];
    right_side_[static_cast<std::size_t>(row)] -= shift;
    for (int i = 0; i < n && moving == Moving::all; ++i) {
      const auto c = static_cast<std::size_t>(i);
      double slope = by_pressure[c] + by_mean * leg.by_pressure[F][c];
      for (int f = 0; f < branch.flows; ++f) slope += by_flow[static_cast<std::size_t>(f)] * leg.by_pressure[static_cast<std::size_t>(f)][c];
      values[slot[i]] += slope;
    }
    for (std::size_t t = 0; t < T; ++t) {
      double slope = by_temperature[t] + by_mean * leg.by_temperature[F][t];
      for (int f = 0; f < branch.flows; ++f) slope += by_flow[static_cast<std::size_t>(f)] * leg.by_temperature[static_cast<std::size_t>(f)][t];
      values[slot[n + static_cast<int>(t)]] += slope;
    }
  }
}

/// What the far side of an exchanger does to the nodes that this side's stream runs to.
void HeatSystem::assemble_exchangers(Moving moving) {
  double* const values = matrix_.values().data();
  const int* slot = exchanger_slots_.data();
  for (const Heated& heated : heated_) {
    const auto here = static_cast<std::size_t>(heated.part), there = static_cast<std::size_t>(heated.other);
    const Branch& branch = plan_.branches()[here];
    const Branch& other = plan_.branches()[there];
    const Leg& leg = legs_[here];
    const Leg& far = legs_[there];
    const int n = other.pressures();
    for (int port = 0; port < branch.ports; ++port, slot += n + static_cast<int>(T)) {
      const auto k = static_cast<std::size_t>(port);
      const int row = row_[static_cast<std::size_t>(branch.junction[k])];
      if (row < 0 || held_[static_cast<std::size_t>(branch.junction[k])] || leg.through <= 0.0 || leg.out[k] <= 0.0) continue;
      const auto sloped = [&](auto&& flow_change, double mean_change) {
        double sum = heated.by_mean * mean_change;
        for (int f = 0; f < other.flows; ++f) sum += heated.by_flow * far.through_by_flow[static_cast<std::size_t>(f)] * flow_change(static_cast<std::size_t>(f));
        return leg.share[k] * sum;
      };
      right_side_[static_cast<std::size_t>(row)] -= sloped([&](std::size_t f) { return far.shift[f]; }, far.shift[F]);
      for (int i = 0; i < n && moving == Moving::all; ++i) {
        const auto c = static_cast<std::size_t>(i);
        values[slot[i]] += sloped([&](std::size_t f) { return far.by_pressure[f][c]; }, far.by_pressure[F][c]);
      }
      for (std::size_t t = 0; t < T; ++t) {
        double slope = sloped([&](std::size_t f) { return far.by_temperature[f][t]; }, far.by_temperature[F][t]);
        if (t < P && (far.through <= 0.0 || far.in[t] > 0.0)) slope += leg.share[k] * heated.by_inlet * far.share[t];
        values[slot[n + static_cast<int>(t)]] += slope;
      }
    }
  }
}

}  // namespace flarenut::analysis

#include <algorithm>
#include <cmath>

#include "flarenut/analysis/flow_block.hpp"
#include "flarenut/analysis/heat_system.hpp"

// Newton's step: each part's flows and mean temperature put in terms of pressures and temperatures, and what that leaves for the
// matrix. Drops of one flow, which most parts are, have a shorter way in heat_drop.cpp.

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
  leg.gain = gain;
  leg.mean_by_flow = mean_by_flow;
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
  leg.by_mean = by_mean;
  for (std::size_t g = 0; g < static_cast<std::size_t>(branch.flows); ++g) {
    const auto change = solve([&](std::size_t f) { return f == g ? 1.0 : 0.0; });
    for (std::size_t f = 0; f < F; ++f) leg.inverse[f][g] = change[f];
  }
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
        by_temperature[o] += leg.share[o] * (out * energy_per_kelvin_[from] + leg.share[k] * leg.heat_by_inlet);
        by_pressure[o] += leg.share[o] * out * per_pressure_[from];
      }
      by_temperature[k] -= out * energy_per_kelvin_[s];
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

    Leg& kept = legs_[b];
    for (std::size_t f = 0; f < F; ++f) kept.energy_by[k][f] = by_flow[f];
    kept.energy_by[k][F] = by_mean;
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

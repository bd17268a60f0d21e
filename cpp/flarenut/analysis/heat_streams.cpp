#include <algorithm>
#include <cmath>

#include "flarenut/analysis/heat_system.hpp"

// How much flows through every part, which way, and what it brings along.

namespace flarenut::analysis {

using network::HeatSide;

void HeatSystem::evaluate_streams() {
  const double still = standing * plan_.flow_scale();
  const HeatSide& heat = *plan_.heat();
  for (std::size_t b = 0; b < legs_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    Leg& leg = legs_[b];
    leg.heat = heat.part(static_cast<int>(b)).heat;
    leg.pressed_by.fill(0.0);
    leg.wall = leg.pressed = leg.heat_by_flow = leg.heat_by_inlet = leg.heat_by_mean = leg.power = leg.power_by_flow = leg.power_by_rise = 0.0;
    // Until a law says otherwise: half of the way, which nothing but what is put in warms.
    leg.mean = 0.5;
    leg.mean_by_through = leg.mean_by_inlet = leg.mean_by_mean = leg.mean_by_sense = 0.0;
    if (flow_.field().place_of(static_cast<int>(b)) < 0) {
      mix_streams(branch, leg);
      continue;
    }
    // One flow between two ends.
    const double flow = flow_.flows()[static_cast<std::size_t>(branch.first_flow)], size = std::abs(flow);
    const std::size_t up = flow > 0.0 ? 0 : 1;
    const auto from = static_cast<std::size_t>(branch.junction[up]), to = static_cast<std::size_t>(branch.junction[1 - up]);
    const bool stands = size <= still;
    leg.in[up] = leg.out[1 - up] = size;
    leg.in[1 - up] = leg.out[up] = 0.0;
    leg.through_by_flow[0] = flow > 0.0 ? 1.0 : flow < 0.0 ? -1.0 : 0.0;
    leg.through = stands ? 0.0 : size;
    leg.share[0] = leg.share[1] = stands ? 0.5 : 1.0;
    leg.inlet = stands ? 0.5 * (temperature_[from] + temperature_[to]) : temperature_[from];
    const int f = static_cast<int>(from), t = static_cast<int>(to);
    leg.energy = stands ? 0.5 * (energy_of(f) + energy_of(t)) : energy_of(f);
  }
}

/// The same of any part.
void HeatSystem::mix_streams(const Branch& branch, Leg& leg) {
  leg.in.fill(0.0);
  leg.out.fill(0.0);
  leg.through_by_flow.fill(0.0);
  double out = 0.0;
  leg.through = 0.0;
  for (int port = 0; port < branch.ports; ++port) {
    const auto k = static_cast<std::size_t>(port);
    double into_junction = 0.0;
    for (int f = 0; f < branch.flows; ++f)
      into_junction += branch.inflow[static_cast<std::size_t>(port * branch.flows + f)] * flow_.flows()[static_cast<std::size_t>(branch.first_flow + f)];
    (into_junction > 0.0 ? leg.out[k] : leg.in[k]) = std::abs(into_junction);
    leg.through += leg.in[k];
    out += leg.out[k];
    if (into_junction < 0.0)
      for (int f = 0; f < branch.flows; ++f)
        leg.through_by_flow[static_cast<std::size_t>(f)] -= branch.inflow[static_cast<std::size_t>(port * branch.flows + f)];
  }
  const bool stands = leg.through <= standing * plan_.flow_scale() || out <= 0.0;
  leg.inlet = leg.energy = 0.0;
  for (int port = 0; port < branch.ports; ++port) {
    const auto k = static_cast<std::size_t>(port);
    const int junction = branch.junction[k];
    leg.share[k] = stands ? 1.0 / branch.ports : leg.in[k] > 0.0 ? leg.in[k] / leg.through : leg.out[k] / out;
    if (!stands && leg.in[k] <= 0.0) continue;
    leg.inlet += leg.share[k] * temperature_[static_cast<std::size_t>(junction)];
    leg.energy += leg.share[k] * energy_of(junction);
  }
  if (stands) leg.through = 0.0;
}

}  // namespace flarenut::analysis

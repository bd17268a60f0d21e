#include "flarenut/analysis/flow_ways.hpp"

#include <algorithm>
#include <utility>

namespace flarenut::analysis {
namespace {

/// Parts that meet at each junction: in large networks nobody can look at all.
std::vector<std::vector<std::size_t>> meeting(const Plan& plan) {
  std::vector<std::vector<std::size_t>> parts(static_cast<std::size_t>(plan.junction_count()));
  for (std::size_t b = 0; b < plan.branches().size(); ++b)
    for (int port = 0; port < plan.branches()[b].ports; ++port)
      parts[static_cast<std::size_t>(plan.branches()[b].junction[static_cast<std::size_t>(port)])].push_back(b);
  return parts;
}

/// What goes into a part at one of its ports [kg/s]; below zero it comes out.
double into_part(const FlowSystem& system, const Branch& branch, int port) {
  double in = 0.0;
  for (int f = 0; f < branch.flows; ++f)
    in -= branch.inflow[static_cast<std::size_t>(port * branch.flows + f)] * system.flows()[static_cast<std::size_t>(branch.first_flow + f)];
  return in;
}

/// Goes from place to place with the flow, or against it, as far as tanks and given pressures. `arrives` is told each place, `passes` each part that
/// is come to, with what flows on through it [kg/s], and says whether to go on beyond it.
template <class Arrives, class Passes>
void follow(const FlowSystem& system, int start, bool with_flow, Arrives arrives, Passes passes) {
  const Plan& plan = system.plan();
  const auto parts_at = meeting(plan);
  const auto comes = [&](const Branch& branch, int port) { return (with_flow ? 1.0 : -1.0) * into_part(system, branch, port); };
  std::vector<char> seen(static_cast<std::size_t>(plan.junction_count()), 0);
  std::vector<int> waiting{start};
  while (!waiting.empty()) {
    const int here = waiting.back();
    waiting.pop_back();
    if (seen[static_cast<std::size_t>(here)] || plan.unknown_of(here) < 0) continue;
    seen[static_cast<std::size_t>(here)] = 1;
    arrives(here);
    for (const std::size_t b : parts_at[static_cast<std::size_t>(here)]) {
      const Branch& branch = plan.branches()[b];
      for (int port = 0; port < branch.ports; ++port) {
        const double on = branch.junction[static_cast<std::size_t>(port)] == here ? comes(branch, port) : 0.0;
        if (!(on > 0.0) || !passes(b, on)) continue;
        for (int other = 0; other < branch.ports; ++other)
          if (comes(branch, other) < 0.0) waiting.push_back(branch.junction[static_cast<std::size_t>(other)]);
      }
    }
  }
}

}  // namespace

Drawer drawer_beyond(const FlowSystem& system, int from) {
  const Plan& plan = system.plan();
  Drawer found;
  const auto arrives = [&](int here) {
    if (found.pump < 0 && plan.demand(here) > 0.0 && (found.junction < 0 || plan.demand(here) > plan.demand(found.junction))) found.junction = here;
  };
  const auto passes = [&](std::size_t part, double) {
    if (found.pump < 0 && plan.element(static_cast<int>(part)).kind().ends_with("pump")) found.pump = static_cast<int>(part);
    return found.pump < 0;
  };
  follow(system, from, true, arrives, passes);
  return found;
}

std::vector<char> pushed_through(const FlowSystem& system, int pump) {
  const Plan& plan = system.plan();
  std::vector<char> found(plan.branches().size(), 0);
  if (pump < 0) return found;
  found[static_cast<std::size_t>(pump)] = 1;
  const auto passes = [&](std::size_t part, double) { return std::exchange(found[part], 1) == 0; };
  follow(system, plan.branches()[static_cast<std::size_t>(pump)].junction[1], true, [](int) {}, passes);
  return found;
}

std::vector<char> on_the_way(const FlowSystem& system, int place, bool out) {
  constexpr double counts = 0.01, counts_shut = 0.5;  // of the flow at the place (judgement); under such a pressure a shut seat leaks much
  const Plan& plan = system.plan();
  std::vector<char> found(plan.branches().size(), 0);
  double passing = 0.0;
  for (const Branch& branch : plan.branches())
    for (int port = 0; port < branch.ports; ++port)
      if (branch.junction[static_cast<std::size_t>(port)] == place) passing += std::max((out ? 1.0 : -1.0) * into_part(system, branch, port), 0.0);
  const auto passes = [&](std::size_t b, double flow) {
    const int part = static_cast<int>(b);
    const bool shut = plan.element(part).regime(system.point(part).data()) == Regime::shut;
    const bool counted = flow > (shut ? counts_shut : counts) * passing;
    if (counted) found[b] = 1;
    return counted;
  };
  follow(system, place, out, [](int) {}, passes);
  return found;
}

}  // namespace flarenut::analysis

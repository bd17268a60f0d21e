#include <algorithm>
#include <cmath>

#include "flarenut/analysis/heat_solver.hpp"

// Other steady states beside one that was found. Thick cold oil shuts its own way: of two coolers side by side one may stand
// cold while the other takes all, and which of them depends on what went before.

namespace flarenut::analysis {
namespace {

constexpr double apart = 0.5;  // K between two states that count as different

/// Whether what flows is elsewhere warm. What stands, as an expansion tank off the stream, keeps what it was begun with, and is no other state.
bool differ(const Plan& plan, const Solution& one, const Solution& other) {
  constexpr double flowing = 1e-6;  // kg/s
  for (std::size_t p = 0; p < one.part_temperature.size(); ++p) {
    const auto flow = static_cast<std::size_t>(plan.branches()[p].first_flow);
    if (std::abs(one.flow[flow]) < flowing && std::abs(other.flow[flow]) < flowing) continue;
    if (std::abs(one.part_temperature[p] - other.part_temperature[p]) > apart) return true;
  }
  return false;
}

}  // namespace

bool HeatSolver::solve_from(Solution& solution, const SteadyOptions& options, const State& start) {
  system_.set_exact(false);
  system_.start_at(start.nodes, start.parts);
  flow_.solve_flow(solution, Start(&start.pressure, &start.flow), options);
  if (!solution.converged()) return false;
  flow_.system().start_at(solution.pressure, solution.flow);
  return newton(solution, newton_turns);
}

std::vector<Solution> HeatSolver::others(const Solution& found) {
  std::vector<Solution> states;
  if (!found.converged() || found.temperature.empty()) return states;
  forget_the_way();
  SteadyOptions options;
  options.on_the_way = true;
  options.allow_ladder = false;
  const State first{found.temperature, found.part_temperature, found.pressure, found.flow};
  const auto keep = [&](Solution& solution) {
    reached_by_ = Rung::warm;
    report(solution, true);
    const bool known = !solution.converged() || !differ(plan_, solution, found) ||
                       std::any_of(states.begin(), states.end(), [&](const Solution& other) { return !differ(plan_, solution, other); });
    if (!known) states.push_back(solution);
  };
  Solution solution;
  const network::HeatSide& heat = *plan_.heat();
  std::vector<int> cooled;  // parts that give heat to a sink, or take it from there
  for (int part = 0; part < static_cast<int>(first.parts.size()); ++part) {
    const auto p = static_cast<std::size_t>(part);
    if (heat.part(part).law && std::abs(found.heat[p]) > 1.0 && !std::isnan(heat.part(part).law->sink())) cooled.push_back(part);
  }
  const auto set = [&](State& start, int part, double kelvin) {
    const auto span = system_.span_of(plan_.branches()[static_cast<std::size_t>(part)].junction[0]);
    start.parts[static_cast<std::size_t>(part)] = std::clamp(kelvin, span.least, span.most);
  };
  for (int one : cooled) {
    // This one as cold as its air: the others as they are, and the others as hot as what enters them.
    State alone = first, against = first;
    set(alone, one, heat.part(one).law->sink());
    for (int other : cooled) set(against, other, found.leaving[static_cast<std::size_t>(other)][0]);
    set(against, one, heat.part(one).law->sink());
    for (const State& start : {alone, against})
      if (solve_from(solution, options, start)) keep(solution);
  }
  for (const double share : {0.1, 0.9}) {
    const int anchor = system_.likely_anchor();
    if (anchor < 0) break;
    const auto span = system_.span_of(anchor);
    if (solve_level(solution, options, span.least + share * (span.most - span.least))) keep(solution);
  }
  system_.set_exact(true);
  restore(first);
  return states;
}

}  // namespace flarenut::analysis

#include "flarenut/analysis/heat_solver.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "flarenut/analysis/diagnosis.hpp"

namespace flarenut::analysis {
namespace {

/// How far a temperature may move in a step of Newton's [K]: less, when it has turned in circles for a while.
double longest_step(int turn) { return turn < 10 ? 60.0 : turn < 20 ? 25.0 : turn < 40 ? 10.0 : 4.0; }

}  // namespace

HeatSolver::HeatSolver(Plan& plan, SteadySolver& flow) : plan_(plan), flow_(flow), system_(plan, flow.system()), island_(heat_islands(plan)) {}

bool HeatSolver::newton(Solution& solution, int most_iterations) {
  // A step with the slopes of one before leaves about the product of the two errors, and a few times that.
  constexpr double near_enough = 1e-10;
  double kept = std::numeric_limits<double>::infinity();  // error where slopes were last worked out; infinite: not to be used again
  double least = kept;
  int stalled = 0;  // turns that brought little
  for (int turn = 0;; ++turn) {
    system_.linearise();
    solution.iterations = turn;
    if (system_.exact() && system_.accepted()) return true;
    // From here the step leads so near that the laws themselves may as well be asked after it.
    const bool near = system_.nearly_accepted();
    const bool again = system_.exact() && near && kept * system_.error() < near_enough && system_.keeps_slopes();
    kept = again ? std::numeric_limits<double>::infinity() : system_.error();
    if (turn == most_iterations || !(again ? system_.find_step_again() : system_.find_step(HeatSystem::Moving::all))) return false;
    stalled = system_.error() > 0.5 * least ? stalled + 1 : 0;
    least = std::min(least, system_.error());
    // What swings from one side of the answer to the other comes to it by halves.
    system_.take_step(HeatSystem::Moving::all, longest_step(turn), stalled > 14 ? 0.2 : stalled > 6 ? 0.5 : 1.0);
    system_.set_exact(near);
  }
}

/// Temperatures at the flows as they are.
bool HeatSolver::settle_temperatures() {
  constexpr double most_kelvin = 1e3;
  system_.linearise();
  if (!system_.find_step(HeatSystem::Moving::temperatures)) return false;
  system_.take_step(HeatSystem::Moving::temperatures, most_kelvin);
  system_.ease_level();
  return true;
}

/// From a cold start to flows that hold well enough to find temperatures for; with the whole ladder where they are not had at once.
bool HeatSolver::start_flow(Solution& solution, const SteadyOptions& options) {
  constexpr int turns = 12;
  FlowSystem& flow = flow_.system();
  flow.start_cold();
  if (system_.settle_flow(turns)) {
    solution.message.clear();
    return true;
  }
  flow_.solve_flow(solution, {}, options);
  if (solution.converged()) flow.start_at(solution.pressure, solution.flow);
  return solution.converged();
}

/// From flows at the temperature given everywhere, or at what tanks are said to have, to everything.
bool HeatSolver::solve_level(Solution& solution, const SteadyOptions& options, std::optional<double> kelvin) {
  system_.set_exact(false);
  system_.start_level(kelvin);
  if (!start_flow(solution, options) || !settle_temperatures()) return false;
  return newton(solution, newton_turns);
}

/// Once more with everything as hot as what comes in: hot enough, perhaps, to open a thermostat, where liquid that is pushed against it shut finds no
/// answer. What was said of the first trial stands where this one fails.
bool HeatSolver::solve_as_warm_as_comes_in(Solution& solution, const SteadyOptions& options) {
  double hottest = 0.0;
  for (int j = 0; j < plan_.junction_count(); ++j)
    if (const auto& given = plan_.heat()->junction(j).temperature) hottest = std::max(hottest, *given);
  if (!(hottest > plan_.liquid_temperature())) return false;
  std::string message = std::move(solution.message);
  solution.message.clear();
  if (solve_level(solution, options, hottest)) return true;
  solution.message = std::move(message);
  return false;
}

bool HeatSolver::solve_cold(Solution& solution, const SteadyOptions& options) {
  reached_by_ = Rung::cold;
  if (solve_level(solution, options, std::nullopt)) return true;
  if (!options.allow_ladder) return false;
  if (solve_as_warm_as_comes_in(solution, options)) return true;
  if (!solution.message.empty()) return false;
  reached_by_ = Rung::held_temperature;
  if (bracket(solution, options)) return true;
  reached_by_ = Rung::march;
  return solution.message.empty() && march(solution, options, plan_.liquid_temperature());
}

bool HeatSolver::solve_held(Solution& solution, const SteadyOptions& options, double kelvin, double& heat) {
  system_.hold(system_.likely_anchor(), kelvin);
  const bool done = solve_level(solution, options, kelvin) || march(solution, options, kelvin);
  heat = system_.anchor_heat();
  return done;
}

bool HeatSolver::bracket(Solution& solution, const SteadyOptions& options) {
  const int anchor = system_.likely_anchor();
  if (anchor < 0) return false;
  const HeatSystem::Span span = system_.span_of(anchor);
  constexpr double inside = 0.01, near = 0.5;  // K
  double low = std::max(span.least + inside, std::min(plan_.heat()->air_temperature(), span.most - 1.0)), high = span.most;
  double heat_low = 0.0, heat_high = 0.0;
  bool found = solve_held(solution, options, low, heat_low), reached = false;
  // Downstream of the held node it may be hotter than there: the end that can be reached lies some kelvin below the limit.
  for (double margin : {inside, 8.0, 25.0}) {
    high = span.most - margin;
    if (found && !reached) reached = solve_held(solution, options, high, heat_high);
    if (reached) break;
  }
  found = found && reached;
  if (found && heat_high > 0.0) {
    solution.message = beyond_limit(system_, anchor, high, heat_high);
    found = false;
  } else if (found && heat_low < 0.0) {
    high = low;
    heat_high = heat_low;
    low = span.least + inside;
    found = solve_held(solution, options, low, heat_low);
    if (found && heat_low < 0.0) {
      solution.message = beyond_limit(system_, anchor, low, heat_low);
      found = false;
    }
  }
  State last = state();
  for (int turn = 0; found && turn < 60; ++turn) {
    // The chord, kept off the ends: where a thermostat works, heat falls steeply.
    const double fall = heat_high - heat_low, tenth = 0.1 * (high - low);
    const bool by_halves = turn % 3 == 2 || fall == 0.0;  // as between two ends that are both in balance
    const double middle = by_halves ? 0.5 * (low + high) : std::clamp(high - heat_high * (high - low) / fall, low + tenth, high - tenth);
    double heat = 0.0;
    if (!solve_held(solution, options, middle, heat)) {  // from the last that was found it may be near enough
      system_.release();
      restore(last);
      if (newton(solution, newton_turns)) return true;
      break;
    }
    last = state();
    (heat > 0.0 ? low : high) = middle;
    (heat > 0.0 ? heat_low : heat_high) = heat;
    if (high - low > near) continue;
    const std::vector<double> nodes = system_.temperatures(), parts = system_.part_temperatures();
    const std::vector<double> pressure = flow_.system().pressures(), flow = flow_.system().flows();
    system_.release();
    system_.start_at(nodes, parts);
    if (newton(solution, newton_turns)) return true;
    flow_.system().start_at(pressure, flow);
  }
  system_.release();
  if (!solution.converged()) return false;
  solution.status = Status::not_converged;
  return false;
}

void HeatSolver::solve(Solution& solution, Start start, const SteadyOptions& asked) {
  SteadyOptions options = asked;
  options.on_the_way = true;  // the answer alone is judged
  forget_the_way();
  const int before = system_.flow().evaluations();
  solution.message = no_way_out(plan_, island_);
  bool done = false;
  if (solution.message.empty()) {
    if (start.pressure != nullptr && start.temperature != nullptr && !start.temperature->empty()) {
      system_.set_exact(true);  // an answer of the same numbers stands as it is
      system_.start_at(*start.temperature, *start.part_temperature);
      flow_.system().start_at(*start.pressure, *start.flow);
      reached_by_ = Rung::warm;
      done = newton(solution, newton_turns);
    }
    if (!done) done = solve_cold(solution, options);
    if (!done && solution.message.empty()) solution.message = why_it_failed();
  }
  solution.evaluations = system_.flow().evaluations() - before;
  report(solution, done);
}

std::string HeatSolver::why_it_failed() {
  if (!why_ended_.empty()) return why_ended_;
  const std::string here = explain_heat_failure(system_);
  if (system_.at_limit() || !cannot_leave(system_).empty()) return here;
  const std::string turning = explain_turning();
  return turning.empty() ? here : turning;
}

std::string HeatSolver::explain_turning() {
  // Of the heat moved (judgement: where little is moved, a trickle that turns leaves much of it undecided); of the largest flow; scaled, of the laws of flow.
  constexpr double near = 0.5, small = 1e-3, met = 1e-6;
  const auto is_near = [&] { return system_.energy_error() < near && system_.flow().worst_residual() < met; };
  if (!is_near()) return {};
  const std::vector<double> before = system_.streams();
  if (!system_.find_step(HeatSystem::Moving::all)) return {};
  system_.take_step(HeatSystem::Moving::all, longest_step(newton_turns));
  system_.linearise();
  if (!is_near()) return {};
  const std::vector<double> after = system_.streams();
  const auto sign = [](double flow) { return flow > 0.0 ? 1 : flow < 0.0 ? -1 : 0; };
  const auto most = [&](std::size_t part) { return std::max(std::abs(before[part]), std::abs(after[part])); };
  const auto ends_there = [&](std::size_t part) {
    const Branch& branch = plan_.branches()[part];
    return std::any_of(branch.junction.begin(), branch.junction.begin() + branch.ports, [&](int at) { return plan_.heat()->node_of(at) == system_.worst_node(); });
  };
  // The largest of those that turned; beside a node that is out of balance, of those that run to it.
  const bool balanced = system_.heat_balances();
  double largest = 0.0;
  std::optional<std::size_t> turned;
  for (std::size_t part = 0; part < after.size(); ++part) {
    largest = std::max(largest, most(part));
    if (sign(before[part]) == sign(after[part]) || !(balanced || ends_there(part))) continue;
    if (!turned || most(part) > most(*turned)) turned = part;
  }
  if (!turned || most(*turned) > small * largest) return {};
  const std::size_t part = *turned;
  return turning_trickle(plan_.network().parts()[part].name, before[part], after[part]);
}

void HeatSolver::report(Solution& solution, bool done) {
  const FlowSystem& flow = system_.flow();
  solution.status = done ? Status::converged : Status::not_converged;
  solution.rung = reached_by_;
  solution.residual = flow.worst_residual();
  solution.mass_closure = flow.mass_error();
  solution.energy_closure = system_.energy_error();
  solution.heat_moved = system_.heat_moved();
  solution.pressure = flow.pressures();
  solution.flow = flow.flows();
  solution.temperature = system_.temperatures();
  solution.part_temperature = system_.part_temperatures();
  const auto parts = static_cast<int>(solution.part_temperature.size());
  solution.heat.resize(solution.part_temperature.size());
  solution.power.resize(solution.part_temperature.size());
  solution.leaving.resize(solution.part_temperature.size());
  for (int part = 0; part < parts; ++part) {
    const auto p = static_cast<std::size_t>(part);
    solution.heat[p] = system_.heat_of(part);
    solution.power[p] = system_.power_of(part);
    for (int port = 0; port < plan_.branches()[p].ports; ++port) {
      const auto k = static_cast<std::size_t>(port);
      solution.leaving[p][k] = done ? system_.temperature_at(part, port) : 0.0;
    }
  }
  if (done) {
    const std::string impossible = explain_impossible(flow);
    if (impossible.empty()) {
      solution.message.clear();
      solution.worst.clear();
      return;
    }
    solution.status = Status::not_converged;
    solution.message = impossible;
  }
  solution.rung = Rung::none;
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  for (auto* numbers : {&solution.pressure, &solution.flow, &solution.temperature, &solution.part_temperature, &solution.heat, &solution.power})
    numbers->assign(numbers->size(), unknown);
  for (auto& ports : solution.leaving) ports.fill(unknown);
  solution.energy_closure = solution.heat_moved = unknown;
}

}  // namespace flarenut::analysis

#include "flarenut/analysis/heat_solver.hpp"

#include <cmath>
#include <limits>

#include "flarenut/analysis/diagnosis.hpp"

namespace flarenut::analysis {
namespace {

constexpr double longest_step = 60.0;  // K, of Newton's
constexpr int newton_turns = 30, rounds = 60, rounds_between_newtons = 3;

}  // namespace

HeatSolver::HeatSolver(Plan& plan, SteadySolver& flow) : plan_(plan), flow_(flow), system_(plan, flow.system()) {}

bool HeatSolver::newton(Solution& solution, int most_iterations) {
  for (int turn = 0;; ++turn) {
    system_.linearise();
    ++solution.evaluations;
    solution.iterations = turn;
    if (!system_.exact() && (system_.accepted() || system_.nearly_accepted())) {
      system_.set_exact(true);
      system_.linearise();
    }
    if (system_.accepted()) return true;
    if (turn == most_iterations || !system_.find_step(HeatSystem::Moving::all)) return false;
    system_.take_step(HeatSystem::Moving::all, longest_step);
  }
}

bool HeatSolver::settle_temperatures(int turns, double most_kelvin) {
  for (int turn = 0; turn < turns; ++turn) {
    system_.linearise();
    if (!system_.find_step(HeatSystem::Moving::temperatures)) return false;
    system_.take_step(HeatSystem::Moving::temperatures, most_kelvin);
  }
  return true;
}

bool HeatSolver::solve_cold(Solution& solution, const SteadyOptions& options) {
  plan_.forget_temperatures();
  system_.set_exact(false);
  system_.start_level(plan_.liquid_temperature());
  flow_.solve_flow(solution, {}, options);
  if (!solution.converged()) return false;
  flow_.system().start_at(solution.pressure, solution.flow);
  if (settle_temperatures(2, 1e3) && newton(solution, newton_turns)) return true;
  return options.allow_ladder && alternate(solution, options);
}

bool HeatSolver::alternate(Solution& solution, const SteadyOptions& options) {
  plan_.forget_temperatures();
  system_.start_level(plan_.liquid_temperature());
  Start start{};
  std::vector<double> pressure, flow;
  for (int round = 1; round <= rounds; ++round) {
    flow_.solve_flow(solution, start, options);
    if (!solution.converged()) return false;
    pressure = solution.pressure;
    flow = solution.flow;
    start = {&pressure, &flow};
    flow_.system().start_at(pressure, flow);
    // Short steps first: the answer of one turn may be far from the state that it is worked out for.
    if (!settle_temperatures(1, round < rounds / 2 ? 15.0 : 5.0)) return false;
    if (round % rounds_between_newtons != 0) continue;
    const std::vector<double> nodes = system_.temperatures(), parts = system_.part_temperatures();
    if (newton(solution, newton_turns)) return true;
    system_.start_at(nodes, parts);
  }
  return false;
}

void HeatSolver::solve(Solution& solution, Start start, const SteadyOptions& options) {
  solution.evaluations = 0;
  solution.message = no_way_out(plan_);
  bool done = false;
  if (solution.message.empty()) {
    if (start.pressure != nullptr && start.temperature != nullptr && !start.temperature->empty()) {
      system_.start_at(*start.temperature, *start.part_temperature);
      flow_.system().start_at(*start.pressure, *start.flow);
      solution.rung = Rung::warm;
      done = newton(solution, newton_turns);
    }
    if (!done) {
      solution.rung = Rung::cold;
      done = solve_cold(solution, options);
    }
    if (!done && solution.message.empty()) solution.message = explain_heat_failure(system_);
  }
  report(solution, done);
}

void HeatSolver::report(Solution& solution, bool done) {
  const FlowSystem& flow = system_.flow();
  solution.status = done ? Status::converged : Status::not_converged;
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

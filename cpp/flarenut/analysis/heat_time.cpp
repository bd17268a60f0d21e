#include <algorithm>
#include <cmath>
#include <limits>

#include "flarenut/analysis/heat_solver.hpp"

// Steps of time: those that only lead to a steady state, and those that a person watches on the gauge.

namespace flarenut::analysis {
namespace {

constexpr int turns = 12;  // of Newton's, in one step

/// In time nothing need be steady.
std::string of_time(const std::string& words) {
  const std::string steady = "there is no steady state within what is known of the liquid: ";
  return words.rfind(steady, 0) == 0 ? "what is known of the liquid ends here: " + words.substr(steady.size()) : words;
}

/// How far the temperature of every junction goes up and down.
struct Swing {
  explicit Swing(const std::vector<double>& kelvin)
      : lowest(kelvin.size(), std::numeric_limits<double>::infinity()), highest(kelvin.size(), -std::numeric_limits<double>::infinity()) {}
  void add(const std::vector<double>& kelvin) {
    for (std::size_t j = 0; j < kelvin.size(); ++j) {
      lowest[j] = std::min(lowest[j], kelvin[j]);
      highest[j] = std::max(highest[j], kelvin[j]);
    }
  }
  std::vector<double> lowest, highest;
};

}  // namespace

HeatSolver::State HeatSolver::state() {
  return {system_.temperatures(), system_.part_temperatures(), flow_.system().pressures(), flow_.system().flows()};
}

void HeatSolver::restore(const State& state) {
  system_.start_at(state.nodes, state.parts);
  flow_.system().start_at(state.pressure, state.flow);
}

/// In steps of time from one temperature everywhere. Time is ours: only the end of the march is true.
bool HeatSolver::march(Solution& solution, const SteadyOptions& options, double kelvin) {
  constexpr double lag = 1.0, first_step = 0.05, least_step = 1e-4;  // s
  constexpr double last_step = 1e8;  // s: a pump against a shut end warms grams of liquid, for weeks
  constexpr int most_steps = 300;
  why_ended_.clear();
  system_.set_exact(false);
  system_.start_level(kelvin);
  flow_.solve_flow(solution, {}, options);
  if (!solution.converged()) return false;
  flow_.system().start_at(solution.pressure, solution.flow);
  double step = first_step;
  bool going = true;
  Swing swing(system_.temperatures());
  for (int count = 0; going && count < most_steps && step < last_step; ++count) {
    const State before = state();
    system_.keep_time();
    system_.set_time_step(step, lag, lag);
    if (newton(solution, turns)) {
      step *= 1.6;
      if (count >= most_steps / 2) swing.add(system_.temperatures());
      continue;
    }
    step *= 0.25;
    going = step > least_step;
    if (!going) why_ended_ = system_.at_limit() ? explain_heat_failure(system_) : explain_turning();
    restore(before);
  }
  system_.set_time_step(0.0);
  if (going && newton(solution, newton_turns)) return true;
  if (going && step < last_step) why_ended_ = hunting(plan_, swing.lowest, swing.highest);
  return false;
}

void HeatSolver::begin(Solution& solution, double kelvin) {
  SteadyOptions options;
  options.on_the_way = true;
  forget_the_way();
  system_.measure_contents();
  system_.set_exact(true);
  system_.start_level(kelvin);
  flow_.solve_flow(solution, {}, options);
  bool done = solution.converged();
  if (done) {
    flow_.system().start_at(solution.pressure, solution.flow);
    system_.linearise();
  }
  reached_by_ = Rung::cold;
  report(solution, done);
}

/// Second-order implicit steps (BDF2; the first one is Euler's), their size chosen by how far a straight continuation of the last step
/// would have missed.
void HeatSolver::advance(Solution& solution, double seconds) {
  constexpr double first_step = 0.2, least_step = 1e-6, error_wanted = 0.05, growth = 2.0;  // s, s, K
  constexpr double lag = 0.5;  // s, of part means, where a step fails without: of the order of a passage through a part
  plan_.refresh();
  restore(state());
  const int evaluations_before = system_.flow().evaluations();
  double passed = 0.0, step = last_step_ > 0.0 ? next_step_ : first_step, lagging = 0.0;
  bool done = true;
  while (done && passed < seconds * (1.0 - 1e-12)) {
    const State before = state();
    const double left = seconds - passed, now = left <= step ? left : left < 2.0 * step ? 0.5 * left : step;
    const bool second_order = last_step_ > 0.0 && now <= growth * last_step_;
    if (second_order) system_.keep_time(earlier_, now / last_step_);
    else system_.keep_time();
    system_.set_time_step(second_order ? HeatSystem::bdf2_step(now, now / last_step_) : now, lagging, 0.0);
    const bool solved = newton(solution, turns);
    double error = 0.0;
    std::vector<double> rate(before.nodes.size());
    for (std::size_t j = 0; solved && j < rate.size(); ++j) {
      rate[j] = (system_.temperatures()[j] - before.nodes[j]) / now;
      if (last_step_ > 0.0 && system_.stores_heat(static_cast<int>(j)))
        error = std::max(error, std::abs(rate[j] - last_rate_[j]) * now * now / (now + last_step_));
    }
    if (!solved || (error > 4.0 * error_wanted && now > first_step)) {
      restore(before);
      last_step_ = 0.0;  // Euler's next, which has no past
      step = now * (solved ? std::clamp(std::sqrt(error_wanted / error), 0.1, 0.5) : 0.25);
      lagging = solved ? 0.0 : lag;
      done = step > least_step;
      continue;
    }
    passed += now;
    lagging = 0.0;
    step = now * (last_step_ > 0.0 ? std::clamp(std::sqrt(error_wanted / std::max(error, 1e-12)), 0.3, growth) : 1.0);
    last_step_ = now;
    last_rate_ = std::move(rate);
    earlier_ = before.nodes;
  }
  next_step_ = step;
  solution.evaluations = system_.flow().evaluations() - evaluations_before;
  system_.set_time_step(0.0);
  reached_by_ = Rung::warm;
  if (!done) solution.message = of_time(explain_heat_failure(system_));
  report(solution, done);
}

}  // namespace flarenut::analysis

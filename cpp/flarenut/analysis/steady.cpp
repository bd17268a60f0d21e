#include "flarenut/analysis/steady.hpp"

#include <algorithm>
#include <limits>

#include "flarenut/analysis/diagnosis.hpp"
#include "flarenut/analysis/gradients.hpp"
#include "flarenut/analysis/heat_solver.hpp"
#include "flarenut/analysis/plain_solver.hpp"
#include "flarenut/solver/newton.hpp"

namespace flarenut::analysis {

std::string_view name(Rung rung) {
  switch (rung) {
    case Rung::none: return "none";
    case Rung::warm: return "warm";
    case Rung::cold: return "cold start";
    case Rung::line_search: return "line search";
    case Rung::pseudo_transient: return "pseudo-transient";
    case Rung::source_stepping: return "source stepping";
    case Rung::held_temperature: return "one temperature held";
    case Rung::march: return "march in time";
  }
  return "none";
}

/// The columns of a plain circuit and the system on them.
struct SteadySolver::Plain {
  explicit Plain(const Plan& plan) : circuit(network::plain_circuit(plan)), system(circuit) {}
  network::PlainCircuit circuit;
  PlainSystem system;
};

SteadySolver::SteadySolver(Plan& plan, LawsBy laws) : plan_(plan), laws_(laws) {}
SteadySolver::~SteadySolver() = default;

FlowSystem& SteadySolver::system() {
  if (!system_) system_ = std::make_unique<FlowSystem>(plan_, laws_);
  return *system_;
}

Gradients& SteadySolver::gradients() {
  if (!gradients_) gradients_ = std::make_unique<Gradients>(plan_, system().field(), laws_);
  return *gradients_;
}

const PlainSystem* SteadySolver::plain_system() const { return plain_ ? &plain_->system : nullptr; }

/// Whether the symmetric system has an answer. What it cannot solve goes to the general one, with its whole ladder.
bool SteadySolver::solve_plain(Solution& solution, Start start, const SteadyOptions& options) {
  if (static_cast<int>(plan_.branches().size()) < options.symmetric_from) return false;
  plan_.refresh();
  if (!plain_asked_ && network::is_plain(plan_)) plain_ = std::make_unique<Plain>(plan_);
  plain_asked_ = true;
  if (!plain_) return false;
  network::update(plain_->circuit, plan_);
  if (!climb(plain_->system, solution, start, options)) return false;
  plain_->system.write(solution.pressure, solution.flow);
  solution.worst.clear();
  solution.message.clear();
  return true;
}

void SteadySolver::solve(Solution& solution, Start start, const SteadyOptions& options) {
  if (plan_.heat() == nullptr) return solve_flow(solution, start, options);
  heat().solve(solution, start, options);
}

HeatSolver& SteadySolver::heat() {
  if (!heat_) heat_ = std::make_unique<HeatSolver>(plan_, *this);
  return *heat_;
}

void SteadySolver::solve_flow(Solution& solution, Start start, const SteadyOptions& options) {
  bool done = solve_plain(solution, start, options);
  if (done && (options.on_the_way || std::none_of(solution.pressure.begin(), solution.pressure.end(), impossible_pressure))) return;
  if (!done) {
    solution.evaluations = 0;
    solution.status = Status::not_converged;
  }
  const Rung first = start.pressure != nullptr ? Rung::warm : Rung::cold;
  FlowSystem& equations = system();
  const int before = equations.evaluations();
  if (done) {  // only to be explained
    equations.start_at(solution.pressure, solution.flow);
    equations.linearise();
  } else if (options.tried == first) {
    // nothing: the ladder goes on from there
  } else if (first == Rung::warm) {
    equations.start_at(*start.pressure, *start.flow);
    done = try_rung(Rung::warm, solution, options);
  } else {
    equations.start_cold();
    done = try_rung(Rung::cold, solution, options);
  }
  if (!done && options.allow_ladder) {
    for (Rung rung : {Rung::cold, Rung::line_search, Rung::pseudo_transient}) {
      if (rung == first) continue;
      equations.start_cold();
      done = try_rung(rung, solution, options);
      if (done) break;
    }
    if (!done) done = step_sources(solution, options);
  }
  solution.evaluations += equations.evaluations() - before;
  const bool asked = done ? !options.on_the_way : beyond_round_off(equations);
  const std::string impossible = asked ? explain_impossible(equations) : std::string();
  if (!impossible.empty()) solution.status = Status::not_converged;
  report(solution);
  if (impossible.empty()) return;
  solution.message = impossible;
  solution.worst.clear();  // every equation holds; none is to blame
}

bool SteadySolver::try_rung(Rung rung, Solution& solution, const SteadyOptions& options) {
  solver::NewtonOptions newton;
  newton.most_iterations = options.most_iterations;
  if (rung == Rung::line_search) newton.stepping = solver::Stepping::line_search;
  if (rung == Rung::pseudo_transient) {
    newton.stepping = solver::Stepping::pseudo_time;
    newton.most_iterations *= 4;
  }
  const solver::NewtonReport report = solver::newton(system(), newton);
  solution.iterations = report.iterations;
  solution.rung = rung;
  if (report.end != solver::NewtonEnd::converged) return false;
  if (!options.on_the_way) system().polish();
  solution.status = Status::converged;
  return true;
}

/// Raises every drive (volts, speed, duty) from nothing in steps that shrink when one fails, each step warm from
/// the last.
bool SteadySolver::step_sources(Solution& solution, const SteadyOptions& options) {
  Plan& plan = plan_;
  FlowSystem& equations = system();
  struct Drive {
    int number;
    double full;
  };
  std::vector<Drive> drives;
  for (int number = 0; number < static_cast<int>(plan.names().size()); ++number) {
    const network::NumberPlace& place = plan.place(number);
    if (place.what != network::NumberPlace::What::field) continue;
    const auto info = plan.element(place.owner).info();
    if (info.fields[static_cast<std::size_t>(place.field)].drives && plan.get(number) != 0.0)
      drives.push_back({number, plan.get(number)});
  }
  const auto set_drives = [&](double share) {
    for (const Drive& drive : drives) {
      const auto& place = plan.place(drive.number);
      const auto info = plan.element(place.owner).info();
      const auto& field = info.fields[static_cast<std::size_t>(place.field)];
      plan.set(drive.number, std::max(field.least, share * drive.full));
    }
  };

  double reached = 0.0, step = 0.1;
  set_drives(0.0);
  equations.start_cold();
  bool going = try_rung(Rung::source_stepping, solution, options);
  while (going && reached < 1.0) {
    const std::vector<double> pressure = equations.pressures(), flow = equations.flows();
    const double next = std::min(1.0, reached + step);
    set_drives(next);
    equations.start_at(pressure, flow);
    if (try_rung(Rung::source_stepping, solution, options)) {
      reached = next;
      step *= 1.5;
    } else {
      solution.status = Status::not_converged;
      step *= 0.25;
      if (step < 1e-4) going = false;
      set_drives(reached);
      equations.start_at(pressure, flow);
    }
  }
  for (const Drive& drive : drives) plan.set(drive.number, drive.full);
  if (!going) solution.status = Status::not_converged;
  return going;
}

void SteadySolver::report(Solution& solution) {
  const FlowSystem& equations = system();
  solution.residual = equations.worst_residual();
  solution.mass_closure = equations.mass_error();
  const auto& parts = equations.plan().network().parts();
  if (solution.converged()) {
    solution.worst.clear();
    solution.message.clear();
    solution.pressure = equations.pressures();
    solution.flow = equations.flows();
    return;
  }
  solution.rung = Rung::none;
  solution.worst = parts[static_cast<std::size_t>(equations.worst_branch())].name;
  solution.message = explain_failure(equations);
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  solution.pressure.assign(equations.pressures().size(), unknown);
  solution.flow.assign(equations.flows().size(), unknown);
}

Solution solve(Plan& plan, Start start, const SteadyOptions& options) {
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution, start, options);
  return solution;
}

}  // namespace flarenut::analysis

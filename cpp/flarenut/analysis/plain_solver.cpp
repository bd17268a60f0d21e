#include "flarenut/analysis/plain_solver.hpp"

#include <cmath>
#include <limits>
#include <sstream>

#include "flarenut/solver/newton.hpp"

namespace flarenut::analysis {

bool climb(PlainSystem& system, Solution& solution, Start start, const SteadyOptions& options) {
  const int before = system.evaluations();
  const auto attempt = [&](Rung rung) {
    solver::NewtonOptions newton;
    newton.most_iterations = options.most_iterations;
    if (rung == Rung::line_search) newton.stepping = solver::Stepping::line_search;
    if (rung == Rung::pseudo_transient) {
      newton.stepping = solver::Stepping::pseudo_time;
      newton.most_iterations *= 4;
    }
    const solver::NewtonReport report = solver::newton(system, newton);
    solution.iterations = report.iterations;
    solution.rung = rung;
    solution.status = report.end == solver::NewtonEnd::converged ? Status::converged : Status::not_converged;
    return solution.converged();
  };
  bool done = false;
  if (start.pressure != nullptr) {
    system.start_at(*start.pressure, *start.flow);
    done = attempt(Rung::warm);
  }
  for (Rung rung : {Rung::cold, Rung::line_search, Rung::pseudo_transient}) {
    const bool first = start.pressure == nullptr && rung == Rung::cold;
    if (done || (!first && !options.allow_ladder)) break;
    system.start_cold();
    done = attempt(rung);
  }
  solution.evaluations = system.evaluations() - before;
  solution.residual = system.worst_residual();
  solution.mass_closure = system.mass_error();
  return done;
}

RowSolver::RowSolver(const network::RowPlan& plan) : plan_(plan), circuit_(plan.circuit()), version_(plan.version()), system_(circuit_) {}

void RowSolver::solve(Solution& solution, Start start, const SteadyOptions& options) {
  if (version_ != plan_.version()) plan_.update(circuit_);
  version_ = plan_.version();
  const bool done = climb(system_, solution, start, options);
  solution.message.clear();
  solution.worst.clear();
  explain(solution, done);
  if (solution.converged()) return system_.write(solution.pressure, solution.flow);
  solution.rung = Rung::none;
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  solution.pressure.assign(static_cast<std::size_t>(plan_.network().junction_count()), unknown);
  solution.flow.assign(static_cast<std::size_t>(plan_.network().part_count()), unknown);
}

void RowSolver::explain(Solution& solution, bool done) {
  std::ostringstream words;
  words.precision(3);
  if (!done) {
    solution.worst = plan_.network().part_name(system_.worst_part());
    words << "the line '" << solution.worst << "' would not settle (error " << system_.worst_residual() << " of its scale, accepted at "
          << FlowSystem::branch_tolerance << "). Check its numbers and their units, and the demands around it";
    solution.message = words.str();
    return;
  }
  int lowest = 0;
  for (int junction = 1; junction < plan_.network().junction_count(); ++junction)
    if (system_.pressure_of(junction) < system_.pressure_of(lowest)) lowest = junction;
  if (!(system_.pressure_of(lowest) < 0.0)) return;
  solution.status = Status::not_converged;
  words << "the pressure at '" << plan_.network().junction_name(lowest) << "' would have to fall below absolute zero: more liquid is "
        << "asked for than can reach it. Lower the demands there and beyond, or open the way to it";
  solution.message = words.str();
}

}  // namespace flarenut::analysis

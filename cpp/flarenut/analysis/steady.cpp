#include "flarenut/analysis/steady.hpp"

#include <limits>

#include "flarenut/analysis/diagnosis.hpp"
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
  }
  return "none";
}

void SteadySolver::solve(Solution& solution, Start start, const SteadyOptions& options) {
  solution.evaluations = 0;
  solution.status = Status::not_converged;
  const int before = system_.evaluations();
  bool done = false;
  const Rung first = start.pressure != nullptr ? Rung::warm : Rung::cold;
  if (options.tried == first) {
    // nothing: the ladder goes on from there
  } else if (first == Rung::warm) {
    system_.start_at(*start.pressure, *start.flow);
    done = try_rung(Rung::warm, solution, options);
  } else {
    system_.start_cold();
    done = try_rung(Rung::cold, solution, options);
  }
  if (!done && options.allow_ladder) {
    for (Rung rung : {Rung::cold, Rung::line_search, Rung::pseudo_transient}) {
      if (rung == first) continue;
      system_.start_cold();
      done = try_rung(rung, solution, options);
      if (done) break;
    }
    if (!done) done = step_sources(solution, options);
  }
  solution.evaluations = system_.evaluations() - before;
  const std::string impossible = done ? explain_impossible(system_) : std::string();
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
  const solver::NewtonReport report = solver::newton(system_, newton);
  solution.iterations = report.iterations;
  solution.rung = rung;
  if (report.end != solver::NewtonEnd::converged) return false;
  solution.status = Status::converged;
  return true;
}

/// Raises every drive (volts, speed, duty) from nothing in steps that shrink when one fails, each step warm from
/// the last.
bool SteadySolver::step_sources(Solution& solution, const SteadyOptions& options) {
  Plan& plan = system_.plan();
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
  system_.start_cold();
  bool going = try_rung(Rung::source_stepping, solution, options);
  while (going && reached < 1.0) {
    const std::vector<double> pressure = system_.pressures(), flow = system_.flows();
    const double next = std::min(1.0, reached + step);
    set_drives(next);
    system_.start_at(pressure, flow);
    if (try_rung(Rung::source_stepping, solution, options)) {
      reached = next;
      step *= 1.5;
    } else {
      solution.status = Status::not_converged;
      step *= 0.25;
      if (step < 1e-4) going = false;
      set_drives(reached);
      system_.start_at(pressure, flow);
    }
  }
  for (const Drive& drive : drives) plan.set(drive.number, drive.full);
  if (!going) solution.status = Status::not_converged;
  return going;
}

void SteadySolver::report(Solution& solution) {
  solution.residual = system_.worst_residual();
  solution.mass_closure = system_.mass_error();
  const auto& parts = system_.plan().network().parts();
  if (solution.converged()) {
    solution.worst.clear();
    solution.message.clear();
    solution.pressure = system_.pressures();
    solution.flow = system_.flows();
    return;
  }
  solution.rung = Rung::none;
  solution.worst = parts[static_cast<std::size_t>(system_.worst_branch())].name;
  solution.message = explain_failure(system_);
  constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  solution.pressure.assign(system_.pressures().size(), unknown);
  solution.flow.assign(system_.flows().size(), unknown);
}

Solution solve(Plan& plan, Start start, const SteadyOptions& options) {
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution, start, options);
  return solution;
}

}  // namespace flarenut::analysis

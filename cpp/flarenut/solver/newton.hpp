#pragma once
/// Newton's loop, for anything that can linearise itself, judge itself and step.
///
/// The system decides what a step is and when it is satisfied; here is only the order of things: linearise, judge,
/// step, and how far to step. Three ways of stepping, from bold to careful:
///   full           the whole step (the system may limit where it linearises next),
///   line search    halved until the merit falls,
///   pseudo-time    damped like an implicit time step whose length grows as the residual falls
///                  (switched evolution relaxation, W. A. Mulder and B. van Leer, J. Comput. Phys. 59, 1985).

#include <algorithm>
#include <concepts>

namespace flarenut::solver {

enum class Stepping { full, line_search, pseudo_time };

enum class NewtonEnd { converged, iterations_spent, singular };

struct NewtonReport {
  NewtonEnd end = NewtonEnd::iterations_spent;
  int iterations = 0;
};

struct NewtonOptions {
  int most_iterations = 50;
  Stepping stepping = Stepping::full;
};

template <class System>
NewtonReport newton(System& system, const NewtonOptions& options) {
  NewtonReport report;
  double damping = 1.0, first_merit = 0.0;
  for (;; ++report.iterations) {
    system.linearise();
    if (system.accepted()) {
      report.end = NewtonEnd::converged;
      return report;
    }
    if (report.iterations == options.most_iterations) return report;

    if (options.stepping == Stepping::pseudo_time) {
      const double merit = system.merit_at(0.0);
      if (report.iterations == 0) first_merit = merit;
      damping = first_merit > 0.0 ? std::min(1.0, merit / first_merit) : 0.0;
      if (!system.find_damped_step(damping < 1e-8 ? 0.0 : damping)) break;
    } else if (!system.find_step()) {
      break;
    }

    double length = 1.0;
    if (options.stepping == Stepping::line_search) {
      const double present = system.merit_at(0.0);
      for (int halving = 0; halving < 12 && system.merit_at(length) > (1.0 - 1e-4 * length) * present; ++halving)
        length *= 0.5;
    }
    system.take_step(length, options.stepping == Stepping::full);
  }
  report.end = NewtonEnd::singular;
  return report;
}

}  // namespace flarenut::solver

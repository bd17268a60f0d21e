#pragma once
/// Newton's loop, for anything that can linearise itself, judge itself and step.
///
/// The system decides what a step is and when it is satisfied; here is only the order of things: linearise, judge,
/// step, and how far to step. Three ways of stepping, from bold to careful:
///   full           the whole step (the system may limit where it linearises next),
///   line search    halved until the merit falls,
///   pseudo-time    damped like implicit time steps: held firmly for a while, then let go little by little, which
///                  follows the path a real circuit would take to rest.

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
  for (;; ++report.iterations) {
    system.linearise();
    if (system.accepted()) {
      report.end = NewtonEnd::converged;
      return report;
    }
    if (report.iterations == options.most_iterations) return report;

    if (options.stepping == Stepping::pseudo_time) {
      // Found by trial on circuits of tees whose streams meet head-on, the hardest known.
      constexpr double firm = 0.3;
      constexpr int hold = 75, release = 75;
      const double left = std::clamp(1.0 - static_cast<double>(report.iterations - hold) / release, 0.0, 1.0);
      if (!system.find_damped_step(firm * left)) break;
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

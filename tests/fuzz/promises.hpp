#pragma once
/// What every answer promises. A promise that is broken ends the program, which is what a fuzzer looks for.

#include <cmath>
#include <cstdio>
#include <cstdlib>

#include "flarenut/analysis/steady.hpp"

namespace fuzz {

inline void require(bool kept, const char* promise) {
  if (kept) return;
  std::fprintf(stderr, "a promise is broken: %s\n", promise);
  std::abort();
}

/// An answer is finite, holds its certificate and lies above absolute zero; where there is none, nothing can be taken for a number.
/// `balanced`: heat is, which it is not in the first moment of a drive, whose temperatures are given.
inline void judge(const flarenut::analysis::Solution& solution, bool balanced = true) {
  if (!solution.converged()) {
    require(!solution.message.empty(), "no answer says why");
    for (double one : solution.pressure) require(std::isnan(one), "a pressure that was not found is no number");
    for (double one : solution.flow) require(std::isnan(one), "a flow that was not found is no number");
    return;
  }
  require(solution.residual <= 1e-10 && solution.mass_closure <= 1e-12, "an answer holds its certificate");
  require(!balanced || solution.energy_closure <= 1e-9, "an answer keeps its heat");
  for (double one : solution.pressure) require(std::isfinite(one) && one >= 0.0, "a pressure is a number above absolute zero");
  for (double one : solution.flow) require(std::isfinite(one), "a flow is a number");
  for (double one : solution.temperature) require(std::isfinite(one) && one > 0.0, "a temperature is a number above absolute zero");
}

}  // namespace fuzz

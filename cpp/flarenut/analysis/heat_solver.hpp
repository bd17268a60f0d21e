#pragma once
/// Steady pressures, flows and temperatures together.
///
/// The ladder: flow is solved at the temperature that the liquid is said to have, temperatures at those flows, and from there one
/// Newton on everything (`heat_system.hpp`). Where that does not settle, flow and temperatures are solved in turn, damped, and Newton
/// is tried again from where they have got to. Not converged is never a number: the message says why there is no answer; when
/// more heat goes in than can get out, in words.

#include "flarenut/analysis/heat_system.hpp"
#include "flarenut/analysis/steady.hpp"

namespace flarenut::analysis {

class HeatSolver {
 public:
  /// Both must outlive this.
  HeatSolver(Plan& plan, SteadySolver& flow);

  void solve(Solution& solution, Start start, const SteadyOptions& options);
  HeatSystem& system() { return system_; }

 private:
  bool solve_cold(Solution& solution, const SteadyOptions& options);
  bool newton(Solution& solution, int most_iterations);
  bool settle_temperatures(int turns, double most_kelvin);
  bool alternate(Solution& solution, const SteadyOptions& options);
  void report(Solution& solution, bool done);

  Plan& plan_;
  SteadySolver& flow_;
  HeatSystem system_;
};

/// Why heat that goes in cannot get out, or what leaves a temperature open, in words; empty when there is a way. To be asked before a solve.
std::string no_way_out(const Plan& plan);
/// Why a solve failed, in words.
std::string explain_heat_failure(const HeatSystem& system);

}  // namespace flarenut::analysis

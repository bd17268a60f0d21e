#pragma once
/// Steady pressures, flows and temperatures together.
///
/// The ladder: flow is found roughly at the temperature that tank or liquid are said to have, temperatures at those flows, and from there one
/// Newton on everything (`heat_system.hpp`). Where that does not settle, one temperature is held, that of the sump: what its node would
/// still take up falls as it is held hotter, so the answer is bracketed, and Newton goes on from near by. Without a bracket there is
/// no answer within what is known of the liquid, and the heat left over at the end of it is told. What Newton cannot solve at once is
/// marched to in steps of time that grow, as the real oil would go. Not converged is never a number: the message says why.

#include "flarenut/analysis/heat_system.hpp"
#include "flarenut/analysis/steady.hpp"

namespace flarenut::analysis {

class HeatSolver {
 public:
  /// Both must outlive this.
  HeatSolver(Plan& plan, SteadySolver& flow);

  void solve(Solution& solution, Start start, const SteadyOptions& options);
  HeatSystem& system() { return system_; }

  /// Other steady states of the plan as it stands beside one that was found, looked for with every cooler cold, and from cold and hot.
  std::vector<Solution> others(const Solution& found);

  /// Time: everything at one temperature, flows at once as these temperatures have them.
  void begin(Solution& solution, double kelvin);
  /// Goes on by so many seconds at the plan's present numbers, which may have changed since. What stores heat is what has a heat capacity.
  void advance(Solution& solution, double seconds);

 private:
  static constexpr int newton_turns = 60;
  struct State {
    std::vector<double> nodes, parts, pressure, flow;
  };
  State state();
  void restore(const State& state);
  /// No node held, no time passing: whatever an earlier solve was thrown out of.
  void forget_the_way() {
    system_.release();
    system_.set_time_step(0.0);
    last_step_ = 0.0;
    why_ended_.clear();
  }
  bool solve_as_warm_as_comes_in(Solution& solution, const SteadyOptions& options);
  bool solve_cold(Solution& solution, const SteadyOptions& options);
  bool newton(Solution& solution, int most_iterations);
  bool settle_temperatures();
  bool start_flow(Solution& solution, const SteadyOptions& options);
  bool march(Solution& solution, const SteadyOptions& options, double kelvin);
  bool bracket(Solution& solution, const SteadyOptions& options);
  bool solve_held(Solution& solution, const SteadyOptions& options, double kelvin, double& heat);
  bool solve_from(Solution& solution, const SteadyOptions& options, const State& start);
  bool solve_level(Solution& solution, const SteadyOptions& options, std::optional<double> kelvin);
  void report(Solution& solution, bool done);
  std::string why_it_failed();
  /// Once more from where a solve failed: what turns round when all else holds, in words; empty where nothing does.
  std::string explain_turning();

  Plan& plan_;
  SteadySolver& flow_;
  HeatSystem system_;
  std::vector<int> island_;
  Rung reached_by_ = Rung::none;
  std::string why_ended_;  ///< a march, in words; empty where it did not or nobody knows
  double last_step_ = 0.0, next_step_ = 0.0;     ///< of time [s]; no last one: no past to go by
  std::vector<double> last_rate_, earlier_;      ///< of every junction's temperature in it [K/s]; where it began [K]
};

/// That a node would still gain or lose heat at the end of what is known of its liquid, in words.
std::string beyond_limit(const HeatSystem& system, int junction, double kelvin, double heat);
/// Why heat that goes in cannot get out, or what leaves a temperature open, in words; empty when there is a way. To be asked before a solve.
/// `island` is that of the plan.
std::string no_way_out(const Plan& plan, const std::vector<int>& island);
/// Which junctions heat can pass between, by liquid that flows or by a wall: by junction, one of them that stands for all. It never changes.
std::vector<int> heat_islands(const Plan& plan);
/// That a trickle turns round with the warmth that it brings, in words; its flow one turn and the next [kg/s].
std::string turning_trickle(const std::string& part, double flow, double next);
/// Heat put in where no stream was found that takes the most of it away, as behind something shut; empty where there is none.
std::string cannot_leave(const HeatSystem& system);
/// That a circuit marched in time settles nowhere, in words, by how far each junction went down and up; empty where none swings.
std::string hunting(const Plan& plan, const std::vector<double>& lowest, const std::vector<double>& highest);
/// Why a solve failed, in words.
std::string explain_heat_failure(const HeatSystem& system);

}  // namespace flarenut::analysis

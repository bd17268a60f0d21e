#pragma once
/// Steady pressures and flows of a plan at its present numbers.
///
/// The ladder: each rung is tried only when the one before has failed, and the result says which one held.
///   warm               Newton from a previous answer
///   cold start         each device where it expects to work
///   line search        steps shortened until the residual falls
///   pseudo-transient   damped as by implicit time steps
///   source stepping    pump drive and injector duty raised from nothing
/// Where temperatures are found (`heat_solver.hpp`), two more stand after these:
///   one temperature held   the sump's, and the balance of its heat bracketed
///   march in time          as the real liquid would warm up
/// Not converged is never a number: pressures and flows are then NaN and `message` names the worst equation and
/// the likeliest cause. The same holds for an answer that satisfies every equation and yet cannot be: a pressure below
/// absolute zero, which says that a demand or a pump asks for liquid that nothing can supply.

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "flarenut/analysis/flow_system.hpp"
#include "flarenut/base/regime.hpp"

namespace flarenut::analysis {

class Gradients;
class HeatSolver;
class PlainSystem;

enum class Status { converged, not_converged };
enum class Rung { none, warm, cold, line_search, pseudo_transient, source_stepping, held_temperature, march };

constexpr std::string_view name(Status status) { return status == Status::converged ? "converged" : "not converged"; }
std::string_view name(Rung rung);

/// A read-only snapshot of an answer, with its certificate.
struct Solution {
  Status status = Status::not_converged;
  Rung rung = Rung::none;         ///< the rung that held
  std::string message;            ///< what went wrong, in words; empty when converged
  int iterations = 0;             ///< on the rung that held
  int evaluations = 0;            ///< of all parts' laws, over every rung tried
  double residual = 0.0;          ///< worst scaled residual of any part; at most 1e-10 when converged
  double mass_closure = 0.0;      ///< worst imbalance of any junction over the largest flow; at most 1e-12
  std::string worst;              ///< name of the part with the worst residual
  std::vector<double> pressure;   ///< total, absolute, per junction [Pa]
  std::vector<double> flow;       ///< per internal flow [kg/s]

  // Where temperatures are found; empty where they are given.
  std::vector<double> temperature;       ///< per junction [K]
  std::vector<double> part_temperature;  ///< mean of the stream in each part [K]
  std::vector<double> heat, power;       ///< into the stream of each part, without and of a pump's power [W]
  std::vector<std::array<double, network::most_ports>> leaving;  ///< of what passes each port of each part [K]
  double energy_closure = 0.0;           ///< worst imbalance of any junction over the heat moved; at most 1e-9
  double heat_moved = 0.0;               ///< [W]

  bool converged() const { return status == Status::converged; }
};

struct SteadyOptions {
  int most_iterations = 50;      ///< per rung; converging solves take 3 to 12
  bool allow_ladder = true;      ///< false: one rung only, for measuring
  bool on_the_way = false;       ///< a step towards something else: pressures below absolute zero may stand
  Rung tried = Rung::none;       ///< the first rung, when somebody else has tried it in vain; it is left out
  /// Parts from which a plain circuit (`network/plain_circuit.hpp`) goes to the symmetric system: there it becomes the faster one.
  int symmetric_from = 1000;
};

/// Where to begin.
struct Start {
  const std::vector<double>* pressure = nullptr;  ///< of all junctions [Pa abs]; null: cold
  const std::vector<double>* flow = nullptr;      ///< [kg/s]
  const std::vector<double>* temperature = nullptr;       ///< of all junctions [K]; only with heat
  const std::vector<double>* part_temperature = nullptr;  ///< [K]

  Start() = default;
  Start(const std::vector<double>* pressures, const std::vector<double>* flows) : pressure(pressures), flow(flows) {}
  /// From an answer.
  explicit Start(const Solution& answer)
      : pressure(&answer.pressure), flow(&answer.flow), temperature(&answer.temperature), part_temperature(&answer.part_temperature) {}
};

/// Solves, keeping the workspace between calls: no allocation once warm.
class SteadySolver {
 public:
  explicit SteadySolver(Plan& plan, LawsBy laws = LawsBy::lanes);
  ~SteadySolver();

  /// `solution` is overwritten; its vectors are reused.
  void solve(Solution& solution, Start start = {}, const SteadyOptions& options = {});
  /// The same with all temperatures as they are.
  void solve_flow(Solution& solution, Start start = {}, const SteadyOptions& options = {});
  /// The equations of every kind of part. Built when first asked for: large plain circuits do without.
  FlowSystem& system();
  /// The solver of temperatures; for plans that find them.
  HeatSolver& heat();
  /// What gradients keep between calls (`gradient.hpp`).
  Gradients& gradients();
  /// The symmetric system, when the last solve went there; nothing otherwise.
  const PlainSystem* plain_system() const;

 private:
  bool try_rung(Rung rung, Solution& solution, const SteadyOptions& options);
  bool step_sources(Solution& solution, const SteadyOptions& options);
  void report(Solution& solution);

  bool solve_plain(Solution& solution, Start start, const SteadyOptions& options);

  struct Plain;
  Plan& plan_;
  LawsBy laws_;
  std::unique_ptr<FlowSystem> system_;
  std::unique_ptr<Plain> plain_;
  std::unique_ptr<HeatSolver> heat_;
  std::unique_ptr<Gradients> gradients_;
  bool plain_asked_ = false;  ///< whether it has been found out if the circuit is plain
};

/// One solve, for a caller who does not mind the set-up.
Solution solve(Plan& plan, Start start = {}, const SteadyOptions& options = {});

}  // namespace flarenut::analysis

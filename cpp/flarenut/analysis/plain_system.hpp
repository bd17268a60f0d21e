#pragma once
/// The equations of a plain circuit as Newton sees them: what `FlowSystem` is for circuits of every kind, on bare columns and with a
/// symmetric matrix. The method and the tests of an answer are the same (`flow_system.hpp`); here each part's law is two numbers,
/// what pressure it leaves over, r, and its slope with the flow, s:
///
///   r + Δp_from − Δp_to − s Δq = 0  →  Δq = (r + Δp_from − Δp_to)/s
///
/// so a part adds 1/s to the slopes of its two junctions and takes it from the entry between them. Every s is positive, and the matrix
/// with it positive definite.

#include <vector>

#include "flarenut/analysis/flow_system.hpp"
#include "flarenut/network/plain_circuit.hpp"
#include "flarenut/solver/symmetric_factor.hpp"

namespace flarenut::analysis {

class PlainSystem {
 public:
  /// `circuit` must outlive this and keep its structure.
  explicit PlainSystem(const network::PlainCircuit& circuit);

  // What `solver::newton` asks for.
  void start_cold();
  void start_at(const std::vector<double>& pressures, const std::vector<double>& flows);  ///< of all junctions; of all parts
  void linearise();
  bool accepted() const;
  bool find_step();
  bool find_damped_step(double damping);
  void take_step(double length = 1.0, bool limiting = true);
  double merit_at(double length) const;

  // What was found.
  double pressure_of(int junction) const { return pressure_[static_cast<std::size_t>(circuit_.place[static_cast<std::size_t>(junction)])]; }
  void write(std::vector<double>& pressures, std::vector<double>& flows) const;
  double worst_residual() const { return worst_residual_; }
  double mass_error() const { return mass_error_; }
  int worst_part() const { return worst_part_; }
  int evaluations() const { return evaluations_; }
  bool pivoted() const { return pivoted_; }  ///< whether any step needed the pivoting factorisation
  const network::PlainCircuit& circuit() const { return circuit_; }
  std::size_t bytes() const;                 ///< held between solves, the factor included
  std::size_t factor_bytes() const { return matrix_.bytes(); }

 private:
  double left_over(std::size_t part, double length, double& slope) const;
  double step_of(std::size_t part) const;
  double start_slope(std::size_t part, double slope_at_rest) const;
  double scale_of(double slope) const;
  bool assemble_and_solve(const Inertia& inertia);

  const network::PlainCircuit& circuit_;
  solver::SymmetricFactor matrix_;
  std::vector<int> slot_;                        ///< of each part: the entry between its ends; −1 where one is given
  std::vector<double> pressure_, step_;          ///< by place; those of given places do not move
  std::vector<double> flow_, residual_, slope_;  ///< by part
  std::vector<double> imbalance_, right_side_;   ///< by free place
  double raised_ = 1.0;                          ///< by what the slopes of the last step were raised
  double worst_residual_ = 0.0, mass_error_ = 0.0;
  int worst_part_ = 0, evaluations_ = 0;
  bool pivoted_ = false;
  bool at_rest_ = false;                         ///< whether the first linearisation of a cold solve is to come
};

}  // namespace flarenut::analysis

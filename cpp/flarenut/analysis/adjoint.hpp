#pragma once
/// Weights of an answer: what one unit of error in each equation does to an output, by one transposed solve. See `gradient.hpp`.

#include <vector>

#include "flarenut/analysis/flow_system.hpp"

namespace flarenut::analysis {

/// Which output: the pressure of a junction [Pa], or an internal flow of a part [kg/s].
struct Output {
  enum class What { pressure, flow } what = What::pressure;
  int index = 0;  ///< junction; or part
  int flow = 0;   ///< which flow of the part
};

class Adjoint {
 public:
  explicit Adjoint(const Plan& plan);

  /// Finds the weights at the linearisation of `system`, which must stand at an answer. Throws InputError where a pressure is
  /// determined by nothing.
  void find(FlowSystem& system, const Output& output);

  using Weights = std::array<double, network::most_flows>;
  /// By part: of a residual of its laws.
  const Weights& residual(int part) const { return residual_[static_cast<std::size_t>(part)]; }
  /// By junction: of a held pressure.
  double pressure(int junction) const { return pressure_[static_cast<std::size_t>(junction)]; }
  /// Of a mass flow taken out of the junction of an unknown.
  double demand(int unknown) const { return -junction_[static_cast<std::size_t>(unknown)]; }
  /// By part: of the density of the liquid that stands between its ends.
  double density(int part) const { return density_[static_cast<std::size_t>(part)]; }
  /// Of the vehicle's acceleration along an axis, by the liquid between the ends of parts.
  double acceleration(std::size_t axis) const { return acceleration_[axis]; }

 private:
  void aim(FlowSystem& system, const Output& output);
  void weigh(const FlowSystem& system, const Output& output);
  void weigh_other(const FlowSystem& system, const Output& output, std::size_t part);
  void lift(const FlowSystem& system);
  bool closes() const;

  const Plan& plan_;
  std::vector<double> right_side_;
  std::vector<double> junction_;  ///< per unknown, and one that is nil for held pressures
  std::vector<Weights> residual_;
  std::vector<double> pressure_, size_;  ///< by junction: sum of what its pressure does, and of the sizes of that
  std::vector<double> density_;
  std::array<double, 3> acceleration_{};
  std::vector<int> slanting_;            ///< parts whose ends lie at different places
};

}  // namespace flarenut::analysis

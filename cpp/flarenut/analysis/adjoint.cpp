#include "flarenut/analysis/adjoint.hpp"

#include <algorithm>
#include <cmath>

namespace flarenut::analysis {

Adjoint::Adjoint(const Plan& plan)
    : plan_(plan), right_side_(static_cast<std::size_t>(plan.unknown_count()) + 1, 0.0), junction_(right_side_),
      residual_(plan.branches().size()), pressure_(static_cast<std::size_t>(plan.junction_count())), size_(pressure_),
      density_(plan.branches().size()) {
  for (std::size_t b = 0; b < plan.branches().size(); ++b) {
    const Branch& branch = plan.branches()[b];
    const auto begin = branch.reach.begin();
    if (std::any_of(begin, begin + branch.pressures(), [](const network::Position& reach) { return reach != network::Position{}; }))
      slanting_.push_back(static_cast<int>(b));
  }
}

void Adjoint::find(FlowSystem& system, const Output& output) {
  const bool factors = system.assemble_matrix();
  aim(system, output);
  if (factors && system.matrix().listed()) {
    system.matrix().solve_transposed_unchecked(right_side_.data(), junction_.data());
    weigh(system, output);
    if (closes()) return lift(system);
  }
  if (plan_.unknown_count() > 0 && !system.matrix().solve_transposed(right_side_.data(), junction_.data()))
    throw InputError("gradient", "solution", "has a pressure that nothing determines, as behind a shut injector, and so no slopes");
  weigh(system, output);
  lift(system);
}

/// What the output itself does with the unknown pressures, once flows are eliminated.
void Adjoint::aim(FlowSystem& system, const Output& output) {
  std::fill(right_side_.begin(), right_side_.end(), 0.0);
  if (output.what == Output::What::pressure) {
    if (const int unknown = plan_.unknown_of(output.index); unknown >= 0) right_side_[static_cast<std::size_t>(unknown)] = 1.0;
    return;
  }
  const Branch& branch = plan_.branches()[static_cast<std::size_t>(output.index)];
  for (int i = 0; i < branch.pressures(); ++i)
    if (branch.unknown[i] >= 0)
      right_side_[static_cast<std::size_t>(branch.unknown[i])] += system.flow_by_pressure(output.index, output.flow, i);
}

/// From the weights of mass balances to those of flows, of residuals (Δq = −(∂r/∂q)⁻¹ r), and of pressures.
void Adjoint::weigh(const FlowSystem& system, const Output& output) {
  std::fill(pressure_.begin(), pressure_.end(), 0.0);
  std::fill(size_.begin(), size_.end(), 0.0);
  if (output.what == Output::What::pressure) pressure_[static_cast<std::size_t>(output.index)] = size_[static_cast<std::size_t>(output.index)] = 1.0;
  // Plain pointers: the compiler cannot know that what is written moves none of these vectors.
  const double *const junction = junction_.data(), *const slope = system.field().slope.data();
  double *const pressure = pressure_.data(), *const size = size_.data();
  Weights* const residual = residual_.data();
  const int special = output.what == Output::What::flow ? output.index : -1;
  for (const DropField::Part& part : system.field().parts()) {
    double by_flow = junction[part.row_to] - junction[part.row_from];
    if (part.branch == special) by_flow += 1.0;
    const double weight = by_flow / slope[part.place], pull = weight * part.opening_squared;
    residual[part.branch][0] = weight;
    pressure[part.from] += pull;
    pressure[part.to] -= pull;
    size[part.from] += std::abs(pull);
    size[part.to] += std::abs(pull);
  }
  for (std::size_t b = 0; b < residual_.size(); ++b)
    if (system.field().place_of(static_cast<int>(b)) < 0) weigh_other(system, output, b);
}

void Adjoint::weigh_other(const FlowSystem& system, const Output& output, std::size_t b) {
  const Branch& branch = plan_.branches()[b];
  const network::Linearisation line = system.linearisation(static_cast<int>(b));
  Weights by_flow{};
  for (int f = 0; f < branch.flows; ++f) {
    for (int port = 0; port < branch.ports; ++port)
      if (branch.unknown[port] >= 0)
        by_flow[f] += branch.inflow[port * branch.flows + f] * junction_[static_cast<std::size_t>(branch.unknown[port])];
    if (output.what == Output::What::flow && output.index == static_cast<int>(b) && output.flow == f) by_flow[f] += 1.0;
  }
  Weights& weight = residual_[b];
  if (branch.flows == 1) {
    weight[0] = -by_flow[0] / line.by_flow[0];
  } else {
    const double inverse = 1.0 / (line.by_flow[0] * line.by_flow[3] - line.by_flow[1] * line.by_flow[2]);
    weight[0] = -inverse * (line.by_flow[3] * by_flow[0] - line.by_flow[2] * by_flow[1]);
    weight[1] = -inverse * (line.by_flow[0] * by_flow[1] - line.by_flow[1] * by_flow[0]);
  }
  for (int i = 0; i < branch.pressures(); ++i) {
    double pull = 0.0;
    for (int f = 0; f < branch.flows; ++f) pull += weight[f] * line.by_pressure[f * branch.pressures() + i];
    const auto junction = static_cast<std::size_t>(branch.junction[i]);
    pressure_[junction] += pull;
    size_[junction] += std::abs(pull);
  }
}

/// Of the liquid that stands between ends at different places.
void Adjoint::lift(const FlowSystem& system) {
  acceleration_.fill(0.0);
  for (int part : slanting_) {
    const auto b = static_cast<std::size_t>(part);
    const Branch& branch = plan_.branches()[b];
    const network::Linearisation line = system.linearisation(part);
    const double density = plan_.liquid_in(part).density.value();
    density_[b] = 0.0;
    for (int i = 1; i < branch.pressures(); ++i) {
      double pull = 0.0;
      for (int f = 0; f < branch.flows; ++f) pull += residual_[b][f] * line.by_pressure[f * branch.pressures() + i];
      density_[b] += pull * branch.head[i] / density;
      for (std::size_t axis = 0; axis < 3; ++axis) acceleration_[axis] += pull * density * branch.reach[i][axis];
    }
  }
}

/// At an answer, moving a free pressure moves the output by nothing: what its parts would make of it must cancel.
bool Adjoint::closes() const {
  constexpr double good = 1e-11;  // as for other solves
  for (int unknown = 0; unknown < plan_.unknown_count(); ++unknown) {
    const auto junction = static_cast<std::size_t>(plan_.junction_of(unknown));
    if (!(std::abs(pressure_[junction]) <= good * size_[junction])) return false;
  }
  return true;
}

}  // namespace flarenut::analysis

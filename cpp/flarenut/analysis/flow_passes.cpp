#include <algorithm>
#include <cmath>
#include <limits>

#include "flarenut/analysis/flow_block.hpp"
#include "flarenut/analysis/flow_system.hpp"

// The two passes over all parts that every Newton step makes: judging the residuals, and gathering the matrix.

namespace flarenut::analysis {

using network::Linearisation;
using network::most_flows;
using network::most_pressures;

double FlowSystem::scale_of(const Branch& branch, const Linearisation& line, int flow, double flow_scale) {
  double by_pressure = 0.0, by_flow = 0.0;
  for (int i = 0; i < branch.pressures(); ++i) by_pressure += std::abs(line.by_pressure[flow * branch.pressures() + i]);
  for (int g = 0; g < branch.flows; ++g) by_flow += std::abs(line.by_flow[flow * branch.flows + g]);
  return by_pressure * pressure_scale + by_flow * flow_scale;
}

/// Scaled residuals. A part's is the smaller view of its error: as a pressure against a bar, or as a flow against
/// the flow scale, so that neither a wide-open bore nor a shut valve is judged by the wrong one.
void FlowSystem::measure() {
  const double flow_scale = plan_.flow_scale();
  std::fill(imbalance_.begin(), imbalance_.end(), 0.0);
  double largest_flow = 0.0;
  // The worst residual is kept as a fraction: no division per part.
  double worst = 0.0, worst_scale = 1.0, sum = 0.0;
  const auto judge = [&](int branch, double residual, double scale) {
    const double size = std::abs(residual);
    sum += size + scale;  // not a number once any of them is not
    if (size * worst_scale <= worst * scale) return;
    worst = size;
    worst_scale = scale;
    worst_branch_ = branch;
  };
  for (DropField::Part& part : field_.parts()) {
    const double flow = flow_[static_cast<std::size_t>(part.flow)], slope = field_.slope[part.place];
    const double driving = pressure_[static_cast<std::size_t>(part.from)] - pressure_[static_cast<std::size_t>(part.to)] + part.head;
    part.residual = part.opening_squared * driving - field_.drop[part.place] + slope * (field_.at[part.place] - flow);
    judge(part.branch, part.residual, 2.0 * part.opening_squared * pressure_scale + std::abs(slope) * flow_scale);
    largest_flow = std::max(largest_flow, std::abs(flow));
    imbalance_[static_cast<std::size_t>(part.row_from)] += flow;
    imbalance_[static_cast<std::size_t>(part.row_to)] -= flow;
  }
  for (const Other& other : others_) {
    const Branch& branch = plan_.branches()[static_cast<std::size_t>(other.branch)];
    for (int f = 0; f < branch.flows; ++f) {
      judge(other.branch, other.line.residual[f], scale_of(branch, other.line, f, flow_scale));
      const double flow = flow_[branch.first_flow + f];
      largest_flow = std::max(largest_flow, std::abs(flow));
      for (int port = 0; port < branch.ports; ++port)
        if (branch.unknown[port] >= 0) imbalance_[branch.unknown[port]] -= branch.inflow[port * branch.flows + f] * flow;
    }
  }
  double worst_imbalance = 0.0;
  worst_junction_ = -1;
  for (int i = 0; i < plan_.unknown_count(); ++i) {
    const double demand = plan_.demand(plan_.junction_of(i));
    imbalance_[i] += demand;
    largest_flow = std::max(largest_flow, std::abs(demand));
    sum += std::abs(imbalance_[i]);
    if (std::abs(imbalance_[i]) > worst_imbalance) {
      worst_imbalance = std::abs(imbalance_[i]);
      worst_junction_ = plan_.junction_of(i);
    }
  }
  worst_residual_ = std::isfinite(sum) ? worst / worst_scale : std::numeric_limits<double>::quiet_NaN();
  mass_error_ = worst_imbalance / std::max(largest_flow, 1e-3 * flow_scale);
}

void FlowSystem::foresee() {
  constexpr double far = 1.5;  // of what drives a part over what its flow needs, either way
  for (DropField::Part& part : field_.parts()) {
    const double flow = flow_[static_cast<std::size_t>(part.flow)];
    double& drop = field_.drop[part.place];
    double &at = field_.at[part.place], &slope = field_.slope[part.place];
    const double beyond = part.residual - slope * (at - flow);  // of what drives it over the drop where its law was asked
    if (std::abs(beyond) * far < (far - 1.0) * std::abs(drop)) continue;  // most parts, at a glance
    const double driving = pressure_[static_cast<std::size_t>(part.from)] - pressure_[static_cast<std::size_t>(part.to)] + part.head;
    const double wanted = part.opening_squared * driving, ratio = wanted / drop;
    const bool follows_square_law = at * drop > 0.0;  // a pump lifts, and gives less the more it lifts
    if (!follows_square_law || !(ratio > 0.0 && std::isfinite(ratio)) || (ratio < far && ratio * far > 1.0)) continue;
    at *= std::sqrt(ratio);
    if (part.has_limit) points_[first_point_[static_cast<std::size_t>(part.branch)] + 2] = at;
    plan_.element(part.branch).linearise_drop(at, drop, slope);
    part.residual = wanted - drop + slope * (at - flow);
  }
}

/// Whether every law is met as a pressure, too. Asked once, at the end.
bool FlowSystem::pressures_are_met() const {
  constexpr double most = branch_tolerance * pressure_scale;
  for (const DropField::Part& part : field_.parts())
    if (std::abs(part.residual) > most * 2.0 * part.opening_squared) return false;
  for (const Other& other : others_) {
    const Branch& branch = plan_.branches()[static_cast<std::size_t>(other.branch)];
    for (int f = 0; f < branch.flows; ++f)
      if (std::abs(other.line.residual[f]) > scale_of(branch, other.line, f, 0.0) * branch_tolerance) return false;
  }
  return true;
}

template <bool with_right_side>
void FlowSystem::gather_matrix(const Inertia& inertia) {
  double* const values = matrix_.values().data();
  const double* const slope = field_.slope.data();
  std::fill(matrix_.values().begin(), matrix_.values().end(), 0.0);
  if constexpr (with_right_side)
    for (std::size_t i = 0; i < right_side_.size(); ++i) right_side_[i] = -imbalance_[i];
  const double damped = 1.0 + inertia.branch;
  for (DropField::Part& part : field_.parts()) {
    const double inverse = 1.0 / (slope[part.place] * damped);
    part.gain = inverse * part.opening_squared;
    if constexpr (with_right_side) {
      part.shift = inverse * part.residual;
      right_side_[static_cast<std::size_t>(part.row_from)] -= part.shift;
      right_side_[static_cast<std::size_t>(part.row_to)] += part.shift;
    }
    values[part.slot[0]] += part.gain;
    values[part.slot[1]] -= part.gain;
    values[part.slot[2]] -= part.gain;
    values[part.slot[3]] += part.gain;
  }
  for (Other& other : others_) assemble_other(other, inertia);
}

bool FlowSystem::assemble_matrix() {
  gather_matrix<false>({});
  return matrix_.factorise();
}

bool FlowSystem::assemble(const Inertia& inertia) {
  gather_matrix<true>(inertia);
  double* const values = matrix_.values().data();
  if (inertia.junction > 0.0)
    for (int place : diagonal_) values[place] += inertia.junction;
  return matrix_.factorise();
}

std::array<double, most_flows> FlowSystem::residual_here(const Other& other) const {
  const Linearisation& line = other.line;
  std::array<double, most_flows> residual = line.residual;
  if (!limited_[static_cast<std::size_t>(other.branch)]) return residual;
  const Branch& branch = plan_.branches()[static_cast<std::size_t>(other.branch)];
  const int n = branch.pressures();
  const double* const point = &points_[other.first_point];
  Point here;
  gather(branch, here.data());
  for (int f = 0; f < branch.flows; ++f) {
    for (int i = 0; i < n; ++i) residual[f] += line.by_pressure[f * n + i] * (here[i] - point[i]);
    for (int g = 0; g < branch.flows; ++g) residual[f] += line.by_flow[f * branch.flows + g] * (here[n + g] - point[n + g]);
  }
  return residual;
}

void FlowSystem::assemble_other(Other& other, const Inertia& inertia) {
  const Branch& branch = plan_.branches()[static_cast<std::size_t>(other.branch)];
  const Linearisation& line = other.line;
  Gain& gain = other.gain;
  const int n = branch.pressures();
  const std::array<double, most_flows> residual = residual_here(other);

  if (branch.flows == 1) {
    const double inverse = -1.0 / (line.by_flow[0] * (1.0 + inertia.branch));
    gain.shift[0] = inverse * residual[0];
    for (int i = 0; i < n; ++i) gain.by_pressure[i] = inverse * line.by_pressure[i];
  } else {
    const FlowBlock block = flow_block(line, inertia.branch);
    for (int i = 0; i < n; ++i) {
      const auto [first, second] = block.solve(line.by_pressure[i], line.by_pressure[n + i]);
      gain.by_pressure[i] = -first;
      gain.by_pressure[most_pressures + i] = -second;
    }
    const auto [first, second] = block.solve(residual[0], residual[1]);
    gain.shift = {-first, -second};
  }

  const int* slot = &slots_[static_cast<std::size_t>(other.first_slot)];
  for (int port = 0; port < branch.ports; ++port, slot += n) {
    const int row = branch.unknown[port];
    if (row < 0) continue;
    for (int f = 0; f < branch.flows; ++f) {
      const double out = -branch.inflow[port * branch.flows + f];
      right_side_[row] -= out * gain.shift[f];
      for (int i = 0; i < n; ++i) matrix_.values()[slot[i]] += out * gain.by_pressure[f * most_pressures + i];
    }
  }
}

bool FlowSystem::find_step(const Inertia& inertia) {
  // A full step leaves the balance of every junction exact. Where it is not, the last linear solve was poor.
  constexpr double poor = 1e-8;
  const bool damped = inertia.junction > 0.0 || inertia.branch > 0.0;
  careful_ = careful_ || damped || (stepped_fully_ && mass_error_ > poor);
  const bool sound = assemble(inertia);
  if (plan_.unknown_count() > 0) {
    careful_ = careful_ || !sound || !matrix_.listed();
    if (!careful_) matrix_.solve_unchecked(right_side_.data(), unknown_step_.data());
    else if (!matrix_.solve(right_side_.data(), unknown_step_.data())) return false;
  }
  for (int i = 0; i < plan_.unknown_count(); ++i) step_pressure_[plan_.junction_of(i)] = unknown_step_[i];
  double nothing = 0.0;  // not a number as soon as one change is none
  for (const DropField::Part& part : field_.parts()) {
    const double along = step_pressure_[static_cast<std::size_t>(part.from)] - step_pressure_[static_cast<std::size_t>(part.to)];
    const double change = part.shift + part.gain * along;
    step_flow_[static_cast<std::size_t>(part.flow)] = change;
    nothing += 0.0 * change;
  }
  for (const Other& other : others_) {
    const Branch& branch = plan_.branches()[static_cast<std::size_t>(other.branch)];
    for (int f = 0; f < branch.flows; ++f) {
      double change = other.gain.shift[f];
      for (int i = 0; i < branch.pressures(); ++i)
        change += other.gain.by_pressure[f * most_pressures + i] * step_pressure_[branch.junction[i]];
      step_flow_[branch.first_flow + f] = change;
      nothing += 0.0 * change;
    }
  }
  return nothing == 0.0;
}

}  // namespace flarenut::analysis

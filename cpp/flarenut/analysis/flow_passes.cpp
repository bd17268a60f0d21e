#include <algorithm>
#include <cmath>

#include "flarenut/analysis/flow_system.hpp"

// The two passes over all parts that every Newton step makes: judging the residuals, and gathering the matrix.

namespace flarenut::analysis {

using network::Linearisation;
using network::most_flows;
using network::most_pressures;

namespace {

/// The two by two block of a part with two flows, invertible.
struct FlowBlock {
  double a, b, c, d, inverse;
  std::array<double, 2> solve(double x, double y) const {
    return {inverse * (d * x - b * y), inverse * (a * y - c * x)};
  }
};

/// Losses of a tee's legs depend on each other, and where the stream divides its block may lose its sign: the diagonal
/// is then the place for damping, by the size of its whole row. A block that stands exactly on the edge is nudged off.
FlowBlock flow_block(const Linearisation& line, double damping) {
  FlowBlock block{line.by_flow[0], line.by_flow[1], line.by_flow[2], line.by_flow[3], 0.0};
  const double first_row = std::abs(block.a) + std::abs(block.b), second_row = std::abs(block.c) + std::abs(block.d);
  block.a -= damping * first_row;
  block.d -= damping * second_row;
  double determinant = block.a * block.d - block.b * block.c;
  const double edge = 1e-9 * first_row * second_row;
  if (std::abs(determinant) < edge) determinant = std::copysign(edge, determinant);
  block.inverse = 1.0 / determinant;
  return block;
}

}  // namespace

double FlowSystem::scale_of(const Branch& branch, const Linearisation& line, int flow, double flow_scale) {
  double by_pressure = 0.0, by_flow = 0.0;
  for (int i = 0; i < branch.pressures(); ++i) by_pressure += std::abs(line.by_pressure[flow * branch.pressures() + i]);
  for (int g = 0; g < branch.flows; ++g) by_flow += std::abs(line.by_flow[flow * branch.flows + g]);
  return by_pressure * pressure_scale + by_flow * flow_scale;
}

/// Scaled residuals. A part's is the smaller view of its error: as a pressure against a bar, or as a flow against
/// the flow scale, so that neither a wide-open bore nor a shut valve is judged by the wrong one.
void FlowSystem::measure() {
  worst_residual_ = 0.0;
  const double flow_scale = plan_.flow_scale();
  std::fill(imbalance_.begin(), imbalance_.end(), 0.0);
  double largest_flow = 0.0;
  const auto judge = [&](std::size_t b, double residual, double scale) {
    if (std::abs(residual) <= worst_residual_ * scale) return;
    worst_residual_ = std::abs(residual) / scale;
    worst_branch_ = static_cast<int>(b);
  };
  for (std::size_t b = 0; b < lines_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    const Linearisation& line = lines_[b];
    if (branch.plain()) {
      judge(b, line.residual[0],
            (std::abs(line.by_pressure[0]) + std::abs(line.by_pressure[1])) * pressure_scale +
                std::abs(line.by_flow[0]) * flow_scale);
      const double flow = flow_[branch.first_flow];
      largest_flow = std::max(largest_flow, std::abs(flow));
      if (branch.unknown[0] >= 0) imbalance_[branch.unknown[0]] += flow;
      if (branch.unknown[1] >= 0) imbalance_[branch.unknown[1]] -= flow;
      continue;
    }
    for (int f = 0; f < branch.flows; ++f) {
      judge(b, line.residual[f], scale_of(branch, line, f, flow_scale));
      const double flow = flow_[branch.first_flow + f];
      largest_flow = std::max(largest_flow, std::abs(flow));
      for (int port = 0; port < branch.ports; ++port)
        if (branch.unknown[port] >= 0) imbalance_[branch.unknown[port]] -= branch.inflow[port * branch.flows + f] * flow;
    }
  }
  double worst = 0.0;
  worst_junction_ = -1;
  for (int i = 0; i < plan_.unknown_count(); ++i) {
    const double demand = plan_.demand(plan_.junction_of(i));
    imbalance_[i] += demand;
    largest_flow = std::max(largest_flow, std::abs(demand));
    if (std::abs(imbalance_[i]) > worst) {
      worst = std::abs(imbalance_[i]);
      worst_junction_ = plan_.junction_of(i);
    }
  }
  mass_error_ = worst / std::max(largest_flow, 1e-3 * flow_scale);
}

bool FlowSystem::assemble(const Inertia& inertia) {
  std::vector<double>& values = matrix_.values();
  std::fill(values.begin(), values.end(), 0.0);
  for (std::size_t i = 0; i < right_side_.size(); ++i) right_side_[i] = -imbalance_[i];
  for (std::size_t b = 0; b < lines_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    const Linearisation& line = lines_[b];
    Gain& gain = gains_[b];
    const int* slot = &slots_[static_cast<std::size_t>(first_slot_[b])];
    if (branch.plain() && !limited_[b]) {  // nearly all of them: nothing but two ends and a flow
      const double inverse = -1.0 / (line.by_flow[0] * (1.0 + inertia.branch));
      const double shift = inverse * line.residual[0];
      const double from = inverse * line.by_pressure[0], to = inverse * line.by_pressure[1];
      gain.shift[0] = shift;
      gain.by_pressure[0] = from;
      gain.by_pressure[1] = to;
      if (branch.unknown[0] >= 0) {
        right_side_[branch.unknown[0]] -= shift;
        values[slot[0]] += from;
        if (slot[1] >= 0) values[slot[1]] += to;
      }
      if (branch.unknown[1] >= 0) {
        right_side_[branch.unknown[1]] += shift;
        if (slot[2] >= 0) values[slot[2]] -= from;
        values[slot[3]] -= to;
      }
      continue;
    }
    const int n = branch.pressures();
    const double* const point = &points_[first_point_[b]];

    // The residual continued from the point of linearisation to the iterate.
    std::array<double, most_flows> residual = line.residual;
    if (limited_[b]) {
      std::array<double, most_pressures + most_flows> here;
      gather(b, here.data());
      for (int f = 0; f < branch.flows; ++f) {
        for (int i = 0; i < n; ++i) residual[f] += line.by_pressure[f * n + i] * (here[i] - point[i]);
        for (int g = 0; g < branch.flows; ++g)
          residual[f] += line.by_flow[f * branch.flows + g] * (here[n + g] - point[n + g]);
      }
    }

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

    for (int port = 0; port < branch.ports; ++port) {
      const int row = branch.unknown[port];
      if (row < 0) {
        slot += n;
        continue;
      }
      for (int f = 0; f < branch.flows; ++f) {
        const double out = -branch.inflow[port * branch.flows + f];
        right_side_[row] -= out * gain.shift[f];
        for (int i = 0; i < n; ++i)
          if (slot[i] >= 0) values[slot[i]] += out * gain.by_pressure[f * most_pressures + i];
      }
      slot += n;
    }
  }
  if (inertia.junction > 0.0)
    for (int place : diagonal_) values[place] += inertia.junction;
  return matrix_.factorise();
}

bool FlowSystem::find_step(const Inertia& inertia) {
  const bool sound = assemble(inertia);
  if (plan_.unknown_count() > 0 && !matrix_.solve(right_side_.data(), unknown_step_.data())) return false;
  (void)sound;  // an unsound factorisation shows in the checked solve, which then pivots
  for (int i = 0; i < plan_.unknown_count(); ++i) step_pressure_[plan_.junction_of(i)] = unknown_step_[i];
  bool finite = true;
  for (std::size_t b = 0; b < gains_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    const Gain& gain = gains_[b];
    if (branch.plain()) {
      const double change = gain.shift[0] + gain.by_pressure[0] * step_pressure_[branch.junction[0]] +
                            gain.by_pressure[1] * step_pressure_[branch.junction[1]];
      step_flow_[branch.first_flow] = change;
      finite = finite && std::isfinite(change);
      continue;
    }
    for (int f = 0; f < branch.flows; ++f) {
      double change = gain.shift[f];
      for (int i = 0; i < branch.pressures(); ++i)
        change += gain.by_pressure[f * most_pressures + i] * step_pressure_[branch.junction[i]];
      step_flow_[branch.first_flow + f] = change;
      finite = finite && std::isfinite(change);
    }
  }
  return finite;
}

}  // namespace flarenut::analysis

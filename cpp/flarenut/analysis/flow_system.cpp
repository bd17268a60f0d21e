#include "flarenut/analysis/flow_system.hpp"

#include <algorithm>
#include <cmath>

namespace flarenut::analysis {

using network::Linearisation;
using network::most_flows;
using network::most_pressures;

namespace {

solver::FixedLU pattern_of(const Plan& plan) {
  std::vector<solver::FixedLU::Entry> entries;
  for (const Branch& branch : plan.branches())
    for (int port = 0; port < branch.ports; ++port)
      for (int i = 0; i < branch.pressures(); ++i)
        if (branch.unknown[port] >= 0 && branch.unknown[i] >= 0)
          entries.emplace_back(branch.unknown[port], branch.unknown[i]);
  return solver::FixedLU(plan.unknown_count(), std::move(entries));
}

}  // namespace

FlowSystem::FlowSystem(Plan& plan) : plan_(plan), matrix_(pattern_of(plan)) {
  const auto& branches = plan.branches();
  std::size_t points = 0;
  for (std::size_t b = 0; b < branches.size(); ++b) {
    const Branch& branch = branches[b];
    elements_.push_back(&plan.element(static_cast<int>(b)));
    first_point_.push_back(points);
    points += static_cast<std::size_t>(branch.pressures() + branch.flows);
    first_slot_.push_back(static_cast<int>(slots_.size()));
    for (int port = 0; port < branch.ports; ++port)
      for (int i = 0; i < branch.pressures(); ++i)
        slots_.push_back(branch.unknown[port] >= 0 && branch.unknown[i] >= 0
                             ? matrix_.place(branch.unknown[port], branch.unknown[i])
                             : -1);
  }
  for (int i = 0; i < plan.unknown_count(); ++i) diagonal_.push_back(matrix_.place(i, i));
  points_.assign(points, 0.0);
  limited_.assign(branches.size(), 0);
  lines_.resize(branches.size());
  gains_.resize(branches.size());
  pressure_.assign(static_cast<std::size_t>(plan.junction_count()), 0.0);
  flow_.assign(static_cast<std::size_t>(plan.flow_count()), 0.0);
  step_pressure_ = pressure_;
  step_flow_ = flow_;
  right_side_.assign(static_cast<std::size_t>(plan.unknown_count()), 0.0);
  unknown_step_ = right_side_;
  imbalance_ = right_side_;
}

void FlowSystem::gather(std::size_t b, double* point) const {
  const Branch& branch = plan_.branches()[b];
  if (branch.plain()) {
    point[0] = pressure_[branch.junction[0]] + branch.head[0];
    point[1] = pressure_[branch.junction[1]] + branch.head[1];
    point[2] = flow_[branch.first_flow];
    return;
  }
  const int n = branch.pressures();
  for (int i = 0; i < n; ++i) point[i] = pressure_[static_cast<std::size_t>(branch.junction[i])] + branch.head[i];
  for (int f = 0; f < branch.flows; ++f) point[n + f] = flow_[static_cast<std::size_t>(branch.first_flow + f)];
}

void FlowSystem::start_cold() {
  plan_.refresh();
  pressure_ = plan_.held_pressure();
  limited_count_ = 0;
  for (std::size_t b = 0; b < elements_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    double* const point = &points_[first_point_[b]];
    std::array<double, most_pressures + most_flows> here{};
    gather(b, point);
    std::copy(point, point + branch.pressures(), here.begin());
    elements_[b]->start(point);
    for (int f = 0; f < branch.flows; ++f)
      flow_[static_cast<std::size_t>(branch.first_flow + f)] = point[branch.pressures() + f];
    limited_[b] = !std::equal(point, point + branch.pressures(), here.begin());
    limited_count_ += limited_[b];
  }
}

void FlowSystem::start_at(const std::vector<double>& pressures, const std::vector<double>& flows) {
  plan_.refresh();
  pressure_ = plan_.held_pressure();
  for (int i = 0; i < plan_.unknown_count(); ++i) {
    const auto j = static_cast<std::size_t>(plan_.junction_of(i));
    pressure_[j] = pressures[j];
  }
  flow_ = flows;
  for (std::size_t b = 0; b < elements_.size(); ++b) {
    gather(b, &points_[first_point_[b]]);
    limited_[b] = 0;
  }
  limited_count_ = 0;
}

void FlowSystem::linearise() {
  for (std::size_t b = 0; b < elements_.size(); ++b) elements_[b]->linearise(&points_[first_point_[b]], lines_[b]);
  ++evaluations_;
  measure();
}

bool FlowSystem::accepted() const {
  return limited_count_ == 0 && worst_residual_ <= branch_tolerance && mass_error_ <= mass_tolerance;
}

bool FlowSystem::find_damped_step(double damping) {
  // At full damping a junction gives way by a bar for ten times the flow scale: slow, and safe.
  return find_step({.junction = 10.0 * damping * plan_.flow_scale() / pressure_scale, .branch = damping});
}

void FlowSystem::take_step(double length, bool limiting) {
  for (int i = 0; i < plan_.unknown_count(); ++i) {
    const int junction = plan_.junction_of(i);
    pressure_[junction] += length * step_pressure_[junction];
  }
  for (std::size_t f = 0; f < flow_.size(); ++f) flow_[f] += length * step_flow_[f];
  limited_count_ = 0;
  std::array<double, most_pressures + most_flows> last;
  for (std::size_t b = 0; b < elements_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    double* const point = &points_[first_point_[b]];
    if (!branch.has_limit) {
      gather(b, point);
      limited_[b] = 0;
      continue;
    }
    std::copy(point, point + branch.pressures() + branch.flows, last.begin());
    gather(b, point);
    limited_[b] = limiting && elements_[b]->limit(last.data(), point);
    limited_count_ += limited_[b];
  }
}

double FlowSystem::merit_at(double length) {
  const auto pressure = pressure_;
  const auto flow = flow_;
  const auto points = points_;
  const auto limited = limited_;
  const auto lines = lines_;
  const auto imbalance = imbalance_;
  const int count = limited_count_;
  // Scales are those of the present linearisation, so that trial and present are judged alike.
  std::vector<double> scale;
  for (std::size_t b = 0; b < lines.size(); ++b)
    for (int f = 0; f < plan_.branches()[b].flows; ++f)
      scale.push_back(scale_of(plan_.branches()[b], lines[b], f, plan_.flow_scale()));
  take_step(length, false);
  linearise();
  double merit = 0.0;
  std::size_t row = 0;
  for (std::size_t b = 0; b < lines_.size(); ++b)
    for (int f = 0; f < plan_.branches()[b].flows; ++f, ++row) {
      const double scaled = lines_[b].residual[f] / scale[row];
      merit += scaled * scaled;
    }
  for (double mass : imbalance_) merit += (mass / plan_.flow_scale()) * (mass / plan_.flow_scale());
  pressure_ = pressure;
  flow_ = flow;
  points_ = points;
  limited_ = limited;
  lines_ = lines;
  imbalance_ = imbalance;
  limited_count_ = count;
  measure();
  return std::isfinite(merit) ? merit : 1e300;
}

}  // namespace flarenut::analysis

#include "flarenut/analysis/flow_system.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>

namespace flarenut::analysis {

using network::Linearisation;
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

FlowSystem::FlowSystem(Plan& plan, LawsBy laws) : plan_(plan), field_(plan, laws), matrix_(pattern_of(plan)) {
  const auto& branches = plan.branches();
  const int spare_slot = matrix_.spare();
  const auto slot = [&](int row, int column) {
    return row < 0 || column < 0 ? spare_slot : matrix_.place(row, column);
  };
  for (DropField::Part& part : field_.parts()) {
    const Branch& branch = branches[static_cast<std::size_t>(part.branch)];
    for (std::size_t port = 0; port < 2; ++port)
      for (std::size_t i = 0; i < 2; ++i) part.slot[2 * port + i] = slot(branch.unknown[port], branch.unknown[i]);
  }
  std::size_t points = 0;
  other_of_.assign(branches.size(), -1);
  first_point_.assign(branches.size(), 0);
  for (std::size_t b = 0; b < branches.size(); ++b) {
    const Branch& branch = branches[b];
    const bool in_field = field_.place_of(static_cast<int>(b)) >= 0;
    if (!in_field || branch.has_limit) {
      first_point_[b] = points;
      points += static_cast<std::size_t>(branch.pressures() + branch.flows);
    }
    if (in_field) continue;
    other_of_[b] = static_cast<int>(others_.size());
    others_.push_back({static_cast<int>(b), &plan.element(static_cast<int>(b)), first_point_[b], static_cast<int>(slots_.size()), {}, {}});
    for (int port = 0; port < branch.ports; ++port)
      for (int i = 0; i < branch.pressures(); ++i) slots_.push_back(slot(branch.unknown[port], branch.unknown[i]));
  }
  for (int i = 0; i < plan.unknown_count(); ++i) diagonal_.push_back(matrix_.place(i, i));
  points_.assign(points, 0.0);
  limited_.assign(branches.size(), 0);
  pressure_.assign(static_cast<std::size_t>(plan.junction_count()), 0.0);
  flow_.assign(static_cast<std::size_t>(plan.flow_count()), 0.0);
  step_pressure_ = pressure_;
  step_flow_ = flow_;
  right_side_.assign(static_cast<std::size_t>(plan.unknown_count()) + 1, 0.0);
  unknown_step_ = right_side_;
  imbalance_ = right_side_;
}

void FlowSystem::gather(const Branch& branch, double* point) const {
  const int n = branch.pressures();
  for (int i = 0; i < n; ++i) point[i] = pressure_[static_cast<std::size_t>(branch.junction[i])] + branch.head[i];
  for (int f = 0; f < branch.flows; ++f) point[n + f] = flow_[static_cast<std::size_t>(branch.first_flow + f)];
}

FlowSystem::Point FlowSystem::point(int branch) const {
  Point point{};
  const Branch& of = plan_.branches()[static_cast<std::size_t>(branch)];
  if (field_.place_of(branch) >= 0) gather(of, point.data());
  else std::copy_n(&points_[first_point_[static_cast<std::size_t>(branch)]], of.pressures() + of.flows, point.begin());
  return point;
}

Linearisation FlowSystem::linearisation(int branch) const {
  const int place = field_.place_of(branch);
  if (place < 0) return others_[static_cast<std::size_t>(other_of_[static_cast<std::size_t>(branch)])].line;
  const DropField::Part& part = field_.parts()[static_cast<std::size_t>(place)];
  Linearisation line;
  line.residual[0] = part.residual;
  line.by_flow[0] = -field_.slope[part.place];
  line.by_pressure[0] = part.opening_squared;
  line.by_pressure[1] = -part.opening_squared;
  return line;
}

Linearisation FlowSystem::linearisation_here(int branch) const {
  Linearisation line = linearisation(branch);
  const int place = other_of_[static_cast<std::size_t>(branch)];
  if (place >= 0) line.residual = residual_here(others_[static_cast<std::size_t>(place)]);
  return line;
}

double FlowSystem::flow_by_pressure(int branch, int flow, int i) const {
  const int place = field_.place_of(branch);
  if (place >= 0) return i == 0 ? field_.parts()[static_cast<std::size_t>(place)].gain : -field_.parts()[static_cast<std::size_t>(place)].gain;
  const Other& other = others_[static_cast<std::size_t>(other_of_[static_cast<std::size_t>(branch)])];
  return other.gain.by_pressure[static_cast<std::size_t>(flow * most_pressures + i)];
}

void FlowSystem::start_cold() {
  plan_.refresh();
  field_.renew();
  careful_ = stepped_fully_ = linearised_ = false;
  stepped_since_ = 0;
  pressure_ = plan_.held_pressure();
  limited_count_ = 0;
  for (std::size_t b = 0; b < limited_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    const int n = branch.pressures();
    Point here{}, start{};
    gather(branch, here.data());
    start = here;
    plan_.element(static_cast<int>(b)).start(start.data());
    for (int f = 0; f < branch.flows; ++f) flow_[static_cast<std::size_t>(branch.first_flow + f)] = start[static_cast<std::size_t>(n + f)];
    const int place = field_.place_of(static_cast<int>(b));
    if (place >= 0) field_.at[field_.parts()[static_cast<std::size_t>(place)].place] = start[static_cast<std::size_t>(n)];
    if (place < 0 || branch.has_limit) std::copy_n(start.begin(), n + branch.flows, &points_[first_point_[b]]);
    limited_[b] = place < 0 && !std::equal(start.begin(), start.begin() + n, here.begin());
    limited_count_ += limited_[b];
  }
}

void FlowSystem::start_at(const std::vector<double>& pressures, const std::vector<double>& flows) {
  plan_.refresh();
  field_.renew();
  careful_ = stepped_fully_ = linearised_ = false;
  stepped_since_ = 0;
  pressure_ = plan_.held_pressure();
  for (int i = 0; i < plan_.unknown_count(); ++i) {
    const auto j = static_cast<std::size_t>(plan_.junction_of(i));
    pressure_[j] = pressures[j];
  }
  flow_ = flows;
  for (const DropField::Part& part : field_.parts()) {
    field_.at[part.place] = flow_[static_cast<std::size_t>(part.flow)];
    const auto b = static_cast<std::size_t>(part.branch);
    if (part.has_limit) gather(plan_.branches()[b], &points_[first_point_[b]]);
  }
  for (const Other& other : others_) gather(plan_.branches()[static_cast<std::size_t>(other.branch)], &points_[other.first_point]);
  std::fill(limited_.begin(), limited_.end(), 0);
  limited_count_ = 0;
}

void FlowSystem::renew() {
  plan_.refresh();
  field_.renew();
  linearised_ = false;
  for (std::size_t j = 0; j < pressure_.size(); ++j)
    if (plan_.unknown_of(static_cast<int>(j)) < 0) pressure_[j] = plan_.held_pressure()[j];
  // Points stand where the iterate is, held pressures and heads included; what a device has limited stays.
  for (const Other& other : others_)
    if (!limited_[static_cast<std::size_t>(other.branch)]) gather(plan_.branches()[static_cast<std::size_t>(other.branch)], &points_[other.first_point]);
}

bool FlowSystem::stands_at(const std::vector<double>& pressures, const std::vector<double>& flows) const {
  const auto same = [](const std::vector<double>& a, const std::vector<double>& b) {  // to the bit
    return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
  };
  if (!linearised_ || limited_count_ > 0 || !field_.up_to_date() || !same(pressures, pressure_) || !same(flows, flow_)) return false;
  for (std::size_t j = 0; j < pressures.size(); ++j)
    if (plan_.unknown_of(static_cast<int>(j)) < 0 && pressures[j] != plan_.held_pressure()[j]) return false;
  return true;
}

void FlowSystem::evaluate_laws() {
  linearised_ = true;
  field_.evaluate();
  for (Other& other : others_) other.element->linearise(&points_[other.first_point], other.line);
  measure();
}

void FlowSystem::linearise() {
  evaluate_laws();
  ++evaluations_;
  if (stepped_since_ < 1) stepped_since_ = satisfied() && !pressures_are_met() ? -1 : 0;
}

bool FlowSystem::satisfied() const {
  return limited_count_ == 0 && worst_residual_ <= branch_tolerance && mass_error_ <= mass_tolerance;
}

bool FlowSystem::accepted() const { return satisfied() && stepped_since_ >= 0; }

bool FlowSystem::find_damped_step(double damping) {
  // At full damping a junction gives way by a bar for ten times the flow scale: slow, and safe.
  return find_step({.junction = 10.0 * damping * plan_.flow_scale() / pressure_scale, .branch = damping});
}

void FlowSystem::take_step(double length, bool limiting) {
  stepped_fully_ = length == 1.0;
  linearised_ = false;
  if (stepped_since_ < 0) stepped_since_ = 1;
  for (int i = 0; i < plan_.unknown_count(); ++i) {
    const int junction = plan_.junction_of(i);
    pressure_[junction] += length * step_pressure_[junction];
  }
  for (std::size_t f = 0; f < flow_.size(); ++f) flow_[f] += length * step_flow_[f];
  limited_count_ = 0;
  const auto move_point = [&](std::size_t b) {
    const Branch& branch = plan_.branches()[b];
    double* const point = &points_[first_point_[b]];
    Point last;
    std::copy_n(point, branch.pressures() + branch.flows, last.begin());
    gather(branch, point);
    limited_[b] = limiting && branch.has_limit && plan_.element(static_cast<int>(b)).limit(last.data(), point);
    limited_count_ += limited_[b];
  };
  for (const DropField::Part& part : field_.parts()) {
    field_.at[part.place] = flow_[static_cast<std::size_t>(part.flow)];
    if (!part.has_limit) continue;
    const auto b = static_cast<std::size_t>(part.branch);
    move_point(b);
    field_.at[part.place] = points_[first_point_[b] + 2];
  }
  for (const Other& other : others_) move_point(static_cast<std::size_t>(other.branch));
}

void FlowSystem::polish() {
  constexpr double exact = 1e-13;
  if (!accepted() || worst_residual_ <= exact || !find_step()) return;
  if (!std::all_of(step_pressure_.begin(), step_pressure_.end(), [](double step) { return std::abs(step) <= most_polish; })) return;
  for (std::size_t j = 0; j < pressure_.size(); ++j) pressure_[j] += step_pressure_[j];
  for (std::size_t f = 0; f < flow_.size(); ++f) flow_[f] += step_flow_[f];
}

void FlowSystem::take_step(const std::vector<double>& pressures, const std::vector<double>& flows, double length) {
  step_pressure_ = pressures;
  step_flow_ = flows;
  take_step(length);
}

double FlowSystem::merit_at(double length) {
  const auto pressure = pressure_;
  const auto flow = flow_;
  const auto points = points_;
  const auto limited = limited_;
  const lanes::Aligned at = field_.at;
  const int count = limited_count_;
  // Scales are those of the present linearisation, so that trial and present are judged alike.
  std::vector<double> scale;
  sum_of_squares(scale, true);
  take_step(length, false);
  evaluate_laws();
  ++evaluations_;
  const double merit = sum_of_squares(scale, false);
  pressure_ = pressure;
  flow_ = flow;
  points_ = points;
  limited_ = limited;
  field_.at = at;
  limited_count_ = count;
  evaluate_laws();
  return std::isfinite(merit) ? merit : 1e300;
}

double FlowSystem::sum_of_squares(std::vector<double>& scale, bool take) const {
  std::size_t row = 0;
  double sum = 0.0;
  const auto add = [&](double residual, double its_scale) {
    if (take) scale.push_back(its_scale);
    const double scaled = residual / scale[row++];
    sum += scaled * scaled;
  };
  const double flow_scale = plan_.flow_scale();
  for (const DropField::Part& part : field_.parts())
    add(part.residual, 2.0 * part.opening_squared * pressure_scale + std::abs(field_.slope[part.place]) * flow_scale);
  for (const Other& other : others_) {
    const Branch& branch = plan_.branches()[static_cast<std::size_t>(other.branch)];
    for (int f = 0; f < branch.flows; ++f) add(other.line.residual[f], scale_of(branch, other.line, f, flow_scale));
  }
  for (int i = 0; i < plan_.unknown_count(); ++i) {
    const double scaled = imbalance_[static_cast<std::size_t>(i)] / flow_scale;
    sum += scaled * scaled;
  }
  return sum;
}

}  // namespace flarenut::analysis

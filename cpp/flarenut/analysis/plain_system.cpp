#include "flarenut/analysis/plain_system.hpp"

#include <algorithm>
#include <cmath>

namespace flarenut::analysis {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Ends of the parts as the matrix counts them: −1 where the pressure is given.
std::vector<int> unknowns_of(const std::vector<int>& places, int unknowns) {
  std::vector<int> result(places);
  for (int& place : result)
    if (place >= unknowns) place = -1;
  return result;
}

solver::SymmetricFactor matrix_of(const network::PlainCircuit& circuit) {
  if (circuit.held.empty()) return solver::SymmetricFactor(circuit.unknowns, circuit.from, circuit.to);
  return solver::SymmetricFactor(circuit.unknowns, unknowns_of(circuit.from, circuit.unknowns), unknowns_of(circuit.to, circuit.unknowns));
}

}  // namespace

PlainSystem::PlainSystem(const network::PlainCircuit& circuit) : circuit_(circuit), matrix_(matrix_of(circuit)) {
  const auto parts = at(circuit.parts());
  slot_.assign(parts, -1);
  for (std::size_t part = 0; part < parts; ++part)
    if (circuit.from[part] < circuit.unknowns && circuit.to[part] < circuit.unknowns)
      slot_[part] = matrix_.place(circuit.from[part], circuit.to[part]);
  pressure_.assign(at(circuit.unknowns) + circuit.held.size(), 0.0);
  step_ = pressure_;
  flow_.assign(parts, 0.0);
  residual_ = flow_;
  slope_ = flow_;
  imbalance_.assign(at(circuit.unknowns), 0.0);
  right_side_ = imbalance_;
}

void PlainSystem::start_cold() {
  std::fill_n(pressure_.begin(), circuit_.unknowns, circuit_.ambient);
  std::copy(circuit_.held.begin(), circuit_.held.end(), pressure_.begin() + circuit_.unknowns);
  std::fill(flow_.begin(), flow_.end(), 0.0);
  at_rest_ = true;
}

void PlainSystem::start_at(const std::vector<double>& pressures, const std::vector<double>& flows) {
  for (std::size_t junction = 0; junction < circuit_.place.size(); ++junction) pressure_[at(circuit_.place[junction])] = pressures[junction];
  std::copy(circuit_.held.begin(), circuit_.held.end(), pressure_.begin() + circuit_.unknowns);
  flow_ = flows;
  at_rest_ = false;
}

/// What the law of a part leaves over at the iterate moved by `length` steps.
double PlainSystem::left_over(std::size_t part, double length, double& slope) const {
  const auto from = at(circuit_.from[part]), to = at(circuit_.to[part]);
  const double head = circuit_.head.empty() ? 0.0 : circuit_.head[part];
  const double flow = length == 0.0 ? flow_[part] : flow_[part] + length * step_of(part);
  const auto law = circuit_.law(part, pressure_[from] + length * step_[from], pressure_[to] + length * step_[to] + head, flow);
  slope = law.slope;
  return law.residual;
}

double PlainSystem::step_of(std::size_t part) const {
  return (residual_[part] + step_[at(circuit_.from[part])] - step_[at(circuit_.to[part])]) / (raised_ * slope_[part]);
}

/// The first step of a cold solve takes every part as the linear resistance that it is at the flow it expects to work at: that finds
/// which way everything flows, and roughly how much of it.
double PlainSystem::start_slope(std::size_t part, double slope_at_rest) const {
  const double flow = circuit_.start_flow(part);
  const double resistance = -circuit_.law(part, 0.0, 0.0, flow).residual / flow;
  return resistance > 0.0 && std::isfinite(resistance) ? resistance : slope_at_rest;
}

/// What an error is measured against, as in `FlowSystem`: the residual that a bar and the flow scale together would make.
double PlainSystem::scale_of(double slope) const {
  return 2.0 * FlowSystem::pressure_scale + std::abs(slope) * circuit_.flow_scale;
}

void PlainSystem::linearise() {
  std::copy(circuit_.demand.begin(), circuit_.demand.end(), imbalance_.begin());
  double largest_flow = 0.0, worst = 0.0;
  for (double demand : circuit_.demand) largest_flow = std::max(largest_flow, std::abs(demand));
  worst_residual_ = 0.0;
  for (std::size_t part = 0; part < flow_.size(); ++part) {
    const int from = circuit_.from[part], to = circuit_.to[part];
    double slope = 0.0;
    const double residual = left_over(part, 0.0, slope);
    if (at_rest_) slope = start_slope(part, slope);
    residual_[part] = residual;
    slope_[part] = slope;
    if (const double scale = scale_of(slope); !(std::abs(residual) <= worst_residual_ * scale)) {
      worst_residual_ = std::isnan(residual) ? INFINITY : std::abs(residual) / scale;
      worst_part_ = static_cast<int>(part);
    }
    const double flow = flow_[part];
    largest_flow = std::max(largest_flow, std::abs(flow));
    if (from < circuit_.unknowns) imbalance_[at(from)] += flow;
    if (to < circuit_.unknowns) imbalance_[at(to)] -= flow;
  }
  for (double imbalance : imbalance_) worst = std::max(worst, std::abs(imbalance));
  mass_error_ = worst / std::max(largest_flow, 1e-3 * circuit_.flow_scale);
  at_rest_ = false;
  ++evaluations_;
}

bool PlainSystem::accepted() const {
  return worst_residual_ <= FlowSystem::branch_tolerance && mass_error_ <= FlowSystem::mass_tolerance;
}

bool PlainSystem::find_step() { return assemble_and_solve({}); }

bool PlainSystem::find_damped_step(double damping) {
  return assemble_and_solve({.junction = 10.0 * damping * circuit_.flow_scale / FlowSystem::pressure_scale, .branch = damping});
}

bool PlainSystem::assemble_and_solve(const Inertia& inertia) {
  raised_ = 1.0 + inertia.branch;
  std::vector<double>& values = matrix_.values();
  std::fill(values.begin(), values.end(), 0.0);
  for (std::size_t i = 0; i < right_side_.size(); ++i) right_side_[i] = -imbalance_[i];
  for (std::size_t part = 0; part < flow_.size(); ++part) {
    const int from = circuit_.from[part], to = circuit_.to[part];
    const double gain = 1.0 / (raised_ * slope_[part]), shift = gain * residual_[part];
    if (from < circuit_.unknowns) {
      values[at(matrix_.diagonal(from))] += gain;
      right_side_[at(from)] -= shift;
    }
    if (to < circuit_.unknowns) {
      values[at(matrix_.diagonal(to))] += gain;
      right_side_[at(to)] += shift;
    }
    if (slot_[part] >= 0) values[at(slot_[part])] -= gain;
  }
  if (inertia.junction > 0.0)
    for (int i = 0; i < circuit_.unknowns; ++i) values[at(matrix_.diagonal(i))] += inertia.junction;
  if (circuit_.unknowns == 0) return true;
  matrix_.factorise();  // one that fails is found out by `solve`, which then pivots
  if (!matrix_.solve(right_side_.data(), step_.data())) return false;
  pivoted_ = pivoted_ || matrix_.pivots();
  return std::all_of(step_.begin(), step_.end(), [](double step) { return std::isfinite(step); });
}

void PlainSystem::take_step(double length, bool /*limiting*/) {
  for (std::size_t part = 0; part < flow_.size(); ++part) flow_[part] += length * step_of(part);
  for (int i = 0; i < circuit_.unknowns; ++i) pressure_[at(i)] += length * step_[at(i)];
}

double PlainSystem::merit_at(double length) const {
  std::vector<double> imbalance(circuit_.demand);
  double merit = 0.0;
  for (std::size_t part = 0; part < flow_.size(); ++part) {
    double slope = 0.0;
    const double scaled = left_over(part, length, slope) / scale_of(slope_[part]);
    merit += scaled * scaled;
    const double flow = flow_[part] + length * step_of(part);
    const int from = circuit_.from[part], to = circuit_.to[part];
    if (from < circuit_.unknowns) imbalance[at(from)] += flow;
    if (to < circuit_.unknowns) imbalance[at(to)] -= flow;
  }
  for (double mass : imbalance) merit += (mass / circuit_.flow_scale) * (mass / circuit_.flow_scale);
  return std::isfinite(merit) ? merit : 1e300;
}

void PlainSystem::write(std::vector<double>& pressures, std::vector<double>& flows) const {
  pressures.resize(circuit_.place.size());
  for (std::size_t junction = 0; junction < pressures.size(); ++junction) pressures[junction] = pressure_[at(circuit_.place[junction])];
  flows = flow_;
}

std::size_t PlainSystem::bytes() const {
  const auto of = [](const auto& vector) { return vector.capacity() * sizeof(vector[0]); };
  return matrix_.bytes() + of(slot_) + of(pressure_) + of(step_) + of(flow_) + of(residual_) + of(slope_) + of(imbalance_) + of(right_side_);
}

}  // namespace flarenut::analysis

#include "flarenut/analysis/lane_reference.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "flarenut/analysis/gradient.hpp"

namespace flarenut::analysis {

namespace {

/// Slopes are found output by output, each at the cost of all parts.
constexpr std::size_t most_work = 40'000;

/// How far a flow may move, as shares of what it was; found by trial: rows of ordinary and of extreme ranges take the fewest steps.
constexpr double least_share = 0.05, most_share = 3.0;

/// An output of the plan, and the sign with which the lanes have it.
struct Unknown {
  Output output;
  double sign = 1.0;
};

std::vector<Unknown> unknowns_of(const network::Plan& plan, const LaneLayout& layout) {
  const lanes::Circuit& circuit = layout.circuit;
  std::vector<Unknown> found;
  found.reserve(circuit.junction_of.size() + static_cast<std::size_t>(circuit.flows));
  for (int place : circuit.junction_of) found.push_back({{Output::What::pressure, (place - circuit.region.pressure) / circuit.width, 0}});
  const std::size_t pressures = found.size();
  found.resize(pressures + static_cast<std::size_t>(circuit.flows));
  for (std::size_t part = 0; part < plan.branches().size(); ++part) {
    const network::Branch& branch = plan.branches()[part];
    for (int f = 0; f < branch.flows; ++f) {
      const LaneLayout::Flow& flow = layout.flow[static_cast<std::size_t>(branch.first_flow + f)];
      const int unknown = (flow.place - circuit.region.flow) / circuit.width;
      found[pressures + static_cast<std::size_t>(unknown)] = {{Output::What::flow, static_cast<int>(part), f}, flow.sign};
    }
  }
  return found;
}

}  // namespace

LaneReference::LaneReference(const network::Plan& plan, const BatchTask& task, const LaneLayout& layout) {
  try {
    if (!find(plan, task.numbers, layout)) answer_.clear();
  } catch (const InputError&) {  // a number that is refused, or a pressure that nothing determines
    answer_.clear();
  }
}

bool LaneReference::find(network::Plan plan, const std::vector<int>& numbers, const LaneLayout& layout) {
  const std::vector<Unknown> unknowns = unknowns_of(plan, layout);
  if (unknowns.size() * plan.branches().size() > most_work) return false;
  SteadySolver solver(plan);
  Solution solution;
  SteadyOptions options;
  options.allow_ladder = false;  // whoever is hard to find is no good reference
  solver.solve(solution, {}, options);
  if (!solution.converged()) return false;
  for (int number : numbers) numbers_.push_back(plan.get(number));
  const std::size_t count = unknowns.size();
  pressures_ = layout.circuit.junction_of.size();
  slope_.resize(numbers.size() * count);
  reach_.assign(numbers.size(), 0.0);
  double largest = 0.0;
  for (double flow : solution.flow) largest = std::max(largest, std::abs(flow));
  for (std::size_t u = 0; u < count; ++u) {
    const Output& output = unknowns[u].output;
    const bool flows = output.what == Output::What::flow;
    const auto owner = static_cast<std::size_t>(output.index);
    const double found = flows ? solution.flow[static_cast<std::size_t>(plan.branches()[owner].first_flow + output.flow)]
                               : solution.pressure[owner];
    const double now = unknowns[u].sign * found;
    const std::vector<double> slopes = gradient(solver, solution, output, numbers);
    answer_.push_back(now);
    const double all = std::numeric_limits<double>::infinity(), one = least_share * now, other = most_share * now;
    least_.push_back(flows ? std::min(one, other) : -all);
    most_.push_back(flows ? std::max(one, other) : all);
    for (std::size_t i = 0; i < slopes.size(); ++i) {
      const double slope = slope_[i * count + u] = unknowns[u].sign * slopes[i];
      if (!std::isfinite(slope)) return false;
      by_unknown_.push_back(slope);
      if (flows) reach_[i] = std::max(reach_[i], std::abs(slope) / (std::abs(now) + 1e-3 * largest));
    }
  }
  return true;
}

double LaneReference::distance(const double* from, const double* to) const {
  double sum = 0.0;
  for (std::size_t i = 0; i < reach_.size(); ++i) sum += reach_[i] * std::abs(to[i] - from[i]);
  return sum;
}

lanes::Moves LaneReference::moves() const {
  return {numbers_.size(), answer_.size(), numbers_.data(), answer_.data(), least_.data(), most_.data(), by_unknown_.data()};
}

void LaneReference::move(const double* from, const double* answer, const double* to, double* unknowns) const {
  const std::size_t count = answer_.size();
  std::copy_n(answer, count, unknowns);
  // Four numbers at a time: the unknowns are read and written again for each round.
  const std::size_t numbers = numbers_.size(), rounds = numbers / 4 * 4;
  const double* slope = slope_.data();
  for (std::size_t i = 0; i < rounds; i += 4, slope += 4 * count) {
    const double a = to[i] - from[i], b = to[i + 1] - from[i + 1], c = to[i + 2] - from[i + 2], d = to[i + 3] - from[i + 3];
    const double *const second = slope + count, *const third = second + count, *const fourth = third + count;
#pragma GCC ivdep
    for (std::size_t u = 0; u < count; ++u) unknowns[u] += (a * slope[u] + b * second[u]) + (c * third[u] + d * fourth[u]);
  }
  for (std::size_t i = rounds; i < numbers; ++i, slope += count) {
    const double step = to[i] - from[i];
#pragma GCC ivdep
    for (std::size_t u = 0; u < count; ++u) unknowns[u] += step * slope[u];
  }
#pragma GCC ivdep
  for (std::size_t u = pressures_; u < count; ++u) {
    const double least = least_share * answer[u], most = most_share * answer[u], now = unknowns[u];
    const double low = least < most ? least : most, high = least < most ? most : least;
    const double risen = now < low ? low : now;
    unknowns[u] = risen > high ? high : risen;
  }
}

}  // namespace flarenut::analysis

/// Direction, continuity, energy.

#include <algorithm>
#include <cmath>
#include <set>
#include <sstream>

#include "law_suite.hpp"

namespace laws {
namespace {

std::string at_point(const std::string& trouble, const Point& point) { return trouble + " at " + text(point); }

/// Flow into the part at a port, from all its internal flows.
double into(const Element& element, int port, const Point& point) {
  const Layout at(element);
  double sum = 0.0;
  for (int f = 0; f < at.flows; ++f) sum -= element.inflow(port, f) * point[at.flow(f)];
  return sum;
}

}  // namespace

Findings more_flow_costs_more(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const Layout at(*element);
  Findings findings;
  for (const Point& point : spread(row, *element)) {
    const Answer answer = ask(*element, point);
    for (int f = 0; f < at.flows; ++f)
      if (!(answer.slope[f][at.flow(f)] < 0.0))
        findings.push_back(at_point("mismatch " + std::to_string(f) + " does not fall with its flow", point));
  }
  return findings;
}

Findings flows_can_be_solved(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const Layout at(*element);
  Findings findings;
  if (at.flows != 2) return findings;  // one flow: its sign is judged above
  for (const Point& point : spread(row, *element)) {
    const Answer answer = ask(*element, point);
    const double direct = answer.slope[0][at.flow(0)] * answer.slope[1][at.flow(1)];
    const double crossed = answer.slope[0][at.flow(1)] * answer.slope[1][at.flow(0)];
    if (!(direct - crossed > 1e-9 * (std::abs(direct) + std::abs(crossed))))
      findings.push_back(at_point("the two flows' slope block cannot be solved, or only the wrong way round", point));
  }
  return findings;
}

Findings supply_pressure_drives_flow(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const Layout at(*element);
  Findings findings;
  for (const Point& point : spread(row, *element)) {
    const Answer answer = ask(*element, point);
    for (int f = 0; f < at.flows; ++f)
      for (int port = 0; port < at.ports; ++port) {
        if (element->inflow(port, f) != -1) continue;
        double largest = 0.0;
        for (int i = 0; i < at.pressures; ++i) largest = std::max(largest, std::abs(answer.slope[f][i]));
        if (!(answer.slope[f][port] >= -1e-9 * largest))
          findings.push_back(at_point("more pressure at port " + std::to_string(port) + " means less flow", point));
      }
  }
  return findings;
}

Findings no_jump_in_value_or_slope(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const Layout at(*element);
  Findings findings;
  for (const Path& path : row.paths) {
    const auto on_path = [&](double t) {
      Point point = path.from;
      for (int i = 0; i < at.entries; ++i) point[i] += t * (path.to[i] - path.from[i]);
      return point;
    };
    // Everything that must not jump, each on the scale of its own range along the path.
    const auto measures = [&](double t) {
      const Answer answer = ask(*element, on_path(t));
      std::vector<double> all = answer.residual;
      for (const auto& slopes : answer.slope) all.insert(all.end(), slopes.begin(), slopes.end());
      return all;
    };
    constexpr int steps = 4000;
    std::vector<std::vector<double>> samples;
    for (int i = 0; i <= steps; ++i) samples.push_back(measures(static_cast<double>(i) / steps));
    for (std::size_t m = 0; m < samples[0].size(); ++m) {
      const auto sample = [&](int i) { return samples[static_cast<std::size_t>(i)][m]; };
      double least = sample(0), most = least;
      std::vector<std::pair<double, int>> bends;  // how sharply it bends, and where: a jump bends on either side
      for (int i = 1; i < steps; ++i) {
        least = std::min(least, sample(i)), most = std::max(most, sample(i));
        bends.emplace_back(-std::abs(sample(i + 1) - 2.0 * sample(i) + sample(i - 1)), i);
      }
      std::partial_sort(bends.begin(), bends.begin() + 12, bends.end());
      std::set<int> suspects;
      for (int k = 0; k < 12; ++k) suspects.insert({bends[k].second - 1, bends[k].second});
      const double noise = 1e-13 * std::max(std::abs(least), std::abs(most));
      for (int suspect : suspects) {
        // Zoom in, keeping the half that changes more. A jump keeps its size all the way down.
        double from = static_cast<double>(suspect) / steps, to = static_cast<double>(suspect + 1) / steps;
        double low = sample(suspect), high = sample(suspect + 1);
        while (to - from > 3e-14) {
          const double middle = 0.5 * (from + to);
          const double value = measures(middle)[m];
          if (std::abs(value - low) > std::abs(high - value)) to = middle, high = value;
          else from = middle, low = value;
        }
        if (std::abs(high - low) > 1e-4 * (most - least) + noise) {
          std::ostringstream trouble;
          trouble.precision(10);
          trouble << (m < static_cast<std::size_t>(at.flows) ? "value " : "slope ") << m << " jumps from " << low
                  << " to " << high;
          findings.push_back(at_point(trouble.str(), on_path(from)));
        }
      }
    }
  }
  return findings;
}

Findings no_free_energy(const Row& row, const NamedLiquid& liquid) {
  if (!row.passive) return {};
  const auto element = build(row, liquid);
  const Layout at(*element);
  Findings findings;
  const auto judge = [&](const Point& point) {
    double power = 0.0, size = 0.0;  // per density
    for (int port = 0; port < at.ports; ++port) {
      const double part = into(*element, port, point) * (point[port] - point[at.ports - 1]);
      power += part;
      size += std::abs(part);
    }
    if (power < -1e-9 * size) findings.push_back(at_point("the part makes energy: " + std::to_string(power), point));
  };
  if (at.flows == at.ports - 1 && at.flows == 2) {
    // A tee: its laws are linear in the port pressures, so the pressures at given flows follow in one step.
    for (Point point : spread(row, *element)) {
      for (int turn = 0; turn < 3; ++turn) {
        const Answer answer = ask(*element, point);
        const auto& s = answer.slope;
        const double determinant = s[0][0] * s[1][1] - s[0][1] * s[1][0];
        point[0] -= (answer.residual[0] * s[1][1] - answer.residual[1] * s[0][1]) / determinant;
        point[1] -= (answer.residual[1] * s[0][0] - answer.residual[0] * s[1][0]) / determinant;
      }
      judge(point);
    }
    return findings;
  }
  // Otherwise every flow has its own law: solve it at the row's pressures, both ways round and near each other.
  for (const Point& state : row.states)
    for (double share : {1.0, 0.3, 1e-3, 0.0, -1e-3, -0.3, -1.0, -3.0}) {
      Point point = state;
      point[0] = state[1] + share * (state[0] - state[1]);
      for (int f = 0; f < at.flows; ++f)
        if (!solve_flow(*element, point, f)) findings.push_back(at_point("no flow satisfies the law", point));
      judge(point);
    }
  return findings;
}

}  // namespace laws

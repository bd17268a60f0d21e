#include "flarenut/analysis/shut_ways.hpp"

#include <deque>

namespace flarenut::analysis {
namespace {

/// Branches that meet at each junction.
std::vector<std::vector<int>> meeting(const Plan& plan) {
  std::vector<std::vector<int>> at(static_cast<std::size_t>(plan.junction_count()));
  for (std::size_t b = 0; b < plan.branches().size(); ++b)
    for (int port = 0; port < plan.branches()[b].ports; ++port)
      at[static_cast<std::size_t>(plan.branches()[b].junction[static_cast<std::size_t>(port)])].push_back(static_cast<int>(b));
  return at;
}

enum class Passage { free, shut, not_looked_behind };

Passage passage_of(const FlowSystem& system, int branch, bool against) {
  const network::Element& element = system.plan().element(branch);
  const auto kind = element.kind();
  if (kind == "relief valve" || kind.ends_with("regulator")) return Passage::not_looked_behind;
  const Regime regime = element.regime(system.point(branch).data());
  if (kind == "valve" && regime == Regime::shut) return Passage::shut;
  return kind == "check valve" && regime == Regime::shut && against ? Passage::shut : Passage::free;
}

}  // namespace

std::vector<ShutWay> shut_ways(const FlowSystem& system, int from, std::size_t most) {
  const Plan& plan = system.plan();
  const auto at = meeting(plan);
  std::vector<ShutWay> found;
  std::vector<char> seen(at.size(), 0), looked(plan.branches().size(), 0);
  std::deque<int> waiting{from};  // what lies behind something shut waits at the end
  while (!waiting.empty() && found.size() < most) {
    const int here = waiting.front();
    waiting.pop_front();
    if (seen[static_cast<std::size_t>(here)] || plan.unknown_of(here) < 0) continue;
    seen[static_cast<std::size_t>(here)] = 1;
    for (int b : at[static_cast<std::size_t>(here)]) {
      const Branch& branch = plan.branches()[static_cast<std::size_t>(b)];
      const auto point = system.point(b);
      const bool against = branch.ports == 2 && point[1] > point[0];
      const Passage passage = passage_of(system, b, against);
      if (looked[static_cast<std::size_t>(b)] || passage == Passage::not_looked_behind) continue;
      looked[static_cast<std::size_t>(b)] = 1;
      if (passage == Passage::shut) found.push_back({b, against});
      for (int port = 0; port < branch.ports; ++port) {
        const int other = branch.junction[static_cast<std::size_t>(port)];
        if (other == here) continue;
        if (passage == Passage::shut) waiting.push_back(other);
        else waiting.push_front(other);
      }
    }
  }
  if (found.size() > most) found.resize(most);
  return found;
}

}  // namespace flarenut::analysis

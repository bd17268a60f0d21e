#include "flarenut/analysis/lane_runs.hpp"

#include <algorithm>

#include "flarenut/lanes/circuit.hpp"

namespace flarenut::analysis {

using network::Branch;
using network::Plan;

int law_of(const network::Element& element) {
  static const auto names = lanes::law_names();
  const auto found = std::find(names.begin(), names.end(), element.kind());
  if (found == names.end()) return lanes::outside;
  const int law = static_cast<int>(found - names.begin());
  return element.bundle_size() == lanes::numbers_of_law(law) ? law : lanes::outside;
}

namespace {

class Finder {
 public:
  Finder(const Plan& plan, const std::vector<int>& numbers) : plan_(plan), meet_(static_cast<std::size_t>(plan.junction_count())) {
    const int parts = static_cast<int>(plan.branches().size());
    found_.inside.assign(meet_.size(), 0);
    taken_.assign(plan.branches().size(), 0);
    for (int part = 0; part < parts; ++part) laws_.push_back(law_of(plan.element(part)));
    mark_inside(numbers);
    for (int part = 0; part < parts; ++part) {
      if (!is_member(part)) found_.others.push_back(part);
      else if (!taken_[static_cast<std::size_t>(part)]) walk(part);
    }
    std::stable_sort(found_.others.begin(), found_.others.end(), [&](int a, int b) { return law(a) < law(b); });
  }
  PartRuns take() { return std::move(found_); }

 private:
  int law(int part) const { return laws_[static_cast<std::size_t>(part)]; }
  const Branch& branch(int part) const { return plan_.branches()[static_cast<std::size_t>(part)]; }
  bool is_member(int part) const { return law(part) != lanes::outside && plan_.element(part).drops(); }

  void mark_inside(const std::vector<int>& numbers) {
    std::vector<char> apart(meet_.size(), 0);
    for (std::size_t part = 0; part < laws_.size(); ++part) {
      const int number = static_cast<int>(part);
      const Branch& here = branch(number);
      const bool joins = is_member(number) && !plan_.element(number).has_opening();
      for (int i = 0; i < here.pressures(); ++i) {
        const auto junction = static_cast<std::size_t>(here.junction[static_cast<std::size_t>(i)]);
        meet_[junction].push_back(number);
        if (!joins) apart[junction] = 1;
      }
    }
    for (int number : numbers) {
      const network::NumberPlace& place = plan_.place(number);
      if (place.what == network::NumberPlace::What::demand) apart[static_cast<std::size_t>(place.owner)] = 1;
    }
    for (std::size_t j = 0; j < meet_.size(); ++j) {
      const int junction = static_cast<int>(j);
      found_.inside[j] = !apart[j] && plan_.unknown_of(junction) >= 0 && plan_.demand(junction) == 0.0 && meet_[j].size() == 2 &&
                         meet_[j][0] != meet_[j][1];
    }
  }

  int other_end(int part, int junction) const { return branch(part).junction[branch(part).junction[0] == junction ? 1 : 0]; }
  bool inside(int junction) const { return found_.inside[static_cast<std::size_t>(junction)] != 0; }

  /// Back to where the run of a part begins, then along it.
  void walk(int part) {
    int from = branch(part).junction[0], first = part;
    while (inside(from)) {
      const auto& both = meet_[static_cast<std::size_t>(from)];
      const int before = both[0] == first ? both[1] : both[0];
      if (before == part) break;  // all the way round
      first = before;
      from = other_end(first, from);
    }
    PartRun run;
    run.from = run.to = from;
    for (int next = first;;) {
      const int to = other_end(next, run.to);
      taken_[static_cast<std::size_t>(next)] = 1;
      const bool reversed = branch(next).junction[1] == run.to && branch(next).junction[0] != run.to;
      run.parts.push_back({next, law(next), to, reversed, plan_.element(next).has_opening()});
      run.to = to;
      if (!inside(to)) break;
      const auto& both = meet_[static_cast<std::size_t>(to)];
      next = both[0] == next ? both[1] : both[0];
      if (taken_[static_cast<std::size_t>(next)]) break;
    }
    if (against_a_device(run)) turn_round(run);
    found_.runs.push_back(std::move(run));
  }

  /// Runs go the way of their pump or check valve.
  bool against_a_device(const PartRun& run) const {
    for (const PartRun::Part& part : run.parts) {
      double at_rest = 0.0, slope = 0.0;
      plan_.element(part.part).linearise_drop(0.0, at_rest, slope);
      if (at_rest != 0.0 || branch(part.part).has_limit) return part.reversed;
    }
    return false;
  }

  static void turn_round(PartRun& run) {
    std::reverse(run.parts.begin(), run.parts.end());
    std::swap(run.from, run.to);
    for (std::size_t i = 0; i < run.parts.size(); ++i) {
      run.parts[i].reversed = !run.parts[i].reversed;
      run.parts[i].to = i + 1 < run.parts.size() ? run.parts[i + 1].to : run.to;
    }
  }

  const Plan& plan_;
  PartRuns found_;
  std::vector<std::vector<int>> meet_;  ///< parts at each junction
  std::vector<int> laws_;
  std::vector<char> taken_;
};

}  // namespace

PartRuns find_runs(const Plan& plan, const std::vector<int>& numbers) { return Finder(plan, numbers).take(); }

}  // namespace flarenut::analysis

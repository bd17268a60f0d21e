#include "flarenut/analysis/lane_layout.hpp"

#include <algorithm>

#include "flarenut/analysis/diagnosis.hpp"
#include "flarenut/analysis/lane_runs.hpp"

namespace flarenut::analysis {
namespace {

/// A forecast reckons with curvatures of a step before: it must be so much better than what is asked of an iterate that was evaluated.
constexpr double forecast_share = 1e-3;
/// What is found at the end of an approach has bends measured a step before, branches that are looked at, and a balance that is measured.
constexpr double approach_share = 1e-2;

/// Lays out in numbers; `widen` turns them into doubles at the end.
class Layer {
 public:
  Layer(const Plan& plan, const std::vector<int>& numbers, int width) : plan_(plan), runs_(find_runs(plan, numbers)) {
    circuit_.width = width;
    circuit_.junctions = plan.junction_count();
    circuit_.pressure_scale = FlowSystem::pressure_scale;
    circuit_.branch_tolerance = FlowSystem::branch_tolerance;
    circuit_.mass_tolerance = FlowSystem::mass_tolerance;
    circuit_.forecast_tolerance = forecast_share * FlowSystem::branch_tolerance;
    circuit_.approach_tolerance = approach_share * FlowSystem::branch_tolerance;
    circuit_.most_pressure = beyond_any_pressure;
    circuit_.most_polish = FlowSystem::most_polish;
  }

  std::optional<LaneLayout> lay_out() {
    number_unknowns();
    const solver::FixedLU matrix(circuit_.equations, pattern());
    if (!matrix.listed()) return std::nullopt;
    take_program(matrix);
    layout_.flow.resize(static_cast<std::size_t>(plan_.flow_count()));
    layout_.part.resize(plan_.branches().size());
    for (const PartRun& run : runs_.runs) add_run(run, matrix);
    sort_members();
    for (int part : runs_.others) add_branch(part, matrix);
    widen();
    layout_.circuit = std::move(circuit_);
    return std::move(layout_);
  }

 private:
  /// Of a plan's junction; −1 where it is held, or inside a run.
  int unknown(int junction) const { return unknown_[static_cast<std::size_t>(junction)]; }

  void number_unknowns() {
    for (int junction = 0; junction < plan_.junction_count(); ++junction) {
      const bool solved = plan_.unknown_of(junction) >= 0 && !runs_.inside[static_cast<std::size_t>(junction)];
      unknown_.push_back(solved ? circuit_.equations++ : -1);
      if (solved) junction_.push_back(junction);
    }
  }

  std::vector<solver::FixedLU::Entry> pattern() const {
    std::vector<solver::FixedLU::Entry> entries;
    const auto meet = [&](int a, int b) {
      if (unknown(a) >= 0 && unknown(b) >= 0) entries.emplace_back(unknown(a), unknown(b));
    };
    for (const PartRun& run : runs_.runs)
      for (int a : {run.from, run.to})
        for (int b : {run.from, run.to}) meet(a, b);
    for (int part : runs_.others) {
      const Branch& branch = plan_.branches()[static_cast<std::size_t>(part)];
      for (std::size_t port = 0; port < static_cast<std::size_t>(branch.ports); ++port)
        for (std::size_t i = 0; i < static_cast<std::size_t>(branch.pressures()); ++i) meet(branch.junction[port], branch.junction[i]);
    }
    return entries;
  }

  void take_program(const solver::FixedLU& matrix) {
    circuit_.fill_start = matrix.fill_start();
    circuit_.fill_index = matrix.fill_index();
    circuit_.list = matrix.list();
    circuit_.factors = static_cast<int>(matrix.factor_count());
    step_of_.resize(matrix.order().size());
    for (std::size_t step = 0; step < step_of_.size(); ++step) {
      step_of_[static_cast<std::size_t>(matrix.order()[step])] = static_cast<int>(step);
      circuit_.junction_of.push_back(junction_[static_cast<std::size_t>(matrix.order()[step])]);
    }
  }

  int equation(int junction) const {
    return unknown(junction) < 0 ? circuit_.equations : step_of_[static_cast<std::size_t>(unknown(junction))];
  }
  int slot(const solver::FixedLU& matrix, int row, int column) const {
    return unknown(row) < 0 || unknown(column) < 0 ? circuit_.factors : matrix.place_in_factors(unknown(row), unknown(column));
  }

  void add_run(const PartRun& parts, const solver::FixedLU& matrix) {
    lanes::Run run;
    run.members = static_cast<int>(parts.parts.size());
    run.flow = circuit_.flows++;
    run.drop = circuit_.drops;
    run.head = circuit_.heads++;
    run.gain = circuit_.gains;
    circuit_.gains += 3;
    run.junction = {parts.from, parts.to};
    run.equation = {equation(parts.from), equation(parts.to)};
    run.slot = {slot(matrix, parts.from, parts.from), slot(matrix, parts.from, parts.to), slot(matrix, parts.to, parts.from),
                slot(matrix, parts.to, parts.to)};
    run.has_opening = parts.parts.front().has_opening;
    run.free = {unknown(parts.from) >= 0, unknown(parts.to) >= 0};
    int before = parts.from;
    for (const PartRun::Part& part : parts.parts) {
      const bool last = &part == &parts.parts.back();
      add_member(part, run);
      const lanes::Member& member = circuit_.members.back();
      if (!last) circuit_.inside.push_back({part.to, before, member.head, member.drop, run.gain});
      before = part.to;
    }
    circuit_.runs.push_back(run);
  }

  void add_member(const PartRun::Part& part, const lanes::Run& run) {
    const Branch& branch = plan_.branches()[static_cast<std::size_t>(part.part)];
    lanes::Member member;
    member.law = part.law;
    member.part = part.part;
    member.run = static_cast<int>(circuit_.runs.size());
    member.flow = run.flow;
    member.head = run.members == 1 ? run.head : circuit_.heads++;
    member.drop = circuit_.drops;
    circuit_.drops += part.has_opening ? 3 : 2;
    member.number = circuit_.numbers;
    circuit_.numbers += lanes::numbers_of_law(part.law);
    member.reversed = part.reversed;
    member.has_opening = part.has_opening;
    member.has_limit = branch.has_limit;
    if (branch.has_limit) member.point = circuit_.points++;
    layout_.flow[static_cast<std::size_t>(branch.first_flow)] = {run.flow, part.reversed ? -1.0 : 1.0};
    circuit_.members.push_back(member);
  }

  /// Those of one law together; a run's stay in their order.
  void sort_members() {
    auto& members = circuit_.members;
    layout_.run.resize(circuit_.runs.size());
    std::vector<int> way(plan_.branches().size());
    for (std::size_t i = 0; i < members.size(); ++i) way[static_cast<std::size_t>(members[i].part)] = static_cast<int>(i);
    std::stable_sort(members.begin(), members.end(), [](const auto& a, const auto& b) { return a.law < b.law; });
    for (std::size_t i = 0; i < members.size(); ++i) {
      lanes::Member& member = members[i];
      member.follows = i > 0 && members[i - 1].run == member.run && members[i - 1].reversed == member.reversed;
      layout_.part[static_cast<std::size_t>(member.part)].member = static_cast<int>(i);
      layout_.run[static_cast<std::size_t>(member.run)].push_back(static_cast<int>(i));
    }
    for (auto& run : layout_.run)
      std::sort(run.begin(), run.end(), [&](int a, int b) {
        const auto place = [&](int i) { return way[static_cast<std::size_t>(members[static_cast<std::size_t>(i)].part)]; };
        return place(a) < place(b);
      });
  }

  void add_branch(int part, const solver::FixedLU& matrix) {
    const Branch& from = plan_.branches()[static_cast<std::size_t>(part)];
    lanes::Branch branch;
    branch.law = law_of(plan_.element(part));
    branch.part = part;
    branch.ports = from.ports;
    branch.pressures = from.pressures();
    branch.flows = from.flows;
    branch.first_flow = circuit_.flows;
    branch.first_head = circuit_.heads;
    branch.first_number = circuit_.numbers;
    branch.first_point = circuit_.points;
    branch.first_gain = circuit_.gains;
    circuit_.flows += branch.flows;
    circuit_.heads += branch.pressures;
    circuit_.numbers += branch.law == lanes::outside ? 0 : lanes::numbers_of_law(branch.law);
    circuit_.points += branch.pressures + branch.flows;
    circuit_.gains += branch.flows * branch.gains();
    branch.has_limit = from.has_limit;
    branch.slot.fill(circuit_.factors);
    for (std::size_t i = 0; i < static_cast<std::size_t>(branch.pressures); ++i) {
      branch.junction[i] = from.junction[i];
      branch.equation[i] = equation(from.junction[i]);
    }
    for (int port = 0; port < branch.ports; ++port) {
      for (int f = 0; f < branch.flows; ++f) {
        const auto place = static_cast<std::size_t>(port * branch.flows + f);
        branch.leaves[place] = -static_cast<double>(from.inflow[place]);
      }
      for (int i = 0; i < branch.pressures; ++i)
        branch.slot[static_cast<std::size_t>(port * branch.pressures + i)] =
            slot(matrix, from.junction[static_cast<std::size_t>(port)], from.junction[static_cast<std::size_t>(i)]);
    }
    for (int f = 0; f < branch.flows; ++f) layout_.flow[static_cast<std::size_t>(from.first_flow + f)] = {branch.first_flow + f, 1.0};
    layout_.part[static_cast<std::size_t>(part)].branch = static_cast<int>(circuit_.branches.size());
    circuit_.branches.push_back(branch);
  }

  /// From counting numbers of a sort to counting doubles in the memory of a state.
  void widen() {
    const lanes::Regions region = circuit_.region = lanes::regions_of(circuit_);
    const auto move = [&](int begin, auto&... places) { ((places = begin + places * circuit_.width), ...); };
    const auto move_all = [&](int begin, auto& list) {
      for (int& place : list) move(begin, place);
    };
    for (lanes::Member& member : circuit_.members) {
      move(region.flow, member.flow), move(region.number, member.number), move(region.drop, member.drop);
      move(region.point, member.point), move(region.head, member.head);
    }
    for (lanes::Run& run : circuit_.runs) {
      move(region.flow, run.flow), move(region.drop, run.drop), move(region.head, run.head), move(region.gain, run.gain);
      move_all(region.pressure, run.junction), move_all(0, run.equation), move_all(region.factor, run.slot);
    }
    for (lanes::Inside& inside : circuit_.inside) {
      move(region.pressure, inside.junction, inside.before), move(region.head, inside.head), move(region.drop, inside.drop);
      move(region.gain, inside.change);
    }
    for (lanes::Branch& branch : circuit_.branches) {
      move(region.flow, branch.first_flow), move(region.head, branch.first_head), move(region.number, branch.first_number);
      move(region.point, branch.first_point), move(region.gain, branch.first_gain);
      move_all(region.pressure, branch.junction), move_all(0, branch.equation), move_all(region.factor, branch.slot);
    }
    move_all(region.pressure, circuit_.junction_of), move_all(region.factor, circuit_.list), move_all(0, circuit_.fill_index);
    for (LaneLayout::Flow& flow : layout_.flow) move(region.flow, flow.place);
  }

  const Plan& plan_;
  PartRuns runs_;
  lanes::Circuit circuit_;
  LaneLayout layout_;
  std::vector<int> unknown_, junction_, step_of_;
};

}  // namespace

std::optional<LaneLayout> lay_out(const Plan& plan, const std::vector<int>& numbers, int width) {
  return Layer(plan, numbers, width).lay_out();
}

}  // namespace flarenut::analysis

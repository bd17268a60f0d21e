#include "flarenut/analysis/lane_layout.hpp"

#include <algorithm>

#include "flarenut/analysis/flow_system.hpp"

namespace flarenut::analysis {
namespace {

int law_of(const network::Element& element, const std::vector<std::string_view>& names) {
  const auto found = std::find(names.begin(), names.end(), element.kind());
  if (found == names.end()) return lanes::outside;
  const int law = static_cast<int>(found - names.begin());
  return element.bundle_size() == lanes::numbers_of_law(law) ? law : lanes::outside;
}

lanes::Branch branch_of(const Plan& plan, int part, int law, const solver::FixedLU& matrix, const std::vector<int>& step_of) {
  const Branch& from = plan.branches()[static_cast<std::size_t>(part)];
  const int spare_equation = plan.unknown_count(), spare_slot = static_cast<int>(matrix.factor_count());
  lanes::Branch branch;
  branch.law = law;
  branch.part = part;
  branch.ports = from.ports;
  branch.pressures = from.pressures();
  branch.flows = from.flows;
  branch.first_flow = from.first_flow;
  branch.has_limit = from.has_limit;
  branch.drops = law != lanes::outside && plan.element(part).drops();
  branch.slot.fill(spare_slot);
  for (std::size_t i = 0; i < static_cast<std::size_t>(branch.pressures); ++i) {
    branch.junction[i] = from.junction[i];
    branch.equation[i] = from.unknown[i] < 0 ? spare_equation : step_of[static_cast<std::size_t>(from.unknown[i])];
  }
  for (int port = 0; port < branch.ports; ++port) {
    for (int f = 0; f < branch.flows; ++f) {
      const auto place = static_cast<std::size_t>(port * branch.flows + f);
      branch.leaves[place] = -static_cast<double>(from.inflow[place]);
    }
    for (int i = 0; i < branch.pressures; ++i) {
      const int row = from.unknown[static_cast<std::size_t>(port)], column = from.unknown[static_cast<std::size_t>(i)];
      if (row >= 0 && column >= 0)
        branch.slot[static_cast<std::size_t>(port * branch.pressures + i)] = matrix.place_in_factors(row, column);
    }
  }
  return branch;
}

/// From counting numbers to counting doubles.
void widen(lanes::Circuit& circuit) {
  const auto each = [&](auto&... places) { ((places *= circuit.width), ...); };
  for (lanes::Branch& branch : circuit.branches) {
    each(branch.place, branch.first_flow, branch.first_head, branch.first_number, branch.first_point, branch.first_gain);
    for (auto* list : {&branch.junction, &branch.equation})
      for (int& place : *list) each(place);
    for (int& place : branch.slot) each(place);
  }
  for (auto* list : {&circuit.junction_of, &circuit.fill_index, &circuit.list})
    for (int& place : *list) each(place);
}

}  // namespace

lanes::Circuit lay_out(const Plan& plan, const solver::FixedLU& matrix, int width) {
  lanes::Circuit circuit;
  circuit.width = width;
  circuit.junctions = plan.junction_count();
  circuit.flows = plan.flow_count();
  circuit.equations = plan.unknown_count();
  circuit.fill_start = matrix.fill_start();
  circuit.fill_index = matrix.fill_index();
  circuit.list = matrix.list();
  circuit.factors = static_cast<int>(matrix.factor_count());
  circuit.pressure_scale = FlowSystem::pressure_scale;
  circuit.branch_tolerance = FlowSystem::branch_tolerance;
  circuit.mass_tolerance = FlowSystem::mass_tolerance;

  std::vector<int> step_of(matrix.order().size());
  for (std::size_t step = 0; step < step_of.size(); ++step) {
    step_of[static_cast<std::size_t>(matrix.order()[step])] = static_cast<int>(step);
    circuit.junction_of.push_back(plan.junction_of(matrix.order()[step]));
  }

  const auto names = lanes::law_names();
  for (int part = 0; part < static_cast<int>(plan.branches().size()); ++part)
    circuit.branches.push_back(branch_of(plan, part, law_of(plan.element(part), names), matrix, step_of));
  std::stable_sort(circuit.branches.begin(), circuit.branches.end(),
                   [](const lanes::Branch& a, const lanes::Branch& b) { return a.law < b.law; });
  for (lanes::Branch& branch : circuit.branches) {
    branch.place = static_cast<int>(&branch - circuit.branches.data());
    branch.first_head = circuit.heads;
    branch.first_number = circuit.numbers;
    branch.first_point = circuit.points;
    branch.first_gain = circuit.gains;
    circuit.heads += branch.pressures;
    circuit.numbers += branch.law == lanes::outside ? 0 : lanes::numbers_of_law(branch.law);
    circuit.points += branch.pressures + branch.flows;
    circuit.gains += branch.flows * (1 + branch.pressures);
  }
  widen(circuit);
  return circuit;
}

}  // namespace flarenut::analysis

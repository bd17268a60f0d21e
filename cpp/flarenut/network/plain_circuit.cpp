#include "flarenut/network/plain_circuit.hpp"

#include <algorithm>

namespace flarenut::network {

PlainCircuit::Law PlainCircuit::law(std::size_t part, double from_pressure, double to_pressure, double flow) const {
  if (!lines.empty()) {
    const auto drop = lines[part].drop(MassFlow<Dual<1>>::from_value(Dual<1>(flow, 0)));
    return {from_pressure - to_pressure - drop.value().value, drop.value().slope[0]};
  }
  double drop, slope;
  elements[part]->linearise_drop(flow, drop, slope);
  return {from_pressure - to_pressure - drop, slope};
}

double PlainCircuit::start_flow(std::size_t part) const {
  if (!lines.empty()) return lines[part].start_flow()[0].value();
  double point[] = {ambient, ambient, 0.0};
  elements[part]->start(point);
  return point[2];
}

std::size_t PlainCircuit::bytes() const {
  // NOLINTNEXTLINE(bugprone-sizeof-expression): of elements it is the pointers that stand here
  const auto of = []<class Held>(const std::vector<Held>& columns) { return columns.capacity() * sizeof(Held); };
  return of(place) + of(from) + of(to) + of(held) + of(demand) + of(head) + of(lines) + of(elements);
}

bool is_plain(const Plan& plan) {
  for (int part = 0; part < static_cast<int>(plan.branches().size()); ++part) {
    const Element& element = plan.element(part);
    if (!element.drops() || element.has_opening() || element.has_limit() || element.start_follows_pressure() || element.has_hump()) return false;
  }
  return true;
}

PlainCircuit plain_circuit(const Plan& plan) {
  PlainCircuit circuit;
  circuit.unknowns = plan.unknown_count();
  int next = circuit.unknowns;
  for (int junction = 0; junction < plan.junction_count(); ++junction)
    circuit.place.push_back(plan.unknown_of(junction) >= 0 ? plan.unknown_of(junction) : next++);
  const auto place = [&](int junction) { return circuit.place[static_cast<std::size_t>(junction)]; };
  for (const Branch& branch : plan.branches()) {
    circuit.from.push_back(place(branch.junction[0]));
    circuit.to.push_back(place(branch.junction[1]));
    circuit.elements.push_back(&plan.element(static_cast<int>(circuit.elements.size())));
  }
  circuit.held.resize(static_cast<std::size_t>(next - circuit.unknowns));
  circuit.demand.resize(static_cast<std::size_t>(circuit.unknowns));
  circuit.head.resize(circuit.from.size());
  update(circuit, plan);
  return circuit;
}

void update(PlainCircuit& circuit, const Plan& plan) {
  for (int junction = 0; junction < plan.junction_count(); ++junction) {
    const auto j = static_cast<std::size_t>(junction);
    const int place = circuit.place[j];
    if (place < circuit.unknowns) circuit.demand[static_cast<std::size_t>(place)] = plan.demand(junction);
    else circuit.held[static_cast<std::size_t>(place - circuit.unknowns)] = plan.held_pressure()[j];
  }
  for (std::size_t part = 0; part < circuit.head.size(); ++part) circuit.head[part] = plan.branches()[part].head[1];
  circuit.ambient = plan.ambient();
  circuit.flow_scale = plan.flow_scale();
}

}  // namespace flarenut::network

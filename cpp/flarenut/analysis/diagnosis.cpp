#include "flarenut/analysis/diagnosis.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <vector>

#include "flarenut/analysis/shut_ways.hpp"

namespace flarenut::analysis {
namespace {

/// The free junction whose pressure is lowest, where that is below absolute zero; −1 where there is none.
int lowest_below_zero(const FlowSystem& system) {
  const Plan& plan = system.plan();
  int lowest = -1;
  for (int i = 0; i < plan.unknown_count(); ++i) {
    const int junction = plan.junction_of(i);
    const double pressure = system.pressures()[static_cast<std::size_t>(junction)];
    if (pressure < 0.0 && (lowest < 0 || pressure < system.pressures()[static_cast<std::size_t>(lowest)])) lowest = junction;
  }
  return lowest;
}

}  // namespace

std::string explain_failure(const FlowSystem& system) {
  const Plan& plan = system.plan();
  const auto& parts = plan.network().parts();
  std::ostringstream words;
  words.precision(3);
  const auto worst = static_cast<std::size_t>(system.worst_branch());

  // A device that cannot do what its place in the circuit asks is the usual cause; look for one before blaming
  // the part whose equation happens to be worst.
  for (std::size_t p = 0; p < parts.size(); ++p) {
    const network::Element& element = plan.element(static_cast<int>(p));
    if (element.has_hump()) {
      words << "pump '" << parts[p].name << "' has a curve that rises with flow, so several flows fit one pressure; "
            << "check its points or smooth the hump";
      return words.str();
    }
  }
  words << "the " << parts[worst].element->kind() << " '" << parts[worst].name << "' would not settle (error "
        << system.worst_residual() << " of its scale, accepted at " << FlowSystem::branch_tolerance << "); its state was '"
        << name(plan.element(static_cast<int>(worst)).regime(system.point(static_cast<int>(worst)).data()))
        << "'. Check its numbers and their units, and which way round it is written";
  if (system.mass_error() > FlowSystem::mass_tolerance && system.worst_junction() >= 0)
    words << "; flow does not balance at junction '"
          << plan.network().junctions()[static_cast<std::size_t>(system.worst_junction())].name << "'";
  if (const int lowest = lowest_below_zero(system); lowest >= 0)
    words << "; at the last attempt the pressure at '" << plan.network().junctions()[static_cast<std::size_t>(lowest)].name
          << "' was below absolute zero: perhaps more liquid is asked for than can reach it";
  return words.str();
}

namespace {

/// What draws liquid through a junction, found by following the flow: a pump, or the largest demand.
struct Drawer {
  int pump = -1, junction = -1;
};

Drawer drawer_beyond(const FlowSystem& system, int from) {
  const Plan& plan = system.plan();
  Drawer found;
  std::vector<std::vector<std::size_t>> parts_at(static_cast<std::size_t>(plan.junction_count()));  // in large networks nobody can look at all
  for (std::size_t b = 0; b < plan.branches().size(); ++b)
    for (int port = 0; port < plan.branches()[b].ports; ++port)
      parts_at[static_cast<std::size_t>(plan.branches()[b].junction[static_cast<std::size_t>(port)])].push_back(b);
  std::vector<int> waiting{from};
  std::vector<char> seen(static_cast<std::size_t>(plan.junction_count()), 0);
  while (!waiting.empty()) {
    const int here = waiting.back();
    waiting.pop_back();
    if (seen[static_cast<std::size_t>(here)] || plan.unknown_of(here) < 0) continue;
    seen[static_cast<std::size_t>(here)] = 1;
    if (plan.demand(here) > 0.0 && (found.junction < 0 || plan.demand(here) > plan.demand(found.junction))) found.junction = here;
    for (std::size_t b : parts_at[static_cast<std::size_t>(here)]) {
      const Branch& branch = plan.branches()[b];
      const auto leaves_into_part = [&](int port) {
        double in = 0.0;
        for (int f = 0; f < branch.flows; ++f)
          in -= branch.inflow[static_cast<std::size_t>(port * branch.flows + f)] * system.flows()[static_cast<std::size_t>(branch.first_flow + f)];
        return in;
      };
      for (int port = 0; port < branch.ports; ++port) {
        if (branch.junction[static_cast<std::size_t>(port)] != here || !(leaves_into_part(port) > 0.0)) continue;
        if (plan.element(static_cast<int>(b)).kind().ends_with("pump")) {
          found.pump = static_cast<int>(b);
          return found;
        }
        for (int other = 0; other < branch.ports; ++other)
          if (leaves_into_part(other) < 0.0) waiting.push_back(branch.junction[static_cast<std::size_t>(other)]);
      }
    }
  }
  return found;
}

/// The part of two ports that most of the pressure is lost in; −1 where none takes a quarter of all there is.
int where_most_is_lost(const FlowSystem& system) {
  const Plan& plan = system.plan();
  const auto& pressures = system.pressures();
  const auto [least, most] = std::minmax_element(pressures.begin(), pressures.end());
  double lost = 0.25 * (*most - *least);
  int worst = -1;
  for (std::size_t b = 0; b < plan.branches().size(); ++b) {
    const Branch& branch = plan.branches()[b];
    const double drop = pressures[static_cast<std::size_t>(branch.junction[0])] - pressures[static_cast<std::size_t>(branch.junction[1])];
    const double flow = system.flows()[static_cast<std::size_t>(branch.first_flow)];
    if (branch.ports != 2 || !(std::copysign(1.0, flow) * drop > lost)) continue;
    lost = std::abs(drop);
    worst = static_cast<int>(b);
  }
  return worst;
}

/// In words, of the part `worst`.
std::string most_is_lost_in(const FlowSystem& system, int worst) {
  const Plan& plan = system.plan();
  const network::Element& element = plan.element(worst);
  const auto state = element.regime(system.point(worst).data());
  const bool backwards = system.flows()[static_cast<std::size_t>(plan.branches()[static_cast<std::size_t>(worst)].first_flow)] < 0.0;
  std::string words = ". Most of the pressure is lost in the " + std::string(element.kind()) + " '" + plan.network().parts()[static_cast<std::size_t>(worst)].name + "'";
  if (state != Regime::passive) words += ", which is " + std::string(name(state));
  if (backwards && (element.kind().ends_with("pump") || element.kind() == "check valve"))
    words += ": is it the wrong way round?";
  return words;
}

/// What takes the pressure and what shuts the ways to a place, in words. Of a device that lets liquid through one way only, the way round is
/// asked about.
std::string what_is_in_the_way(const FlowSystem& system, int place) {
  const int worst = where_most_is_lost(system);
  std::string words = worst < 0 ? std::string() : most_is_lost_in(system, worst);
  const std::string others = what_shuts(system, place, worst);
  if (!others.empty()) words += ". " + std::string(worst < 0 ? "Shut" : "Shut, too,") + " on the way: " + others;
  return words;
}

/// Relief valves that let liquid off, in words; "" where none does. One that opens too early takes what others ask for.
std::string what_lets_off(const FlowSystem& system) {
  const Plan& plan = system.plan();
  std::string words;
  for (int b = 0; b < static_cast<int>(plan.branches().size()); ++b) {
    const network::Element& element = plan.element(b);
    if (element.kind() != "relief valve") continue;
    const auto state = element.regime(system.point(b).data());
    if (state != Regime::relieving && state != Regime::wide_open) continue;
    words += ". The relief valve '" + plan.network().parts()[static_cast<std::size_t>(b)].name + "' is open and lets liquid off: is it set too low?";
  }
  return words;
}

}  // namespace

std::string what_shuts(const FlowSystem& system, int place, int told) {
  const Plan& plan = system.plan();
  std::string words;
  for (const ShutWay& way : shut_ways(system, place)) {
    if (way.part == told) continue;
    const auto kind = plan.element(way.part).kind();
    words += (words.empty() ? "the " : "; the ") + std::string(kind) + " '" + plan.network().parts()[static_cast<std::size_t>(way.part)].name + "'";
    if (kind == "check valve") words += ", with more pressure at its outlet than at its inlet: is it the wrong way round?";
  }
  return words;
}

std::string explain_impossible(const FlowSystem& system) {
  const Plan& plan = system.plan();
  const int lowest = lowest_below_zero(system);
  int highest = -1;
  for (int i = 0; i < plan.unknown_count(); ++i) {
    const int junction = plan.junction_of(i);
    const double pressure = system.pressures()[static_cast<std::size_t>(junction)];
    if (pressure > beyond_any_pressure && (highest < 0 || pressure > system.pressures()[static_cast<std::size_t>(highest)])) highest = junction;
  }
  if (lowest < 0 && highest < 0) return {};
  const auto name = [&](int junction) { return plan.network().junctions()[static_cast<std::size_t>(junction)].name; };
  std::ostringstream words;
  if (lowest < 0) {
    words.precision(3);
    words << "the pressure at '" << name(highest) << "' would have to be " << system.pressures()[static_cast<std::size_t>(highest)] / 1e5
          << " bar, more than anything bears: more liquid is pushed in than can get out. Open the way on, or take back what is supplied";
    return words.str() + what_is_in_the_way(system, highest);
  }
  const Drawer drawer = drawer_beyond(system, lowest);
  words << "the pressure at '" << name(lowest) << "' would have to fall below absolute zero: more liquid is asked for than can "
        << "reach it. ";
  if (drawer.pump >= 0)
    words << "The way to pump '" << plan.network().parts()[static_cast<std::size_t>(drawer.pump)].name
          << "' is shut, too narrow, too long or too high for what it would draw, or the liquid is too thick";
  else if (drawer.junction >= 0)
    words << "The demand at '" << name(drawer.junction) << "' cannot be met; lower it, or open the way to it";
  else
    words << "Look for too great a height, a missing tank, a valve written the wrong way round or a blocked line before it";
  return words.str() + what_lets_off(system) + what_is_in_the_way(system, lowest);
}

}  // namespace flarenut::analysis

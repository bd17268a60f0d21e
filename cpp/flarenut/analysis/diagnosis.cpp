#include "flarenut/analysis/diagnosis.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <sstream>
#include <vector>

#include "flarenut/analysis/flow_ways.hpp"
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

/// In words, of the first pump with such a curve; "" where there is none.
std::string humped_curve(const Plan& plan) {
  const auto& parts = plan.network().parts();
  for (std::size_t p = 0; p < parts.size(); ++p)
    if (plan.element(static_cast<int>(p)).has_hump())
      return "pump '" + parts[p].name + "' has a curve that rises with flow, so several flows fit one pressure; check its points or smooth the hump";
  return {};
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
  if (const std::string hump = humped_curve(plan); !hump.empty()) return hump;
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

/// The part of two ports on the way to a place, or from it, that most of the pressure is lost in; −1 where none takes a quarter of all there is.
/// `left_out`: 1 of parts that are not looked at, nor the pressures at them alone.
int where_most_is_lost(const FlowSystem& system, int place, bool out, const std::vector<char>& left_out) {
  const Plan& plan = system.plan();
  const auto& pressures = system.pressures();
  auto counted = on_the_way(system, place, out);
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (std::size_t b = 0; b < plan.branches().size(); ++b) {
    counted[b] = counted[b] && !left_out[b];
    for (int port = 0; port < plan.branches()[b].ports && counted[b]; ++port) {
      const double pressure = pressures[static_cast<std::size_t>(plan.branches()[b].junction[static_cast<std::size_t>(port)])];
      least = std::min(least, pressure);
      most = std::max(most, pressure);
    }
  }
  double lost = 0.25 * (most - least);
  int worst = -1;
  for (std::size_t b = 0; b < plan.branches().size(); ++b) {
    const Branch& branch = plan.branches()[b];
    if (!counted[b] || branch.ports != 2) continue;
    const double drop = pressures[static_cast<std::size_t>(branch.junction[0])] - pressures[static_cast<std::size_t>(branch.junction[1])];
    const double flow = system.flows()[static_cast<std::size_t>(branch.first_flow)];
    if (!(std::copysign(1.0, flow) * drop > lost)) continue;
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
  const bool only_flows = state == Regime::passive || state == Regime::laminar || state == Regime::transitional || state == Regime::turbulent;
  if (!only_flows) words += ", which is " + std::string(name(state));
  if (backwards && (element.kind().ends_with("pump") || element.kind() == "check valve"))
    words += ": is it the wrong way round?";
  return words;
}

/// What takes the pressure and what shuts the ways to a place, in words. Of a device that lets liquid through one way only, the way round is
/// asked about. `out`: liquid is pushed in there and cannot get out.
std::string what_is_in_the_way(const FlowSystem& system, int place, bool out, const std::vector<char>& left_out) {
  const int worst = where_most_is_lost(system, place, out, left_out);
  std::string words = worst < 0 ? std::string() : most_is_lost_in(system, worst);
  const std::string others = what_shuts(system, place, worst);
  if (!others.empty()) words += ". " + std::string(worst < 0 ? "Shut" : "Shut, too,") + " on the way: " + others;
  return words;
}

/// Relief valves that let liquid off, in words; "" where none does. One that opens too early takes what others ask for; one that a starved pump itself
/// pushes open is the way back of what it moves, and takes nothing from it: `left_out` has 1 there.
std::string what_lets_off(const FlowSystem& system, const std::vector<char>& left_out) {
  const Plan& plan = system.plan();
  std::string words;
  for (int b = 0; b < static_cast<int>(plan.branches().size()); ++b) {
    const network::Element& element = plan.element(b);
    if (element.kind() != "relief valve" || left_out[static_cast<std::size_t>(b)]) continue;
    const auto state = element.regime(system.point(b).data());
    if (state != Regime::relieving && state != Regime::wide_open) continue;
    words += ". The relief valve '" + plan.network().parts()[static_cast<std::size_t>(b)].name + "' is open and lets liquid off: is it set too low?";
  }
  return words;
}

/// A pump that draws from where a relief valve lets off and pushes straight into a tank is asked about: what is on its way is as it should be.
std::string is_it_turned(const FlowSystem& system, int pump, const std::vector<char>& pushed) {
  const Plan& plan = system.plan();
  if (pump < 0) return {};
  const int inlet = plan.branches()[static_cast<std::size_t>(pump)].junction[0];
  const auto drawn = on_the_way(system, inlet, false);
  std::vector<char> on_its_side(static_cast<std::size_t>(plan.junction_count()), 0);
  on_its_side[static_cast<std::size_t>(inlet)] = 1;
  bool plain = true;
  for (std::size_t b = 0; b < plan.branches().size(); ++b) {
    const Branch& branch = plan.branches()[b];
    const auto kind = plan.element(static_cast<int>(b)).kind();
    const bool only_passes = kind == "line" || kind == "filter" || kind.ends_with("opening") || kind.ends_with("fitting") || kind == "size step";
    plain = plain && (!pushed[b] || only_passes || static_cast<int>(b) == pump);
    if (!drawn[b]) continue;
    for (int port = 0; port < branch.ports; ++port) on_its_side[static_cast<std::size_t>(branch.junction[static_cast<std::size_t>(port)])] = 1;
  }
  for (std::size_t b = 0; b < plan.branches().size() && plain; ++b) {
    if (plan.element(static_cast<int>(b)).kind() != "relief valve" || !on_its_side[static_cast<std::size_t>(plan.branches()[b].junction[0])]) continue;
    const auto& parts = plan.network().parts();
    return "The pump '" + parts[static_cast<std::size_t>(pump)].name + "' draws from where the relief valve '" + parts[b].name +
           "' lets off, and pushes straight into a tank: is it the wrong way round?";
  }
  return {};
}

/// A question ends its sentence: no stop after its mark.
std::string ended_once(std::string words) {
  for (std::size_t at = words.find("?."); at != std::string::npos; at = words.find("?.", at)) words.erase(at + 1, 1);
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

bool beyond_round_off(const FlowSystem& system) {
  constexpr double far = 1e5, nearly = 1e-6;  // Pa below nothing; of pressure and of flow, what no refinement would bring back into what there is
  const auto [least, most] = std::minmax_element(system.pressures().begin(), system.pressures().end());
  const double farthest = std::max(-*least, *most);
  if (farthest * std::numeric_limits<double>::epsilon() > FlowSystem::pressure_scale) return true;  // round-off alone is more than a bar
  return (*least < -far || *most > beyond_any_pressure) && system.mass_error() <= nearly &&
         system.worst_residual() * FlowSystem::pressure_scale < nearly * farthest;
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
    return ended_once(words.str() + what_is_in_the_way(system, highest, true, pushed_through(system, -1)));
  }
  const Drawer drawer = drawer_beyond(system, lowest);
  const auto beyond = pushed_through(system, drawer.pump);
  words << "the pressure at '" << name(lowest) << "' would have to fall below absolute zero: more liquid is asked for than can "
        << "reach it. ";
  if (const std::string turned = is_it_turned(system, drawer.pump, beyond); !turned.empty()) return words.str() + turned;
  if (drawer.pump >= 0)
    words << "The way to pump '" << plan.network().parts()[static_cast<std::size_t>(drawer.pump)].name
          << "' is shut, too narrow, too long or too high for what it would draw, or the liquid is too thick";
  else if (drawer.junction >= 0)
    words << "The demand at '" << name(drawer.junction) << "' cannot be met; lower it, or open the way to it";
  else
    words << "Look for too great a height, a missing tank, a valve written the wrong way round or a blocked line before it";
  const std::string hump = humped_curve(plan);
  return ended_once(words.str() + what_lets_off(system, beyond) + what_is_in_the_way(system, lowest, false, beyond) + (hump.empty() ? "" : ". And " + hump));
}

}  // namespace flarenut::analysis

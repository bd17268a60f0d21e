#include "flarenut/analysis/diagnosis.hpp"

#include <cmath>
#include <sstream>

namespace flarenut::analysis {

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
        << name(plan.element(static_cast<int>(worst)).regime(system.point(static_cast<int>(worst))))
        << "'. Check its numbers and their units, and which way round it is written";
  if (system.mass_error() > FlowSystem::mass_tolerance && system.worst_junction() >= 0)
    words << "; flow does not balance at junction '"
          << plan.network().junctions()[static_cast<std::size_t>(system.worst_junction())].name << "'";
  return words.str();
}

std::string explain_impossible(const FlowSystem& system) {
  const Plan& plan = system.plan();
  int lowest = -1;
  for (int i = 0; i < plan.unknown_count(); ++i) {
    const int junction = plan.junction_of(i);
    const double pressure = system.pressures()[static_cast<std::size_t>(junction)];
    if (pressure < 0.0 && (lowest < 0 || pressure < system.pressures()[static_cast<std::size_t>(lowest)])) lowest = junction;
  }
  if (lowest < 0) return {};
  const auto name = [&](int junction) { return plan.network().junctions()[static_cast<std::size_t>(junction)].name; };
  std::ostringstream words;
  words << "the pressure at '" << name(lowest) << "' would have to fall below absolute zero: more liquid is asked for than can "
        << "reach it. ";
  for (int i = 0; i < plan.unknown_count(); ++i)
    if (plan.demand(plan.junction_of(i)) > 0.0) {
      words << "The demand at '" << name(plan.junction_of(i)) << "' cannot be met; lower it, or open the way to it";
      return words.str();
    }
  words << "Look for a missing tank, a valve written the wrong way round or a blocked line before it";
  return words.str();
}

}  // namespace flarenut::analysis

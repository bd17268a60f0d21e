#include <algorithm>
#include <cmath>

#include "flarenut/analysis/heat_system.hpp"

// How warm what leaves a part is: read off an answer, and no part of the equations.

namespace flarenut::analysis {

std::vector<double> HeatSystem::streams() const {
  std::vector<double> flows;
  flows.reserve(legs_.size());
  for (const Leg& leg : legs_) flows.push_back(leg.in[0] > 0.0 ? leg.through : -leg.through);
  return flows;
}

double HeatSystem::energy_at(int part, int port) const {
  const Leg& leg = legs_[static_cast<std::size_t>(part)];
  const auto k = static_cast<std::size_t>(port);
  const int junction = plan_.branches()[static_cast<std::size_t>(part)].junction[k];
  if (leg.through <= 0.0 || leg.out[k] <= 0.0) return energy_of(junction);
  return leg.energy + (leg.heat + leg.power) / leg.through;
}

double HeatSystem::temperature_at(int part, int port) const {
  const int junction = plan_.branches()[static_cast<std::size_t>(part)].junction[static_cast<std::size_t>(port)];
  const auto j = static_cast<std::size_t>(junction);
  double kelvin = temperature_[j];
  const Leg& leg = legs_[static_cast<std::size_t>(part)];
  if (leg.through <= 0.0 || leg.out[static_cast<std::size_t>(port)] <= 0.0) return kelvin;
  const double wanted = energy_at(part, port) - potential_[j];
  // From the junction's own temperature, where most parts leave or are near to.
  double change = (wanted - enthalpy_[j]) / specific_heat_[j];
  if (std::abs(change) < 1e-3) return std::clamp(kelvin + change, span_[j].least, span_[j].most);
  // The table brings it near by, the law has the last word.
  const auto& table = *tables_[static_cast<std::size_t>(liquid_[j])];
  const auto warmth = [&](const auto& state) {
    return state.enthalpy + state.enthalpy_per_pressure * (flow_.pressures()[j] - fluids::reference_pressure_pascal);
  };
  const double risen = wanted - enthalpy_[j] + warmth(table.warming(kelvin));
  for (int turn = 0; turn < 3 && std::abs(change) >= 1e-3; ++turn) {
    kelvin = std::clamp(kelvin + change, span_[j].least, span_[j].most);
    const auto state = table.warming(kelvin);
    change = (risen - warmth(state)) / state.specific_heat;
  }
  kelvin = std::clamp(kelvin + change, span_[j].least, span_[j].most);
  const auto state = plan_.network().liquids()[static_cast<std::size_t>(liquid_[j])].heat_at(
      Temperature<>::from_value(kelvin), AbsolutePressure<>::from_value(std::max(0.0, flow_.pressures()[j])));
  return std::clamp(kelvin + (wanted - state.enthalpy.value()) / state.specific_heat.value(), span_[j].least, span_[j].most);
}

}  // namespace flarenut::analysis

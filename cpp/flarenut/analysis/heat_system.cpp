#include "flarenut/analysis/heat_system.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "flarenut/network/rest.hpp"

namespace flarenut::analysis {

using network::HeatSide;
using network::JunctionKind;

/// Temperatures of what comes in. A tank whose temperature would be found may be given one by a case: a cold start.
void HeatSystem::take_given() {
  careful_ = false;
  // The air's pressure may be another: nothing that the laws said before is carried on.
  constexpr double never = std::numeric_limits<double>::quiet_NaN();
  for (auto* asked : {&asked_, &asked_at_}) std::fill(asked->begin(), asked->end(), never);
  for (Said& said : said_) said.mean = never;
  expected_ = 1.0;
  const HeatSide& heat = *plan_.heat();
  for (std::size_t j = 0; j < temperature_.size(); ++j) {
    potential_[j] = potential(static_cast<int>(j));
    if (tanks_[j]) {
      const network::Junction& tank = plan_.junction_state(static_cast<int>(j));
      pull_[j] = network::pressure_held_at(tank, 0.0, 1.0, plan_.acceleration()) - network::pressure_held_at(tank, 0.0, 0.0, plan_.acceleration());
    }
    if (liquid_[j] < 0) continue;
    const int node = node_[j];
    const auto& given = heat.junction(node).temperature;
    held_[j] = row_[j] >= 0 && given && plan_.junction_state(node).kind == JunctionKind::tank;
    if (row_[j] < 0 || held_[j]) temperature_[j] = given.value_or(plan_.liquid_temperature());
    if (anchor_ < 0 || node != anchor_) continue;
    held_[j] = 1;
    temperature_[j] = anchor_kelvin_;
  }
}

void HeatSystem::hold(int junction, double kelvin) {
  anchor_ = junction;
  anchor_kelvin_ = kelvin;
}

int HeatSystem::likely_anchor() const {
  const HeatSide& heat = *plan_.heat();
  int anchor = -1;
  double most = -1.0;
  for (int junction : node_junction_) {
    const auto& here = heat.junction(junction);
    if (tanks_[static_cast<std::size_t>(junction)]) {
      if (!here.temperature) return junction;
      continue;
    }
    if (here.heat > most) {
      most = here.heat;
      anchor = junction;
    }
  }
  return anchor;
}

void HeatSystem::start_level(std::optional<double> everywhere) {
  for (std::size_t liquid = 0; liquid < level_.size(); ++liquid) {
    const auto limit = plan_.network().liquids()[liquid].outer_limit();
    level_[liquid] = everywhere ? std::clamp(*everywhere, limit.least_kelvin, limit.most_kelvin) : plan_.liquid_temperature();
  }
  for (std::size_t j = 0; j < temperature_.size() && !everywhere; ++j)
    if (const auto& given = plan_.heat()->junction(node_[j]).temperature; tanks_[j] && given)
      level_[static_cast<std::size_t>(liquid_[j])] = std::clamp(*given, span_[j].least, span_[j].most);
  plan_.level_temperatures(level_);
  plan_.refresh();
  for (std::size_t j = 0; j < temperature_.size(); ++j)
    if (row_[j] >= 0) temperature_[j] = std::clamp(level_[static_cast<std::size_t>(liquid_[j])], span_[j].least, span_[j].most);
  take_given();
  for (std::size_t b = 0; b < mean_.size(); ++b) {
    const auto& ports = plan_.branches()[b].junction;
    mean_[b] = temperature_[static_cast<std::size_t>(row_[static_cast<std::size_t>(ports[0])] >= 0 ? ports[0] : ports[1])];
  }
  warm_liquids();
}

/// Where heat alone has warmed a tank, flow is still to follow: hotter liquid is thinner and thermostats open, which cools more. So it goes
/// most of the way only, with all that hangs on it: that is nearer to where it ends.
void HeatSystem::ease_level() {
  constexpr double back = 0.25, far = 40.0;  // K: a step longer than that tells little of where it ends
  std::fill(level_.begin(), level_.end(), 0.0);
  for (std::size_t j = 0; j < temperature_.size(); ++j)
    if (tanks_[j] && row_[j] >= 0 && !held_[j] && std::abs(step_temperature_[j]) < far) level_[static_cast<std::size_t>(liquid_[j])] = -back * step_temperature_[j];
  for (std::size_t j = 0; j < temperature_.size(); ++j)
    if (row_[j] >= 0 && !held_[j])
      temperature_[j] = std::clamp(temperature_[j] + level_[static_cast<std::size_t>(liquid_[j])], span_[j].least, span_[j].most);
  for (std::size_t b = 0; b < mean_.size(); ++b) {
    const Span& span = span_[static_cast<std::size_t>(plan_.branches()[b].junction[0])];
    mean_[b] = std::clamp(mean_[b] + level_[static_cast<std::size_t>(plan_.network().parts()[b].liquid)], span.least, span.most);
  }
  warmed_ = false;
}

void HeatSystem::start_at(const std::vector<double>& junctions, const std::vector<double>& parts) {
  plan_.refresh();
  for (std::size_t j = 0; j < temperature_.size(); ++j)
    if (row_[j] >= 0) temperature_[j] = std::clamp(junctions[j], span_[j].least, span_[j].most);
  take_given();
  mean_ = parts;
  warm_parts();
}

void HeatSystem::set_exact(bool exact) {
  warmed_ = warmed_ && exact == exact_;
  exact_ = exact;
}

/// Values of the liquid in a part by its laws.
void HeatSystem::ask_laws(std::size_t b) {
  const fluids::Liquid& liquid = plan_.network().liquids()[static_cast<std::size_t>(plan_.network().parts()[b].liquid)];
  const auto ambient = AbsolutePressure<>::from_value(plan_.ambient());
  const auto kelvin = Temperature<>::from_value(mean_[b]);
  const auto replace = [](auto& quantity, const auto& said) {
    Dual<1> number = quantity.value();
    number.value = said.value();
    quantity = std::decay_t<decltype(quantity)>::from_value(number);
  };
  const auto take = [&](const auto& law) {
    replace(liquid_in_[b].density, law.density);
    replace(liquid_in_[b].viscosity, law.viscosity);
  };
  if (needs_heat_[b]) {
    const fluids::LiquidState<> law = liquid.at(kelvin, ambient);
    take(law);
    replace(heat_in_[b].specific_heat, law.specific_heat);
    replace(heat_in_[b].conductivity, law.conductivity);
  } else {
    take(liquid.flowing_at(kelvin, ambient));
  }
  asked_[b] = mean_[b];
}

void HeatSystem::warm_parts() {
  warm_liquids();
  flow_.renew();
}

void HeatSystem::warm_liquids() {
  for (std::size_t b = 0; b < mean_.size(); ++b) {
    using D = Dual<1>;
    const auto which = static_cast<std::size_t>(plan_.network().parts()[b].liquid);
    auto& state = liquid_in_[b];
    auto& heat = heat_in_[b];
    const auto put = [](auto& quantity, double value, double slope) {
      D number(value);
      number.slope[0] = slope;
      quantity = std::decay_t<decltype(quantity)>::from_value(number);
    };
    const auto carry_on = [](auto& quantity, double change) {
      D number = quantity.value();
      number.value += number.slope[0] * change;
      quantity = std::decay_t<decltype(quantity)>::from_value(number);
    };
    if (exact_ && std::abs(mean_[b] - asked_[b]) <= carried) {
      const double change = mean_[b] - state.temperature.value().value;
      carry_on(state.density, change);
      carry_on(state.viscosity, change);
      if (needs_heat_[b]) {
        carry_on(heat.specific_heat, change);
        carry_on(heat.conductivity, change);
      }
    } else {
      const bool as_before = b > 0 && mean_[b] == mean_[b - 1] && plan_.network().parts()[b - 1].liquid == static_cast<int>(which) && !exact_;
      const auto flowing = [&](const fluids::LiquidState<D>& there) -> fluids::PropertyTable::Flowing {
        const D density = there.density.value(), viscosity = there.viscosity.value();
        return {density.value, density.slope[0], viscosity.value, viscosity.slope[0]};
      };
      const fluids::PropertyTable::Flowing table = as_before ? flowing(liquid_in_[b - 1]) : tables_[which]->flowing(mean_[b]);
      put(state.density, table.density, table.density_slope);
      put(state.viscosity, table.viscosity, table.viscosity_slope);
      if (needs_heat_[b]) {
        const fluids::PropertyTable::Conducting conducting = tables_[which]->conducting(mean_[b]);
        put(heat.specific_heat, conducting.specific_heat, conducting.specific_heat_slope);
        put(heat.conductivity, conducting.conductivity, conducting.conductivity_slope);
      }
      asked_[b] = std::numeric_limits<double>::quiet_NaN();
      if (exact_) ask_laws(b);  // for values; slopes are the table's
    }
    put(state.temperature, mean_[b], 1.0);
    // Built as warm as this before, by table or law, it does for a path.
    if (exact_ || plan_.temperature_of_part(static_cast<int>(b)) != mean_[b])
      plan_.warm(static_cast<int>(b), mean_[b], state.density.value().value, state.viscosity.value().value);
  }
  for (std::size_t j = 0; j < temperature_.size(); ++j)
    if (tanks_[j]) plan_.warm_tank(static_cast<int>(j), temperature_[j]);
  warmed_ = true;
}

bool HeatSystem::settle_flow(int turns) {
  if (!flow_.linearised()) flow_.linearise();
  // A step of everything squares the error, if flow follows: its laws are to hold better than what was left before.
  constexpr double share = 0.15;
  const double wanted = exact_ ? FlowSystem::branch_tolerance : std::min(roughly, share * expected_);
  const auto rough = [&] { return flow_.limited() || !(flow_.worst_residual() <= wanted); };
  for (int turn = 0; turn < turns && rough(); ++turn) {
    flow_.foresee();
    if (!flow_.find_step()) break;
    flow_.take_step();
    flow_.linearise();
  }
  return !rough();
}

void HeatSystem::linearise() {
  constexpr int turns_of_flow = 6;
  if (!warmed_) warm_parts();
  settle_flow(turns_of_flow);
  evaluate_nodes();
  evaluate_streams();
  evaluate_laws();
  evaluate_exchangers();
  finish_means();
  balance();
  expected_ = error();
}

void HeatSystem::keep_time(const std::vector<double>& earlier, double growth) {
  keep_time();
  const double of_now = (1.0 + growth) * (1.0 + growth) / (1.0 + 2.0 * growth);
  for (std::size_t j = 0; j < before_.size(); ++j) before_[j] = of_now * temperature_[j] + (1.0 - of_now) * earlier[j];
}

double HeatSystem::capacity_at(int junction) const {
  return plan_.heat()->junction(junction).capacity + node_lag_ * plan_.flow_scale() * specific_heat_[static_cast<std::size_t>(junction)];
}

double HeatSystem::capacity_in(std::size_t part) const {
  const double own = plan_.heat()->part(static_cast<int>(part)).capacity;
  if (content_[part] == 0.0) return own;
  const auto from = static_cast<std::size_t>(plan_.branches()[part].junction[0]);
  return own + content_[part] * liquid_in_[part].density.value().value * specific_heat_[from];
}

bool HeatSystem::stores_heat(int junction) const {
  const auto j = static_cast<std::size_t>(junction);
  return row_[j] >= 0 && !held_[j] && plan_.heat()->junction(junction).capacity > 0.0;
}

bool HeatSystem::accepted() const { return flow_.accepted() && energy_accepted(); }

}  // namespace flarenut::analysis

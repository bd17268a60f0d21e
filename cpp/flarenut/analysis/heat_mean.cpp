#include <algorithm>
#include <cmath>

#include "flarenut/analysis/heat_system.hpp"

// What a stream takes up on its way through a part beyond what a law of one specific heat says, and its mean temperature, with all slopes.

namespace flarenut::analysis {

/// A heat law knows one specific heat, that at the mean of the stream, and says by it how warm the stream leaves. What it then takes
/// up is the enthalpy between, so a stream that comes all the way to the air leaves as warm as the air and no warmer. Under pressure it
/// takes up a little less, for enthalpy's slope with pressure falls as a liquid warms: without that, oil at 200 bar left 0.6 K past its air.
void HeatSystem::follow_enthalpy(std::size_t b) {
  Leg& leg = legs_[b];
  if (leg.through <= 0.0) return;
  const Branch& branch = plan_.branches()[b];
  const auto& table = *tables_[static_cast<std::size_t>(plan_.network().parts()[b].liquid)];
  const Dual<1>& specific_heat = heat_in_[b].specific_heat.value();
  const double said = leg.wall, flow = leg.through, capacity_rate = flow * specific_heat.value, change = said / capacity_rate;
  const std::array<double, 3> change_by{leg.heat_by_flow / capacity_rate - change / flow, leg.heat_by_inlet / capacity_rate,
                                        leg.heat_by_mean / capacity_rate - change * specific_heat.slope[0] / specific_heat.value};
  const auto entering = table.led_to(leg.inlet), leaving = table.led_to(leg.inlet + change);
  double gauge = 0.0;
  for (int port = 0; port < branch.ports; ++port)
    if (const auto k = static_cast<std::size_t>(port); leg.in[k] <= 0.0)
      gauge += leg.share[k] * (flow_.pressures()[static_cast<std::size_t>(branch.junction[k])] - fluids::reference_pressure_pascal);
  const double rise = leaving.enthalpy - entering.enthalpy, warming = flow * leaving.specific_heat;
  const double stored = gauge * (leaving.enthalpy_per_pressure - entering.enthalpy_per_pressure), storing = flow * gauge * leaving.growth;
  leg.wall = flow * rise;
  leg.pressed = flow * stored;
  leg.heat += leg.wall - said + leg.pressed;
  leg.pressed_by = {stored + storing * change_by[0], flow * gauge * (leaving.growth - entering.growth) + storing * change_by[1], storing * change_by[2]};
  leg.heat_by_flow = rise + warming * change_by[0] + leg.pressed_by[0];
  leg.heat_by_inlet = flow * (leaving.specific_heat - entering.specific_heat) + warming * change_by[1] + leg.pressed_by[1];
  leg.heat_by_mean = warming * change_by[2] + leg.pressed_by[2];
}

namespace {

/// What the liquid is known for; at its end the mean follows nothing.
template <class Leg, class Span>
void keep_mean_within(Leg& leg, const Span& span) {
  if (leg.mean >= span.least && leg.mean <= span.most) return;
  leg.mean = std::clamp(leg.mean, span.least, span.most);
  leg.mean_by_through = leg.mean_by_inlet = leg.mean_by_mean = leg.mean_by_drop = 0.0;
}

}  // namespace

/// Turns mean shares into mean temperatures, and judges those that the parts' liquids stand at.
void HeatSystem::finish_means() {
  const bool lags = time_step_ > 0.0 && mean_lag_ > 0.0;
  const double reached = lags ? time_step_ / (time_step_ + mean_lag_) : 1.0;
  double worst = 0.0, sum = 0.0;
  for (std::size_t b = 0; b < legs_.size(); ++b) {
    const Branch& branch = plan_.branches()[b];
    Leg& leg = legs_[b];
    const bool is_fitting = !needs_heat_[b] && branch.ports == 2 && slots_[b].junction[P] < 0;
    if (is_fitting && leg.through > 0.0 && leg.heat == 0.0 && leg.power == 0.0) {
      // Nothing but its drop of pressure warms what passes.
      const bool forward = leg.in[0] > 0.0;
      const auto from = static_cast<std::size_t>(branch.junction[forward ? 0 : 1]), to = static_cast<std::size_t>(branch.junction[forward ? 1 : 0]);
      const double half = 0.5 / specific_heat_[from], drop = flow_.pressures()[from] - flow_.pressures()[to];
      leg.mean = leg.inlet + half * (potential_[from] - potential_[to] + per_pressure_[from] * drop);
      leg.mean_by_drop = half * (forward ? per_pressure_[from] : -per_pressure_[from]);
      leg.mean_by_through = leg.mean_by_mean = 0.0;
      leg.mean_by_inlet = 1.0;
      keep_mean_within(leg, span_[from]);
    } else {
      finish_mean(b);
    }
    if (lags) {
      leg.mean = mean_before_[b] + reached * (leg.mean - mean_before_[b]);
      for (double* slope : {&leg.mean_by_through, &leg.mean_by_inlet, &leg.mean_by_mean, &leg.mean_by_sense, &leg.mean_by_drop}) *slope *= reached;
    }
    const double error = std::abs(mean_[b] - leg.mean);
    worst = std::max(worst, error);
    sum += error;
  }
  mean_error_ = std::isnan(sum) ? sum : worst;
}

/// Of a part that senses a junction, or in which heat moves.
void HeatSystem::finish_mean(std::size_t b) {
  const Branch& branch = plan_.branches()[b];
  Leg& leg = legs_[b];
  const int sensed = slots_[b].junction[P];
  if (sensed >= 0) {
    leg.mean = temperature_[static_cast<std::size_t>(sensed)];
    leg.mean_by_through = leg.mean_by_inlet = leg.mean_by_mean = leg.mean_by_drop = 0.0;
    leg.mean_by_sense = 1.0;
  } else {
    const auto first = static_cast<std::size_t>(branch.junction[0]), second = static_cast<std::size_t>(branch.junction[1]);
    const bool forward = leg.in[0] > 0.0 || leg.through <= 0.0;  // at rest the sign of what is left is chance
    const std::size_t from = forward ? first : second, to = forward ? second : first;
    // That of the middle of the way, by a straight line through those of the inlet and of the mean.
    const double entering = specific_heat_[from];
    double specific_heat = entering, by_mean = 0.0, by_inlet = 0.0, by_share = 0.0;  // and its slopes
    if (needs_heat_[b]) {
      const Dual<1>& there = heat_in_[b].specific_heat.value();
      const double weight = 0.5 / std::max(leg.mean, 0.5);
      specific_heat += weight * (there.value - entering);
      by_mean = weight * there.slope[0];
      by_inlet = there.slope[0] - by_mean;
      by_share = leg.mean > 0.5 ? -weight / leg.mean * (there.value - entering) : 0.0;
    }
    const double flow = std::max(leg.through, standing * plan_.flow_scale());
    // What it stores under pressure warms nothing, so neither it nor its slopes are in here.
    const double put = leg.heat - leg.wall - leg.pressed + leg.power;
    const std::array<double, 3> heat_by{leg.heat_by_flow - leg.pressed_by[0], leg.heat_by_inlet - leg.pressed_by[1], leg.heat_by_mean - leg.pressed_by[2]};
    // At rest what a wall takes per flow is its slope with flow.
    const double wall = leg.through > 0.0 ? leg.wall / flow : heat_by[0];
    double rise = (put / flow + wall) / specific_heat;
    const double share = leg.mean;
    leg.mean_by_drop = 0.0;
    if (branch.ports == 2 && leg.through > 0.0) {
      rise += (potential_[from] - potential_[to] + per_pressure_[from] * (flow_.pressures()[from] - flow_.pressures()[to])) / specific_heat;
      leg.mean_by_drop = share * ((forward ? per_pressure_[from] : -per_pressure_[from]) - leg.power_by_rise / flow) / specific_heat;
    }
    const double per_flow = 1.0 / (flow * specific_heat);
    leg.mean = leg.inlet + share * rise;
    const double per_specific_heat = -share * rise / specific_heat, per_share = rise + per_specific_heat * by_share;
    leg.mean_by_through = leg.mean_by_through * per_share +
                          (leg.through > 0.0 ? share * per_flow * (heat_by[0] + leg.power_by_flow - put / flow - wall) : 0.0);
    leg.mean_by_inlet = 1.0 + leg.mean_by_inlet * per_share + share * per_flow * heat_by[1] + per_specific_heat * by_inlet;
    // At rest a wall brings the stream to where it is itself, however it came in.
    if (leg.through <= 0.0 && plan_.heat()->part(static_cast<int>(b)).law)
      leg.mean_by_inlet -= share * heat_in_[b].specific_heat.value().value / specific_heat;
    leg.mean_by_mean = leg.mean_by_mean * per_share + share * per_flow * heat_by[2] + per_specific_heat * by_mean;
    keep_mean_within(leg, span_[first]);
  }
}

}  // namespace flarenut::analysis

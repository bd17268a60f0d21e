#include "flarenut/analysis/readings.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "flarenut/units/trade_units.hpp"

namespace flarenut::analysis {

std::vector<double> point_of(const Plan& plan, const Solution& solution, int part) {
  const Branch& branch = plan.branches()[static_cast<std::size_t>(part)];
  std::vector<double> point;
  point.reserve(static_cast<std::size_t>(branch.pressures() + branch.flows));
  for (int i = 0; i < branch.pressures(); ++i)
    point.push_back(solution.pressure[static_cast<std::size_t>(branch.junction[i])] + branch.head[i]);
  for (int f = 0; f < branch.flows; ++f) point.push_back(solution.flow[static_cast<std::size_t>(branch.first_flow + f)]);
  return point;
}

Regime regime_of(const Plan& plan, const Solution& solution, int part) {
  return plan.element(part).regime(point_of(plan, solution, part).data());
}

double temperature_of_junction(const Plan& plan, const Solution& solution, int junction) {
  return solution.temperature.empty() ? plan.liquid_temperature() : solution.temperature[static_cast<std::size_t>(junction)];
}

double temperature_of_end(const Plan& plan, const Solution& solution, int part, int port) {
  if (solution.leaving.empty()) return plan.temperature_of_part(part);
  return solution.leaving[static_cast<std::size_t>(part)][static_cast<std::size_t>(port)];
}

double heat_of_part(const Solution& solution, int part) { return solution.heat.empty() ? 0.0 : solution.heat[static_cast<std::size_t>(part)]; }
double power_of_part(const Solution& solution, int part) { return solution.power.empty() ? 0.0 : solution.power[static_cast<std::size_t>(part)]; }

namespace {

/// Of the liquid at an end: where temperatures are found an end is hotter or colder than the mean of its part.
double vapour_pressure_at(const Plan& plan, const Solution& solution, int part, double kelvin) {
  if (solution.leaving.empty() || std::isnan(kelvin)) return plan.whole_liquid_in(part).vapour_pressure.value();
  const auto& entry = plan.network().parts()[static_cast<std::size_t>(part)];
  return plan.network().liquids()[static_cast<std::size_t>(entry.liquid)]
      .at(Temperature<>::from_value(kelvin), AbsolutePressure<>::from_value(plan.ambient())).vapour_pressure.value();
}

/// The stream of a part as its heat law was asked at the answer.
bool heat_beyond_data(const Plan& plan, const Solution& solution, int part) {
  if (solution.temperature.empty() || plan.heat() == nullptr) return false;
  const auto p = static_cast<std::size_t>(part);
  const auto& law = plan.heat()->part(part).law;
  if (!law) return false;
  network::StreamPoint stream;
  double inlet = 0.0;
  for (int port = 0; port < plan.branches()[p].ports; ++port) {
    const double into = end_of(plan, solution, part, port).flow;
    if (into <= 0.0) continue;
    stream.flow += into;
    inlet += into * solution.leaving[p][static_cast<std::size_t>(port)];
    stream.forward = port == 0;
  }
  if (!(stream.flow > 0.0)) return false;  // nothing passes that a table could tell of
  stream.inlet = inlet / stream.flow;
  const auto& liquid = plan.network().liquids()[static_cast<std::size_t>(plan.network().parts()[p].liquid)];
  const auto mean = Temperature<Dual<1>>::from_value(Dual<1>(solution.part_temperature[p], 0));
  const auto ambient = AbsolutePressure<Dual<1>>::from_value(Dual<1>(plan.ambient()));
  const auto state = liquid.at(mean, ambient);
  const auto heat = liquid.heat_at(mean, ambient);
  stream.liquid = &state;
  stream.heat = &heat;
  return law->beyond_data(&stream);
}

}  // namespace

End end_of(const Plan& plan, const Solution& solution, int part, int port) {
  const Branch& branch = plan.branches()[static_cast<std::size_t>(part)];
  const auto& liquid = plan.liquid_in(part);
  const double density = liquid.density.value();
  End end;
  end.junction = branch.junction[static_cast<std::size_t>(port)];
  end.bore = plan.element(part).bores()[static_cast<std::size_t>(port)];
  for (int f = 0; f < branch.flows; ++f)
    end.flow -= branch.inflow[static_cast<std::size_t>(port * branch.flows + f)] * solution.flow[static_cast<std::size_t>(branch.first_flow + f)];
  end.total = solution.pressure[static_cast<std::size_t>(end.junction)];
  end.static_ = end.total;
  if (end.bore > 0.0) {
    const double area = 0.25 * std::numbers::pi * end.bore * end.bore;
    end.velocity = std::abs(end.flow) / (density * area);
    end.static_ -= 0.5 * density * end.velocity * end.velocity;
    end.reynolds = density * end.velocity * end.bore / liquid.viscosity.value();
  }
  end.temperature = temperature_of_end(plan, solution, part, port);
  end.vapour_margin = end.static_ - vapour_pressure_at(plan, solution, part, end.temperature);
  return end;
}

std::vector<End> ends_of(const Plan& plan, const Solution& solution, int part) {
  const int ports = plan.branches()[static_cast<std::size_t>(part)].ports;
  std::vector<End> ends;
  ends.reserve(static_cast<std::size_t>(ports));
  for (int port = 0; port < ports; ++port) ends.push_back(end_of(plan, solution, part, port));
  return ends;
}

/// What brings less than this of a pump's flow to it does not make it boil: the leak of a shut bypass, hot as it may be, condenses in the rest
/// (judgement, no source).
constexpr double least_share_of_suction = 0.05;

Suction suction_of(const Plan& plan, const Solution& solution, int pump) {
  const auto inlet = ends_of(plan, solution, pump).front();
  const auto liquid = plan.whole_liquid_in(pump);
  const auto& parts = plan.network().parts();
  Suction suction;
  suction.margin = inlet.vapour_margin;
  suction.at = parts[static_cast<std::size_t>(pump)].name;
  suction.inlet_gauge = inlet.static_ - plan.ambient();  // until the bore that feeds it is found: few pumps have one
  suction.npsh_available =
      (inlet.total - liquid.vapour_pressure.value()) / (liquid.density.value() * trade::standard_gravity_value);

  double most = 0.0;  // of what comes to the inlet by one part
  std::vector<int> waiting{inlet.junction};
  std::vector<char> seen(static_cast<std::size_t>(plan.junction_count()), 0);
  seen[static_cast<std::size_t>(inlet.junction)] = 1;
  while (!waiting.empty()) {
    const int here = waiting.back();
    waiting.pop_back();
    if (plan.unknown_of(here) < 0) continue;  // a tank: the way ends
    for (int part = 0; part < static_cast<int>(parts.size()); ++part) {
      if (part == pump) continue;
      const auto& ports = parts[static_cast<std::size_t>(part)].ports;
      if (std::find(ports.begin(), ports.end(), here) == ports.end()) continue;
      const auto ends = ends_of(plan, solution, part);
      const bool feeds = std::any_of(ends.begin(), ends.end(), [&](const End& end) {
        return end.junction == here && end.flow < -least_share_of_suction * std::abs(inlet.flow);
      });
      if (!feeds) continue;
      for (const End& end : ends) {
        if (here == inlet.junction && end.junction == here && -end.flow > most) {
          most = -end.flow;
          suction.inlet_gauge = end.static_ - plan.ambient();
        }
        if (end.vapour_margin < suction.margin) {
          suction.margin = end.vapour_margin;
          suction.at = parts[static_cast<std::size_t>(part)].name;
        }
        if (end.flow > 0.0 && !seen[static_cast<std::size_t>(end.junction)]) {
          seen[static_cast<std::size_t>(end.junction)] = 1;
          waiting.push_back(end.junction);
        }
      }
    }
  }
  return suction;
}

double least_margin(const Plan& plan, const Solution& solution) {
  double least = std::numeric_limits<double>::infinity();
  for (int part = 0; part < static_cast<int>(plan.branches().size()); ++part)
    for (int port = 0; port < plan.branches()[static_cast<std::size_t>(part)].ports; ++port) {
      const End end = end_of(plan, solution, part, port);
      if (plan.junction_state(end.junction).kind != network::JunctionKind::fixed) least = std::min(least, end.vapour_margin);
    }
  return least;
}

std::vector<Remark> remarks_on(const Plan& plan, const Solution& solution) {
  std::vector<Remark> remarks;
  if (!solution.converged()) return remarks;
  const auto& parts = plan.network().parts();
  for (int part = 0; part < static_cast<int>(parts.size()); ++part) {
    const std::string& name = parts[static_cast<std::size_t>(part)].name;
    const network::Element& element = plan.element(part);
    const auto point = point_of(plan, solution, part);
    const Regime regime = element.regime(point.data());
    const double flow = solution.flow[static_cast<std::size_t>(plan.branches()[static_cast<std::size_t>(part)].first_flow)];
    switch (regime) {
      case Regime::dead_headed: remarks.push_back({"dead-headed pump", name, flow, 0.0}); break;
      case Regime::running_out: remarks.push_back({"pump beyond the end of its curve", name, flow, 0.0}); break;
      case Regime::reversed: remarks.push_back({"reversed flow", name, flow, 0.0}); break;
      case Regime::relieving: remarks.push_back({"relief open", name, flow, 0.0}); break;
      case Regime::bypassing: remarks.push_back({"bypass open", name, flow, 0.0}); break;
      case Regime::wide_open: remarks.push_back({"valve wide open", name, flow, 0.0}); break;
      case Regime::shut: remarks.push_back({"valve shut", name, flow, 0.0}); break;
      default: break;
    }
    if (element.beyond_data(point.data())) remarks.push_back({"beyond measured data", name, flow, 0.0});
    if (heat_beyond_data(plan, solution, part)) remarks.push_back({"heat beyond measured data", name, flow, 0.0});
    if (element.has_hump()) remarks.push_back({"pump curve with a hump", name, flow, 0.0});
    double least_margin = 1.0, least_static = 0.0;
    for (const End& end : ends_of(plan, solution, part)) {
      // A place of given pressure is open air or a manifold: what is sprayed into it may boil there.
      if (plan.junction_state(end.junction).kind == network::JunctionKind::fixed) continue;
      if (end.vapour_margin < least_margin) {
        least_margin = end.vapour_margin;
        least_static = end.static_;
      }
    }
    if (least_margin <= 0.0)
      remarks.push_back({"below vapour pressure", name, least_static, plan.whole_liquid_in(part).vapour_pressure.value()});
  }
  return remarks;
}

}  // namespace flarenut::analysis

#include "law_suite.hpp"

#include <cmath>
#include <sstream>
#include <stdexcept>

#include "flarenut/network/kinds.hpp"

namespace laws {
namespace {

int field_index(const Element& element, const std::string& name) {
  const auto info = element.info();
  for (std::size_t i = 0; i < info.fields.size(); ++i)
    if (info.fields[i].name == name) return static_cast<int>(i);
  throw std::runtime_error(info.kind.data() + std::string(": the row names a field '") + name + "' it does not have");
}

int column_index(const Element& element, const std::string& name) {
  const auto info = element.info();
  for (std::size_t i = 0; i < info.columns.size(); ++i)
    if (info.columns[i].name == name) return static_cast<int>(i);
  throw std::runtime_error(info.kind.data() + std::string(": the row names a column '") + name + "' it does not have");
}

NamedLiquid liquid(std::string name, double density, double viscosity) {
  using namespace flarenut;
  fluids::LiquidState<> state;
  state.density = Density<>::from_value(density);
  state.viscosity = DynamicViscosity<>::from_value(viscosity);
  state.specific_heat = SpecificHeat<>::from_value(2000.0);
  state.conductivity = ThermalConductivity<>::from_value(0.13);
  state.bulk_modulus = PressureDifference<>::from_value(1.3e9);
  state.vapour_pressure = AbsolutePressure<>::from_value(3e3);
  state.temperature = Temperature<>::from_value(293.15);
  return {std::move(name), state};
}

}  // namespace

std::vector<NamedLiquid> liquids() {
  return {liquid("petrol", 750.0, 5e-4), liquid("cold oil", 890.0, 0.5), liquid("water", 998.2, 1.0016e-3)};
}

std::unique_ptr<Element> build(const Row& row, const NamedLiquid& liquid) {
  auto element = flarenut::network::make_element(row.kind);
  for (const auto& [name, value] : row.fields) element->set_field(field_index(*element, name), value);
  for (const auto& [name, values] : row.columns) element->set_column(column_index(*element, name), values);
  element->validate(row.name());
  element->prepare(liquid.state);
  return element;
}

Answer ask(const Element& element, const Point& point) {
  const Layout at(element);
  flarenut::network::Linearisation line;
  element.linearise(point.data(), line);
  Answer answer;
  for (int f = 0; f < at.flows; ++f) {
    answer.residual.push_back(line.residual[f]);
    std::vector<double> slopes;
    for (int i = 0; i < at.pressures; ++i) slopes.push_back(line.by_pressure[f * at.pressures + i]);
    for (int g = 0; g < at.flows; ++g) slopes.push_back(line.by_flow[f * at.flows + g]);
    answer.slope.push_back(std::move(slopes));
  }
  return answer;
}

bool solve_flow(const Element& element, Point& point, int f) {
  double& flow = point[static_cast<std::size_t>(Layout(element).flow(f))];
  const auto residual_at = [&](double value) {
    flow = value;
    return ask(element, point).residual[f];
  };
  const double at_rest = residual_at(0.0);
  if (at_rest == 0.0) return true;
  // Halve in the logarithm: answers lie anywhere between seepage of 1e-15 kg/s and a burst pipe.
  const double sign = at_rest > 0.0 ? 1.0 : -1.0;
  if (sign * residual_at(sign * 1e6) > 0.0) return false;
  double low = -30.0, high = 6.0;
  for (int turn = 0; turn < 60; ++turn) {
    const double middle = 0.5 * (low + high);
    (sign * residual_at(sign * std::pow(10.0, middle)) > 0.0 ? low : high) = middle;
  }
  return true;
}

std::vector<Point> spread(const Row& row, const Element& element) {
  const Layout at(element);
  std::vector<Point> points;
  for (const Point& state : row.states) {
    if (static_cast<int>(state.size()) != at.entries)
      throw std::runtime_error(row.name() + ": a state of the row has the wrong number of entries");
    for (double factor : {1.0, 0.0, -1.0, 1e-4, -1e-4, 0.05, 0.4, -0.4, 3.0, 20.0}) {
      Point point = state;
      for (int f = 0; f < at.flows; ++f) point[at.flow(f)] *= factor;
      points.push_back(point);
      if (at.flows == 2) {  // the two flows against each other, and each alone
        Point split = point;
        split[at.flow(1)] *= -0.5;
        points.push_back(split);
        split[at.flow(1)] = 0.0;
        points.push_back(split);
      }
    }
  }
  return points;
}

std::string text(const Point& point) {
  std::ostringstream out;
  out.precision(8);
  out << "[";
  for (std::size_t i = 0; i < point.size(); ++i) out << (i ? ", " : "") << point[i];
  out << "]";
  return out.str();
}

std::vector<Row> all_rows() {
  std::vector<Row> rows;
  for (auto& group : {rows_of_lines(), rows_of_fittings(), rows_of_valves(), rows_of_pumps()})
    rows.insert(rows.end(), group.begin(), group.end());
  return rows;
}

std::vector<Law> all_laws() {
  return {
      {"slope", "slopes by flow and pressure equal differences", slopes_match_differences},
      {"number slope", "slopes by every field and by the liquid equal differences", number_slopes_match_differences},
      {"slopes together", "slopes by all numbers at once are those by one after the other", slopes_together_are_those_one_by_one},
      {"flow sign", "a mismatch falls when its flow rises", more_flow_costs_more},
      {"solvable", "two flows that depend on each other have one solution nearby", flows_can_be_solved},
      {"pressure sign", "more pressure at the inlet never means less flow", supply_pressure_drives_flow},
      {"continuity", "value and slope do not jump on the way through the regimes", no_jump_in_value_or_slope},
      {"energy", "a passive part never makes energy", no_free_energy},
      {"limits", "finite and sloped at rest, at huge flows, at mad pressures, at the ends of every number's range", finite_everywhere},
      {"limiter", "a limiter never overshoots, rests when obeyed and at an answer, and says what it did", limiter_pulls_back_and_rests},
      {"start", "a cold start gives a usable point", start_is_usable},
      {"bad numbers", "numbers out of range are refused by part and field", bad_numbers_are_refused},
  };
}

}  // namespace laws

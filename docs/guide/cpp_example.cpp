#include <iostream>

#include "flarenut/analysis/readings.hpp"
#include "flarenut/analysis/steady.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/network/network.hpp"
#include "flarenut/units/trade_units.hpp"

using namespace flarenut;
using namespace flarenut::trade;

int main() {
  network::Network circuit;
  circuit.add_liquid(fluids::constant_liquid(
      {.name = "fuel", .density = 745.0 * kilogram_per_cubic_metre, .viscosity = 0.55 * centipoise}));
  const int tank = circuit.add_tank("tank", {.level = 0.2 * metre});
  const int outlet = circuit.add_junction("pump outlet");
  const int rail = circuit.add_junction("rail", {}, (120.0 * pound_per_hour).value());  // what the injectors burn
  const int spill = circuit.add_junction("regulator outlet");
  const int manifold = circuit.add_fixed("manifold", (-10.0 * inch_of_mercury).value());
  const double foot_value = foot.value(), bore = (0.33 * inch).value();

  circuit.add_part("pump", "quadratic pump", {tank, outlet}, {},
                   {{"shutoff_rise", (7.0 * bar).value()}, {"quadratic", 3e13}});
  circuit.add_part("supply", "line", {outlet, rail}, {}, {{"bore", bore}, {"length", 11.0 * foot_value}});
  circuit.add_part("regulator", "bypass regulator", {rail, spill}, {rail, manifold},
                   {{"set_pressure", (43.5 * psi).value()}, {"full_area", 12e-6}});
  circuit.add_part("return", "line", {spill, tank}, {}, {{"bore", bore}, {"length", 13.0 * foot_value}});

  network::Plan plan(circuit);
  const analysis::Solution answer = analysis::solve(plan);
  if (!answer.converged()) return std::cerr << answer.message << '\n', 1;
  const auto rail_end = analysis::ends_of(plan, answer, circuit.part("supply")).at(1);
  std::cout << "rail " << (rail_end.static_ - plan.ambient()) / psi.value() << " psi gauge\n";
}

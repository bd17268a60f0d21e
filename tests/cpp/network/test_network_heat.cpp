// Heat put where it cannot be: refused with the place, and nothing kept.
#include "../catch_shim.hpp"
#include "../circuits.hpp"

using namespace circuits;
using Catch::Contains;

namespace {

/// A tank, a line, a part known by a table, and the open air.
Network small() {
  Network network;
  network.add_liquid(constant(998.0, 1e-3));
  const int cell = network.add_tank("cell", tank(0.2)), here = network.add_junction("here"), air = network.add_fixed("air", 0.0);
  network.add_part("hose", "line", {cell, here}, {}, line(0.01, 1.0));
  network.add_part("core", "measured table", {here, air}, {}, {{"rating_viscosity", 1e-3}, {"rating_density", 998.0}},
                   {{"flow", {1e-4, 2e-4}}, {"pressure_drop", {1e3, 4e3}}});
  return network;
}

}  // namespace

TEST_CASE("network: a heat law that its part cannot carry is refused by name") {
  Network network = small();
  CHECK_THROWS_WITH(network.add_heat_law(0, "line wall", {{"warmth", 1.0}}), Contains("hose: warmth: is not a number that a line wall has"));
  CHECK_THROWS_WITH(network.add_heat_law(0, "stove"), Contains("no such kind of heat law in the engine; there are:"));
  CHECK_THROWS_WITH(network.add_heat_law(0, "liquid exchanger"), Contains("hose: heat: a liquid exchanger is between two streams"));
  CHECK_THROWS_WITH(network.add_heat_law(1, "line wall"), Contains("core: ") && Contains("asks of its part, and a measured table has none"));
  CHECK_THROWS_WITH(network.add_heat_law(9, "line wall"), Contains("part number 9 does not exist"));
  network.add_heat_law(0, "line wall");
  CHECK_THROWS_WITH(network.add_heat_law(0, "line wall"), Contains("hose: heat law: is given twice"));
}

TEST_CASE("network: an exchanger is between two parts that belong to no other") {
  Network network = small();
  CHECK_THROWS_WITH(network.add_exchanger("cooler", "liquid exchanger", 0, 0), Contains("has the same part on both sides"));
  CHECK_THROWS_WITH(network.add_exchanger("hose", "liquid exchanger", 0, 1), Contains("hose: name: is used twice"));
  CHECK_THROWS_WITH(network.add_exchanger("cooler", "line wall", 0, 1), Contains("cooler: heat: a line wall is for one stream"));
  CHECK_THROWS_WITH(network.add_exchanger("cooler", "liquid exchanger", 0, 7), Contains("part number 7 does not exist"));
  const Network::Numbers sides{{"first_bore", 0.005}, {"first_length", 0.3}, {"first_area", 0.1},
                               {"second_bore", 0.005}, {"second_length", 0.3}, {"second_area", 0.1}};
  CHECK_THROWS_WITH(network.add_exchanger("cooler", "liquid exchanger", 0, 1), Contains("cooler: first_bore:"));
  network.add_exchanger("cooler", "liquid exchanger", 0, 1, sides);
  CHECK_THROWS_WITH(network.add_exchanger("other", "liquid exchanger", 1, 0, sides), Contains("already belongs to exchanger 'cooler'"));
}

TEST_CASE("network: heat and drains are of places that exist and can have them") {
  Network network = small();
  CHECK_THROWS_WITH(network.put_heat(5, 100.0), Contains("circuit: heat: part number 5 does not exist"));
  CHECK_THROWS_WITH(network.put_heat_at(-1, 100.0), Contains("heat: at a junction that does not exist"));
  CHECK_THROWS_WITH(network.sense_temperature(0, 3), Contains("temperature: of a junction that does not exist"));
  CHECK_THROWS_WITH(network.let_mix(network.junction("air")), Contains("in tanks only"));
  CHECK_THROWS_WITH(network.drain(2, 8), Contains("drain: from or to a junction that does not exist"));
  CHECK_THROWS_WITH(network.drain(network.junction("here"), 0), Contains("here: drain: leads from a place of given pressure"));
  CHECK_THROWS_WITH(network.drain(0, network.junction("air")), Contains("cell: drain:"));

  Network rows = small();
  rows.add_lines("row", {0}, {1}, {{"bore", {0.02}}, {"length", {1.0}}});
  CHECK_THROWS_WITH(rows.put_heat(0, 100.0), Contains("not followed through a network of rows"));
}

TEST_CASE("network: liquids of two kinds do not meet where temperatures are found") {
  Network network;
  network.add_liquid(constant(998.0, 1e-3));
  const int other = network.add_liquid(constant(870.0, 1e-2));
  const int cell = network.add_tank("cell", tank(0.2)), here = network.add_junction("here"), air = network.add_fixed("air", 0.0);
  network.add_part("water", "line", {cell, here}, {}, line(0.01, 1.0));
  network.add_part("oil", "line", {here, air}, {}, line(0.01, 1.0), {}, other);
  network.follow_heat();
  Plan plan(network);
  CHECK_THROWS_WITH(analysis::solve(plan), Contains("is another than that of its neighbour"));
}

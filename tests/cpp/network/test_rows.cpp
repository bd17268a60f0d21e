// Networks in rows: their names and numbers are those of the network that is written out, and bad input is refused by row.
#include <cmath>
#include <limits>

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/network/row_plan.hpp"

using namespace circuits;
using network::RowPlan;

namespace {

Network small() {
  Network network;
  network.add_liquid(constant(800.0, 2e-3));
  const int tank = network.add_tank("tank", circuits::tank(0.5), {0.0, 0.0, 2.0});
  const int corner = network.add_junctions("corner", 3, {0.1, 0.0, 0.2}, {{1.0, 0.0, 0.5}});
  const int out = network.add_fixed("out", 0.0);
  network.add_lines("leg", {tank, corner, corner + 1, corner + 2}, {corner, corner + 1, corner + 2, out},
                    {{"bore", {0.02, 0.03, 0.02, 0.01}}, {"length", {5.0}}});
  return network;
}

std::string refusal(auto&& action) {
  try {
    action();
  } catch (const InputError& error) {
    return error.what();
  }
  return "not refused";
}

void contains(const std::string& text, const std::string& part) {
  INFO(text);
  CHECK(text.find(part) != std::string::npos);
}

}  // namespace

TEST_CASE("a plan in rows has the numbers of the plan written out, in the same order", "[rows]") {
  RowPlan rows(small());
  const Plan plan(small());
  REQUIRE(rows.number_count() == static_cast<int>(plan.names().size()));
  for (int number = 0; number < rows.number_count(); ++number) {
    CHECK(rows.name(number) == plan.names()[static_cast<std::size_t>(number)]);
    CHECK(rows.index(rows.name(number)) == number);
    CHECK(rows.get(number) == plan.get(number));
  }
  CHECK(rows.network().junction("corner[2]") == plan.network().junction("corner[2]"));
  CHECK(rows.network().part("leg[3]") == 3);
}

TEST_CASE("numbers set in rows are there when the plan is written out", "[rows]") {
  RowPlan rows(small());
  const std::vector<std::pair<std::string, double>> changes{
      {"leg[1].bore", 0.025}, {"leg[2].length", 7.0}, {"corner[1].demand", 0.05}, {"tank.level", 0.7}, {"out.gauge", 1e4},
      {"ambient.pressure", 9e4}, {"liquid.temperature", 300.0}, {"acceleration.x", 3.0}};
  for (const auto& [name, value] : changes) rows.set(rows.index(name), value);
  const Plan plan = rows.written_out();
  for (const auto& [name, value] : changes) {
    INFO(name);
    CHECK(rows.get(rows.index(name)) == value);
    CHECK(plan.get(plan.index(name)) == value);
  }
  CHECK_FALSE(rows.holds(rows.index("leg[0].temperature")));
  CHECK(rows.get(rows.index("leg[0].length")) == 5.0);  // one value for all became one for each
}

TEST_CASE("copies of a plan in rows share their columns until one changes", "[rows]") {
  RowPlan first(small());
  RowPlan second(first);
  second.set(second.index("leg[0].bore"), 0.04);
  CHECK(first.get(first.index("leg[0].bore")) == 0.02);
  CHECK(second.get(second.index("leg[0].bore")) == 0.04);
}

TEST_CASE("a number out of range is refused by the name of its row, and nothing changes", "[rows]") {
  RowPlan rows(small());
  contains(refusal([&] { rows.set(rows.index("leg[2].bore"), 3.0); }), "leg[2]: bore: 3 m is outside 0.0001 to 0.5 m");
  CHECK(rows.get(rows.index("leg[2].bore")) == 0.02);
  contains(refusal([&] { rows.set(rows.index("corner[1].demand"), 1e3); }), "corner[1]: demand: 1000 kg/s is outside");
  contains(refusal([&] { rows.index("leg[9].bore"); }), "leg[9].bore");
  contains(refusal([&] { rows.index("leg[0].colour"); }), "no number of that name");
}

TEST_CASE("bad rows are refused when they are added, with row, value and limit", "[rows]") {
  Network network = small();
  const Network::Columns fine{{"bore", {0.02}}, {"length", {1.0}}};
  contains(refusal([&] { network.add_lines("new", {0, 1}, {1, 2}, {{"bore", {0.02, -1.0}}, {"length", {1.0}}}); }),
           "new[1]: bore: -1 m is outside 0.0001 to 0.5 m; raise it");
  contains(refusal([&] { network.add_lines("new", {0, 1}, {1, 2}, {{"bore", {0.02}}, {"length", {1.0, std::nan("")}}}); }),
           "new[1]: length: is not a finite number");
  contains(refusal([&] { network.add_lines("new", {0, 1}, {1, 2}, {{"bore", {0.02}}}); }), "new[0]: length: is 0 without any extra_loss");
  contains(refusal([&] { network.add_lines("new", {0, 1}, {1, 2}, {{"bore", {1.0, 2.0, 3.0}}}); }), "new: bore: has 3 values for 2 rows");
  contains(refusal([&] { network.add_lines("new", {0, 1}, {1}, fine); }), "new: to: has 1 values and from has 2");
  contains(refusal([&] { network.add_lines("new", {0, 5}, {1, 6}, fine); }), "new[1]: junction: number 5 does not exist; there are 5");
  contains(refusal([&] { network.add_lines("new", {0, 2}, {1, 2}, fine); }), "new[1]: ports: both ends meet junction 'corner[1]'");
  contains(refusal([&] { network.add_lines("new", {0}, {1}, {{"width", {1.0}}}); }), "new: width: is not a number that a line has");
  contains(refusal([&] { network.add_lines("leg", {0}, {1}, fine); }), "leg: name: is used twice");
  contains(refusal([&] { network.add_lines("new", {}, {}, fine); }), "new: from: is empty");
  contains(refusal([&] { network.add_junctions("far", 2, {}, {{0.0, 0.0, 0.0}, {0.0, 0.0, 2e3}}); }), "far[1]: position: 2000 m is outside");
  contains(refusal([&] { network.add_junctions("far", 3, {0.0, 1.0}); }), "far: demand: has 2 values for 3 rows");
  contains(refusal([&] { network.add_junctions("far", 0); }), "far: count: is 0");
  contains(refusal([&] { network.add_fixed("leg[0]", 0.0); }), "leg[0]: name: is used twice");
  CHECK(network.part_count() == 4);  // nothing of all that was kept
  CHECK(network.junction_count() == 5);
}

TEST_CASE("rows beside other parts are written out into a plan of every kind", "[rows]") {
  Network network = small();
  CHECK(RowPlan::fits(network));
  network.add_part("valve", "line", {network.junction("corner[0]"), network.junction("out")}, {}, line(0.01, 1.0));
  network.add_lines("late", {0}, {1}, {{"bore", {0.02}}, {"length", {1.0}}});
  CHECK_FALSE(RowPlan::fits(network));
  const Plan plan(network);
  REQUIRE(plan.network().parts().size() == 6);
  CHECK(plan.network().parts()[4].name == "valve");
  CHECK(plan.network().parts()[5].name == "late[0]");
  CHECK(network.part("late[0]") == 5);
}

TEST_CASE("rows without a way to a fixed pressure are refused by name", "[rows]") {
  Network network;
  network.add_liquid(constant(800.0, 2e-3));
  network.add_junctions("corner", 3);
  network.add_fixed("out", 0.0);
  network.add_lines("leg", {0, 3}, {1, 2}, {{"bore", {0.02}}, {"length", {1.0}}});
  contains(refusal([&] { RowPlan plan(network); }), "corner[0]: has no path to a fixed pressure");
}

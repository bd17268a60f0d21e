#include "flarenut/network/plan.hpp"

#include <algorithm>

#include "../catch_shim.hpp"
#include "../circuits.hpp"

using namespace circuits;

namespace {

double number(const Plan& plan, const std::string& name) { return plan.get(plan.index(name)); }

std::vector<std::pair<int, double>> numbers(const Plan& plan, const std::vector<std::pair<std::string, double>>& named) {
  std::vector<std::pair<int, double>> found;
  for (const auto& [name, value] : named) found.emplace_back(plan.index(name), value);
  return found;
}

}  // namespace

TEST_CASE("plan: numbers that only fit together are taken together, in any order") {
  // A bend needs a radius of at least half the bore: neither order of setting one by one works both ways.
  const std::vector<std::pair<std::string, double>> bent{{"feed.bend_angle", 1.5}, {"feed.bend_radius", 0.05}};
  const std::vector<std::pair<std::string, double>> straight{{"feed.bend_radius", 0.0}, {"feed.bend_angle", 0.0}};
  for (const bool backwards : {false, true}) {
    Plan plan(return_style());
    auto there = numbers(plan, bent), back = numbers(plan, straight);
    if (backwards) {
      std::reverse(there.begin(), there.end());
      std::reverse(back.begin(), back.end());
    }
    plan.set_many(back);
    CHECK(number(plan, "feed.bend_angle") == 0.0);
    plan.set_many(there);
    CHECK(number(plan, "feed.bend_angle") == 1.5);
    CHECK(number(plan, "feed.bend_radius") == 0.05);
    plan.set_many(back);
    CHECK(number(plan, "feed.bend_radius") == 0.0);
  }
}

TEST_CASE("plan: of several numbers of which one is refused none changes") {
  Plan plan(return_style());
  analysis::SteadySolver solver(plan);
  analysis::Solution before, after;
  solver.solve(before);
  std::vector<double> was;
  for (int i = 0; i < static_cast<int>(plan.names().size()); ++i) was.push_back(plan.get(i));
  const std::vector<std::pair<std::string, double>> good{{"feed.length", 1.0}, {"ambient.pressure", 9e4}, {"tank.level", 0.5},
                                                         {"feed.temperature", 320.0}, {"manifold.gauge", 1e4}};
  for (const auto& wrong : std::vector<std::pair<std::string, double>>{
           {"feed.bore", -1.0}, {"manifold.gauge", -2e5}, {"tank.level", -0.1}, {"acceleration.x", 1e5}}) {
    auto together = good;
    together.push_back(wrong);
    CHECK_THROWS_AS(plan.set_many(numbers(plan, together)), InputError);
    for (int i = 0; i < static_cast<int>(plan.names().size()); ++i) CHECK(plan.get(i) == was[static_cast<std::size_t>(i)]);
  }
  solver.solve(after);
  CHECK(after.pressure == before.pressure);
  CHECK(after.flow == before.flow);
  plan.set(plan.index("liquid.temperature"), 330.0);  // a part's temperature that was never set still follows the liquid
  CHECK(number(plan, "feed.temperature") == 330.0);
  plan.set_many(numbers(plan, good));
  solver.solve(after);
  CHECK(after.pressure != before.pressure);
}

TEST_CASE("plan: columns that only fit together are taken together, and refused together") {
  // 10 V and 14 V, two points each; the new charts are steeper and longer than the old, so that new flows with old rises
  // would have more volts give less.
  Network network;
  network.add_liquid(constant(800.0, 1e-3));
  const int tank = network.add_tank("tank", {}), out = network.add_fixed("out", 0.0);
  network.add_part("pump", "electric pump", {tank, out}, {}, {{"volts", 12.0}},
                   {{"curve_volts", {10.0, 14.0}}, {"curve_points", {2.0, 2.0}}, {"curve_flow", {0.0, 1e-4, 0.0, 2e-4}},
                    {"curve_rise", {1e5, 0.5e5, 2e5, 0.2e5}}});
  Plan plan(std::move(network));
  analysis::SteadySolver solver(plan);
  analysis::Solution before, after;
  solver.solve(before);
  using Columns = std::vector<std::pair<std::string, std::vector<double>>>;
  const Columns refused{{"curve_flow", {0.0, 1e-4, 0.0, 2e-4}}, {"curve_rise", {2e5, 1.9e5, 1e5, 0.5e5}}};
  CHECK_THROWS_AS(plan.set_columns(0, refused), InputError);
  CHECK_THROWS_AS(plan.set_columns(0, {{"curve_rise", {3e5, 1e5, 4e5, 2e5}}, {"curve_flows", {0.0}}}), InputError);
  solver.solve(after);
  CHECK(after.flow == before.flow);
  const Columns fresh{{"curve_points", {3.0, 2.0}}, {"curve_flow", {0.0, 1e-4, 2e-4, 0.0, 3e-4}}, {"curve_rise", {3e5, 2e5, 1e5, 4e5, 2e5}}};
  plan.set_columns(0, fresh);
  solver.solve(after);
  CHECK(after.flow != before.flow);
}

TEST_CASE("plan: a temperature that the liquid refuses leaves no trace, whatever else is set beside it and in which order") {
  Network network = return_style(oil());
  Plan plan(std::move(network));
  const double level = number(plan, "tank.level"), kelvin = number(plan, "liquid.temperature");
  const std::vector<std::pair<std::string, double>> refused{{"tank.level", 0.3}, {"liquid.temperature", 160.0}};
  const std::vector<std::pair<std::string, double>> fine{{"tank.level", 0.25}, {"liquid.temperature", 330.0}};
  for (const bool backwards : {false, true}) {
    auto cold = numbers(plan, refused), warm = numbers(plan, fine);
    if (backwards) {
      std::reverse(cold.begin(), cold.end());
      std::reverse(warm.begin(), warm.end());
    }
    plan.set_many(cold);  // nobody has asked the liquid yet
    CHECK_THROWS_AS(plan.refresh(), InputError);
    plan.set_many(warm);
    plan.refresh();
    Plan fresh(return_style(oil()));
    fresh.set_many(numbers(fresh, fine));
    fresh.refresh();
    CHECK(plan.held_pressure() == fresh.held_pressure());
    plan.set_many(numbers(plan, {{"tank.level", level}, {"liquid.temperature", kelvin}}));
    plan.refresh();
  }
}

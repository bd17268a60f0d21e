#include <random>

#include "catch_shim.hpp"
#include "circuits.hpp"
#include "flarenut/analysis/gradient.hpp"

// Single solves with laws worked out side by side against the same laws one part after the other, which is the judge.

namespace flarenut::analysis {
namespace {

/// A manifold: a pump feeds a rail of several lines and injectors at different heights, the surplus returns. Twelve lines are more
/// than a pack holds and no multiple of one; the regulator stands for the parts that are not in the field.
network::Network rail(int injectors) {
  network::Network network;
  network.add_liquid(circuits::oil());
  const int tank = network.add_tank("tank", circuits::tank(0.2));
  const int air = network.add_fixed("air", 0.0);
  const int out = network.add_junction("out", {0.2, 0.0, 0.1}), back = network.add_junction("back", {1.0, 0.3, 0.5});
  network.add_part("pump", "quadratic pump", {tank, out}, {}, {{"shutoff_rise", 6.5e5}, {"linear", 2.5e9}, {"quadratic", 4e13}});
  int last = out;
  for (int i = 0; i < injectors; ++i) {
    const std::string number = std::to_string(i);
    const int next = network.add_junction("rail " + number, {1.0 + 0.1 * i, 0.2, 0.6 + 0.05 * i});
    network.add_part("line " + number, "line", {last, next}, {}, {{"bore", 6e-3 + 5e-4 * i}, {"length", 0.2 + 0.1 * i}, {"extra_loss", 0.1 * i}});
    network.add_part("injector " + number, "injector bank", {next, air}, {}, {{"rated_flow", 8e-6}, {"rated_pressure", 3e5}, {"rating_density", 745.0}, {"duty", 0.3}});
    last = next;
  }
  network.add_part("regulator", "bypass regulator", {last, back}, {last, air}, {{"set_pressure", 3e5}, {"full_area", 6e-6}});
  network.add_part("return", "line", {back, tank}, {}, {{"bore", 6e-3}, {"length", 4.0}});
  return network;
}

void compare(Plan& plan, const Solution& right, const Solution& left) {
  REQUIRE(right.converged());
  REQUIRE(left.converged());
  double largest = 0.0;
  for (double flow : right.flow) largest = std::max(largest, std::abs(flow));
  for (std::size_t j = 0; j < right.pressure.size(); ++j) CHECK(left.pressure[j] == Approx(right.pressure[j]).epsilon(1e-9));
  for (std::size_t f = 0; f < right.flow.size(); ++f) CHECK(std::abs(left.flow[f] - right.flow[f]) <= 1e-9 * largest);
  CHECK(plan.flow_count() == static_cast<int>(right.flow.size()));
}

}  // namespace

TEST_CASE("drop field: laws in the lanes give the answers of laws one by one, through changing numbers") {
  for (int injectors : {1, 2, 3, 8, 11}) {
    Plan in_lanes(rail(injectors)), by_parts(rail(injectors));
    SteadySolver fast(in_lanes, LawsBy::lanes), judge(by_parts, LawsBy::parts);
    std::mt19937 random(7);
    std::uniform_real_distribution<double> volts(9.0, 15.0), duty(0.0, 1.0), bore(4e-3, 12e-3), gauge(-6e4, 1.5e5), kelvin(300.0, 390.0), level(0.05, 0.4), pull(-8.0, 8.0);
    Solution left, right;
    for (int turn = 0; turn < 40; ++turn) {
      std::vector<std::pair<std::string, double>> changes{{"pump.volts", volts(random)}, {"air.gauge", gauge(random)}};
      if (turn % 3 != 0) changes.emplace_back("injector 0.duty", duty(random));
      if (turn % 4 == 1) changes.emplace_back("line " + std::to_string(injectors - 1) + ".bore", bore(random));
      if (turn % 7 == 5) changes.emplace_back("liquid.temperature", kelvin(random));
      if (turn % 6 == 2) changes.emplace_back("line 0.temperature", kelvin(random));
      if (turn % 5 == 3) changes.emplace_back("tank.level", level(random));
      if (turn % 8 == 4) changes.emplace_back("acceleration.x", pull(random));
      for (const auto& [name, value] : changes)
        for (Plan* plan : {&in_lanes, &by_parts}) plan->set(plan->index(name), value);
      const bool warm = turn % 2 == 1;
      const Solution before_left = left, before_right = right;
      fast.solve(left, warm ? Start{&before_left.pressure, &before_left.flow} : Start{});
      judge.solve(right, warm ? Start{&before_right.pressure, &before_right.flow} : Start{});
      compare(in_lanes, right, left);
      CHECK(left.iterations == right.iterations);
    }
  }
}

TEST_CASE("drop field: two solvers of one plan both see what has changed") {
  Plan plan(rail(4));
  SteadySolver one(plan), other(plan);
  Solution first, second;
  one.solve(first);
  other.solve(second);
  plan.set(plan.index("line 2.bore"), 4e-3);
  one.solve(first);
  other.solve(second);
  CHECK(first.pressure == second.pressure);
  CHECK(first.flow == second.flow);
}

TEST_CASE("drop field: an answer to other numbers than those of now has no slopes") {
  Plan plan(rail(3));
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  const Output output{Output::What::pressure, plan.network().junction("rail 2")};
  const int duty = plan.index("injector 1.duty");
  const double slope = gradient(solver, solution, output, {duty})[0];
  CHECK(slope == gradient(solver, solution, output)[static_cast<std::size_t>(duty)]);
  SteadySolver judge(plan, LawsBy::parts);
  CHECK(slope == Approx(gradient(judge, solution, output, {duty})[0]).epsilon(1e-10));
  plan.set(duty, 0.9);
  CHECK_THROWS_AS(gradient(solver, solution, output, {duty}), InputError);
  solver.solve(solution);
  CHECK(gradient(solver, solution, output, {duty})[0] != slope);
}

TEST_CASE("drop field: slopes follow the numbers, and are those that parts give one by one") {
  for (int injectors : {1, 8, 11}) {
    Plan plan(rail(injectors));
    SteadySolver solver(plan), judge(plan, LawsBy::parts);
    Solution solution;
    std::mt19937 random(5);
    std::uniform_real_distribution<double> share(0.7, 1.3);
    const Output output{Output::What::flow, plan.network().part("regulator")};
    for (int turn = 0; turn < 12; ++turn) {
      const int last = injectors - 1;
      for (const std::string& name : {"line " + std::to_string(last) + ".bore", std::string("line 0.bend_angle"), std::string("pump.volts"),
                                      "injector " + std::to_string(turn % injectors) + ".duty", std::string("liquid.temperature")}) {
        const int number = plan.index(name);
        if (name == "line 0.bend_angle") {
          plan.set(plan.index("line 0.bend_radius"), 0.02);
          plan.set(number, turn % 3);
        } else if (turn % 4 != 3 || name != "liquid.temperature") {
          plan.set(number, plan.get(number) * (name == "liquid.temperature" ? 1.0 + 0.05 * (share(random) - 1.0) : share(random)));
        }
      }
      solver.solve(solution);
      REQUIRE(solution.converged());
      const auto left = gradient(solver, solution, output), right = gradient(judge, solution, output);
      for (std::size_t n = 0; n < right.size(); ++n) {
        const double value = std::abs(plan.get(static_cast<int>(n)));
        INFO(plan.names()[n] << " in turn " << turn);
        // Packs take logarithms to 3e-12, which a difference of large terms in a slope multiplies.
        CHECK(std::abs(left[n] - right[n]) <= 1e-8 * std::abs(right[n]) + (value == 0.0 ? 0.0 : 1e-15 / value));
      }
    }
  }
}

TEST_CASE("drop field: a ladder rung that somebody else has tried is left out") {
  Plan plan(rail(3));
  SteadySolver solver(plan);
  Solution solution;
  SteadyOptions options;
  options.tried = Rung::cold;
  solver.solve(solution, {}, options);
  REQUIRE(solution.converged());
  CHECK(solution.rung != Rung::cold);
  const Solution before = solution;
  options.tried = Rung::warm;
  solver.solve(solution, {&before.pressure, &before.flow}, options);
  REQUIRE(solution.converged());
  CHECK(solution.rung != Rung::warm);
}

}  // namespace flarenut::analysis

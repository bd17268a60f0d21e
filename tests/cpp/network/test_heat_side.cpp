// Tables of heat that change in a plan, air that no law can stand in, and remarks on heat beyond its data; heat by hand.
#include <algorithm>

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/analysis/readings.hpp"

using namespace circuits;

namespace {

using Columns = std::vector<std::pair<std::string, std::vector<double>>>;

constexpr double density = 965.0, hot = 363.15, air = 293.15;

fluids::Liquid hot_water() {
  fluids::ConstantLiquidSpec spec;
  spec.density = Density<>::from_value(density);
  spec.viscosity = DynamicViscosity<>::from_value(3.1e-4);
  spec.specific_heat = SpecificHeat<>::from_value(4200.0);
  return fluids::constant_liquid(spec);
}

/// 0.2 kg/s of hot water through a cooler known by tables of drop and heat. The flow is a point of the heat's table.
Network bench() {
  Network network;
  network.add_liquid(hot_water());
  const int in = network.add_junction("in", {}, -0.2), out = network.add_fixed("out", 0.0);
  const int core = network.add_part("core", "measured table", {in, out}, {}, {{"rating_viscosity", 3.1e-4}, {"rating_density", density}},
                                    {{"flow", {1e-4, 2e-4, 4e-4}}, {"pressure_drop", {1e3, 4e3, 1.6e4}}});
  network.add_heat_law(core, "heat table", {{"face_area", 0.1}, {"fan_speed", 4.0}, {"still_speed", 0.01}},
                       {{"flow", {0.1 / density, 0.2 / density}}, {"air_speed", {2.0, 4.0}}, {"heat_per_degree", {100.0, 150.0, 140.0, 200.0}}});
  network.follow_heat();
  return network;
}

Plan ready() {
  Plan plan(bench());
  plan.set(plan.index("liquid.temperature"), hot);
  plan.set(plan.index("air.temperature"), air);
  return plan;
}

double heat_of(Plan& plan) {
  const auto solution = analysis::solve(plan);
  INFO(solution.message);
  REQUIRE(solution.converged());
  return -solution.heat[0];
}

std::vector<std::string> remarks(Plan& plan) {
  const auto solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  std::vector<std::string> codes;
  for (const auto& remark : analysis::remarks_on(plan, solution)) {
    CHECK(remark.subject == "core");
    codes.push_back(remark.code);
  }
  std::sort(codes.begin(), codes.end());
  return codes;
}

template <class Function>
std::string complaint(Function&& function) {
  try {
    function();
  } catch (const InputError& error) {
    return error.what();
  }
  return "no complaint";
}

}  // namespace

TEST_CASE("plan: the table of a heat law changes beside the columns of its part, each by its own name") {
  Plan plan = ready();
  const double of_point = 200.0 * (hot - air);
  CHECK(heat_of(plan) == Approx(of_point).epsilon(1e-4));
  plan.set_column(0, "heat.heat_per_degree", {50.0, 75.0, 70.0, 100.0});
  CHECK(heat_of(plan) == Approx(0.5 * of_point).epsilon(1e-4));
  const double before = pressure(plan, analysis::solve(plan), "in") - plan.ambient();
  plan.set_columns(0, Columns{{"flow", {1e-4, 2e-4, 4e-4}}, {"pressure_drop", {2e3, 8e3, 3.2e4}}, {"heat.flow", {0.2 / density}}, {"heat.air_speed", {4.0}},
                              {"heat.heat_per_degree", {300.0}}});
  CHECK(heat_of(plan) == Approx(1.5 * of_point).epsilon(1e-4));
  CHECK(pressure(plan, analysis::solve(plan), "in") - plan.ambient() == Approx(2.0 * before).epsilon(1e-9));
}

TEST_CASE("plan: refused columns of a heat law leave it and its part as they were") {
  Plan plan = ready();
  const double heat = heat_of(plan), drop = pressure(plan, analysis::solve(plan), "in");
  const std::vector<double> doubled{2e3, 8e3, 3.2e4};
  CHECK_THAT(complaint([&] { plan.set_columns(0, {{"pressure_drop", doubled}, {"heat.heat_per_degree", {1.0, 2.0}}}); }),
             Catch::Contains("core") && Catch::Contains("heat_per_degree") && Catch::Contains("give 4"));
  CHECK_THAT(complaint([&] { plan.set_columns(0, {{"heat.heat_per_degree", {50.0, 75.0, 70.0, 100.0}}, {"pressure_drop", {2e3, 1e3, 3.2e4}}}); }),
             Catch::Contains("core") && Catch::Contains("pressure_drop"));
  CHECK_THAT(complaint([&] { plan.set_column(0, "heat.volts", {1.0}); }), Catch::Contains("core") && Catch::Contains("volts"));
  CHECK(heat_of(plan) == heat);
  CHECK(pressure(plan, analysis::solve(plan), "in") == drop);
  Plan without(return_style());
  CHECK_THAT(complaint([&] { without.set_column(0, "heat.flow", {1e-4}); }), Catch::Contains("no heat is followed"));
}

TEST_CASE("plan: air that a heat law cannot stand in is said of its part, and better air mends it") {
  Plan plan = ready();
  const double heat = heat_of(plan);
  plan.set(plan.index("core.air_rise"), -60.0);
  const double cold = heat_of(plan);  // in air of -40 °C
  CHECK(cold == Approx(heat * 130.0 / 70.0).epsilon(1e-9));
  plan.set(plan.index("air.temperature"), 230.0);
  const std::string refused = complaint([&] { plan.refresh(); });
  CHECK_THAT(refused, Catch::StartsWith("core: air temperature: ") && Catch::Contains("170 K") && Catch::Contains("200 to 1000 K"));
  CHECK(complaint([&] { plan.refresh(); }) == refused);
  plan.set(plan.index("air.temperature"), air);  // as it was prepared last
  CHECK(heat_of(plan) == cold);
  plan.set(plan.index("core.air_rise"), 0.0);
  CHECK(heat_of(plan) == heat);
}

TEST_CASE("readings: heat beyond the points of its table is remarked on, apart from the drop") {
  using Codes = std::vector<std::string>;
  Plan plan = ready();
  plan.set(plan.index("core.fan_speed"), 3.0);
  plan.set(plan.index("in.demand"), -0.15);
  CHECK(remarks(plan) == Codes{});
  plan.set(plan.index("in.demand"), -0.25);  // past the last flow of heat, within the drop's
  CHECK(remarks(plan) == Codes{"heat beyond measured data"});
  plan.set(plan.index("in.demand"), -0.05);  // before the first
  CHECK(remarks(plan) == Codes{"heat beyond measured data"});
  plan.set(plan.index("in.demand"), -0.5);  // past both
  CHECK(remarks(plan) == Codes{"beyond measured data", "heat beyond measured data"});
  plan.set(plan.index("in.demand"), -0.15);
  plan.set(plan.index("core.fan_speed"), 5.0);  // blown faster than in the test
  CHECK(remarks(plan) == Codes{"heat beyond measured data"});
  plan.set(plan.index("in.demand"), 0.0);  // nothing passes
  CHECK(remarks(plan) == Codes{});
  plan.set(plan.index("core.fan_speed"), 3.0);
  plan.set(plan.index("in.demand"), 0.15);  // backwards, which a table of heat does not mind
  CHECK(remarks(plan) == Codes{});
}

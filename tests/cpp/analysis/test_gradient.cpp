// Slopes from one transposed solve against central differences of the solve itself, for every number of a circuit that
// holds every kind of thing.
#include "flarenut/analysis/gradient.hpp"

#include <cmath>
#include <set>

#include "../catch_shim.hpp"
#include "../circuits.hpp"

using namespace circuits;
using analysis::Output;
using analysis::SteadySolver;

namespace {

fluids::Liquid thin_oil() {
  fluids::OilSpec spec;
  spec.viscosities = {{Temperature<>::from_value(313.15), KinematicViscosity<>::from_value(10e-6)},
                      {Temperature<>::from_value(373.15), KinematicViscosity<>::from_value(2.8e-6)}};
  return fluids::oil(spec);
}

/// From a tank through a pump to a rail, off which a dozen parts lead back or away; heights everywhere.
Network everything() {
  Network n;
  n.add_liquid(thin_oil());
  const int t = n.add_tank("tank", tank(0.3, 2e3, -0.2, 0.1), {-1.5, 0.2, 0.3});
  const int manifold = n.add_fixed("manifold", -3e4, {1.2, 0.1, 0.9});
  double x = -1.4;
  const auto at = [&](const std::string& name, double demand = 0.0) {
    x += 0.2;
    return n.add_junction(name, {x, 0.3 * x * x, 0.4 + 0.2 * x}, demand);
  };
  const int mouth = at("mouth"), inlet = at("inlet"), out = at("outlet"), held = at("held"), clean = at("clean"),
            split = at("split"), rail = at("rail", 0.01), side = at("side"), low = at("low", 0.004), back = at("back"),
            wide = at("wide"), end = at("end"), cooled = at("cooled"), tested = at("tested"), ram = at("ram");
  n.add_part("mouth piece", "opening", {t, mouth}, {}, {{"bore", 0.012}, {"entrance_loss", 0.4}});
  n.add_part("suction", "line", {mouth, inlet}, {},
             {{"bore", 0.012}, {"length", 0.5}, {"roughness", 1e-5}, {"extra_loss", 0.3}, {"bend_angle", 1.2}, {"bend_radius", 0.04}});
  n.add_part("pump", "electric pump", {inlet, out}, {},
             {{"volts", 12.8}, {"relief_set_pressure", 8e5}, {"density_share", 0.3}},
             {{"curve_volts", {12.0, 14.0}}, {"curve_points", {3.0, 3.0}}, {"curve_flow", {0.0, 6e-5, 1.1e-4, 0.0, 7e-5, 1.3e-4}},
              {"curve_rise", {6.5e5, 4e5, 1e5, 8e5, 5e5, 1.2e5}}});
  n.add_part("holder", "check valve", {out, held}, {}, {{"full_area", 3e-5}});
  n.add_part("main filter", "filter with bypass", {held, clean}, {},
             {{"linear", 3e7}, {"quadratic", 2e11}, {"rating_viscosity", 1e-2}, {"rating_density", 850.0}, {"loading", 2.0},
              {"bypass_pressure", 5e3}, {"bypass_area", 2e-6}});
  n.add_part("feed", "line", {clean, split}, {}, {{"bore", 0.0085}, {"length", 2.5}, {"roughness", 2e-5}, {"extra_loss", 1.0}});
  n.add_part("junction", "tee", {split, rail, side}, {},
             {{"run1_bore", 0.0085}, {"run2_bore", 0.008}, {"branch_bore", 0.007}, {"branch_angle", 1.4}});
  n.add_part("regulator", "bypass regulator", {rail, back}, {rail, manifold},
             {{"set_pressure", 2.5e5}, {"full_area", 5e-6}, {"seat_share", 0.1}});
  n.add_part("jets", "injector bank", {rail, manifold}, {},
             {{"count", 4.0}, {"rated_flow", 5e-6}, {"rating_density", 700.0}, {"duty", 0.5}});
  n.add_part("reducer", "reducing regulator", {side, low}, {low, manifold},
             {{"set_pressure", 1e5}, {"full_area", 4e-6}, {"seat_share", 0.05}});
  n.add_part("bleed", "orifice", {low, t}, {}, {{"bore", 0.0012}, {"line_bore", 0.004}, {"discharge_coefficient", 0.62}});
  n.add_part("jet", "short tube orifice", {low, t}, {}, {{"bore", 0.0009}, {"length", 0.003}, {"line_bore", 0.005}});
  n.add_part("step", "size step", {back, wide}, {}, {{"inlet_bore", 0.006}, {"outlet_bore", 0.009}, {"included_angle", 2.0}});
  n.add_part("elbow", "two-k fitting", {wide, end}, {}, {{"bore", 0.009}});
  n.add_part("return", "line", {end, ram}, {}, {{"bore", 0.009}, {"length", 2.0}});
  n.add_part("tank mouth", "return opening", {ram, t}, {}, {{"bore", 0.009}, {"entrance_loss", 0.3}});
  n.add_part("bend", "three-k fitting", {rail, cooled}, {}, {{"bore", 0.006}});
  n.add_part("cooler", "resistance", {cooled, tested}, {},
             {{"rated_drop", 4e4}, {"rated_flow", 3e-5}, {"exponent", 1.7}, {"rating_viscosity", 1e-2}, {"rating_density", 860.0}});
  n.add_part("core", "measured table", {tested, ram}, {}, {{"rating_viscosity", 9e-3}, {"rating_density", 870.0}},
             {{"flow", {1e-5, 3e-5, 6e-5}}, {"pressure_drop", {6e4, 2.4e5, 7e5}}});
  n.add_part("cock", "valve", {rail, t}, {}, {{"flow_coefficient", 5e-7}, {"opening", 0.6}, {"bore", 0.005}});
  n.add_part("relief", "relief valve", {split, t}, {},
             {{"set_pressure", 2.2e5}, {"full_area", 4e-7}, {"second_set_pressure", 2.4e5}, {"second_area", 2e-7}});
  n.add_part("spill filter", "filter", {side, t}, {},
             {{"linear", 2e10}, {"quadratic", 1e15}, {"rating_viscosity", 1e-2}, {"rating_density", 850.0}, {"loading", 1.5}});
  return n;
}

/// A plan, its answer, and that answer polished to round-off: differences need every digit.
struct Bench {
  Plan plan;
  SteadySolver solver;
  analysis::Solution solution;

  explicit Bench(const Network& network) : plan(network), solver(plan) {}

  void solve() {
    if (solution.converged()) {
      const auto pressure = solution.pressure, flow = solution.flow;
      solver.solve(solution, {&pressure, &flow});
    } else {
      solver.solve(solution);
    }
    REQUIRE(solution.converged());
    auto& system = solver.system();
    system.start_at(solution.pressure, solution.flow);
    for (int turn = 0; turn < 3; ++turn) {
      system.linearise();
      REQUIRE(system.find_step());
      system.take_step(1.0, false);
    }
    solution.pressure = system.pressures();
    solution.flow = system.flows();
  }

  double read(const Output& output) const {
    if (output.what == Output::What::pressure) return solution.pressure[static_cast<std::size_t>(output.index)];
    const auto& branch = plan.branches()[static_cast<std::size_t>(output.index)];
    return solution.flow[static_cast<std::size_t>(branch.first_flow + output.flow)];
  }
};

/// How far a number is moved for a difference: a share of itself, or of what is usual where it is small.
double stride(const std::string& name, double value) {
  const double usual = name.rfind("acceleration", 0) == 0 ? 1.0 : 0.0;
  return 1e-5 * std::max(std::abs(value), usual);
}

struct Case {
  std::string name;
  Output output;
  double scale;  ///< of the output: a bar, or a lively flow
};

}  // namespace

TEST_CASE("gradient: every number of a circuit of everything agrees with central differences") {
  Bench bench(everything());
  Plan& plan = bench.plan;
  const auto set = [&](const std::string& name, double value) { plan.set(plan.index(name), value); };
  set("liquid.temperature", 320.0);
  set("suction.temperature", 310.0);
  set("acceleration.x", 4.0);
  set("acceleration.y", -3.0);
  set("acceleration.z", 1.0);
  bench.solve();

  const auto junction = [&](const char* name) { return Output{Output::What::pressure, plan.network().junction(name), 0}; };
  const auto part = [&](const char* name, int which = 0) { return Output{Output::What::flow, plan.network().part(name), which}; };
  const std::vector<Case> cases{{"pressure of rail", junction("rail"), 1e5},      {"pressure of inlet", junction("inlet"), 1e5},
                                {"pressure of tank", junction("tank"), 1e5},      {"pressure of low", junction("low"), 1e5},
                                {"flow of pump", part("pump"), 0.05},             {"flow into the branch", part("junction", 1), 0.05},
                                {"flow of the bypass", part("main filter", 1), 0.05}, {"flow of regulator", part("regulator"), 0.05}};

  std::vector<std::vector<double>> slopes;
  for (const Case& one : cases) slopes.push_back(analysis::gradient(bench.solver, bench.solution, one.output));

  std::set<std::string> at_the_edge, still;
  for (std::size_t number = 0; number < plan.names().size(); ++number) {
    const std::string& name = plan.names()[number];
    const double value = plan.get(static_cast<int>(number));
    const double step = stride(name, value);
    if (step == 0.0) {
      still.insert(name);
      continue;
    }
    std::vector<double> above, below;
    Bench moved(plan.network());
    for (std::size_t i = 0; i < plan.names().size(); ++i) {
      const auto what = plan.place(static_cast<int>(i)).what;
      if (what == network::NumberPlace::What::part_temperature && !plan.has_own_temperature(plan.place(static_cast<int>(i)).owner)) continue;
      moved.plan.set(static_cast<int>(i), plan.get(static_cast<int>(i)));
    }
    moved.solution = bench.solution;
    try {
      for (auto* side : {&above, &below}) {
        moved.plan.set(static_cast<int>(number), side == &above ? value + step : value - step);
        moved.solve();
        for (const Case& one : cases) side->push_back(moved.read(one.output));
      }
    } catch (const InputError&) {
      at_the_edge.insert(name);
      continue;
    }
    for (std::size_t c = 0; c < cases.size(); ++c) {
      const double difference = (above[c] - below[c]) / (2.0 * step);
      // Round-off of the outputs (about 1e-10 Pa in 1e5) over the stride is all a difference can tell.
      const double floor = 1e-13 * cases[c].scale / step;
      INFO(cases[c].name << " by " << name << ": " << slopes[c][number] << ", difference " << difference);
      CHECK(std::abs(slopes[c][number] - difference) <= 1e-5 * std::abs(difference) + 10.0 * floor);
    }
  }
  // A count moves in whole steps only, so its slope is told by the one of the duty, which it multiplies but for a leak. Numbers at
  // zero that switch something off are left alone. Both lists are whole.
  for (std::size_t c = 0; c < cases.size(); ++c) {
    const auto by = [&](const char* name) { return slopes[c][static_cast<std::size_t>(plan.index(name))]; };
    CHECK(by("jets.count") * 4.0 == Approx(by("jets.duty") * 0.5).epsilon(1e-4));
  }
  CHECK(at_the_edge == std::set<std::string>{"jets.count"});
  std::set<std::string> off;
  for (const char* line : {"feed", "return"})
    for (const char* field : {"bend_angle", "bend_radius"}) off.insert(std::string(line) + "." + field);
  off.insert("return.extra_loss");
  for (const auto& entry : plan.network().junctions())
    if (entry.kind == network::JunctionKind::free && plan.get(plan.index(entry.name + ".demand")) == 0.0) off.insert(entry.name + ".demand");
  CHECK(still == off);
}

/// Slopes from the lanes, and from one way through each law for all of its numbers, against those from one number after the other, at
/// one answer. A slope of a hundred-thousandth of what is usual may be the difference of large ones.
void check_against_judge(Plan& plan, SteadySolver& solver, const analysis::Solution& solution, const Output& output, double usual) {
  SteadySolver judge(plan, analysis::LawsBy::parts);
  const auto right = analysis::gradient(judge, solution, output);
  const auto left = analysis::gradient(solver, solution, output);
  std::vector<int> some;
  for (std::size_t n = 0; n < right.size(); ++n) {
    const double value = std::abs(plan.get(static_cast<int>(n)));
    const double unit = value == 0.0 ? 0.0 : usual / value;
    INFO(plan.names()[n] << ": " << left[n] << ", one by one " << right[n]);
      // Packs take logarithms to 3e-12, which a difference of large terms in a slope multiplies.
    CHECK(std::abs(left[n] - right[n]) <= 1e-8 * std::max(std::abs(right[n]), 1e-3 * unit));
    if (n % 5 == 2) some.push_back(static_cast<int>(n));
  }
  const auto few = analysis::gradient(solver, solution, output, some);
  for (std::size_t i = 0; i < some.size(); ++i) {
    CHECK(few[i] == left[static_cast<std::size_t>(some[i])]);
    CHECK(analysis::gradient(solver, solution, output, {some[i]}).front() == few[i]);
  }
}

TEST_CASE("gradient: all numbers at once give what each gives alone") {
  Bench bench(everything());
  Plan& plan = bench.plan;
  for (int turn = 0; turn < 3; ++turn) {
    if (turn == 1)
      for (const auto& [name, value] : {std::pair{"acceleration.x", 4.0}, {"acceleration.z", 1.0}, {"feed.bore", 0.009}, {"suction.temperature", 310.0}})
        plan.set(plan.index(name), value);
    if (turn == 2)
      for (const auto& [name, value] : {std::pair{"liquid.temperature", 325.0}, {"ambient.pressure", 9.2e4}, {"jets.duty", 0.8}})
        plan.set(plan.index(name), value);
    bench.solver.solve(bench.solution);
    REQUIRE(bench.solution.converged());
    for (const char* name : {"rail", "tank", "low", "manifold"})
      check_against_judge(plan, bench.solver, bench.solution, {Output::What::pressure, plan.network().junction(name), 0}, 1e5);
    for (const char* name : {"pump", "junction", "main filter", "regulator", "jets", "spill filter"})
      for (int flow = 0; flow < plan.branches()[static_cast<std::size_t>(plan.network().part(name))].flows; ++flow)
        check_against_judge(plan, bench.solver, bench.solution, {Output::What::flow, plan.network().part(name), flow}, 0.05);
  }
}

TEST_CASE("gradient: a demand of nothing also has its slope") {
  Bench bench(everything());
  bench.solve();
  const Output rail{Output::What::pressure, bench.plan.network().junction("rail"), 0};
  const auto slopes = analysis::gradient(bench.solver, bench.solution, rail);
  const int number = bench.plan.index("back.demand");
  double reading[2];
  for (int side : {0, 1}) {
    bench.plan.set(number, side == 0 ? 1e-6 : -1e-6);
    bench.solve();
    reading[side] = bench.read(rail);
  }
  CHECK(slopes[static_cast<std::size_t>(number)] == Approx((reading[0] - reading[1]) / 2e-6).epsilon(1e-5));
}

TEST_CASE("gradient: one line between two pressures, by hand") {
  // Laminar: q = pi rho D^4 dp / (128 mu L). Slopes by hand: q/dp, 4 q/D, -q/L.
  Network network;
  network.add_liquid(constant(900.0, 0.1));
  const int from = network.add_fixed("from", 1e5), to = network.add_fixed("to", 0.0);
  network.add_part("line", "line", {from, to}, {}, line(0.008, 2.0));
  Bench bench(network);
  bench.solve();
  const double q = 3.14159265358979 * 900.0 * std::pow(0.008, 4) * 1e5 / (128.0 * 0.1 * 2.0);
  REQUIRE(bench.solution.flow[0] == Approx(q).epsilon(1e-12));
  const auto slopes = analysis::gradient(bench.solver, bench.solution, {Output::What::flow, 0, 0});
  const auto slope = [&](const char* name) { return slopes[static_cast<std::size_t>(bench.plan.index(name))]; };
  CHECK(slope("from.gauge") == Approx(q / 1e5).epsilon(1e-10));
  CHECK(slope("to.gauge") == Approx(-q / 1e5).epsilon(1e-10));
  CHECK(slope("line.bore") == Approx(4.0 * q / 0.008).epsilon(1e-10));
  CHECK(slope("line.length") == Approx(-q / 2.0).epsilon(1e-10));
  CHECK(std::abs(slope("ambient.pressure")) < 1e-12 * q);
}

TEST_CASE("gradient: an answer that did not converge has no slopes") {
  Bench bench(everything());
  CHECK_THROWS_AS(analysis::gradient(bench.solver, bench.solution, Output{}), InputError);
}

#include "flarenut/network/plan.hpp"

#include <functional>
#include <limits>
#include <set>
#include <tuple>

#include "../catch_shim.hpp"
#include "../circuits.hpp"

using namespace circuits;

namespace {

constexpr double gravity = 9.80665, standard_atmosphere = 101325.0;  // CGPM 1901, 1954

/// What the message says, or "" when nothing was thrown.
template <class Work>
std::string complaint(Work&& work) {
  try {
    work();
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

bool says(const std::string& message, const std::vector<std::string>& words) {
  return std::all_of(words.begin(), words.end(), [&](const std::string& word) { return message.find(word) != std::string::npos; });
}

Network with_liquid() {
  Network network;
  network.add_liquid(constant(800.0, 1e-3));
  return network;
}

double number(const Plan& plan, const std::string& name) { return plan.get(plan.index(name)); }

}  // namespace

TEST_CASE("plan: each ill-posed circuit is refused with its cause and the name to look at") {
  struct Trouble {
    const char* what;
    std::function<void(Network&)> build;
    std::vector<std::string> words;
  };
  const std::vector<Trouble> troubles{
      {"nothing at all", [](Network&) {}, {"circuit", "no parts"}},
      {"a loop without a fixed pressure",
       [](Network& n) {
         const int a = n.add_junction("gallery"), b = n.add_junction("cooler");
         n.add_part("there", "line", {a, b}, {}, line(0.01, 1.0));
         n.add_part("back", "line", {b, a}, {}, line(0.01, 1.0));
       },
       {"gallery", "no path to a fixed pressure", "tank"}},
      {"an island beside a sound circuit",
       [](Network& n) {
         const int air = n.add_fixed("air", 0.0), a = n.add_junction("a"), b = n.add_junction("b"), c = n.add_junction("lost");
         n.add_part("sound", "line", {air, a}, {}, line(0.01, 1.0));
         n.add_part("astray", "line", {b, c}, {}, line(0.01, 1.0));
       },
       {"b", "no path to a fixed pressure"}},
      {"a junction that nothing meets",
       [](Network& n) {
         const int air = n.add_fixed("air", 0.0), a = n.add_junction("a");
         n.add_junction("spare");
         n.add_part("sound", "line", {air, a}, {}, line(0.01, 1.0));
       },
       {"spare", "no part connects"}},
      {"a sensed junction that no part meets",
       [](Network& n) {
         const int air = n.add_fixed("air", 0.0), a = n.add_junction("a"), tap = n.add_junction("tap");
         n.add_part("regulator", "bypass regulator", {a, air}, {tap, air}, {{"set_pressure", 3e5}, {"full_area", 6e-6}});
       },
       {"tap", "sensed", "no part connects"}},
      {"a part filled with a liquid that does not exist",
       [](Network& n) {
         const int air = n.add_fixed("air", 0.0), a = n.add_junction("a");
         n.add_part("line", "line", {air, a}, {}, line(0.01, 1.0), {}, 3);
       },
       {"line", "liquid", "does not exist"}},
      {"a tank of a liquid that does not exist",
       [](Network& n) {
         const int t = n.add_tank("cell", tank(0.2), {}, 7), a = n.add_junction("a");
         n.add_part("line", "line", {t, a}, {}, line(0.01, 1.0));
       },
       {"cell", "liquid", "does not exist"}},
  };
  for (const Trouble& trouble : troubles) {
    Network network = with_liquid();
    trouble.build(network);
    const std::string message = complaint([&] { Plan plan(network); });
    INFO(trouble.what << ": '" << message << "'");
    CHECK(says(message, trouble.words));
  }
  Network dry;
  const int air = dry.add_fixed("air", 0.0), a = dry.add_junction("a");
  dry.add_part("line", "line", {air, a}, {}, line(0.01, 1.0));
  CHECK(says(complaint([&] { Plan plan(dry); }), {"circuit", "no liquid"}));
}

TEST_CASE("network: what cannot be added says what and where") {
  Network network = with_liquid();
  const int air = network.add_fixed("air", 0.0), a = network.add_junction("a");
  const auto add = [&](std::string name, std::string kind, std::vector<int> ports, std::vector<int> senses = {},
                       Network::Numbers numbers = line(0.01, 1.0)) {
    return complaint([&] { network.add_part(name, kind, ports, senses, numbers); });
  };
  CHECK(says(add("x", "hosepipe", {air, a}), {"hosepipe", "no such kind"}));
  CHECK(says(add("x", "line", {air}), {"x", "ports", "takes 2, not 1"}));
  CHECK(says(add("x", "line", {air, a}, {a}), {"x", "senses", "takes 0, not 1"}));
  CHECK(says(add("x", "line", {air, 12}), {"x", "12", "does not exist"}));
  CHECK(says(add("x", "line", {a, a}), {"x", "both ends", "'a'"}));
  CHECK(says(add("x", "line", {air, a}, {}, {{"diameter", 0.01}}), {"x", "diameter", "line"}));
  CHECK(says(add("x", "line", {air, a}, {}, line(10.0, 1.0)), {"x", "bore", "10", "0.5", "m"}));
  CHECK(says(add("a", "line", {air, a}), {"a", "used twice"}));
  CHECK(says(add("", "line", {air, a}), {"name", "empty"}));
  CHECK(says(complaint([&] { network.add_junction("air"); }), {"air", "used twice"}));
  CHECK(says(complaint([&] { network.add_junction("far", {0.0, 0.0, 5e4}); }), {"far", "position", "1000 m"}));
  CHECK(says(complaint([&] { network.add_fixed("nan", std::numeric_limits<double>::quiet_NaN()); }), {"nan", "not finite"}));
  CHECK(network.parts().empty());  // nothing refused was kept
  CHECK(network.junctions().size() == 2);
}

TEST_CASE("plan: every number has its name, says what was given, and takes another") {
  Plan plan(return_style());
  const std::vector<std::pair<std::string, double>> given{
      {"feed.bore", 7.5e-3},        {"suction.extra_loss", 0.5}, {"pump.shutoff_rise", 6.5e5}, {"regulator.set_pressure", 3e5},
      {"rail.demand", 0.02},        {"manifold.gauge", -4e4},    {"tank.level", 0.15},         {"tank.vent", 0.0},
      {"ambient.pressure", 101325}, {"feed.temperature", 293.15}, {"liquid.temperature", 293.15}, {"acceleration.x", 0.0}};
  for (const auto& [name, value] : given) {
    INFO(name);
    CHECK(number(plan, name) == Approx(value));
    const int index = plan.index(name);
    CHECK(plan.names()[static_cast<std::size_t>(index)] == name);
    const double other = value == 0.0 ? 0.5 : 1.01 * value;
    plan.set(index, other);
    CHECK(plan.get(index) == other);
  }
  // Names are unique and the list is whole: fields and temperature of each part, one per junction (tanks more), five of
  // the surroundings.
  const std::set<std::string> unique(plan.names().begin(), plan.names().end());
  CHECK(unique.size() == plan.names().size());
  std::size_t expected = 5;
  for (const auto& part : plan.network().parts()) expected += part.element->info().fields.size() + 1;
  for (const auto& junction : plan.network().junctions()) expected += junction.kind == network::JunctionKind::tank ? 4 : 1;
  CHECK(plan.names().size() == expected);
  CHECK(says(complaint([&] { plan.index("feed.boer"); }), {"feed.boer", "no number of that name"}));
}

TEST_CASE("plan: a number out of range is refused by name and changes nothing") {
  Plan plan(return_style());
  analysis::SteadySolver solver(plan);
  analysis::Solution before, after;
  solver.solve(before);
  REQUIRE(before.converged());
  const std::vector<std::tuple<std::string, double, std::vector<std::string>>> wrong{
      {"feed.bore", 2.0, {"feed", "bore", "2", "0.5"}},
      {"feed.bore", -0.01, {"feed", "bore"}},
      {"feed.length", std::numeric_limits<double>::quiet_NaN(), {"feed", "length"}},
      {"feed.roughness", 1e-3, {"feed", "roughness", "5 %"}},  // its own range allows it, the bore does not
      {"rail.demand", 1e3, {"rail", "demand"}},
      {"manifold.gauge", -2e5, {"manifold", "gauge"}},
      {"tank.level", -0.1, {"tank", "level"}},
      {"ambient.pressure", 0.0, {"ambient", "pressure"}},
      {"liquid.temperature", 20.0, {"liquid", "temperature"}},
      {"feed.temperature", 1e4, {"feed", "temperature"}},
      {"acceleration.z", 1e5, {"acceleration", "z"}},
  };
  for (const auto& [name, value, words] : wrong) {
    const double was = number(plan, name);
    const std::string message = complaint([&] { plan.set(plan.index(name), value); });
    INFO(name << ": '" << message << "'");
    CHECK(says(message, words));
    CHECK(number(plan, name) == was);
  }
  solver.solve(after);
  CHECK(after.pressure == before.pressure);
  CHECK(after.flow == before.flow);
}

TEST_CASE("plan: a refused column leaves the old one") {
  Network network = with_liquid();
  const int air = network.add_fixed("air", 0.0), out = network.add_junction("out", {}, 0.02);
  network.add_part("core", "measured table", {air, out}, {}, {{"rating_viscosity", 1e-3}, {"rating_density", 800.0}},
                   {{"flow", {1e-5, 2e-5, 4e-5}}, {"pressure_drop", {1e3, 4e3, 1.6e4}}});
  Plan plan(network);
  analysis::Solution before = analysis::solve(plan);
  REQUIRE(before.converged());
  CHECK(says(complaint([&] { plan.set_column(0, "pressure_drop", {1e3, 500.0, 1.6e4}); }), {"core"}));
  CHECK(says(complaint([&] { plan.set_column(0, "volts", {1.0}); }), {"core", "volts"}));
  CHECK(analysis::solve(plan).pressure == before.pressure);
  plan.set_column(0, "pressure_drop", {2e3, 8e3, 3.2e4});
  const auto twice = analysis::solve(plan);
  const double ambient = plan.ambient();
  CHECK(ambient - pressure(plan, twice, "out") == Approx(2.0 * (ambient - pressure(plan, before, "out"))).epsilon(1e-9));
}

TEST_CASE("plan: a copy goes its own way") {
  Plan plan(return_style());
  Plan copy(plan);
  copy.set(copy.index("feed.bore"), 5e-3);
  copy.set(copy.index("rail.demand"), 0.03);
  copy.set(copy.index("tank.level"), 0.4);
  copy.set(copy.index("liquid.temperature"), 320.0);
  CHECK(number(plan, "feed.bore") == 7.5e-3);
  CHECK(number(plan, "rail.demand") == 0.02);
  CHECK(number(plan, "tank.level") == 0.15);
  CHECK(number(plan, "liquid.temperature") == 293.15);
  const auto own = analysis::solve(plan), others = analysis::solve(copy);
  REQUIRE(own.converged());
  REQUIRE(others.converged());
  CHECK(pressure(plan, own, "outlet") != Approx(pressure(copy, others, "outlet")));
  // A network may be compiled twice; the plans share nothing.
  const Network network = return_style();
  Plan one(network), two(network);
  one.set(one.index("feed.length"), 9.0);
  CHECK(number(two, "feed.length") == 3.0);
}

TEST_CASE("plan: at rest the pressure in a tube follows rho (g - a) dx, whatever the way round") {
  for (const bool turned : {false, true}) {
    Network network = with_liquid();
    const int foot = network.add_fixed("foot", 2e4, {0.3, -0.2, 0.1});
    const int top = network.add_junction("top", {1.0, 0.5, 2.1});
    network.add_part("tube", "line", turned ? std::vector{top, foot} : std::vector{foot, top}, {}, line(0.01, 3.0));
    Plan plan(network);
    for (const auto& [ax, ay, az] : {std::tuple{0.0, 0.0, 0.0}, {4.0, 0.0, 0.0}, {-3.0, 7.0, -2.0}, {0.0, 0.0, -gravity}}) {
      plan.set(plan.index("acceleration.x"), ax);
      plan.set(plan.index("acceleration.y"), ay);
      plan.set(plan.index("acceleration.z"), az);
      const auto rest = analysis::solve(plan);
      REQUIRE(rest.converged());
      // Hydrostatics in an accelerated frame: grad p = rho (g - a), with dx = (0.7, 0.7, 2.0).
      const double rise = 800.0 * (-ax * 0.7 - ay * 0.7 - (gravity + az) * 2.0);
      CHECK(pressure(plan, rest, "top") == Approx(standard_atmosphere + 2e4 + rise).epsilon(1e-12));
      CHECK(std::abs(flow(plan, rest, "tube")) < 1e-15);
    }
  }
}

TEST_CASE("plan: a closed loop in a heavy field does not flow") {
  // No pump and one liquid: body forces have a potential, so nothing may circulate.
  Network network = with_liquid();
  const int foot = network.add_fixed("foot", 0.0, {0.0, 0.0, 0.0});
  const int side = network.add_junction("side", {2.0, 0.3, 0.5}), top = network.add_junction("top", {0.4, 1.0, 3.0});
  network.add_part("one", "line", {foot, side}, {}, line(0.01, 2.0));
  network.add_part("two", "line", {side, top}, {}, line(0.012, 2.0));
  network.add_part("three", "line", {foot, top}, {}, line(0.008, 2.0));
  Plan plan(network);
  plan.set(plan.index("acceleration.x"), 9.0);
  plan.set(plan.index("acceleration.y"), -6.0);
  const auto rest = analysis::solve(plan);
  REQUIRE(rest.converged());
  for (const char* part : {"one", "two", "three"}) CHECK(std::abs(flow(plan, rest, part)) < 1e-12);
}

TEST_CASE("plan: a tank stands at vent plus level, and follows ambient, density and acceleration") {
  Network network;
  network.add_liquid(oil());
  const int t = network.add_tank("tank", tank(0.4, 5e3, -0.6, 0.1));
  const int end = network.add_junction("end");
  network.add_part("line", "line", {t, end}, {}, line(0.01, 1.0));
  Plan plan(network);
  plan.set(plan.index("ambient.pressure"), 9e4);
  plan.set(plan.index("liquid.temperature"), 350.0);
  const auto pressure_at_rest = [&] {
    const auto rest = analysis::solve(plan);
    REQUIRE(rest.converged());
    return pressure(plan, rest, "end");
  };
  const double density = oil().at(Temperature<>::from_value(350.0), AbsolutePressure<>::from_value(9e4)).density.value();
  CHECK(pressure_at_rest() == Approx(9e4 + 5e3 + density * gravity * 0.4).epsilon(1e-12));
  plan.set(plan.index("acceleration.x"), 5.0);  // launching: the pick-up behind the middle gains
  CHECK(pressure_at_rest() == Approx(9e4 + 5e3 + density * (gravity * 0.4 + 5.0 * 0.6)).epsilon(1e-12));
  plan.set(plan.index("acceleration.y"), 8.0);
  CHECK(pressure_at_rest() == Approx(9e4 + 5e3 + density * (gravity * 0.4 + 5.0 * 0.6 - 8.0 * 0.1)).epsilon(1e-12));
}

TEST_CASE("plan: a part may have a temperature of its own") {
  Network network;
  network.add_liquid(oil());
  const int air = network.add_fixed("air", 0.0), a = network.add_junction("a");
  network.add_part("cold", "line", {air, a}, {}, line(0.01, 1.0));
  network.add_part("hot", "line", {air, a}, {}, line(0.01, 1.0));
  Plan plan(network);
  plan.set(plan.index("liquid.temperature"), 300.0);
  plan.set(plan.index("hot.temperature"), 380.0);
  plan.refresh();
  const auto viscosity_at = [&](double kelvin) {
    return oil().at(Temperature<>::from_value(kelvin), AbsolutePressure<>::from_value(standard_atmosphere)).viscosity.value();
  };
  CHECK(plan.liquid_in(0).viscosity.value() == Approx(viscosity_at(300.0)).epsilon(1e-14));
  CHECK(plan.liquid_in(1).viscosity.value() == Approx(viscosity_at(380.0)).epsilon(1e-14));
  plan.set(plan.index("liquid.temperature"), 310.0);
  plan.refresh();
  CHECK(plan.liquid_in(0).viscosity.value() == Approx(viscosity_at(310.0)).epsilon(1e-14));
  CHECK(plan.liquid_in(1).viscosity.value() == Approx(viscosity_at(380.0)).epsilon(1e-14));
}

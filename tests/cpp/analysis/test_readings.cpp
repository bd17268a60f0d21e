// Readings against sums by hand: what a gauge shows, and how far the liquid is from boiling on its way to a pump.
#include "flarenut/analysis/readings.hpp"

#include "../catch_shim.hpp"
#include "../circuits.hpp"

using namespace circuits;

namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double gravity = 9.80665;
constexpr double ambient = 101325.0;

double area(double bore) { return 0.25 * pi * bore * bore; }

int part(const Plan& plan, const char* name) { return plan.network().part(name); }

}  // namespace

TEST_CASE("readings: a gauge shows total less the velocity head of its own bore") {
  // Water, 0.9 kg/s through a step from 20 to 12 mm: v = 2.870 and 7.973 m/s at 998 kg/m3.
  Network network;
  network.add_liquid(constant(998.0, 1e-3));
  const int a = network.add_fixed("a", 2e5), b = network.add_junction("b", {}, 0.9);
  network.add_part("step", "size step", {a, b}, {}, {{"inlet_bore", 0.020}, {"outlet_bore", 0.012}});
  Plan plan(network);
  const auto solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  const auto ends = analysis::ends_of(plan, solution, 0);
  REQUIRE(ends.size() == 2);
  for (std::size_t i : {0u, 1u}) {
    const double bore = i == 0 ? 0.020 : 0.012;
    const double velocity = 0.9 / (998.0 * area(bore));
    CHECK(ends[i].bore == bore);
    CHECK(ends[i].velocity == Approx(velocity).epsilon(1e-12));
    CHECK(ends[i].static_ == Approx(ends[i].total - 0.5 * 998.0 * velocity * velocity).epsilon(1e-12));
    CHECK(ends[i].reynolds == Approx(998.0 * velocity * bore / 1e-3).epsilon(1e-12));
  }
  CHECK(ends[0].total == Approx(ambient + 2e5).epsilon(1e-14));
  CHECK(ends[0].flow == Approx(0.9).epsilon(1e-12));   // into the part
  CHECK(ends[1].flow == Approx(-0.9).epsilon(1e-12));  // out of it
  CHECK(ends[0].junction == a);
  CHECK(ends[1].junction == b);
}

TEST_CASE("readings: a wide end has no velocity head, and a part without bores reads total") {
  Network network;
  network.add_liquid(constant(800.0, 1e-3));
  const int t = network.add_tank("tank", tank(0.2)), a = network.add_junction("a"), b = network.add_junction("b", {}, 0.1);
  network.add_part("mouth", "opening", {t, a}, {}, {{"bore", 0.012}});
  network.add_part("cooler", "resistance", {a, b}, {},
                   {{"rated_drop", 1e4}, {"rated_flow", 1e-4}, {"rating_viscosity", 1e-3}, {"rating_density", 800.0}});
  Plan plan(network);
  const auto solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  const auto mouth = analysis::ends_of(plan, solution, part(plan, "mouth"));
  CHECK(mouth[0].static_ == mouth[0].total);
  CHECK(mouth[0].velocity == 0.0);
  CHECK(mouth[1].static_ < mouth[1].total);
  for (const auto& end : analysis::ends_of(plan, solution, part(plan, "cooler"))) CHECK(end.static_ == end.total);
}

TEST_CASE("readings: the suction margin is the hand sum from the pick-up to the pump") {
  // Gasoline-like: 750 kg/m3, boils at 60 kPa. Tank 0.2 m over the pick-up, 0.5 m climb to the pump, laminar suction line
  // of known loss, so that every term can be written down.
  const double density = 750.0, viscosity = 0.02, boils = 6e4, level = 0.2, climb = 0.5, bore = 0.008, length = 1.2;
  Network network;
  network.add_liquid(constant(density, viscosity, boils));
  const int t = network.add_tank("tank", tank(level), {0.0, 0.0, 0.0});
  const int inlet = network.add_junction("inlet", {0.0, 0.0, climb}), out = network.add_junction("out", {0.0, 0.0, climb});
  network.add_part("suction", "line", {t, inlet}, {}, line(bore, length));
  network.add_part("pump", "quadratic pump", {inlet, out}, {}, pump());
  network.add_part("load", "line", {out, t}, {}, line(0.006, 4.0));
  Plan plan(network);
  const auto solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  const double q = flow(plan, solution, "suction");
  const double velocity = q / (density * area(bore));
  REQUIRE(density * velocity * bore / viscosity < 2000.0);
  const double friction = 32.0 * viscosity * length * velocity / (bore * bore);  // Hagen-Poiseuille
  const double total = ambient + density * gravity * (level - climb) - friction;
  const double static_pressure = total - 0.5 * density * velocity * velocity;
  const auto suction = analysis::suction_of(plan, solution, part(plan, "pump"));
  CHECK(suction.npsh_available == Approx((total - boils) / (density * gravity)).epsilon(1e-9));
  CHECK(suction.margin == Approx(static_pressure - boils).epsilon(1e-9));
  CHECK(suction.at == "suction");
  // The pump of this kind tells no bore: what a gauge before it shows is static pressure in the line that feeds it.
  CHECK(suction.inlet_gauge == Approx(static_pressure - ambient).epsilon(1e-9));
}

TEST_CASE("readings: the worst place on the suction side is found upstream, not only at the pump") {
  // A narrow strainer neck halfway: the velocity head there is ten times that of the line.
  Network network;
  network.add_liquid(constant(750.0, 5e-4, 6e4));
  const int t = network.add_tank("tank", tank(0.2)), a = network.add_junction("a"), b = network.add_junction("b"),
            inlet = network.add_junction("inlet"), out = network.add_junction("out"), other = network.add_junction("other");
  network.add_part("first", "line", {t, a}, {}, line(0.012, 0.3));
  network.add_part("neck", "line", {a, b}, {}, line(0.0067, 0.005));
  network.add_part("second", "line", {b, inlet}, {}, line(0.016, 0.1));
  network.add_part("pump", "quadratic pump", {inlet, out}, {}, pump(2e5));
  network.add_part("load", "line", {out, other}, {}, line(0.010, 1.0));
  network.add_part("narrow return", "line", {other, t}, {}, line(0.010, 1.0));
  Plan plan(network);
  const auto solution = analysis::solve(plan);
  REQUIRE(solution.converged());
  const auto suction = analysis::suction_of(plan, solution, part(plan, "pump"));
  CHECK(suction.at == "neck");
  double least = 1e9;
  for (const char* name : {"first", "neck", "second", "pump"})
    for (const auto& end : analysis::ends_of(plan, solution, part(plan, name)))
      if (end.junction != out) least = std::min(least, end.vapour_margin);
  CHECK(suction.margin == Approx(least).epsilon(1e-14));
}

TEST_CASE("readings: liquid below its vapour pressure is remarked upon, once for each part, and not otherwise") {
  Network network;
  network.add_liquid(constant(750.0, 5e-4, 8e4));
  const int air = network.add_fixed("air", 0.0), high = network.add_junction("high", {0.0, 0.0, 4.0}), low = network.add_junction("low", {}, 0.01);
  network.add_part("up", "line", {air, high}, {}, line(0.012, 4.0));
  network.add_part("down", "line", {high, low}, {}, line(0.012, 4.0));
  Plan plan(network);
  const auto count = [&](const std::string& code) {
    const auto solution = analysis::solve(plan);
    REQUIRE(solution.converged());
    int found = 0;
    for (const auto& remark : analysis::remarks_on(plan, solution))
      if (remark.code == code) {
        ++found;
        CHECK(remark.limit == 8e4);
        CHECK(remark.value < 8e4);
      }
    return found;
  };
  // 101.3 kPa less 750 g 4 m = 71.9 kPa at the top: below 80.
  CHECK(count("below vapour pressure") == 2);
  plan.set(plan.index("air.gauge"), 5e4);
  CHECK(count("below vapour pressure") == 0);
}

// Spike: a vehicle of several circuits. Oil and coolant, two liquids in one network, never joined, give heat to each other
// in one counterflow exchanger. Each side is a part of its own circuit; what couples them is temperature only.
// Judge: effectiveness-NTU against its twin, Q = UA · LMTD (Incropera and DeWitt, chapter 11: two forms of one theory), and
// each circuit's flow as a scalar hand sum.
#include <array>
#include <cmath>

#include "../catch_shim.hpp"
#include "../circuits.hpp"

namespace shared_exchanger {

using namespace circuits;

constexpr double pi = 3.14159265358979323846;
constexpr double oil_drop = 5e3;  // small, so that the oil stays laminar [Pa]

/// Counterflow effectiveness (Kays and London; Incropera and DeWitt, table 11.3).
double effectiveness(double units, double ratio) {
  if (std::abs(1.0 - ratio) < 1e-9) return units / (1.0 + units);
  const double decay = std::exp(-units * (1.0 - ratio));
  return (1.0 - decay) / (1.0 - ratio * decay);
}

Network two_circuits() {
  Network network;
  const int oil_liquid = network.add_liquid(oil());
  const int coolant = network.add_liquid(constant(1050.0, 2e-3));
  const auto side = [&](const std::string& name, double gauge, double bore, int liquid) {
    const int from = network.add_fixed(name + " in", gauge), mid = network.add_junction(name + " mid"), to = network.add_fixed(name + " out", 0.0);
    network.add_part(name + " core", "line", {from, mid}, {}, line(bore, 3.0), {}, liquid);
    network.add_part(name + " pipe", "line", {mid, to}, {}, line(bore, 1.0), {}, liquid);
  };
  side("oil", oil_drop, 0.012, oil_liquid);
  side("coolant", 1e4, 0.016, coolant);
  return network;
}

struct Stream {
  double flow, capacity, in, out;
};

struct Found {
  Stream hot, cold;
  double heat;
  int turns;
};

constexpr double oil_in = 390.0, coolant_in = 350.0, conductance = 250.0;

/// Flows, then heat from the flows, then temperatures into the plan: until nothing moves.
Found settle(Plan& plan) {
  Found found{};
  const auto number = [&](const char* name) { return plan.index(name); };
  const std::array cores{number("oil core.temperature"), number("coolant core.temperature")};
  const std::array pipes{number("oil pipe.temperature"), number("coolant pipe.temperature")};
  for (const auto& pair : {cores, pipes}) {
    plan.set(pair[0], oil_in);
    plan.set(pair[1], coolant_in);
  }
  for (found.turns = 1; found.turns < 200; ++found.turns) {
    const auto solution = analysis::solve(plan);
    REQUIRE(solution.converged());
    const auto stream = [&](const char* core, double in) {
      const double q = flow(plan, solution, core);
      return Stream{q, q * plan.liquid_in(plan.network().part(core)).specific_heat.value(), in, in};
    };
    found.hot = stream("oil core", oil_in);
    found.cold = stream("coolant core", coolant_in);
    const double least = std::min(found.hot.capacity, found.cold.capacity), most = std::max(found.hot.capacity, found.cold.capacity);
    found.heat = effectiveness(conductance / least, least / most) * least * (oil_in - coolant_in);
    found.hot.out = oil_in - found.heat / found.hot.capacity;
    found.cold.out = coolant_in + found.heat / found.cold.capacity;
    double moved = 0.0;
    const auto put = [&](int where, double kelvin) {
      moved = std::max(moved, std::abs(plan.get(where) - kelvin));
      plan.set(where, kelvin);
    };
    put(cores[0], 0.5 * (oil_in + found.hot.out));
    put(cores[1], 0.5 * (coolant_in + found.cold.out));
    put(pipes[0], found.hot.out);
    put(pipes[1], found.cold.out);
    if (moved < 1e-9) return found;
  }
  FAIL("flows and temperatures did not settle");
  return found;
}

}  // namespace shared_exchanger

using namespace shared_exchanger;

TEST_CASE("spike: two circuits of different liquids share one exchanger") {
  Plan plan(two_circuits());
  const Found found = settle(plan);
  INFO(found.heat << " W, oil " << found.hot.out << " K, coolant " << found.cold.out << " K after " << found.turns << " turns");

  // What the oil gives the coolant takes, with the properties that the parts were solved with.
  const double given = found.hot.flow * plan.liquid_in(plan.network().part("oil core")).specific_heat.value() * (oil_in - found.hot.out);
  const double taken = found.cold.flow * plan.liquid_in(plan.network().part("coolant core")).specific_heat.value() * (found.cold.out - coolant_in);
  CHECK(given == Approx(taken).epsilon(1e-9));
  CHECK(found.heat > 500.0);

  // The twin theory.
  const double one = oil_in - found.cold.out, other = found.hot.out - coolant_in;
  const double mean = (one - other) / std::log(one / other);
  CHECK(found.heat == Approx(conductance * mean).epsilon(1e-9));
  CHECK(one > 0.0);
  CHECK(other > 0.0);

  // The oil's flow by hand: laminar, core at its mean temperature, pipe at the outlet's.
  const auto resistance = [&](double kelvin, double metres) {
    const auto state = oil().at(Temperature<>::from_value(kelvin), AbsolutePressure<>::from_value(101325.0));
    return 128.0 * state.viscosity.value() * metres / (pi * state.density.value() * std::pow(0.012, 4));
  };
  CHECK(found.hot.flow == Approx(oil_drop / (resistance(0.5 * (oil_in + found.hot.out), 3.0) + resistance(found.hot.out, 1.0))).epsilon(1e-7));

  // The circuits share nothing else: the coolant's flow does not know how hot it is (its properties are constant).
  Plan alone(two_circuits());
  const auto cold = analysis::solve(alone);
  REQUIRE(cold.converged());
  CHECK(flow(alone, cold, "coolant core") == Approx(found.cold.flow).epsilon(1e-9));
  CHECK(flow(alone, cold, "oil core") < 0.5 * found.hot.flow);  // at 20 °C the oil is thick
}

TEST_CASE("spike: each circuit has its own liquid, and needs its own fixed pressure") {
  Plan plan(two_circuits());
  CHECK(plan.liquid_in(plan.network().part("oil core")).density.value() < 900.0);
  CHECK(plan.liquid_in(plan.network().part("coolant core")).density.value() == 1050.0);
  Network network;
  const int first = network.add_liquid(oil()), second = network.add_liquid(constant(1050.0, 2e-3));
  const int a = network.add_fixed("air", 0.0), b = network.add_junction("b"), c = network.add_junction("c"), d = network.add_junction("d");
  network.add_part("oil line", "line", {a, b}, {}, line(0.01, 1.0), {}, first);
  network.add_part("coolant line", "line", {c, d}, {}, line(0.01, 1.0), {}, second);
  std::string message;
  try {
    Plan refused(network);
  } catch (const InputError& error) {
    message = error.what();
  }
  CHECK(message.find("no path to a fixed pressure") != std::string::npos);
}

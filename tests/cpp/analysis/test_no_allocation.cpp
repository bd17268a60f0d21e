#include <cstdlib>
#include <new>

#include "catch_shim.hpp"
#include "flarenut/analysis/gradient.hpp"
#include "flarenut/analysis/steady.hpp"
#include "flarenut/fluids/oils.hpp"

namespace {
std::size_t allocations = 0;
}  // namespace

// Counts every allocation of the test program; the test looks at the difference over a solve.
void* operator new(std::size_t size) {
  ++allocations;
  if (void* memory = std::malloc(size > 0 ? size : 1)) return memory;
  throw std::bad_alloc();
}
// The form that std::stable_sort asks for its buffer.
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
  ++allocations;
  return std::malloc(size > 0 ? size : 1);
}
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete(void* memory, const std::nothrow_t&) noexcept { std::free(memory); }

namespace flarenut::analysis {
namespace {

network::Network return_style_circuit() {
  network::Network network;
  fluids::ConstantLiquidSpec fuel;
  fuel.density = Density<>::from_value(750.0);
  fuel.viscosity = DynamicViscosity<>::from_value(5e-4);
  network.add_liquid(fluids::constant_liquid(fuel));
  const int tank = network.add_tank("tank", {});
  const int rail = network.add_junction("rail");
  const int back = network.add_junction("back");
  const int out = network.add_junction("out");
  const int air = network.add_fixed("air", 0.0);
  network.add_part("pump", "quadratic pump", {tank, out}, {},
                   {{"shutoff_rise", 6.5e5}, {"linear", 2.5e9}, {"quadratic", 4e13}});
  network.add_part("feed", "line", {out, rail}, {}, {{"bore", 7.5e-3}, {"length", 3.0}});
  network.add_part("regulator", "bypass regulator", {rail, back}, {rail, air}, {{"set_pressure", 3e5}, {"full_area", 6e-6}});
  network.add_part("return", "line", {back, tank}, {}, {{"bore", 6e-3}, {"length", 4.0}});
  return network;
}

TEST_CASE("steady: a warm solve with new numbers allocates nothing") {
  Plan plan(return_style_circuit());
  SteadySolver solver(plan);
  Solution first, second;
  solver.solve(first);
  REQUIRE(first.converged());
  solver.solve(second, {&first.pressure, &first.flow});
  const int volts = plan.index("pump.volts");

  plan.set(volts, 12.0);
  const std::size_t before = allocations;
  solver.solve(second, {&first.pressure, &first.flow});
  CHECK(allocations - before == 0);
  CHECK(second.converged());
  CHECK(second.iterations > 1);

  // Slopes with all numbers: the vector that they come back in.
  const Output rail{Output::What::pressure, plan.network().junction("rail")};
  gradient(solver, second, rail);
  const std::size_t before_slopes = allocations;
  const auto slopes = gradient(solver, second, rail);
  CHECK(allocations - before_slopes == 1);
  CHECK(slopes[static_cast<std::size_t>(volts)] > 0.0);

  const std::size_t before_cold = allocations;
  solver.solve(second);
  CHECK(allocations - before_cold == 0);
  CHECK(second.converged());
}

}  // namespace
}  // namespace flarenut::analysis

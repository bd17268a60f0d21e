#include "flarenut/parts/filter.hpp"

#include "../catch_shim.hpp"
#include "flarenut/parts/filter_with_bypass.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;

namespace {

FilterSpec<> fuel_filter() {
  FilterSpec<> spec;
  spec.linear = LinearResistance<>::from_value(1.2e8);
  spec.quadratic = QuadraticResistance<>::from_value(3e12);
  spec.rating_viscosity = DynamicViscosity<>::from_value(5e-4);
  spec.rating_density = Density<>::from_value(750.0);
  return spec;
}

double drop_at(const FilterSpec<>& spec, double density, double viscosity, double volume_flow) {
  return Filter<>(spec, liquid(density, viscosity)).drop(flowing(density * volume_flow)).value();
}

FilterWithBypassSpec<> oil_filter() {
  FilterWithBypassSpec<> spec;
  spec.linear = LinearResistance<>::from_value(3e7);
  spec.quadratic = QuadraticResistance<>::from_value(2e10);
  spec.rating_viscosity = DynamicViscosity<>::from_value(0.012);
  spec.rating_density = Density<>::from_value(850.0);
  spec.bypass_pressure = pascals(1e5);
  spec.bypass_area = square_metres(8e-5);
  return spec;
}

PartState<double, 2, 2, 0> across(double drop) {
  PartState<double, 2, 2, 0> state;
  state.pressure = {at(5e5), at(5e5 - drop)};
  return state;
}

}  // namespace

TEST_CASE("filter: with the rating liquid it gives the rating curve") {
  for (double flow : {1e-6, 2e-5, 5.8e-5, 2e-4})
    CHECK(drop_at(fuel_filter(), 750.0, 5e-4, flow) == Approx(1.2e8 * flow + 3e12 * flow * flow).epsilon(1e-12));
}

TEST_CASE("filter: the medium follows viscosity, the housing density") {
  const double flow = 5e-5;
  CHECK(drop_at(fuel_filter(), 750.0, 1.5e-3, flow) == Approx(3.0 * 1.2e8 * flow + 3e12 * flow * flow).epsilon(1e-12));
  CHECK(drop_at(fuel_filter(), 900.0, 5e-4, flow) == Approx(1.2e8 * flow + 1.2 * 3e12 * flow * flow).epsilon(1e-12));
}

TEST_CASE("filter: dirt multiplies the medium only") {
  auto spec = fuel_filter();
  spec.loading = ratio(4.0);
  const double flow = 5e-5;
  CHECK(drop_at(spec, 750.0, 5e-4, flow) == Approx(4.0 * 1.2e8 * flow + 3e12 * flow * flow).epsilon(1e-12));
}

TEST_CASE("filter: backwards it costs the same") {
  CHECK(drop_at(fuel_filter(), 750.0, 5e-4, -5e-5) == Approx(-drop_at(fuel_filter(), 750.0, 5e-4, 5e-5)));
}

TEST_CASE("filter: a rating without its liquid is refused") {
  auto spec = fuel_filter();
  spec.rating_viscosity = DynamicViscosity<>{};
  CHECK_THROWS_WITH(validate("main filter", spec), Catch::Contains("main filter: rating_viscosity"));
}

TEST_CASE("filter with bypass: hot and clean, the bypass stays shut and all oil is filtered") {
  const FilterWithBypass<> filter(oil_filter(), liquid(850.0, 0.012));
  const auto state = across(2e4);
  const double filtered = solved_flow(filter, state, 0), round = solved_flow(filter, state, 1);
  // 3e7 Q + 2e10 Q² = 2e4 by the quadratic formula.
  const double by_hand = (-3e7 + std::sqrt(9e14 + 4.0 * 2e10 * 2e4)) / (2.0 * 2e10);
  CHECK(filtered / 850.0 == Approx(by_hand).epsilon(1e-9));
  CHECK(round < 0.002 * filtered);
  CHECK(filter.regime(state) == Regime::passive);
}

TEST_CASE("filter with bypass: cold, the bypass carries most of the oil and holds the drop down") {
  const double density = 890.0, viscosity = 0.5, drop = 1.3e5;
  const FilterWithBypass<> filter(oil_filter(), liquid(density, viscosity));
  const auto state = across(drop);
  const double filtered = solved_flow(filter, state, 0), round = solved_flow(filter, state, 1);
  CHECK(filter.regime(state) == Regime::bypassing);
  CHECK(round > 4.0 * filtered);
  // By hand: q² + q_l q = y² (C A)² 2 ρ Δp with y at 1.5 bands and q_l at Reynolds 10 in the opening.
  const double bore = std::sqrt(4.0 * 8e-5 / 3.14159265358979);
  const double linear = 10.0 * 3.14159265358979 / 4.0 * bore * viscosity;
  const double square = std::pow(sharp_opening(1.5) * orifice(0.7, 8e-5, density, drop), 2);
  CHECK(round == Approx(0.5 * (std::sqrt(linear * linear + 4.0 * square) - linear)).epsilon(0.002));
}

TEST_CASE("filter with bypass: a loaded element opens the bypass at a flow the clean one does not") {
  auto spec = oil_filter();
  const auto oil = liquid(850.0, 0.012);
  const double flow = 850.0 * 8e-4;  // 48 L/min
  CHECK(Filter<>(spec, oil).drop(flowing(flow)).value() < 1e5);
  spec.loading = ratio(8.0);
  CHECK(Filter<>(spec, oil).drop(flowing(flow)).value() > 1e5);
}

TEST_CASE("filter with bypass: a bad bypass number names its field") {
  auto spec = oil_filter();
  spec.bypass_area = Area<>{};
  CHECK_THROWS_WITH(validate("oil filter", spec), Catch::Contains("oil filter: bypass_area"));
}

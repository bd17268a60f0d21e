#include "flarenut/parts/measured_table.hpp"

#include <cmath>

#include "flarenut/parts/line.hpp"
#include "loss_checks.hpp"

using namespace loss_checks;

namespace {

MeasuredTableSpec<> table(std::vector<double> flow, std::vector<double> drop, double viscosity = 5e-4,
                          double density = 750.0) {
  MeasuredTableSpec<> spec;
  spec.flow = std::move(flow);
  spec.pressure_drop = std::move(drop);
  spec.rating_viscosity = DynamicViscosity<>::from_value(viscosity);
  spec.rating_density = Density<>::from_value(density);
  return spec;
}

const auto fuel = liquid(750.0, 5e-4);

double drop_of(const MeasuredTable<>& part, double volume_flow) {
  return part.drop(flowing(750.0 * volume_flow)).value();
}

bool beyond(const MeasuredTable<>& part, double mass_flow) {
  PartState<double> state;
  state.flow[0] = flowing(mass_flow);
  return part.beyond_data(state);
}

}  // namespace

TEST_CASE("measured table: with the test liquid it passes through every point, forwards and backwards") {
  const std::vector<double> flow{2e-5, 5e-5, 9e-5, 1.4e-4}, drop{900.0, 5.2e3, 1.6e4, 3.9e4};
  const MeasuredTable<> part(table(flow, drop), fuel);
  for (std::size_t i = 0; i < flow.size(); ++i) {
    CHECK(drop_of(part, flow[i]) == Approx(drop[i]).epsilon(1e-5));
    CHECK(drop_of(part, -flow[i]) == Approx(-drop[i]).epsilon(1e-5));
  }
  CHECK(drop_of(part, 0.0) == 0.0);
}

TEST_CASE("measured table: between the points it rises all the way") {
  const MeasuredTable<> part(table({0.0, 1e-5, 1.1e-5, 8e-5, 1e-4}, {0.0, 100.0, 9e3, 9.1e3, 4e4}), fuel);
  double last = -1e9;
  for (double flow = -2e-4; flow <= 2e-4; flow += 1e-7) {
    const double drop = drop_of(part, flow);
    REQUIRE(drop > last);
    last = drop;
  }
}

TEST_CASE("measured table: points of a square law go on as one") {
  const auto square = [](double flow) { return 3e12 * flow * flow; };
  std::vector<double> flow, drop;
  for (int i = 1; i <= 10; ++i) {
    flow.push_back(1e-5 * i);
    drop.push_back(square(1e-5 * i));
  }
  const MeasuredTable<> part(table(flow, drop), fuel);
  for (double beyond_last : {1.5e-4, 3e-4, 1e-3})
    CHECK(drop_of(part, beyond_last) == Approx(square(beyond_last)).epsilon(0.02));
  CHECK(drop_of(part, 5.5e-5) == Approx(square(5.5e-5)).epsilon(0.005));
}

TEST_CASE("measured table: a hose measured with fuel foretells the same hose with oil") {
  // Similarity, judged by the friction law of a line: 8.7 mm, 2 m.
  LineSpec<> hose;
  hose.bore = metres(0.0087);
  hose.length = metres(2.0);
  const Line<> with_fuel(hose, fuel);
  std::vector<double> flow, drop;
  for (double q = 2e-7; q < 4e-4; q *= 1.1) {
    flow.push_back(q);
    drop.push_back(with_fuel.drop(flowing(750.0 * q)).value());
  }
  const auto oil = liquid(850.0, 0.01);
  const Line<> with_oil(hose, oil);
  const MeasuredTable<> foretold(table(flow, drop), oil);
  for (double q : {2e-5, 8e-5, 2e-4, 4e-4, 9e-4, 3e-3}) {
    const auto mass = flowing(850.0 * q);
    CHECK(foretold.drop(mass).value() == Approx(with_oil.drop(mass).value()).epsilon(0.01));
  }
}

TEST_CASE("measured table: it says when it is asked beyond its data") {
  const auto spec = table({2e-5, 1e-4}, {1e3, 2e4});
  const MeasuredTable<> part(spec, fuel);
  CHECK_FALSE(beyond(part, 750.0 * 0.99e-4));
  CHECK_FALSE(beyond(part, -750.0 * 0.99e-4));
  CHECK(beyond(part, 750.0 * 1.01e-4));
  CHECK(beyond(part, -750.0 * 1.01e-4));
  // Oil twenty times as thick in ν reaches the last Reynolds number at twenty times the flow.
  const MeasuredTable<> cold(spec, liquid(750.0, 0.01));
  CHECK_FALSE(beyond(cold, 750.0 * 1.9e-3));
  CHECK(beyond(cold, 750.0 * 2.1e-3));
}

TEST_CASE("measured table: points that make no curve are refused by number, with the cure") {
  CHECK_THAT(complaint(table({1e-5}, {1e3})), Catch::Contains("flow") && Catch::Contains("at least two"));
  CHECK_THAT(complaint(table({1e-5, 2e-5}, {1e3})), Catch::Contains("2 flows but 1 pressure drops"));
  CHECK_THAT(complaint(table({1e-5, 1e-5}, {1e3, 2e3})), Catch::Contains("point 2") && Catch::Contains("sort"));
  CHECK_THAT(complaint(table({1e-5, 2e-5}, {1e3, 900.0})),
             Catch::Contains("pressure_drop") && Catch::Contains("does not rise with flow"));
  CHECK_THAT(complaint(table({-1e-5, 2e-5}, {1e3, 9e3})), Catch::Contains("negative"));
  CHECK_THAT(complaint(table({0.0, 2e-5}, {50.0, 9e3})), Catch::Contains("zero error"));
  CHECK_THAT(complaint(table({1e-5, 2e-5}, {1e3, std::nan("")})), Catch::Contains("not a finite number"));
  CHECK_THAT(complaint(table({1e-5, 2e-5}, {1e3, 2e3}, 0.0)), Catch::Contains("rating_viscosity"));
}

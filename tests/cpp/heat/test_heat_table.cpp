#include "flarenut/heat/heat_table.hpp"

#include "heat_checks.hpp"

using namespace heat_checks;

namespace {

constexpr double litre_per_minute = 1e-3 / 60.0;

/// Invented: three flows by three face speeds.
HeatTableSpec<> radiator(double face_speed) {
  HeatTableSpec<> spec;
  spec.face_area = Area<>::from_value(0.2);
  spec.fan_speed = Velocity<>::from_value(face_speed);
  spec.still_speed = Velocity<>::from_value(0.01);
  spec.flow = {20.0 * litre_per_minute, 50.0 * litre_per_minute, 100.0 * litre_per_minute};
  spec.air_speed = {2.0, 4.0, 8.0};
  spec.heat_per_degree = {300.0, 420.0, 520.0, 380.0, 560.0, 760.0, 420.0, 640.0, 900.0};
  return spec;
}

/// Heat per degree at a volume flow.
double per_degree(const HeatTable<>& table, double flow) {
  const double density = coolant.at(353.15).density.value();
  return -table.warming(stream_of(coolant, flow * density, 363.15, 353.15)).heat.value() / (363.15 - table.sink().value());
}

std::string trouble(HeatTableSpec<> spec) {
  return complaint([&] { parts::validate("the radiator", spec); });
}

}  // namespace

TEST_CASE("heat table: it passes through every point") {
  for (std::size_t j = 0; j < 3; ++j) {
    const auto spec = radiator(std::array{2.0, 4.0, 8.0}[j]);
    const HeatTable<> table(spec, around(25.0));
    for (std::size_t i = 0; i < 3; ++i) CHECK(per_degree(table, spec.flow[i]) == Approx(spec.heat_per_degree[3 * i + j]).epsilon(2e-5));
  }
}

TEST_CASE("heat table: it rises with flow and with face speed between the points, and bounded beyond") {
  for (const double speed : {1.0, 2.5, 5.0, 8.0, 20.0}) {
    const HeatTable<> table(radiator(speed), around(25.0)), quicker(radiator(speed * 1.1), around(25.0));
    double last = 0.0;
    for (double flow = 0.2; flow < 1000.0; flow *= 1.05) {
      const double here = per_degree(table, flow * litre_per_minute);
      REQUIRE(here >= last - 1e-9);
      REQUIRE(per_degree(quicker, flow * litre_per_minute) >= here - 1e-9);
      last = here;
    }
    CHECK(last < 1.2 * 900.0);
    // Levelled out: ten times the last flow gives what twice it gives.
    CHECK(per_degree(table, 1000.0 * litre_per_minute) == Approx(per_degree(table, 200.0 * litre_per_minute)).epsilon(1e-3));
  }
}

TEST_CASE("heat table: in proportion to the flow near rest, and never more than the stream can carry") {
  auto spec = radiator(4.0);
  const HeatTable<> table(spec, around(25.0));
  CHECK(per_degree(table, 1e-3 * litre_per_minute) == Approx(1e-2 * per_degree(table, 0.1 * litre_per_minute)).epsilon(0.02));
  CHECK(per_degree(table, 0.0) == 0.0);
  for (double& value : spec.heat_per_degree) value *= 30.0;  // wrong by a power of ten and more
  const HeatTable<> wrong(spec, around(25.0));
  for (double flow = 1e-3; flow < 300.0; flow *= 1.3) {
    const double volume = flow * litre_per_minute;
    const double carries = volume * coolant.at(353.15).density.value() * coolant.heat_at(353.15).specific_heat.value();
    REQUIRE(per_degree(wrong, volume) <= carries * (1.0 + 1e-12));
  }
}

TEST_CASE("heat table: it says when it is asked beyond its data") {
  const double density = coolant.at(353.15).density.value();
  const auto beyond = [&](double speed, double flow) {
    return HeatTable<>(radiator(speed), around(25.0)).beyond_data(stream_of(coolant, flow * litre_per_minute * density, 363.15, 353.15));
  };
  CHECK_FALSE(beyond(4.0, 50.0));
  CHECK_FALSE(beyond(2.1, 20.1));
  CHECK_FALSE(beyond(4.0, 0.0));
  CHECK(beyond(4.0, 101.0));
  CHECK(beyond(4.0, 19.0));
  CHECK(beyond(1.9, 50.0));
  CHECK(beyond(8.1, 50.0));
}

TEST_CASE("heat table: slopes against differences, and finite at rest") {
  const auto element = network::make_heat_element("heat table");
  const auto spec = radiator(5.0);
  set(*element, "face_area", 0.2);
  set(*element, "fan_speed", 5.0);
  element->set_column(0, spec.flow);
  element->set_column(1, spec.air_speed);
  element->set_column(2, spec.heat_per_degree);
  CHECK(element->column(2) == spec.heat_per_degree);
  CHECK(element->info().columns.size() == 3);
  element->validate("the radiator");
  element->prepare(around(25.0));
  Dice dice;
  double worst = 0.0;
  for (int i = 0; i < 300; ++i) {
    const Numbers stream{&coolant, dice.over_decades(1e-6, 10.0), dice.between(280.0, 400.0), dice.between(280.0, 400.0)};
    worst = std::max(worst, slope_error(*element, {stream, stream}));
  }
  CHECK(worst < 1e-3);  // curves of third order have steps in their curvature
  for (const double flow : {0.0, 1e-300, 1e-15, 1e5}) {
    const Numbers stream{&coolant, flow, 380.0, 350.0};
    CHECK(finite(ask(*element, {stream, stream})));
  }
}

TEST_CASE("heat table: points that make no table are refused with the cure") {
  auto spec = radiator(4.0);
  CHECK(trouble(spec) == "no complaint");
  spec.heat_per_degree.pop_back();
  CHECK_THAT(trouble(spec), Catch::Contains("8 values for 3 flows and 3 face speeds") && Catch::Contains("give 9"));
  spec = radiator(4.0);
  spec.heat_per_degree[4] = 370.0;
  CHECK_THAT(trouble(spec), Catch::Contains("point 5") && Catch::Contains("falls where the face speed rises"));
  spec = radiator(4.0);
  spec.heat_per_degree[3] = 290.0;
  CHECK_THAT(trouble(spec), Catch::Contains("point 4") && Catch::Contains("falls where the flow rises"));
  spec.flow = {};
  CHECK_THAT(trouble(spec), Catch::Contains("flow") && Catch::Contains("empty"));
  spec = radiator(4.0);
  spec.air_speed = {0.0, 4.0, 8.0};
  CHECK_THAT(trouble(spec), Catch::Contains("air_speed") && Catch::Contains("zero is known"));
  spec.air_speed = {2.0, 8.0, 4.0};
  CHECK_THAT(trouble(spec), Catch::Contains("sort the points"));
}

#include "flarenut/heat/line_wall.hpp"

#include <numbers>

#include "heat_checks.hpp"

using namespace heat_checks;

namespace {

LineWallSpec<> hose() {
  LineWallSpec<> spec;
  spec.bore = Length<>::from_value(0.0127);
  spec.length = Length<>::from_value(2.0);
  return spec;
}

double outlet(const Warming<>& warming, const Stream<>& stream) {
  return stream.inlet.value() + warming.heat.value() / stream.capacity_rate().value();
}

/// The film outside as the correlations have it, air taken at the film temperature; per metre.
double outside_by_hand(double diameter, double surface, double air_kelvin, double wind, double emissivity) {
  const auto air = fluids::air_at(Temperature<>::from_value(0.5 * (surface + air_kelvin)), AbsolutePressure<>::from_value(101325.0));
  const double forced = correlations::cylinder_cross_flow_nusselt(wind * diameter / air.kinematic_viscosity().value(), air.prandtl());
  const double rayleigh = correlations::rayleigh_number(air.expansion.value(), surface - air_kelvin, diameter,
                                                        air.kinematic_viscosity().value(), air.thermal_diffusivity());
  const double still = correlations::cylinder_natural_nusselt(rayleigh, air.prandtl());
  const double film = correlations::mixed_nusselt(forced, still) * air.conductivity.value() / diameter;
  return std::numbers::pi * diameter * (film + correlations::radiation_coefficient(emissivity, surface, air_kelvin));
}

}  // namespace

TEST_CASE("line wall: the film outside is that of the correlations, at any surface temperature and wind") {
  for (const double wind : {0.0, 0.3, 4.0, 30.0})
    for (const double diameter : {0.006, 0.019, 0.09}) {
      const OuterFilm<> film(Length<>::from_value(diameter), Velocity<>::from_value(wind), Ratio<>::from_value(0.8),
                             Temperature<>::from_value(313.15), AbsolutePressure<>::from_value(101325.0));
      for (const double surface : {240.0, 300.0, 313.0, 313.2, 331.7, 388.0, 450.0, 611.0, 1100.0}) {
        INFO("wind " << wind << " diameter " << diameter << " surface " << surface);
        CHECK(film.conductance_per_length(surface) == Approx(outside_by_hand(diameter, surface, 313.15, wind, 0.8)).epsilon(4e-5));
      }
    }
}

TEST_CASE("line wall: the same heat passes the film inside, the layers, and the film outside") {
  auto spec = hose();
  spec.sleeve_thickness = Length<>::from_value(0.002);
  spec.air_speed = Velocity<>::from_value(2.0);
  spec.air_rise = TemperatureDifference<>::from_value(25.0);
  const LineWall<> wall(spec, around(30.0));
  const double air = 273.15 + 55.0;
  CHECK(wall.sink().value() == Approx(air));
  for (const double mean : {300.0, air + 1e-3, 343.0, 393.15}) {
    const auto stream = stream_of(oil, 0.05, mean, mean);
    const double outside = wall.outside_temperature(stream).value();
    // By hand: Nusselt of the bore, two layers, and the outside's own film at the temperature that came out.
    const double reynolds = 4.0 * 0.05 / (std::numbers::pi * 0.0127 * stream.liquid.viscosity.value());
    const double prandtl = stream.liquid.viscosity.value() * stream.heat.specific_heat.value() / stream.heat.conductivity.value();
    const double nusselt = correlations::tube_nusselt(reynolds, prandtl, 0.0127 / 2.0, 1.0);
    const double inner = 1.0 / (std::numbers::pi * stream.heat.conductivity.value() * nusselt) +
                         std::log(18.7 / 12.7) / (2.0 * std::numbers::pi * 0.2) + std::log(22.7 / 18.7) / (2.0 * std::numbers::pi * 0.06);
    const double through = (mean - outside) / inner, away = outside_by_hand(0.0227, outside, air, 2.0, 0.9) * (outside - air);
    INFO("mean " << mean << " outside " << outside);
    CHECK(through == Approx(away).epsilon(1e-4));
    const double conductance = 2.0 / (inner + 1.0 / outside_by_hand(0.0227, outside, air, 2.0, 0.9));
    const double capacity = stream.capacity_rate().value();
    const auto at = stream_of(oil, 0.05, 380.0, mean);
    CHECK(wall.warming(at).heat.value() == Approx(capacity * -std::expm1(-conductance / capacity) * (air - 380.0)).epsilon(1e-5));
  }
}

TEST_CASE("line wall: a bare hot pipe in a still room, as a handbook has it") {
  // Incropera, example 9.4 (from memory): 100 mm, surface 165 °C, air and walls 23 °C, emissivity 0.85: 763 W/m, found with the same
  // correlation. Of that 441 W/m are radiation, by hand: π 0.1 m 0.85 σ (438⁴ − 296⁴).
  const auto loss = [](double emissivity) {
    const OuterFilm<> film(Length<>::from_value(0.1), Velocity<>{}, Ratio<>::from_value(emissivity), Temperature<>::from_value(296.0),
                           AbsolutePressure<>::from_value(101325.0));
    return 142.0 * film.conductance_per_length(438.0);
  };
  CHECK(loss(0.85) - loss(0.0) == Approx(441.0).epsilon(0.002));
  CHECK(loss(0.85) == Approx(763.0).epsilon(0.02));
}

TEST_CASE("line wall: a stream leaves between its inlet and the air, whatever its flow") {
  Dice dice;
  for (int i = 0; i < 2000; ++i) {
    auto spec = hose();
    spec.length = Length<>::from_value(dice.over_decades(1e-3, 1e3));
    spec.air_speed = Velocity<>::from_value(dice.between(0.0, 40.0));
    const LineWall<> wall(spec, around(dice.between(-30.0, 50.0)));
    const double inlet = dice.between(240.0, 430.0);
    const auto stream = stream_of(oil, dice.over_decades(1e-9, 10.0), inlet, dice.between(240.0, 430.0));
    const auto warming = wall.warming(stream);
    const double out = outlet(warming, stream), air = wall.sink().value();
    REQUIRE(out >= std::min(inlet, air) - 1e-9);
    REQUIRE(out <= std::max(inlet, air) + 1e-9);
    REQUIRE(warming.mean_share >= 0.5);
    REQUIRE(warming.mean_share <= 1.0);
  }
}

TEST_CASE("line wall: led to other air it is the wall made for that air, and refuses what air is not known for") {
  auto spec = hose();
  spec.air_speed = Velocity<>::from_value(3.0);
  spec.air_rise = TemperatureDifference<>::from_value(12.0);
  LineWall<> wall(spec, around(30.0));
  wall.follow_air(spec, around(-15.0));
  const LineWall<> made(spec, around(-15.0));
  const auto stream = stream_of(oil, 0.05, 380.0, 378.0);
  CHECK(wall.sink().value() == made.sink().value());
  CHECK(wall.warming(stream).heat.value() == made.warming(stream).heat.value());
  CHECK(wall.warming(stream).heat.value() < LineWall<>(spec, around(30.0)).warming(stream).heat.value());
  CHECK_THROWS_AS(wall.follow_air(spec, around(-120.0)), InputError);
  CHECK(wall.sink().value() == made.sink().value());
}

TEST_CASE("line wall: the mean is that of the stream's own fall along the line") {
  // Summed over thin slices: T − T_air = (T_in − T_air) e^(−UA z/C).
  const LineWall<> wall(hose(), around(20.0));
  for (const double flow : {5e-4, 1e-3, 0.01, 0.05}) {
    const auto stream = stream_of(oil, flow, 393.15, 360.0);
    const auto warming = wall.warming(stream);
    const double left = 1.0 + warming.heat.value() / (stream.capacity_rate().value() * 100.0), depth = -std::log(left);
    double mean = 0.0;
    constexpr int slices = 20000;
    for (int i = 0; i < slices; ++i) mean += std::exp(-depth * (i + 0.5) / slices) / slices;
    INFO("flow " << flow << " left " << left);
    REQUIRE(left > 1e-9);
    CHECK(1.0 - warming.mean_share * (1.0 - left) == Approx(mean).margin(2e-6));
  }
}

TEST_CASE("line wall: slopes against differences, from a trickle to a rush, laminar, in transition and turbulent") {
  const auto element = network::make_heat_element("line wall");
  lend(*element, "bore", 0.0127);
  Dice dice;
  double worst = 0.0;
  for (int i = 0; i < 400; ++i) {
    lend(*element, "length", dice.over_decades(0.05, 50.0));
    set(*element, "sleeve_thickness", i % 2 ? 0.002 : 0.0);
    set(*element, "air_speed", i % 3 ? dice.between(0.0, 30.0) : 0.0);
    element->prepare(around(dice.between(-20.0, 60.0)));
    const Numbers stream{i % 2 ? &oil : &coolant, dice.over_decades(1e-6, 2.0), dice.between(280.0, 400.0), dice.between(280.0, 400.0)};
    if (std::abs(stream.mean - element->sink()) < 0.5) continue;  // where the air's own rise turns round differences see little
    worst = std::max(worst, slope_error(*element, {stream, stream}));
  }
  CHECK(worst < 2e-4);
}

TEST_CASE("line wall: finite at rest, without length, and where a solver tries wild temperatures") {
  const auto element = network::make_heat_element("line wall");
  for (const double length : {0.0, 1e-6, 1.0, 1000.0}) {
    lend(*element, "length", length);
    element->prepare(around(20.0));
    for (const double flow : {0.0, 1e-300, 1e-12, 1.0, 1e4})
      for (const double inlet : {293.15, 350.0, 2000.0})
        for (const double mean : {150.0, 293.15, 393.0, 1500.0, 4000.0}) {
          const Numbers stream{&coolant, flow, inlet, mean};
          INFO("length " << length << " flow " << flow << " inlet " << inlet << " mean " << mean);
          CHECK(finite(ask(*element, {stream, stream})));
        }
  }
}

TEST_CASE("line wall: a stream as warm as the air gives nothing, and at rest no heat passes") {
  const LineWall<> wall(hose(), around(20.0));
  CHECK(wall.warming(stream_of(oil, 0.1, 293.15, 293.15)).heat.value() == Approx(0.0).margin(1e-12));
  CHECK(wall.warming(stream_of(oil, 0.0, 393.15, 320.0)).heat.value() == 0.0);
  CHECK(wall.warming(stream_of(oil, 0.0, 393.15, 320.0)).mean_share == 1.0);
}

TEST_CASE("line wall: what lies in the wind loses more, what is bright or sleeved less") {
  const auto loss = [](LineWallSpec<> spec) {
    return -LineWall<>(spec, around(20.0)).warming(stream_of(oil, 0.1, 393.15, 393.15)).heat.value();
  };
  auto windy = hose(), bright = hose(), sleeved = hose();
  windy.air_speed = Velocity<>::from_value(5.0);
  bright.emissivity = Ratio<>::from_value(0.1);
  sleeved.sleeve_thickness = Length<>::from_value(0.02);
  CHECK(loss(windy) > 1.5 * loss(hose()));
  CHECK(loss(bright) < 0.75 * loss(hose()));
  CHECK(loss(sleeved) < loss(hose()));
}

TEST_CASE("line wall: thin sleeves on a small line raise the loss, as the critical diameter foretells") {
  // 2k/h with k 0.2 and h near 15: 27 mm, far outside a tube of 4 mm.
  auto spec = hose();
  spec.bore = Length<>::from_value(0.003);
  spec.wall_thickness = Length<>::from_value(0.0005);
  spec.wall_conductivity = ThermalConductivity<>::from_value(16.0);
  spec.sleeve_conductivity = ThermalConductivity<>::from_value(0.2);
  const auto loss = [&](double sleeve) {
    spec.sleeve_thickness = Length<>::from_value(sleeve);
    return -LineWall<>(spec, around(20.0)).warming(stream_of(coolant, 0.1, 363.15, 363.15)).heat.value();
  };
  CHECK(loss(0.002) > loss(0.0));
  CHECK(loss(0.1) < loss(0.02));
}

TEST_CASE("line wall: slopes with a number of the wall itself, as sensitivities ask") {
  const auto heat_of = [](auto thickness) {
    using N = decltype(thickness);
    auto spec = parts::lifted<LineWallSpec, N>(hose());
    spec.bore = Length<N>::from_value(N(0.0127));
    spec.length = Length<N>::from_value(N(2.0));
    spec.air_speed = Velocity<N>::from_value(N(1.0));
    spec.wall_thickness = Length<N>::from_value(thickness);
    return LineWall<N>(spec, around(20.0)).warming(stream_of(oil, 0.1, 373.15, 363.15)).heat.value();
  };
  const double difference = (heat_of(0.003003) - heat_of(0.002997)) / 6e-6;
  CHECK(heat_of(Dual<1>(0.003, 0)).slope[0] == Approx(difference).epsilon(1e-5));
}

TEST_CASE("line wall: what it borrows, its fields, and an unknown kind") {
  const auto element = network::make_heat_element("line wall");
  CHECK(element->kind() == "line wall");
  CHECK(element->streams() == 1);
  CHECK(element->borrowed() == std::vector<std::string_view>{"bore", "length"});
  CHECK(element->field_count() == 7);
  set(*element, "emissivity", 1.2);
  CHECK_THAT(complaint([&] { element->validate("the hose"); }), Catch::Contains("the hose") && Catch::Contains("emissivity"));
  set(*element, "emissivity", 0.4);
  element->validate("the hose");
  const auto other = element->clone();
  CHECK(other->field(4) == 0.4);
  CHECK_THAT(complaint([] { network::make_heat_element("lime wall"); }), Catch::Contains("lime wall") && Catch::Contains("line wall"));
}

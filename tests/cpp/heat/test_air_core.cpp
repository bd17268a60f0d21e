#include "flarenut/heat/air_core.hpp"

#include <numbers>

#include "../csv.hpp"
#include "flarenut/heat/core_rating.hpp"
#include "heat_checks.hpp"

using namespace heat_checks;

namespace {

/// An invented oil cooler: 20 tubes of 8 mm and 300 mm, face 300 × 150 mm.
AirCoreSpec<> cooler() {
  AirCoreSpec<> spec;
  spec.face_area = Area<>::from_value(0.045);
  spec.fan_speed = Velocity<>::from_value(3.0);
  spec.passage_bore = Length<>::from_value(0.008);
  spec.passage_length = Length<>::from_value(0.3);
  spec.inside_area = Area<>::from_value(20.0 * std::numbers::pi * 0.008 * 0.3);
  spec.enhancement = Ratio<>::from_value(3.0);
  spec.outside_conductance = ThermalConductance<>::from_value(120.0);
  spec.reference_speed = Velocity<>::from_value(3.0);
  return spec;
}

fluids::Liquid engine_oil() {
  fluids::OilSpec spec;
  spec.name = "invented oil";
  spec.viscosities = {{trade::celsius(40.0), 95.0 * trade::centistoke}, {trade::celsius(100.0), 14.0 * trade::centistoke}};
  return fluids::oil(spec);
}

double outlet(const Warming<>& warming, const Stream<>& stream) {
  return stream.inlet.value() + warming.heat.value() / stream.capacity_rate().value();
}

void fit(HeatElement& element, const AirCoreSpec<>& spec) {
  int i = 0;
  std::apply([&](const auto&... field) { (element.set_field(i++, (spec.*field.member).value()), ...); }, AirCoreSpec<>::fields());
}

}  // namespace

TEST_CASE("air core: a vehicle radiator of a textbook") {
  // Cengel, example 11-6: 40 tubes of 5 mm and 0.65 m, water 0.6 kg/s from 90 to 65 °C, air from 20 to 40 °C. U inside
  // 3347 W/(m² K) found with F 0.97 read from a chart: bound 1.5 %.
  double heat = 0.0, inside = 0.0;
  for (const auto& row : csv::read("hydraulics/heat_exchanger_examples.csv")) {
    if (row.text("case_id") != "HX12") continue;
    (row.text("result_name") == "heat rate" ? heat : inside) = row.number("published_value_SI");
  }
  REQUIRE(heat > 0.0);
  REQUIRE(inside > 0.0);
  const double area = 40.0 * std::numbers::pi * 0.005 * 0.65, conductance = inside * area;
  AirCoreSpec<> spec = cooler();
  spec.passage_bore = Length<>::from_value(0.005);
  spec.passage_length = Length<>::from_value(0.65);
  spec.inside_area = Area<>::from_value(area);
  spec.enhancement = Ratio<>::from_value(1.0);
  spec.still_speed = {};
  Stream<> water = stream_of(coolant, 0.6, 363.15, 350.65);
  water.heat.specific_heat = SpecificHeat<>::from_value(4195.0);
  water.heat.conductivity = ThermalConductivity<>::from_value(0.665);
  water.liquid.viscosity = DynamicViscosity<>::from_value(3.7e-4);
  const double film = Passages<>(spec.passage_bore, spec.passage_length, spec.inside_area, spec.enhancement).conductance(water);
  REQUIRE(film > conductance);
  // What is left for the outside, and the face that the air's heat asks for.
  const double per_area = AirCore<>(spec, around(20.0)).face().capacity_rate().value() / spec.face_area.value();
  spec.face_area = Area<>::from_value(heat / 20.0 / per_area);
  spec.reference_speed = Velocity<>::from_value(3.0 * AirCore<>(spec, around(20.0)).face().density().value() / reference_air_density);
  spec.outside_conductance = ThermalConductance<>::from_value(1.0 / (1.0 / conductance - 1.0 / film));
  const AirCore<> radiator(spec, around(20.0));
  CHECK(-radiator.warming(water).heat.value() == Approx(heat).epsilon(0.015));
  CHECK(radiator.air_outlet(water).value() == Approx(313.15).margin(0.3));
}

TEST_CASE("air core: what passes the film, the dirt and the fins, by hand") {
  auto spec = cooler();
  spec.fouling = Ratio<>::from_value(2e-4);
  spec.vehicle_speed = Velocity<>::from_value(20.0);
  spec.air_rise = TemperatureDifference<>::from_value(10.0);
  const AirCore<> core(spec, around(30.0));
  CHECK(core.face().speed().value() == Approx(std::sqrt(16.0 + 9.0 + 0.01)));
  CHECK(core.sink().value() == Approx(313.15));
  const auto stream = stream_of(oil, 0.12, 383.15, 373.15);
  const double area = 20.0 * std::numbers::pi * 0.008 * 0.3;
  // 20 tubes, each a twentieth of the flow.
  const double viscosity = stream.liquid.viscosity.value(), conductivity = stream.heat.conductivity.value();
  const double reynolds = 4.0 * 0.12 / 20.0 / (std::numbers::pi * 0.008 * viscosity);
  const double nusselt = correlations::tube_nusselt(reynolds, viscosity * stream.heat.specific_heat.value() / conductivity, 0.008 / 0.3, 1.0);
  const double film = 3.0 * nusselt * conductivity / 0.008 * area;
  const auto air = fluids::air_at(Temperature<>::from_value(313.15), AbsolutePressure<>::from_value(101325.0));
  const double speed = core.face().speed().value(), outside = 120.0 * std::pow(air.density.value() * speed / (1.204 * 3.0), 0.6);
  const double conductance = 1.0 / (1.0 / film + 2e-4 / area + 1.0 / outside);
  const double heat = correlations::heat_moved(correlations::Arrangement::cross_flow_unmixed, conductance, stream.capacity_rate().value(),
                                               air.density.value() * speed * 0.045 * air.specific_heat.value(), 383.15, 313.15);
  CHECK(core.warming(stream).heat.value() == Approx(-heat).epsilon(1e-12));
}

TEST_CASE("air core: neither stream leaves beyond where the other came from") {
  Dice dice;
  for (int i = 0; i < 2000; ++i) {
    auto spec = cooler();
    spec.fan_speed = Velocity<>::from_value(dice.over_decades(1e-3, 20.0));
    spec.outside_conductance = ThermalConductance<>::from_value(dice.over_decades(1.0, 1e5));
    const AirCore<> core(spec, around(dice.between(-30.0, 60.0)));
    const double inlet = dice.between(240.0, 420.0), air = core.sink().value();
    const auto stream = stream_of(i % 2 ? oil : coolant, dice.over_decades(1e-7, 5.0), inlet, dice.between(250.0, 410.0));
    const auto warming = core.warming(stream);
    const double out = outlet(warming, stream), behind = core.air_outlet(stream).value();
    REQUIRE(out >= std::min(inlet, air) - 1e-7);
    REQUIRE(out <= std::max(inlet, air) + 1e-7);
    REQUIRE(behind >= std::min(inlet, air) - 1e-7);
    REQUIRE(behind <= std::max(inlet, air) + 1e-7);
    REQUIRE(warming.mean_share >= 0.45);
    REQUIRE(warming.mean_share <= 1.0);
  }
}

TEST_CASE("air core: slopes against differences over random points, and finite at rest") {
  const auto element = network::make_heat_element("air core");
  Dice dice;
  double worst = 0.0;
  for (int i = 0; i < 300; ++i) {
    auto spec = cooler();
    spec.fan_speed = Velocity<>::from_value(dice.over_decades(0.1, 20.0));
    spec.outside_conductance = ThermalConductance<>::from_value(dice.over_decades(1.0, 1e5));
    fit(*element, spec);
    element->validate("the cooler");
    element->prepare(around(dice.between(-20.0, 50.0)));
    const Numbers stream{i % 2 ? &oil : &coolant, dice.over_decades(1e-5, 5.0), dice.between(280.0, 400.0), dice.between(280.0, 400.0)};
    worst = std::max(worst, slope_error(*element, {stream, stream}));
  }
  CHECK(worst < 3e-4);
  for (const double flow : {0.0, 1e-300, 1e-12, 1e3})
    for (const double mean : {200.0, 300.0, 1500.0}) {
      const Numbers stream{&oil, flow, 400.0, mean};
      INFO("flow " << flow << " mean " << mean);
      CHECK(finite(ask(*element, {stream, stream})));
    }
  const Numbers rest{&oil, 0.0, 400.0, 350.0};
  const auto still = ask(*element, {rest, rest});
  CHECK(still.heat.value == 0.0);
  // What little flows leaves at the air's temperature: heat rises by cp (T_air − T_in) per kg/s.
  CHECK(still.heat.by_flow[0] == Approx(oil.heat_at(350.0).specific_heat.value() * (element->sink() - 400.0)));
  CHECK(still.mean_share[0].value == Approx(1.0).margin(1e-6));
}

TEST_CASE("air core: laminar oil in long passages cools alike at any viscosity; turbulent it does not") {
  auto spec = cooler();
  const AirCore<> core(spec, around(20.0));
  auto stream = stream_of(oil, 0.05, 373.15, 363.15);
  const auto heat_at = [&](double viscosity) {
    stream.liquid.viscosity = DynamicViscosity<>::from_value(viscosity);
    return -core.warming(stream).heat.value();
  };
  CHECK(heat_at(0.04) == Approx(heat_at(0.4)).epsilon(1e-12));  // Graetz number holds no viscosity
  CHECK(heat_at(1e-4) > 1.2 * heat_at(0.04));
}

TEST_CASE("air core: with the fins as the bottleneck heat follows the face speed by its exponent, and the thin air of the mountains") {
  auto spec = cooler();
  spec.outside_conductance = ThermalConductance<>::from_value(1.0);  // far below both capacity rates
  spec.still_speed = Velocity<>::from_value(0.01);
  const auto stream = stream_of(coolant, 2.0, 363.15, 363.15);
  const auto heat = [&](double speed, double pascal) {
    spec.fan_speed = Velocity<>::from_value(speed);
    return -AirCore<>(spec, around(20.0, pascal)).warming(stream).heat.value();
  };
  CHECK(heat(8.0, 101325.0) / heat(4.0, 101325.0) == Approx(std::pow(2.0, 0.6)).epsilon(0.01));
  CHECK(heat(4.0, 80000.0) / heat(4.0, 101325.0) == Approx(std::pow(80.0 / 101.325, 0.6)).epsilon(0.01));
}

TEST_CASE("air core: a rating comes back from the core that was made from it") {
  const auto liquid = engine_oil();
  CoreRating rating;
  rating.heat = Power<>::from_value(5000.0);
  rating.liquid_flow = VolumeFlow<>::from_value(20e-3 / 60.0);
  rating.liquid_inlet = Temperature<>::from_value(383.15);
  rating.air_inlet = Temperature<>::from_value(298.15);
  rating.face_speed = Velocity<>::from_value(5.0);
  auto spec = cooler();
  spec.outside_conductance = outside_conductance_from_rating(spec, rating, liquid);
  spec.reference_speed = spec.fan_speed = rating.face_speed;
  spec.still_speed = {};
  const double density = liquid.at(rating.liquid_inlet, AbsolutePressure<>::from_value(101325.0)).density.value();
  const auto flow = MassFlow<>::from_value(density * 20e-3 / 60.0);
  const auto state = settled(AirCore<>(spec, around(25.0)), liquid, flow, rating.liquid_inlet);
  CHECK(-state.heat.value() == Approx(5000.0).epsilon(1e-9));
  CHECK(state.liquid_mean < rating.liquid_inlet);
  CHECK(state.liquid_outlet < state.liquid_mean);
  // The heat that the liquid loses is in the air.
  CHECK((state.air_outlet.value() - 298.15) * AirCore<>(spec, around(25.0)).face().capacity_rate().value() == Approx(5000.0));

  // Asked for more than the passages let through, it says how much that is; just below it finds fins for it.
  rating.heat = Power<>::from_value(50000.0);
  const auto words = complaint([&] { outside_conductance_from_rating(spec, rating, liquid); });
  CHECK_THAT(words, Catch::Contains("50000 W") && Catch::Contains("the most is") && Catch::Contains("rating: heat"));
  const double most = std::stod(words.substr(words.find("the most is") + 12));
  CHECK(most > 5000.0);
  rating.heat = Power<>::from_value(0.98 * most);
  CHECK(outside_conductance_from_rating(spec, rating, liquid).value() > spec.outside_conductance.value());
  rating.heat = Power<>::from_value(1.01 * most);
  CHECK_THAT(complaint([&] { outside_conductance_from_rating(spec, rating, liquid); }), Catch::Contains("the most is"));
  rating.heat = Power<>::from_value(-5.0);
  CHECK_THAT(complaint([&] { outside_conductance_from_rating(spec, rating, liquid); }), Catch::Contains("heat"));
  rating.heat = Power<>::from_value(0.01);
  CHECK_THAT(complaint([&] { outside_conductance_from_rating(spec, rating, liquid); }), Catch::Contains("hardly any fins"));
  rating = {.heat = Power<>::from_value(1.0), .liquid_flow = rating.liquid_flow, .liquid_inlet = rating.air_inlet,
            .air_inlet = rating.liquid_inlet, .face_speed = rating.face_speed};
  CHECK_THAT(complaint([&] { outside_conductance_from_rating(spec, rating, liquid); }), Catch::Contains("liquid_inlet"));
}

TEST_CASE("air core: slopes with a number of the core itself, as sensitivities ask") {
  const auto heat = [](auto outside) {
    using N = decltype(outside);
    auto spec = parts::lifted<AirCoreSpec, N>(cooler());
    spec.outside_conductance = ThermalConductance<N>::from_value(outside);
    return AirCore<N>(spec, around(20.0)).warming(stream_of(oil, 0.1, 373.15, 363.15)).heat.value();
  };
  const double difference = (heat(120.1) - heat(119.9)) / 0.2;
  CHECK(heat(Dual<1>(120.0, 0)).slope[0] == Approx(difference).epsilon(1e-5));
}

#include "flarenut/heat/liquid_exchanger.hpp"
#include "flarenut/heat/exchanger_rating.hpp"

#include <numbers>

#include "../csv.hpp"
#include "heat_checks.hpp"

using namespace heat_checks;

namespace {

/// An invented plate cooler: oil first, coolant second.
LiquidExchangerSpec<> plates(int arrangement = 0) {
  LiquidExchangerSpec<> spec;
  spec.first_bore = Length<>::from_value(0.004);
  spec.first_length = Length<>::from_value(0.15);
  spec.first_area = Area<>::from_value(0.2);
  spec.first_enhancement = Ratio<>::from_value(4.0);
  spec.second_bore = Length<>::from_value(0.005);
  spec.second_length = Length<>::from_value(0.15);
  spec.second_area = Area<>::from_value(0.18);
  spec.arrangement = Ratio<>::from_value(arrangement);
  return spec;
}

void fit(HeatElement& element, const LiquidExchangerSpec<>& spec) {
  int i = 0;
  std::apply([&](const auto&... field) { (element.set_field(i++, (spec.*field.member).value()), ...); }, LiquidExchangerSpec<>::fields());
}

double moved_heat(const LiquidExchangerSpec<>& spec, const Stream<>& first, const Stream<>& second) {
  return LiquidExchanger<>(spec, {}).exchange(first, second).heat.value();
}

}  // namespace

TEST_CASE("liquid exchanger: an engine-oil cooler of a textbook, oil in the ring and water in the tube") {
  // Incropera, example 11.1: oil 0.1 kg/s from 100 to 60 °C, water 0.2 kg/s from 30 °C in a tube of 25 mm in one of 45 mm, counterflow;
  // 65.9 m long. Its film in the ring is Nu 5.63 on 20 mm; the water's is beside the point. Bound 2 %: the book's water film is another law's.
  for (const auto& row : csv::read("hydraulics/heat_exchanger_examples.csv")) {
    if (row.text("case_id") != "HX07" || row.text("result_name") != "tube length") continue;
    const double length = row.number("published_value_SI");
    Stream<> hot = stream_of(oil, 0.1, 373.15, 353.15), cold = stream_of(coolant, 0.2, 303.15, 308.15);
    hot.heat.specific_heat = SpecificHeat<>::from_value(2131.0);
    hot.heat.conductivity = ThermalConductivity<>::from_value(0.138);
    hot.liquid.viscosity = DynamicViscosity<>::from_value(0.0325);
    cold.heat.specific_heat = SpecificHeat<>::from_value(4178.0);
    cold.heat.conductivity = ThermalConductivity<>::from_value(0.625);
    cold.liquid.viscosity = DynamicViscosity<>::from_value(7.25e-4);
    LiquidExchangerSpec<> spec;
    spec.first_bore = Length<>::from_value(0.020);
    spec.first_length = spec.second_length = Length<>::from_value(length);
    spec.first_area = spec.second_area = Area<>::from_value(std::numbers::pi * 0.025 * length);
    spec.second_bore = Length<>::from_value(0.025);
    // The ring's film as the book has it.
    const double plain = Passages<>(spec.first_bore, spec.first_length, spec.first_area, Ratio<>::from_value(1.0)).conductance(hot);
    spec.first_enhancement = Ratio<>::from_value(5.63 * 0.138 / 0.020 * spec.first_area.value() / plain);
    CHECK(moved_heat(spec, hot, cold) == Approx(0.1 * 2131.0 * 40.0).epsilon(0.02));
    return;
  }
  FAIL("the example is missing");
}

TEST_CASE("liquid exchanger: by hand, film, wall and film in a row") {
  auto spec = plates();
  spec.wall_resistance = Ratio<>::from_value(2e-4);
  const auto hot = stream_of(oil, 0.3, 383.15, 375.15), cold = stream_of(coolant, 0.5, 353.15, 356.15);
  const auto film = [](const Stream<>& stream, double bore, double length, double area) {
    const double viscosity = stream.liquid.viscosity.value(), conductivity = stream.heat.conductivity.value();
    const double reynolds = 4.0 * stream.flow.value() / (area / length * viscosity);
    return correlations::tube_nusselt(reynolds, viscosity * stream.heat.specific_heat.value() / conductivity, bore / length, 1.0) *
           conductivity / bore * area;
  };
  const double conductance = 1.0 / (1.0 / (4.0 * film(hot, 0.004, 0.15, 0.2)) + 2e-4 + 1.0 / film(cold, 0.005, 0.15, 0.18));
  for (int i = 0; i < 7; ++i) {
    spec.arrangement = Ratio<>::from_value(i);
    CHECK(moved_heat(spec, hot, cold) == Approx(correlations::heat_moved(static_cast<correlations::Arrangement>(i), conductance,
                                                                   hot.capacity_rate().value(), cold.capacity_rate().value(), 383.15, 353.15))
                                       .epsilon(1e-12));
  }
}

TEST_CASE("liquid exchanger: counterflow turns parallel when one stream runs backwards, and back when both do") {
  const auto hot = stream_of(oil, 0.3, 383.15, 375.15), cold = stream_of(coolant, 0.1, 353.15, 360.15);
  auto hot_back = hot, cold_back = cold;
  hot_back.forward = cold_back.forward = false;
  CHECK(moved_heat(plates(0), hot, cold) > moved_heat(plates(1), hot, cold));
  CHECK(moved_heat(plates(0), hot_back, cold) == moved_heat(plates(1), hot, cold));
  CHECK(moved_heat(plates(0), hot, cold_back) == moved_heat(plates(1), hot, cold));
  CHECK(moved_heat(plates(0), hot_back, cold_back) == moved_heat(plates(0), hot, cold));
  CHECK(moved_heat(plates(1), hot_back, cold) == moved_heat(plates(0), hot, cold));
  CHECK(moved_heat(plates(2), hot_back, cold) == moved_heat(plates(2), hot, cold));
}

TEST_CASE("liquid exchanger: no outlet passes the other's inlet, and the mean lies between") {
  Dice dice;
  for (int i = 0; i < 3000; ++i) {
    const LiquidExchanger<> exchanger(plates(i % 7), {});
    const double a = dice.between(260.0, 420.0), b = dice.between(260.0, 420.0);
    const auto first = stream_of(oil, dice.over_decades(1e-7, 5.0), a, dice.between(280.0, 400.0), i % 3 == 0);
    const auto second = stream_of(coolant, dice.over_decades(1e-7, 5.0), b, dice.between(280.0, 400.0));
    const auto moved = exchanger.exchange(first, second);
    const double first_out = a - moved.heat.value() / first.capacity_rate().value();
    const double second_out = b + moved.heat.value() / second.capacity_rate().value();
    for (const double out : {first_out, second_out}) {
      REQUIRE(out >= std::min(a, b) - 1e-7);
      REQUIRE(out <= std::max(a, b) + 1e-7);
    }
    for (const double share : {moved.first_mean_share, moved.second_mean_share}) {
      REQUIRE(share >= 0.0);
      REQUIRE(share <= 1.0);
    }
  }
}

TEST_CASE("liquid exchanger: slopes against differences in both streams, in every arrangement") {
  const auto element = network::make_heat_element("liquid exchanger");
  CHECK(element->streams() == 2);
  CHECK(std::isnan([&] { element->prepare({}); return element->sink(); }()));
  Dice dice;
  double worst = 0.0;
  for (int i = 0; i < 280; ++i) {
    fit(*element, plates(i % 7));
    element->validate("the cooler");
    element->prepare(around(20.0));
    const Numbers first{&oil, dice.over_decades(1e-4, 3.0), dice.between(280.0, 400.0), dice.between(280.0, 400.0)};
    const Numbers second{&coolant, dice.over_decades(1e-4, 3.0), dice.between(280.0, 400.0), dice.between(280.0, 400.0), i % 2 == 0};
    const double error = slope_error(*element, {first, second});
    INFO("arrangement " << i % 7 << " flows " << first.flow << " " << second.flow);
    CHECK(error < 2e-3);
    worst = std::max(worst, error);
  }
}

TEST_CASE("liquid exchanger: finite where one stream rests, or both") {
  const auto element = network::make_heat_element("liquid exchanger");
  for (int arrangement = 0; arrangement < 7; ++arrangement) {
    fit(*element, plates(arrangement));
    element->prepare(around(20.0));
    for (const double one : {0.0, 1e-300, 1e-12, 1e-3, 10.0})
      for (const double other : {0.0, 1e-300, 1e-12, 1e-3, 10.0}) {
        INFO("arrangement " << arrangement << " flows " << one << " and " << other);
        const auto all = ask(*element, {Numbers{&oil, one, 390.0, 370.0}, Numbers{&coolant, other, 350.0, 355.0}});
        CHECK(finite(all));
        if (one == 0.0 || other == 0.0) CHECK(all.heat.value == 0.0);
        for (int s = 0; s < 2; ++s) CHECK(std::abs(all.mean_share[0].by_flow[static_cast<std::size_t>(s)]) < 1e7);
      }
  }
}

TEST_CASE("liquid exchanger: an arrangement that is no whole number is refused") {
  auto spec = plates();
  spec.arrangement = Ratio<>::from_value(1.5);
  CHECK_THAT(complaint([&] { parts::validate("the cooler", spec); }), Catch::Contains("arrangement") && Catch::Contains("whole number"));
}

namespace {

/// 6 kW from oil at 20 L/min and 120 °C to coolant at 40 L/min and 85 °C.
ExchangerRating rated() {
  ExchangerRating rating;
  rating.heat = Power<>::from_value(6000.0);
  rating.first_flow = VolumeFlow<>::from_value(20e-3 / 60.0);
  rating.second_flow = VolumeFlow<>::from_value(40e-3 / 60.0);
  rating.first_inlet = Temperature<>::from_value(393.15);
  rating.second_inlet = Temperature<>::from_value(358.15);
  rating.first_share = 0.7;
  return rating;
}

fluids::Liquid plain_liquid(double density, double viscosity, double specific_heat, double conductivity) {
  fluids::ConstantLiquidSpec spec;
  spec.name = "plain";
  spec.density = Density<>::from_value(density);
  spec.viscosity = DynamicViscosity<>::from_value(viscosity);
  spec.specific_heat = SpecificHeat<>::from_value(specific_heat);
  spec.conductivity = ThermalConductivity<>::from_value(conductivity);
  return fluids::constant_liquid(spec);
}

LiquidExchangerSpec<> unfinished() {
  LiquidExchangerSpec<> spec = plates();
  spec.first_area = spec.second_area = {};
  return spec;
}

}  // namespace

TEST_CASE("liquid exchanger: one made from a rating gives it back, with its resistance shared out as asked") {
  const auto oil_like = plain_liquid(850.0, 0.012, 2100.0, 0.13), water_like = plain_liquid(1000.0, 0.0006, 3700.0, 0.45);
  const auto rating = rated();
  for (int arrangement : {0, 1, 2, 6}) {
    for (bool by_area : {false, true}) {
      auto spec = unfinished();
      spec.arrangement = Ratio<>::from_value(arrangement);
      if (by_area) spec.first_area = spec.second_area = Area<>::from_value(0.2);
      const auto made = exchanger_by_rating(spec, rating, oil_like, water_like);
      Stream<> hot = stream_of(oil, 850.0 * rating.first_flow.value(), 393.15, 393.15);
      Stream<> cold = stream_of(coolant, 1000.0 * rating.second_flow.value(), 358.15, 358.15);
      hot.liquid = oil_like.at(hot.inlet, AbsolutePressure<>::from_value(101325.0));
      hot.heat = oil_like.heat_at(hot.inlet, AbsolutePressure<>::from_value(101325.0));
      cold.liquid = water_like.at(cold.inlet, AbsolutePressure<>::from_value(101325.0));
      cold.heat = water_like.heat_at(cold.inlet, AbsolutePressure<>::from_value(101325.0));
      INFO("arrangement " << arrangement << (by_area ? ", areas given" : ", areas found"));
      CHECK(moved_heat(made, hot, cold) == Approx(6000.0).epsilon(1e-9));
      const double inside = Passages<>(made.first_bore, made.first_length, made.first_area, made.first_enhancement).conductance(hot);
      const double outside = Passages<>(made.second_bore, made.second_length, made.second_area, made.second_enhancement).conductance(cold);
      CHECK((1.0 / inside) / (1.0 / inside + 1.0 / outside) == Approx(0.7).epsilon(1e-9));
      CHECK(made.wall_resistance.value() == 0.0);
      // By the closed form: counterflow, from heat per degree to UA.
      if (arrangement == 0) {
        const double c1 = 850.0 * 20e-3 / 60.0 * 2100.0, c2 = 1000.0 * 40e-3 / 60.0 * 3700.0, e = 6000.0 / 35.0 / c1, r = c1 / c2;
        CHECK(1.0 / (1.0 / inside + 1.0 / outside) == Approx(c1 * std::log((1.0 - e * r) / (1.0 - e)) / (1.0 - r)).epsilon(1e-9));
      }
    }
  }
}

TEST_CASE("liquid exchanger: a rating that warms the first stream is a rating, too") {
  const auto oil_like = plain_liquid(850.0, 0.012, 2100.0, 0.13), water_like = plain_liquid(1000.0, 0.0006, 3700.0, 0.45);
  auto turned = rated();
  std::swap(turned.first_inlet, turned.second_inlet);  // liquids that change with nothing: the same exchanger
  const auto one = exchanger_by_rating(unfinished(), rated(), oil_like, water_like);
  const auto other = exchanger_by_rating(unfinished(), turned, oil_like, water_like);
  CHECK(other.first_area.value() == Approx(one.first_area.value()).epsilon(1e-9));
  CHECK(other.second_enhancement.value() == Approx(one.second_enhancement.value()).epsilon(1e-9));
  // Nobody said an area: the oil needs it with its enhancement of 4 as given, and the other side has the same.
  CHECK(one.first_enhancement.value() == Approx(4.0).epsilon(1e-9));
  CHECK(one.second_area.value() == one.first_area.value());
}

TEST_CASE("liquid exchanger: a rating of more than streams or passages can do is refused by its field") {
  const auto oil_like = plain_liquid(850.0, 0.012, 2100.0, 0.13), water_like = plain_liquid(1000.0, 0.0006, 3700.0, 0.45);
  const auto words = [&](const ExchangerRating& rating, const LiquidExchangerSpec<>& spec) {
    return complaint([&] { exchanger_by_rating(spec, rating, oil_like, water_like); });
  };
  auto rating = rated();
  rating.heat = Power<>::from_value(50e3);
  CHECK_THAT(words(rating, unfinished()), Catch::Contains("rating: heat") && Catch::Contains("50000 W") && Catch::Contains("carries up to"));
  rating.heat = Power<>::from_value(-1.0);
  CHECK_THAT(words(rating, unfinished()), Catch::Contains("rating: heat"));
  rating = rated();
  rating.second_inlet = rating.first_inlet;
  CHECK_THAT(words(rating, unfinished()), Catch::Contains("same temperature"));
  rating = rated();
  rating.first_share = 1.0;
  CHECK_THAT(words(rating, unfinished()), Catch::Contains("first_share"));
  auto huge = unfinished();
  huge.first_area = Area<>::from_value(100.0);
  CHECK_THAT(words(rated(), huge), Catch::Contains("first_side") && Catch::Contains("times as well"));
}

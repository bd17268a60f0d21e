// Cores made from a rating where nobody knows their passages: shares by resistances in series, ratings that come back, fouling by hand.
#include "flarenut/heat/core_rating.hpp"

#include <numbers>

#include "heat_checks.hpp"

using namespace heat_checks;

namespace {

constexpr double litre_per_minute = 1e-3 / 60.0;

fluids::Liquid engine_oil() {
  fluids::OilSpec spec;
  spec.name = "invented oil";
  spec.viscosities = {{trade::celsius(40.0), 95.0 * trade::centistoke}, {trade::celsius(100.0), 14.0 * trade::centistoke}};
  return fluids::oil(spec);
}

/// About water at 90 °C (from memory).
fluids::Liquid hot_water() {
  fluids::ConstantLiquidSpec spec;
  spec.density = Density<>::from_value(965.0);
  spec.viscosity = DynamicViscosity<>::from_value(3.1e-4);
  spec.specific_heat = SpecificHeat<>::from_value(4200.0);
  spec.conductivity = ThermalConductivity<>::from_value(0.675);
  return fluids::constant_liquid(spec);
}

struct Rated {
  const char* name;
  fluids::Liquid liquid;
  double face, watts, litres, inlet_celsius, air_celsius, speed;
};

std::vector<Rated> invented() {
  return {{"oil cooler", engine_oil(), 0.057, 9e3, 20.0, 110.0, 35.0, 5.0},
          {"small oil cooler", engine_oil(), 0.012, 2e3, 20.0, 110.0, 35.0, 5.0},
          {"water cooled as the oil", hot_water(), 0.057, 9e3, 20.0, 90.0, 35.0, 5.0},
          {"radiator", hot_water(), 0.24, 60e3, 120.0, 95.0, 35.0, 6.0}};
}

CoreRating rating_of(const Rated& one) {
  CoreRating rating;
  rating.heat = Power<>::from_value(one.watts);
  rating.liquid_flow = VolumeFlow<>::from_value(one.litres * litre_per_minute);
  rating.liquid_inlet = trade::celsius(one.inlet_celsius);
  rating.air_inlet = trade::celsius(one.air_celsius);
  rating.face_speed = Velocity<>::from_value(one.speed);
  return rating;
}

AirCoreSpec<> shape_of(const Rated& one) {
  AirCoreSpec<> spec;
  spec.face_area = Area<>::from_value(one.face);
  spec.passage_bore = Length<>::from_value(0.003);
  spec.passage_length = Length<>::from_value(0.3);
  return spec;
}

/// The core in the air of its rating, and what it does there.
struct AtRating {
  AirCoreSpec<> spec;
  Surroundings air;
  CoreState state;
  double inside, outside, flow;  ///< W/K; kg/s

  AtRating(const AirCoreSpec<>& made, const Rated& one) : spec(made), air(around(one.air_celsius)) {
    const CoreRating rating = rating_of(one);
    spec.fan_speed = rating.face_speed;
    spec.still_speed = {};
    const auto pressure = AbsolutePressure<>::from_value(101325.0);
    flow = rating.liquid_flow.value() * one.liquid.at(rating.liquid_inlet, pressure).density.value();
    state = settled(AirCore<>(spec, air), one.liquid, MassFlow<>::from_value(flow), rating.liquid_inlet);
    Stream<> stream;
    stream.flow = MassFlow<>::from_value(flow);
    stream.inlet = rating.liquid_inlet;
    stream.liquid = one.liquid.at(state.liquid_mean, pressure);
    stream.heat = one.liquid.heat_at(state.liquid_mean, pressure);
    inside = Passages<>(spec.passage_bore, spec.passage_length, spec.inside_area, spec.enhancement).conductance(stream);
    const AirFace<> face(spec, air);
    outside = spec.outside_conductance.value() * std::pow(face.density().value() / reference_air_density, spec.speed_exponent.value());
  }
};

}  // namespace

TEST_CASE("core by its rating: the passages hold the share asked for, and the rating comes back") {
  for (const Rated& one : invented())
    for (const double share : {0.1, 0.2, 0.35, 0.5, 0.7}) {
      INFO(one.name << ", share " << share);
      const auto made = core_by_inside_share(shape_of(one), rating_of(one), one.liquid, share);
      const AtRating at(made, one);
      CHECK((1.0 / at.inside) / (1.0 / at.inside + 1.0 / at.outside) == Approx(share).epsilon(1e-6));
      CHECK(-at.state.heat.value() == Approx(one.watts).epsilon(1e-9));
      // A core that can be: wetted area by the face, passages that do no wonders.
      CHECK(made.inside_area.value() >= least_wetted_per_face * one.face * 0.999);
      CHECK(made.inside_area.value() <= most_wetted_per_face * one.face * 1.001);
      CHECK(made.enhancement.value() >= 0.2);
      CHECK(made.enhancement.value() <= 20.0);
    }
}

TEST_CASE("core by its rating: an ordinary oil cooler has the usual area, and passages as good as turbulators make them") {
  const Rated one = invented()[0];
  const auto made = core_by_inside_share(shape_of(one), rating_of(one), one.liquid, 0.5);
  CHECK(made.inside_area.value() == Approx(wetted_per_face * one.face).epsilon(1e-12));
  // 2 to 5 times as good as plain bores (common practice, no source), with a judged share and area: within a factor of two of that.
  CHECK(made.enhancement.value() > 1.0);
  CHECK(made.enhancement.value() < 10.0);
  const double passages = made.inside_area.value() / (std::numbers::pi * 0.003 * 0.3);
  CHECK(passages > 50.0);
  CHECK(passages < 300.0);
}

TEST_CASE("core by its rating: the smaller their share, the better the passages, step by step") {
  for (const Rated& one : invented()) {
    double last = 1e300;
    for (const double share : {0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7}) {
      INFO(one.name << ", share " << share);
      const auto made = core_by_inside_share(shape_of(one), rating_of(one), one.liquid, share);
      const double inside = AtRating(made, one).inside;
      CHECK(inside < last);
      last = inside;
    }
  }
}

TEST_CASE("core by its rating: the rating is of a clean core, and fouling comes on top") {
  for (const bool by_share : {true, false}) {
    const Rated one = invented()[0];
    auto shape = shape_of(one);
    shape.inside_area = Area<>::from_value(0.4);
    shape.enhancement = Ratio<>::from_value(3.0);
    const auto make = [&](double fouling) {
      shape.fouling = Ratio<>::from_value(fouling);
      if (by_share) return core_by_inside_share(shape, rating_of(one), one.liquid, 0.5);
      auto made = shape;
      made.outside_conductance = outside_conductance_from_rating(shape, rating_of(one), one.liquid);
      made.reference_speed = rating_of(one).face_speed;
      return made;
    };
    const auto clean = make(0.0), dirty = make(4e-4), filthy = make(0.02);
    CHECK(dirty.inside_area == clean.inside_area);
    CHECK(dirty.enhancement == clean.enhancement);
    CHECK(dirty.outside_conductance == clean.outside_conductance);
    CHECK(dirty.fouling.value() == 4e-4);
    const AtRating at(clean, one), with(dirty, one);
    CHECK(-at.state.heat.value() == Approx(one.watts).epsilon(1e-9));
    // By hand, at the liquid's own mean: the dirt stands in series.
    const double whole = 1.0 / (1.0 / with.inside + 4e-4 / clean.inside_area.value() + 1.0 / with.outside);
    const double capacity = with.flow * one.liquid.heat_at(with.state.liquid_mean, AbsolutePressure<>::from_value(101325.0)).specific_heat.value();
    const auto moved = correlations::exchange(correlations::Arrangement::cross_flow_unmixed, whole, capacity, AirFace<>(with.spec, with.air).capacity_rate().value());
    CHECK(-with.state.heat.value() == Approx(moved.heat_per_inlet_difference * 75.0).epsilon(1e-8));
    CHECK(-with.state.heat.value() < 0.97 * one.watts);
    CHECK(-AtRating(filthy, one).state.heat.value() < 0.5 * one.watts);
  }
}

TEST_CASE("core by its rating: where the usual area would ask too much or too little of the passages, it gives way") {
  const auto core = [](double watts, double share) {
    Rated one = invented()[0];
    one.watts = watts;
    return core_by_inside_share(shape_of(one), rating_of(one), one.liquid, share);
  };
  const auto large = core(9e3, 0.05), small = core(600.0, 0.5);
  CHECK(large.inside_area.value() > 1.05 * wetted_per_face * 0.057);
  CHECK(large.enhancement.value() == Approx(20.0).epsilon(0.05));
  CHECK(small.inside_area.value() < 0.95 * wetted_per_face * 0.057);
  CHECK(small.enhancement.value() == Approx(0.2).epsilon(0.05));
}

TEST_CASE("core by its rating: what no passages do is refused with the numbers") {
  const auto refused = [](double watts, double share) {
    Rated one = invented()[0];
    one.watts = watts;
    return complaint([&] { core_by_inside_share(shape_of(one), rating_of(one), one.liquid, share); });
  };
  CHECK_THAT(refused(5.0, 0.5), Catch::Contains("inside_share") && Catch::Contains("0.399 m2") && Catch::Contains("7 times the face") &&
                                    Catch::Contains("0.2 to 20; give the passages a smaller share"));
  CHECK_THAT(refused(15e3, 0.01), Catch::Contains("inside_share") && Catch::Contains("times as well") && Catch::Contains("a larger share"));
  CHECK_THAT(refused(60e3, 0.5), Catch::Contains("more than the rated flows can carry"));
  CHECK_THAT(refused(9e3, 1.2), Catch::Contains("inside_share"));
  auto shape = shape_of(invented()[0]);
  shape.face_area = {};
  CHECK_THAT(complaint([&] { core_by_inside_share(shape, rating_of(invented()[0]), engine_oil(), 0.5); }), Catch::Contains("face_area"));
}

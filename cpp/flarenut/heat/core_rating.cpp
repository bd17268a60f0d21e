#include "flarenut/heat/core_rating.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

namespace flarenut::heat {
namespace {

constexpr double most_conductance = 1e9, least_conductance = 1e-3;  // [W/K]
constexpr double least_enhancement = 0.2, most_enhancement = 20.0;     // of a passage that is found (judgement)

[[noreturn]] void refuse(std::string_view field, const std::ostringstream& trouble) { throw InputError("rating", field, trouble.str()); }

void require_above(std::string_view field, double value, double least, const char* unit) {
  if (std::isfinite(value) && value > least) return;
  std::ostringstream trouble;
  trouble << value << ' ' << unit << " is not above " << least << ' ' << unit << "; check it and its unit";
  refuse(field, trouble);
}

void require_rating(const CoreRating& rating) {
  require_above("heat", rating.heat.value(), 0.0, "W");
  require_above("liquid_flow", rating.liquid_flow.value(), 0.0, "m3/s");
  require_above("face_speed", rating.face_speed.value(), 0.0, "m/s");
  require_above("liquid_inlet", rating.liquid_inlet.value(), rating.air_inlet.value(), "K");
}

void require_shape(const AirCoreSpec<>& core) {
  parts::require_in_range("core", "face_area", core.face_area.value(), 1e-4, 10.0, "m2");
  parts::require_in_range("core", "passage_bore", core.passage_bore.value(), 1e-4, 0.1, "m");
  parts::require_in_range("core", "passage_length", core.passage_length.value(), 1e-3, 100.0, "m");
}

/// The core on the bench of its rating: clean, in the rating's air alone.
AirCoreSpec<> at_rating(AirCoreSpec<> core, const CoreRating& rating) {
  core.vehicle_speed = core.still_speed = {};
  core.air_rise = {};
  core.fouling = {};
  core.fan_speed = core.reference_speed = rating.face_speed;
  return core;
}

/// 1/(resistance) of the whole core [W/K] that gives the rating, with the liquid left in `stream` at its settled mean temperature.
double settled_conductance(const AirCoreSpec<>& core, const CoreRating& rating, const fluids::Liquid& liquid, Stream<>& stream) {
  const auto pressure = AbsolutePressure<>::from_value(fluids::standard_sea_level_pressure_pascal);
  const double air_rate = AirFace<>(core, {rating.air_inlet, rating.air_pressure}).capacity_rate().value();
  const double difference = rating.liquid_inlet.value() - rating.air_inlet.value(), per_degree = rating.heat.value() / difference;
  constexpr auto arrangement = correlations::Arrangement::cross_flow_unmixed;
  stream.flow = rating.liquid_flow * liquid.at(rating.liquid_inlet, pressure).density;
  stream.inlet = rating.liquid_inlet;
  double mean = rating.liquid_inlet.value(), whole = 0.0;
  for (int turn = 0; turn < 100; ++turn) {
    stream.liquid = liquid.at(Temperature<>::from_value(mean), pressure);
    stream.heat = liquid.heat_at(Temperature<>::from_value(mean), pressure);
    const double liquid_rate = stream.capacity_rate().value();
    try {
      whole = correlations::conductance_from_heat(arrangement, per_degree, liquid_rate, air_rate);
    } catch (const InputError&) {
      std::ostringstream trouble;
      trouble << rating.heat.value() << " W is more than the rated flows can carry over " << difference << " K: the liquid carries up to "
              << liquid_rate * difference << " W, the air " << air_rate * difference << " W. Check heat, flows and temperatures";
      refuse("heat", trouble);
    }
    const auto shares = correlations::cross_mean_shares(whole, correlations::exchange(arrangement, whole, liquid_rate, air_rate));
    const double moved = rating.liquid_inlet.value() - shares.first * rating.heat.value() / liquid_rate - mean;
    mean += moved;
    if (std::abs(moved) < 1e-10) break;
  }
  return whole;
}

/// Wetted area and enhancement of passages that hand over `wanted` [W/K]. h A is in proportion to the enhancement, and no such thing of the
/// area: of more passages each is slower, and where it turns laminar they all together give less.
void fit_passages(AirCoreSpec<>& core, const Stream<>& stream, double wanted) {
  const double face = core.face_area.value();
  const auto needed = [&](double per_face) {
    const auto area = Area<>::from_value(per_face * face);
    return wanted / Passages<>(core.passage_bore, core.passage_length, area, Ratio<>::from_value(1.0)).conductance(stream);
  };
  const auto sane = [](double enhancement) { return enhancement >= least_enhancement && enhancement <= most_enhancement; };
  const double usual = needed(wetted_per_face), step = usual > most_enhancement ? 1.02 : 1.0 / 1.02;
  const double end = usual > most_enhancement ? most_wetted_per_face : least_wetted_per_face;
  double per_face = wetted_per_face, enhancement = usual;
  while (!sane(enhancement) && per_face != end) {
    per_face = std::clamp(per_face * step, least_wetted_per_face, most_wetted_per_face);
    enhancement = needed(per_face);
  }
  if (!sane(enhancement)) {
    std::ostringstream trouble;
    trouble << "asks passages for " << wanted << " W/K: with " << wetted_per_face * face << " m2 wetted, " << wetted_per_face
            << " times the face, they would have to do " << usual << " times as well as plain bores, with " << per_face * face << " m2 " << enhancement
            << " times, outside " << least_enhancement << " to " << most_enhancement
            << "; give the passages a " << (usual > most_enhancement ? "larger" : "smaller")
            << " share of the resistance, which is about 20 % of a radiator and 50 % of an oil cooler, or check rating and face";
    refuse("inside_share", trouble);
  }
  core.inside_area = Area<>::from_value(per_face * face);
  core.enhancement = Ratio<>::from_value(enhancement);
}

}  // namespace

CoreState settled(const AirCore<>& core, const fluids::Liquid& liquid, MassFlow<> flow, Temperature<> inlet) {
  const auto pressure = AbsolutePressure<>::from_value(fluids::standard_sea_level_pressure_pascal);
  Stream<> stream;
  stream.flow = flow;
  stream.inlet = inlet;
  CoreState state;
  state.liquid_mean = inlet;
  for (int turn = 0; turn < 100; ++turn) {
    stream.liquid = liquid.at(state.liquid_mean, pressure);
    stream.heat = liquid.heat_at(state.liquid_mean, pressure);
    const auto warming = core.warming(stream);
    const double change = warming.heat.value() / stream.capacity_rate().value();
    const double mean = inlet.value() + warming.mean_share * change, moved = std::abs(mean - state.liquid_mean.value());
    state = {warming.heat, Temperature<>::from_value(mean), Temperature<>::from_value(inlet.value() + change), core.air_outlet(stream)};
    if (moved < 1e-10) break;
  }
  return state;
}

ThermalConductance<> outside_conductance_from_rating(const AirCoreSpec<>& core, const CoreRating& rating, const fluids::Liquid& liquid) {
  require_rating(rating);
  require_shape(core);
  parts::require_in_range("core", "inside_area", core.inside_area.value(), 1e-4, 100.0, "m2");
  AirCoreSpec<> tried = at_rating(core, rating);

  const auto pressure = AbsolutePressure<>::from_value(fluids::standard_sea_level_pressure_pascal);
  const MassFlow<> flow = rating.liquid_flow * liquid.at(rating.liquid_inlet, pressure).density;
  const auto heat_given = [&](double conductance) {
    tried.outside_conductance = ThermalConductance<>::from_value(conductance);
    return -settled(AirCore<>(tried, {rating.air_inlet, rating.air_pressure}), liquid, flow, rating.liquid_inlet).heat.value();
  };

  const double wanted = rating.heat.value(), most = heat_given(most_conductance);
  if (wanted >= most * (1.0 - 1e-6)) {
    std::ostringstream trouble;
    trouble << wanted << " W is more than this core can give at the rated flows, however good its fins: the most is " << most
            << " W. Check heat, flow and temperatures, or raise the passages' area or enhancement";
    refuse("heat", trouble);
  }
  if (const double least = heat_given(least_conductance); wanted <= least) {
    std::ostringstream trouble;
    trouble << wanted << " W is less than this core gives with hardly any fins, " << least << " W. Check heat and its unit";
    refuse("heat", trouble);
  }
  double low = std::log(least_conductance), high = std::log(most_conductance);
  for (int turn = 0; turn < 200 && high - low > 1e-13; ++turn) {
    const double middle = 0.5 * (low + high);
    (heat_given(std::exp(middle)) < wanted ? low : high) = middle;
  }
  return ThermalConductance<>::from_value(std::exp(0.5 * (low + high)));
}

AirCoreSpec<> core_by_inside_share(const AirCoreSpec<>& core, const CoreRating& rating, const fluids::Liquid& liquid, double inside_share) {
  require_rating(rating);
  parts::require_in_range("rating", "inside_share", inside_share, 0.01, 0.99, "");
  AirCoreSpec<> made = at_rating(core, rating);
  require_shape(made);
  Stream<> stream;
  const double whole = settled_conductance(made, rating, liquid, stream);
  fit_passages(made, stream, whole / inside_share);
  made.outside_conductance = outside_conductance_from_rating(made, rating, liquid);
  made.vehicle_speed = core.vehicle_speed;
  made.still_speed = core.still_speed;
  made.air_rise = core.air_rise;
  made.fan_speed = core.fan_speed;
  made.fouling = core.fouling;
  return made;
}

}  // namespace flarenut::heat

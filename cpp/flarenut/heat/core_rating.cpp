#include "flarenut/heat/core_rating.hpp"

#include <cmath>
#include <sstream>

namespace flarenut::heat {
namespace {

constexpr double most_conductance = 1e9, least_conductance = 1e-3;  // [W/K]

[[noreturn]] void refuse(std::string_view field, const std::ostringstream& trouble) { throw InputError("rating", field, trouble.str()); }

void require_above(std::string_view field, double value, double least, const char* unit) {
  if (std::isfinite(value) && value > least) return;
  std::ostringstream trouble;
  trouble << value << ' ' << unit << " is not above " << least << ' ' << unit << "; check it and its unit";
  refuse(field, trouble);
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
  require_above("heat", rating.heat.value(), 0.0, "W");
  require_above("liquid_flow", rating.liquid_flow.value(), 0.0, "m3/s");
  require_above("face_speed", rating.face_speed.value(), 0.0, "m/s");
  require_above("liquid_inlet", rating.liquid_inlet.value(), rating.air_inlet.value(), "K");
  AirCoreSpec<> tried = core;
  tried.vehicle_speed = tried.still_speed = {};
  tried.air_rise = {};
  tried.fan_speed = tried.reference_speed = rating.face_speed;
  tried.outside_conductance = ThermalConductance<>::from_value(1.0);
  parts::require_in_range("core", "face_area", core.face_area.value(), 1e-4, 10.0, "m2");
  parts::require_in_range("core", "passage_bore", core.passage_bore.value(), 1e-4, 0.1, "m");
  parts::require_in_range("core", "passage_length", core.passage_length.value(), 1e-3, 100.0, "m");
  parts::require_in_range("core", "inside_area", core.inside_area.value(), 1e-4, 100.0, "m2");

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
  double low = std::log(least_conductance), high = std::log(most_conductance);
  for (int turn = 0; turn < 200 && high - low > 1e-13; ++turn) {
    const double middle = 0.5 * (low + high);
    (heat_given(std::exp(middle)) < wanted ? low : high) = middle;
  }
  return ThermalConductance<>::from_value(std::exp(0.5 * (low + high)));
}

AirCoreSpec<> core_by_inside_share(const AirCoreSpec<>& core, const CoreRating& rating, const fluids::Liquid& liquid, double inside_share) {
  require_above("heat", rating.heat.value(), 0.0, "W");
  require_above("liquid_flow", rating.liquid_flow.value(), 0.0, "m3/s");
  require_above("face_speed", rating.face_speed.value(), 0.0, "m/s");
  require_above("liquid_inlet", rating.liquid_inlet.value(), rating.air_inlet.value(), "K");
  parts::require_in_range("rating", "inside_share", inside_share, 0.01, 0.99, "");
  const auto pressure = AbsolutePressure<>::from_value(fluids::standard_sea_level_pressure_pascal);
  Stream<> stream;
  stream.flow = rating.liquid_flow * liquid.at(rating.liquid_inlet, pressure).density;
  stream.inlet = rating.liquid_inlet;
  const double cooled = rating.heat.value() / (stream.flow.value() * liquid.heat_at(rating.liquid_inlet, pressure).specific_heat.value());
  const auto mean = Temperature<>::from_value(std::max(rating.liquid_inlet.value() - 0.5 * cooled, rating.air_inlet.value()));
  stream.liquid = liquid.at(mean, pressure);
  stream.heat = liquid.heat_at(mean, pressure);

  AirCoreSpec<> made = core;
  made.vehicle_speed = made.still_speed = {};
  made.air_rise = {};
  made.fan_speed = made.reference_speed = rating.face_speed;
  const AirFace<> face(made, {rating.air_inlet, rating.air_pressure});
  const double difference = rating.liquid_inlet.value() - rating.air_inlet.value(), per_degree = rating.heat.value() / difference;
  const double liquid_rate = stream.capacity_rate().value(), air_rate = face.capacity_rate().value();
  double whole;
  try {
    whole = correlations::conductance_from_heat(correlations::Arrangement::cross_flow_unmixed, per_degree, liquid_rate, air_rate);
  } catch (const InputError&) {
    std::ostringstream trouble;
    trouble << rating.heat.value() << " W is more than the rated flows can carry over " << difference << " K: the liquid carries up to "
            << liquid_rate * difference << " W, the air " << air_rate * difference << " W. Check heat, flows and temperatures";
    refuse("heat", trouble);
  }
  const double wanted = whole / inside_share;
  double low = std::log(1e-4), high = std::log(100.0);
  for (int turn = 0; turn < 200 && high - low > 1e-13; ++turn) {
    const double middle = 0.5 * (low + high);
    made.inside_area = Area<>::from_value(std::exp(middle));
    (Passages<>(made.passage_bore, made.passage_length, made.inside_area, made.enhancement).conductance(stream) < wanted ? low : high) = middle;
  }
  made.outside_conductance = outside_conductance_from_rating(made, rating, liquid);
  made.vehicle_speed = core.vehicle_speed;
  made.still_speed = core.still_speed;
  made.air_rise = core.air_rise;
  made.fan_speed = core.fan_speed;
  return made;
}

}  // namespace flarenut::heat

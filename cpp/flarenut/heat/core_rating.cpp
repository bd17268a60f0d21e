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

}  // namespace flarenut::heat

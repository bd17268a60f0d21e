#include "flarenut/heat/exchanger_rating.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "flarenut/fluids/atmosphere.hpp"

namespace flarenut::heat {
namespace {

constexpr double least_area = 1e-5, most_area = 100.0;              // [m2]
constexpr double least_enhancement = 0.1, most_enhancement = 50.0;  // as the exchanger's fields

[[noreturn]] void refuse(std::string_view field, const std::ostringstream& trouble) { throw InputError("rating", field, trouble.str()); }

void require_above(std::string_view field, double value, double least, const char* unit) {
  if (std::isfinite(value) && value > least) return;
  std::ostringstream trouble;
  trouble << value << ' ' << unit << " is not above " << least << ' ' << unit << "; check it and its unit";
  refuse(field, trouble);
}

/// What stands on one side of the wall.
struct Side {
  std::string_view side;
  const fluids::Liquid& liquid;
  Stream<> stream;

  Side(std::string_view name, const fluids::Liquid& of, VolumeFlow<> flow, Temperature<> inlet) : side(name), liquid(of) {
    const auto pressure = AbsolutePressure<>::from_value(fluids::standard_sea_level_pressure_pascal);
    stream.flow = flow * liquid.at(inlet, pressure).density;
    stream.inlet = inlet;
    warm(inlet);
  }
  void warm(Temperature<> mean) {
    const auto pressure = AbsolutePressure<>::from_value(fluids::standard_sea_level_pressure_pascal);
    stream.liquid = liquid.at(mean, pressure);
    stream.heat = liquid.heat_at(mean, pressure);
  }
  double rate() const { return stream.capacity_rate().value(); }
};

/// UA [W/K], with both streams left at their settled mean temperatures.
double settle(correlations::Arrangement arrangement, const ExchangerRating& rating, Side& first, Side& second) {
  const double difference = rating.first_inlet.value() - rating.second_inlet.value(), per_degree = rating.heat.value() / std::abs(difference);
  const double into_first = difference > 0.0 ? -rating.heat.value() : rating.heat.value();
  double whole = 0.0;
  for (int turn = 0; turn < 100; ++turn) {
    const double one = first.rate(), other = second.rate();
    try {
      whole = correlations::conductance_from_heat(arrangement, per_degree, one, other);
    } catch (const InputError&) {
      std::ostringstream trouble;
      trouble << rating.heat.value() << " W is more than these streams can exchange that way over " << std::abs(difference)
              << " K: the smaller carries up to " << std::min(one, other) * std::abs(difference) << " W. Check heat, flows and temperatures";
      refuse("heat", trouble);
    }
    const auto shares = correlations::exchange_mean_shares(arrangement, whole, one, other);
    const double mean_first = rating.first_inlet.value() + shares.first * into_first / one;
    const double mean_second = rating.second_inlet.value() - shares.second * into_first / other;
    const double moved = std::max(std::abs(mean_first - first.stream.liquid.temperature.value()),
                                  std::abs(mean_second - second.stream.liquid.temperature.value()));
    first.warm(Temperature<>::from_value(mean_first));
    second.warm(Temperature<>::from_value(mean_second));
    if (moved < 1e-10) break;
  }
  return whole;
}

/// How much better than plain passages of that area a side does that passes `wanted` [W/K].
Ratio<> enhancement_of(const Side& side, double wanted, const Length<>& bore, const Length<>& length, const Area<>& area) {
  const double needed = wanted / Passages<>(bore, length, area, Ratio<>::from_value(1.0)).conductance(side.stream);
  if (!(needed >= least_enhancement && needed <= most_enhancement)) {
    std::ostringstream trouble;
    trouble << "would have to do " << needed << " times as well as plain passages of " << area.value() << " m2, outside " << least_enhancement << " to "
            << most_enhancement << "; check the rating, the area and the share of the resistance";
    refuse(side.side, trouble);
  }
  return Ratio<>::from_value(needed);
}

/// Area of a side that passes `wanted` [W/K] with an enhancement that is known.
Area<> area_of(const Side& side, double wanted, const Length<>& bore, const Length<>& length, const Ratio<>& enhancement) {
  const auto passes = [&](double square_metres) {
    return Passages<>(bore, length, Area<>::from_value(square_metres), enhancement).conductance(side.stream);
  };
  if (passes(most_area) < wanted || passes(least_area) > wanted) {
    std::ostringstream trouble;
    trouble << "would need an area outside " << least_area << " to " << most_area << " m2; check the rating, or give its area";
    refuse(side.side, trouble);
  }
  double low = std::log(least_area), high = std::log(most_area);
  for (int turn = 0; turn < 200 && high - low > 1e-13; ++turn) {
    const double middle = 0.5 * (low + high);
    (passes(std::exp(middle)) < wanted ? low : high) = middle;
  }
  return Area<>::from_value(std::exp(0.5 * (low + high)));
}

}  // namespace

LiquidExchangerSpec<> exchanger_by_rating(const LiquidExchangerSpec<>& known, const ExchangerRating& rating, const fluids::Liquid& first,
                                          const fluids::Liquid& second) {
  require_above("heat", rating.heat.value(), 0.0, "W");
  require_above("first_flow", rating.first_flow.value(), 0.0, "m3/s");
  require_above("second_flow", rating.second_flow.value(), 0.0, "m3/s");
  parts::require_in_range("rating", "first_share", rating.first_share, 0.01, 0.99, "");
  if (rating.first_inlet.value() == rating.second_inlet.value()) {
    std::ostringstream trouble;
    trouble << "both liquids enter at the same temperature; then no heat passes";
    refuse("first_inlet", trouble);
  }
  for (const auto& [field, value] : {std::pair{"first_bore", known.first_bore.value()}, std::pair{"second_bore", known.second_bore.value()}})
    parts::require_in_range("rating", field, value, 1e-4, 0.5, "m");
  for (const auto& [field, value] : {std::pair{"first_length", known.first_length.value()}, std::pair{"second_length", known.second_length.value()}})
    parts::require_in_range("rating", field, value, 1e-3, 100.0, "m");
  known.check("rating");

  Side one("first_side", first, rating.first_flow, rating.first_inlet), other("second_side", second, rating.second_flow, rating.second_inlet);
  const auto arrangement = static_cast<correlations::Arrangement>(static_cast<int>(known.arrangement.value()));
  const double whole = settle(arrangement, rating, one, other);
  LiquidExchangerSpec<> made = known;
  made.wall_resistance = {};
  const double first_wanted = whole / rating.first_share, second_wanted = whole / (1.0 - rating.first_share);
  if (!(made.first_area.value() > 0.0) && !(made.second_area.value() > 0.0)) {
    if (one.stream.liquid.viscosity.value() >= other.stream.liquid.viscosity.value())
      made.first_area = area_of(one, first_wanted, made.first_bore, made.first_length, made.first_enhancement);
    else
      made.second_area = area_of(other, second_wanted, made.second_bore, made.second_length, made.second_enhancement);
  }
  if (!(made.first_area.value() > 0.0)) made.first_area = made.second_area;
  if (!(made.second_area.value() > 0.0)) made.second_area = made.first_area;
  made.first_enhancement = enhancement_of(one, first_wanted, made.first_bore, made.first_length, made.first_area);
  made.second_enhancement = enhancement_of(other, second_wanted, made.second_bore, made.second_length, made.second_area);
  return made;
}

}  // namespace flarenut::heat

#include "flarenut/heat/heat_table.hpp"

#include <cmath>
#include <sstream>

namespace flarenut::heat {
namespace {

/// Through zero as a straight line, by the mirror of the first point.
MonotoneCurve through_zero(const std::vector<double>& x, const std::vector<double>& y) {
  std::vector<double> at{-x[0], 0.0}, value{-y[0], 0.0};
  at.insert(at.end(), x.begin(), x.end());
  value.insert(value.end(), y.begin(), y.end());
  return {at, value};
}

/// The column of values over the flows at one face speed.
std::vector<double> at_speed(const HeatTablePoints& points, double air_speed) {
  const std::size_t speeds = points.air_speed.size();
  std::vector<double> values;
  for (std::size_t i = 0; i < points.flow.size(); ++i) {
    const auto row = points.heat_per_degree.begin() + static_cast<std::ptrdiff_t>(i * speeds);
    const std::vector<double> along(row, row + static_cast<std::ptrdiff_t>(speeds));
    values.push_back(through_zero(points.air_speed, along)(std::min(air_speed, points.air_speed.back())));
  }
  return values;
}

[[noreturn]] void complain(std::string_view part, std::string_view column, std::size_t row, double value, const char* trouble) {
  std::ostringstream words;
  words << "point " << row + 1 << ", " << value << ", " << trouble;
  throw InputError(part, column, words.str());
}

void check_rising(std::string_view part, std::string_view column, const std::vector<double>& x) {
  if (x.empty()) throw InputError(part, column, "is empty; give at least one");
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (!std::isfinite(x[i]) || x[i] <= 0.0) complain(part, column, i, x[i], "is not above zero; drop the point, zero is known");
    if (i > 0 && x[i] <= x[i - 1]) complain(part, column, i, x[i], "does not rise above the point before; sort the points, drop doubles");
  }
}

}  // namespace

void check_heat_table(std::string_view part, const HeatTablePoints& points) {
  check_rising(part, "flow", points.flow);
  check_rising(part, "air_speed", points.air_speed);
  const std::size_t speeds = points.air_speed.size(), wanted = points.flow.size() * speeds;
  const auto& values = points.heat_per_degree;
  if (values.size() != wanted) {
    std::ostringstream trouble;
    trouble << values.size() << " values for " << points.flow.size() << " flows and " << speeds << " face speeds; give " << wanted
            << ": a row for each flow, a value for each speed";
    throw InputError(part, "heat_per_degree", trouble.str());
  }
  for (std::size_t i = 0; i < wanted; ++i) {
    if (!std::isfinite(values[i]) || values[i] <= 0.0) complain(part, "heat_per_degree", i, values[i], "is not above zero; mend the point");
    if (i % speeds > 0 && values[i] < values[i - 1])
      complain(part, "heat_per_degree", i, values[i], "falls where the face speed rises; smooth the readings or check the order of the rows");
    if (i >= speeds && values[i] < values[i - speeds])
      complain(part, "heat_per_degree", i, values[i], "falls where the flow rises; smooth the readings or check the order of the rows");
  }
}

MeasuredHeat::MeasuredHeat(const HeatTablePoints& points, double air_speed)
    : curve_(through_zero(points.flow, at_speed(points, air_speed))),
      first_flow_(points.flow.front()),
      last_flow_(points.flow.back()),
      at_rest_(curve_(Dual<1>(0.0, 0)).slope[0]),
      last_value_(curve_(last_flow_)),
      last_slope_(curve_(Dual<1>(last_flow_, 0)).slope[0]),
      speed_inside_(air_speed >= points.air_speed.front() && air_speed <= points.air_speed.back()) {}

}  // namespace flarenut::heat

#include "flarenut/parts/measured_table.hpp"

#include <cmath>
#include <sstream>

namespace flarenut::parts {

namespace {

/// The points with the origin and the mirror image of the first, so that the curve passes zero smoothly.
MonotoneCurve odd_curve(const MeasuredTablePoints& points) {
  const std::size_t first = points.flow[0] == 0.0 ? 1 : 0;
  std::vector<double> flow{-points.flow[first], 0.0}, drop{-points.pressure_drop[first], 0.0};
  for (std::size_t i = first; i < points.flow.size(); ++i) {
    flow.push_back(points.flow[i]);
    drop.push_back(points.pressure_drop[i]);
  }
  return {flow, drop};
}

[[noreturn]] void complain(std::string_view part, std::string_view column, std::size_t row, double value,
                           const char* trouble) {
  std::ostringstream words;
  words << "point " << row + 1 << ", " << value << ", " << trouble;
  throw InputError(part, column, words.str());
}

}  // namespace

MeasuredDrop::MeasuredDrop(const MeasuredTablePoints& points)
    : curve_(odd_curve(points)), last_flow_(points.flow.back()),
      run_on_(points.pressure_drop.back() / (last_flow_ * last_flow_)),
      floor_(1e-6 * points.pressure_drop.back() / last_flow_) {}

template <Number N>
void MeasuredTableSpec<N>::check(std::string_view part) const {
  if (flow.size() != pressure_drop.size()) {
    std::ostringstream trouble;
    trouble << flow.size() << " flows but " << pressure_drop.size() << " pressure drops; give one drop for each flow";
    throw InputError(part, "flow", trouble.str());
  }
  if (flow.size() < 2) throw InputError(part, "flow", "fewer than two points make no curve; give at least two");
  for (std::size_t i = 0; i < flow.size(); ++i) {
    if (!std::isfinite(flow[i])) complain(part, "flow", i, flow[i], "is not a finite number; mend or drop the point");
    if (!std::isfinite(pressure_drop[i]))
      complain(part, "pressure_drop", i, pressure_drop[i], "is not a finite number; mend or drop the point");
    if (flow[i] < 0.0)
      complain(part, "flow", i, flow[i], "is negative; give the test's forward flow, backwards is taken alike");
    if (flow[i] == 0.0 && pressure_drop[i] != 0.0)
      complain(part, "pressure_drop", i, pressure_drop[i], "stands at zero flow; take the gauge's zero error off");
    if (i > 0 && flow[i] <= flow[i - 1])
      complain(part, "flow", i, flow[i], "does not rise above the point before; sort the points, drop doubles");
    if (pressure_drop[i] <= (i > 0 ? pressure_drop[i - 1] : 0.0) && flow[i] > 0.0)
      complain(part, "pressure_drop", i, pressure_drop[i],
               "does not rise with flow; smooth the readings, or use a valve part if something opens");
  }
}
template struct MeasuredTableSpec<double>;

template <>
bool MeasuredTable<double>::beyond_data(const PartState<double>& state) const {
  return std::abs(table_flow(state.flow[0])) > curve_.last_flow();
}

}  // namespace flarenut::parts

#include "flarenut/parts/electric_pump.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <sstream>

namespace flarenut::parts {

std::span<const double> ElectricPumpCharts::slice(const std::vector<double>& column, std::size_t chart) const {
  std::size_t first = 0;
  for (std::size_t i = 0; i < chart; ++i) first += static_cast<std::size_t>(curve_points[i]);
  return std::span(column).subspan(first, static_cast<std::size_t>(curve_points[chart]));
}

namespace {

std::string words(const auto&... pieces) {
  std::ostringstream text;
  text.precision(6);
  (text << ... << pieces);
  return text.str();
}

void require_charts_that_add_up(std::string_view part, const ElectricPumpCharts& charts) {
  if (charts.curve_volts.empty())
    throw InputError(part, "curve_volts", "is empty; give at least one chart, with the voltage it was taken at");
  if (charts.curve_points.size() != charts.curve_volts.size())
    throw InputError(part, "curve_points",
                     words("has ", charts.curve_points.size(), " entries for ", charts.curve_volts.size(),
                           " voltages; give the number of points of each chart"));
  for (double count : charts.curve_points)
    if (!(count >= 2.0 && count <= 1000.0 && count == std::floor(count)))
      throw InputError(part, "curve_points", words("has ", count, "; a chart has a whole number of points, 2 to 1000"));
  const double total = std::accumulate(charts.curve_points.begin(), charts.curve_points.end(), 0.0);
  for (const auto& [name, column] : {std::pair{"curve_flow", &charts.curve_flow}, {"curve_rise", &charts.curve_rise}})
    if (static_cast<double>(column->size()) != total)
      throw InputError(part, name, words("has ", column->size(), " points but curve_points adds up to ", total,
                                         "; mend the one or the other"));
  for (std::size_t i = 0; i < charts.curve_volts.size(); ++i) {
    const double volts = charts.curve_volts[i];
    if (!(volts >= 1.0 && volts <= 60.0))
      throw InputError(part, "curve_volts", words("has ", volts, " V, outside 1 to 60 V; check its unit"));
    if (i > 0 && volts <= charts.curve_volts[i - 1])
      throw InputError(part, "curve_volts",
                       words(volts, " V follows ", charts.curve_volts[i - 1], " V; list the charts by rising volts"));
  }
}

/// More volts must not lift less at the same flow: two charts swapped show here.
void require_more_from_more_volts(std::string_view part, const ElectricPumpCharts& charts, std::size_t upper) {
  const auto copy = [](std::span<const double> column) { return std::vector<double>(column.begin(), column.end()); };
  const auto low_flow = charts.flow_of(upper - 1), high_flow = charts.flow_of(upper);
  const PumpCurve low(copy(low_flow), copy(charts.rise_of(upper - 1)));
  const PumpCurve high(copy(high_flow), copy(charts.rise_of(upper)));
  for (const auto& flows : {low_flow, high_flow})
    for (double flow : flows) {
      if (!low.inside(1.0, flow) || !high.inside(1.0, flow)) continue;
      const double less = low.rise(1.0, flow), more = high.rise(1.0, flow);
      if (more < less - 1e-3 * low.top_rise())
        throw InputError(part, "curve_rise",
                         words("the chart at ", charts.curve_volts[upper], " V gives ", more, " Pa at ", flow,
                               " m3/s, less than the ", less, " Pa at ", charts.curve_volts[upper - 1],
                               " V; check which chart belongs to which voltage"));
    }
}

}  // namespace

template <Number N>
void ElectricPumpSpec<N>::check(std::string_view part) const {
  require_charts_that_add_up(part, *this);
  for (std::size_t i = 0; i < curve_volts.size(); ++i) {
    require_pump_curve(part, words("chart at ", curve_volts[i], " V"), flow_of(i), rise_of(i));
    if (i > 0) require_more_from_more_volts(part, *this, i);
  }
  const double relief = value_of(relief_set_pressure.value());
  if (relief > 0.0 && relief < 1e3)
    throw InputError(part, "relief_set_pressure",
                     words(relief, " Pa is too low for a relief valve; give 0 for none, else 1000 Pa or more, or "
                                   "check its unit"));
}
template struct ElectricPumpSpec<double>;

template <>
Regime ElectricPump<double>::regime(const PartState<double>& state) const {
  const double volume_flow = (state.flow[0] / density_).value();
  if (stands_) return Regime::stopped;
  if (std::abs(volume_flow) < 0.01 * top_flow_) return Regime::dead_headed;
  if (volume_flow < 0.0) return Regime::reversed;
  const double rise = unspilled_rise(volume_flow);
  if (has_relief_ && rise > relief_set_) return Regime::relieving;
  return rise <= 0.0 ? Regime::running_out : Regime::pumping;
}

template <>
bool ElectricPump<double>::beyond_data(const PartState<double>& state) const {
  const double volume_flow = (state.flow[0] / density_).value();
  return volts_beyond_ || std::any_of(charts_.begin(), charts_.end(), [&](const Charted& chart) {
           return chart.weight > 0.0 && !chart.curve.inside(chart.ratio, volume_flow);
         });
}

}  // namespace flarenut::parts

#include "flarenut/parts/pump_curve.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>
#include <utility>

namespace flarenut::parts {

PumpCurve::PumpCurve(std::vector<double> flow, std::vector<double> rise)
    : curve_(flow, rise), first_flow_(flow.front()), top_flow_(flow.back()),
      top_rise_(*std::max_element(rise.begin(), rise.end())), last_rise_(rise.back()) {
  const double steepness = top_rise_ / top_flow_;
  square_law_ = steepness / top_flow_;
  floor_ = 1e-6 * steepness;

  runout_flow_ = top_flow_;
  if (last_rise_ > 0.0) {
    const double last_fall = -curve_(Dual<1>(top_flow_, 0)).slope[0];
    const bool meets_zero_soon = last_fall * top_flow_ > last_rise_;
    runout_flow_ += meets_zero_soon ? last_rise_ / last_fall : top_flow_;
  }

  // A fall of less than a ten-thousandth of the average steepness is as good as level for a solver.
  for (std::size_t i = 1; i < flow.size(); ++i)
    if (rise[i] - rise[i - 1] > -1e-4 * steepness * (flow[i] - flow[i - 1])) has_hump_ = true;
}

bool PumpCurve::inside(double ratio, double flow) const {
  const double slack = 1e-9 * ratio * top_flow_;
  return flow >= ratio * first_flow_ - slack && flow <= ratio * top_flow_ + slack;
}

void require_pump_curve(std::string_view part, std::string_view which, std::span<const double> flow,
                        std::span<const double> rise) {
  const std::string of_which = which.empty() ? std::string() : std::string(which) + ": ";
  const auto refuse = [&](std::string_view field, const auto&... words) {
    std::ostringstream trouble;
    trouble.precision(6);
    ((trouble << of_which) << ... << words);
    throw InputError(part, field, trouble.str());
  };
  if (flow.size() != rise.size())
    refuse("curve_rise", "has ", rise.size(), " points against ", flow.size(),
           " of curve_flow; give one rise for every flow");
  if (flow.size() < 2)
    refuse("curve_flow", "has ", flow.size(), " point(s); a curve needs at least two, better five or more");
  for (std::size_t i = 0; i < flow.size(); ++i) {
    if (!std::isfinite(flow[i]) || !std::isfinite(rise[i]))
      refuse(std::isfinite(flow[i]) ? "curve_rise" : "curve_flow", "point ", i + 1, " is not a finite number");
    if (flow[i] < 0.0)
      refuse("curve_flow", "point ", i + 1, " is ", flow[i],
             " m3/s; measured flows are zero or more, from inlet to outlet");
    if (i > 0 && flow[i] <= flow[i - 1])
      refuse("curve_flow", "point ", i + 1, " (", flow[i], " m3/s) does not exceed point ", i, " (", flow[i - 1],
             " m3/s); list the points by rising flow and drop doubles");
  }
  if (*std::max_element(rise.begin(), rise.end()) <= 0.0)
    refuse("curve_rise", "has no point above zero: such a pump lifts nothing; check the sign and the unit");
}

}  // namespace flarenut::parts

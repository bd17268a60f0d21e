#include "flarenut/parts/filter_with_bypass.hpp"

namespace flarenut::parts {

template <>
void FilterWithBypass<double>::start(State<double>& state) const {
  state.flow[0] = element_.start_flow()[0];
  const auto drop = element_.drop(state.flow[0]);
  const double open = opening(drop);
  state.flow[1] = seat_flow(open * open * drop, resistance_, linear_flow_);
}

template <>
bool FilterWithBypass<double>::limit(const State<double>& last, State<double>& proposed) const {
  const double wants = (proposed.pressure_drop() - opens_at_) / band_;
  const double may = limit_spring_travel<double>((last.pressure_drop() - opens_at_) / band_, wants);
  if (may != wants) proposed.pressure[0] += (may - wants) * band_;
  const auto middling = sqrt(opens_at_ / resistance_);
  const bool slowed = limit_flow_growth<double>(last.flow[1], proposed.flow[1], 0.05 * middling);
  const auto drop = proposed.pressure_drop();
  const double open = opening(drop);
  const bool settled =
      settle_flow<double>(may, open * open * drop, resistance_, linear_flow_, 0.5 * middling, proposed.flow[1]);
  return slowed || settled || may != wants;
}

template <>
Regime FilterWithBypass<double>::regime(const State<double>& state) const {
  return state.pressure_drop() > opens_at_ ? Regime::bypassing : Regime::passive;
}

}  // namespace flarenut::parts

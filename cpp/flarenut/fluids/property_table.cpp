#include "flarenut/fluids/property_table.hpp"

#include <algorithm>
#include <cmath>

namespace flarenut::fluids {
namespace {

constexpr double widest_step = 0.5;  // K

}  // namespace

PropertyTable::PropertyTable(const Liquid& liquid) {
  using D = Dual<1>;
  const TemperatureSpan span = liquid.outer_limit();
  const auto steps = static_cast<std::size_t>(std::max(1.0, std::ceil((span.most_kelvin - span.least_kelvin) / widest_step)));
  const double step = (span.most_kelvin - span.least_kelvin) / static_cast<double>(steps);
  first_ = span.least_kelvin;
  per_kelvin_ = 1.0 / step;
  nodes_.resize(steps + 1);
  const auto pressure = AbsolutePressure<D>::from_value(D(reference_pressure_pascal));
  for (std::size_t i = 0; i <= steps; ++i) {
    const double kelvin = i == steps ? span.most_kelvin : first_ + step * static_cast<double>(i);
    const auto warm = Temperature<D>::from_value(D(kelvin, 0));
    const LiquidState<D> state = liquid.at(warm, pressure);
    const HeatState<D> heat = liquid.heat_at(warm, pressure);
    const auto put = [&](int kind, const D& property) {
      nodes_[i].value[static_cast<std::size_t>(kind)] = property.value;
      nodes_[i].rise[static_cast<std::size_t>(kind)] = property.slope[0] * step;
    };
    using std::log;
    put(log_viscosity, log(state.viscosity.value()));
    put(density, state.density.value());
    put(enthalpy, heat.enthalpy.value());
    put(specific_heat, heat.specific_heat.value());
    put(conductivity, heat.conductivity.value());
    put(per_pressure, heat.enthalpy_per_pressure.value());
  }
}

PropertyTable::Place PropertyTable::place(double kelvin) const {
  const double last = static_cast<double>(nodes_.size() - 1);
  const double steps = std::clamp((kelvin - first_) * per_kelvin_, 0.0, last);
  const auto node = static_cast<std::size_t>(std::min(steps, last - 1.0));
  return {&nodes_[node], &nodes_[node + 1], steps - static_cast<double>(node)};
}

double PropertyTable::between(const Place& place, int kind) {
  const auto k = static_cast<std::size_t>(kind);
  const double s = place.share, from = place.from->value[k], climb = place.to->value[k] - from;
  const double start = place.from->rise[k] - climb, end = place.to->rise[k] - climb;
  return from + s * (climb + (1.0 - s) * ((1.0 - s) * start - s * end));
}

double PropertyTable::slope(const Place& place, int kind) const {
  const auto k = static_cast<std::size_t>(kind);
  const double s = place.share, climb = place.to->value[k] - place.from->value[k];
  const double start = place.from->rise[k] - climb, end = place.to->rise[k] - climb;
  return per_kelvin_ * (climb + (1.0 - s) * (1.0 - 3.0 * s) * start - s * (2.0 - 3.0 * s) * end);
}

PropertyTable::Flowing PropertyTable::flowing(double kelvin) const {
  const Place here = place(kelvin);
  const double viscosity = std::exp(between(here, log_viscosity));
  return {between(here, density), slope(here, density), viscosity, viscosity * slope(here, log_viscosity)};
}

PropertyTable::Warming PropertyTable::warming(double kelvin) const {
  const Place here = place(kelvin);
  return {between(here, enthalpy), between(here, specific_heat), between(here, conductivity), between(here, per_pressure), slope(here, enthalpy)};
}

}  // namespace flarenut::fluids

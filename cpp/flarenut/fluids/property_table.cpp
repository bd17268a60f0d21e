#include "flarenut/fluids/property_table.hpp"

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
  const auto pressure = AbsolutePressure<D>::from_value(D(reference_pressure_pascal));
  const auto properties_at = [&](double kelvin) {
    const auto warm = Temperature<D>::from_value(D(kelvin, 0));
    const LiquidState<D> state = liquid.at(warm, pressure);
    const HeatState<D> heat = liquid.heat_at(warm, pressure);
    return std::array<D, kinds>{state.viscosity.value(),   state.density.value(),     heat.enthalpy.value(),
                                heat.specific_heat.value(), heat.conductivity.value(), heat.enthalpy_per_pressure.value()};
  };
  steps_.resize(steps);
  std::array<D, kinds> from = properties_at(first_);
  for (std::size_t i = 0; i < steps; ++i) {
    const std::array<D, kinds> to = properties_at(i + 1 == steps ? span.most_kelvin : first_ + step * static_cast<double>(i + 1));
    for (std::size_t kind = 0; kind < kinds; ++kind) {
      const double climb = to[kind].value - from[kind].value, start = from[kind].slope[0] * step, end = to[kind].slope[0] * step;
      steps_[i][kind] = {from[kind].value, start, 3.0 * climb - 2.0 * start - end, start + end - 2.0 * climb};
    }
    from = to;
  }
}

}  // namespace flarenut::fluids

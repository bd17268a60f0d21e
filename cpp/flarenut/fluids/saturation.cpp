#include "flarenut/fluids/saturation.hpp"

#include <cmath>
#include <sstream>
#include <utility>

#include "flarenut/base/error.hpp"

namespace flarenut::fluids {

namespace {

double tenths(double value) { return std::round(value * 10.0) / 10.0; }

}  // namespace

Saturation::Saturation(SaturationRecord record) : record_(std::move(record)) {
  if (!(record_.least_kelvin > 0.0 && record_.most_kelvin > record_.least_kelvin))
    throw InputError(record_.name, "range", "must run from a lower to a higher absolute temperature");
  constexpr int samples = 64;
  double before = 0.0;
  for (int i = 0; i <= samples; ++i) {
    const double kelvin = record_.least_kelvin + (record_.most_kelvin - record_.least_kelvin) * i / samples;
    const SaturationState<> here = at(Temperature<>::from_value(kelvin));
    if (!(here.pressure.value() > before))
      throw InputError(record_.name, "saturation pressure", "must rise with temperature all the way");
    if (!(here.vapour_density.value() > 0.0 && here.liquid_density.value() > here.vapour_density.value()))
      throw InputError(record_.name, "vapour density", "must be above zero and below that of the liquid all the way");
    before = here.pressure.value();
  }
}

void Saturation::require_within_range(double kelvin) const {
  if (kelvin >= record_.least_kelvin - temperature_rounding_kelvin && kelvin <= record_.most_kelvin + temperature_rounding_kelvin) return;
  std::ostringstream trouble;
  trouble << tenths(kelvin - ice_point_kelvin) << " degC is outside " << tenths(record_.least_kelvin - ice_point_kelvin)
          << " to " << tenths(record_.most_kelvin - ice_point_kelvin)
          << " degC, where its saturation data reach; near the critical point liquid and vapour become one";
  throw InputError(record_.name, "temperature", trouble.str());
}

Temperature<> Saturation::temperature(const AbsolutePressure<>& pressure) const {
  double low = record_.least_kelvin, high = record_.most_kelvin;
  const double least = evaluate(record_.pressure, low), most = evaluate(record_.pressure, high);
  if (!(pressure.value() >= least && pressure.value() <= most)) {
    std::ostringstream trouble;
    trouble << tenths(pressure.value() / 1e3) << " kPa absolute is outside " << tenths(least / 1e3) << " to "
            << tenths(most / 1e3) << " kPa, the saturation pressures on file; gauge readings need the ambient added";
    throw InputError(record_.name, "pressure", trouble.str());
  }
  for (int halving = 0; halving < 60; ++halving) {
    const double middle = 0.5 * (low + high);
    (evaluate(record_.pressure, middle) < pressure.value() ? low : high) = middle;
  }
  return Temperature<>::from_value(0.5 * (low + high));
}

}  // namespace flarenut::fluids

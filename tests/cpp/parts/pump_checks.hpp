#pragma once
/// What every pump law must hold to, whatever its numbers: used by the pump tests.

#include <cmath>
#include <memory>
#include <vector>

#include "../catch_shim.hpp"
#include "flarenut/network/element_of.hpp"
#include "flarenut/units/trade_units.hpp"

namespace pump_checks {

using namespace flarenut;

inline fluids::LiquidState<> liquid(double density = 750.0, double viscosity = 0.5e-3) {
  fluids::LiquidState<> state;
  state.density = Density<>::from_value(density);
  state.viscosity = DynamicViscosity<>::from_value(viscosity);
  return state;
}

template <class Pump>
double rise_at(const Pump& pump, double volume_flow, double density = 750.0) {
  return -pump.drop(MassFlow<>::from_value(density * volume_flow)).value();
}

/// The flow at which a pump's rise less a back pressure that grows with flow is zero.
template <class Excess>
double crossing(const Excess& excess, double low, double high) {
  for (int i = 0; i < 200; ++i) {
    const double middle = 0.5 * (low + high);
    (excess(middle) > 0.0 ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

/// Finite everywhere, falling with flow, its dual slope that of a difference, and no jump in value or slope.
template <class Pump>
void law_is_sound(const Pump& pump, double flow_scale) {
  std::vector<double> flows{-1e3, -1.0, 1.0, 1e3};
  for (double share = -3.0; share <= 4.0; share += 0.0173) flows.push_back(share * flow_scale);
  flows.push_back(0.0);
  const auto at = [&](double q) { return pump.drop(MassFlow<>::from_value(q)).value(); };
  const auto sloped = [&](double q) { return pump.drop(MassFlow<Dual<1>>::from_value(Dual<1>(q, 0))).value(); };
  const double usual_slope = std::abs(at(flow_scale) - at(-flow_scale)) / flow_scale;
  for (double flow : flows) {
    INFO("mass flow " << flow << " kg/s");
    const auto here = sloped(flow);
    REQUIRE(std::isfinite(here.value));
    REQUIRE(here.slope[0] > 0.0);
    CHECK(here.value == Approx(at(flow)).margin(1e-9));
    // Where the curvature changes, a difference can only be as near as the slopes on its two sides.
    const double step = 1e-6 * std::max(std::abs(flow), flow_scale);
    const double difference = (at(flow + step) - at(flow - step)) / (2.0 * step);
    const double bend = std::abs(sloped(flow + step).slope[0] - here.slope[0]) +
                        std::abs(sloped(flow - step).slope[0] - here.slope[0]);
    const double round_off = 1e-15 * (std::abs(here.value) + usual_slope * flow_scale) / step;
    CHECK(std::abs(difference - here.slope[0]) <= 1e-7 * here.slope[0] + bend + 10.0 * round_off);
  }
  for (int i = -3000; i < 4000; ++i) {
    const double flow = 1e-3 * i * flow_scale;
    INFO("mass flow " << flow << " kg/s");
    const double here = sloped(flow).slope[0], next = sloped(flow + 1e-9 * flow_scale).slope[0];
    REQUIRE(next == Approx(here).epsilon(1e-5).margin(1e-6 * usual_slope));
  }
}

/// Slopes with respect to every number of the spec and to the liquid, against differences.
template <template <class> class Part, class Spec>
void gradients_are_true(const Spec& spec, const fluids::LiquidState<>& state, double flow) {
  network::ElementOf<Part> element{spec};
  element.prepare(state);
  const double point[3] = {1.0e5, 1.3e5, flow};
  const auto residual = [&](const Spec& numbers, int field, double value, double density, double viscosity) {
    network::ElementOf<Part> other{numbers};
    if (field >= 0) other.set_field(field, value);
    auto moved = state;
    moved.density = Density<>::from_value(density);
    moved.viscosity = DynamicViscosity<>::from_value(viscosity);
    other.prepare(moved);
    network::Linearisation out;
    other.linearise(point, out);
    return out.residual[0];
  };
  const double density = state.density.value(), viscosity = state.viscosity.value();
  const double size = std::abs(residual(spec, -1, 0.0, density, viscosity)) + 1.0;
  for (int field = 0; field < element.field_count(); ++field) {
    const double value = element.field(field);
    double slope = 0.0;
    element.residual_by_field(point, field, {&slope, 1});
    if (value == 0.0) continue;  // a one-sided limit: its slope is checked by hand where it matters
    const double step = 1e-6 * std::abs(value);
    const double difference = (residual(spec, field, value + step, density, viscosity) -
                               residual(spec, field, value - step, density, viscosity)) / (2.0 * step);
    INFO("field " << element.info().fields[static_cast<std::size_t>(field)].name);
    CHECK(slope == Approx(difference).epsilon(1e-5).margin(1e-7 * size / std::abs(value)));
  }
  double by_density = 0.0, by_viscosity = 0.0;
  auto sloped = state.as<Dual<1>>();
  sloped.density = Density<Dual<1>>::from_value(Dual<1>(density, 0));
  element.residual_by_liquid(point, sloped, &by_density);
  sloped = state.as<Dual<1>>();
  sloped.viscosity = DynamicViscosity<Dual<1>>::from_value(Dual<1>(viscosity, 0));
  element.residual_by_liquid(point, sloped, &by_viscosity);
  const double d = 1e-6 * density, v = 1e-6 * viscosity;
  CHECK(by_density == Approx((residual(spec, -1, 0, density + d, viscosity) -
                              residual(spec, -1, 0, density - d, viscosity)) / (2 * d))
                          .epsilon(1e-5).margin(1e-7 * size / density));
  CHECK(by_viscosity == Approx((residual(spec, -1, 0, density, viscosity + v) -
                                residual(spec, -1, 0, density, viscosity - v)) / (2 * v))
                            .epsilon(1e-5).margin(1e-7 * size / viscosity));
}

template <class Spec>
std::string complaint(const Spec& spec) {
  try {
    parts::validate("the pump", spec);
  } catch (const InputError& error) {
    return error.what();
  }
  return "no complaint";
}

inline parts::PartState<double> flowing(double mass_flow) {
  parts::PartState<double> state;
  state.flow[0] = MassFlow<>::from_value(mass_flow);
  return state;
}

}  // namespace pump_checks

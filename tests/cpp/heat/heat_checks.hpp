#pragma once
/// Shorthand of the tests of heat laws: invented liquids, streams, and what every law owes.

#include <array>
#include <cmath>
#include <random>
#include <string>

#include "../catch_shim.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/network/heat_element.hpp"
#include "flarenut/units/trade_units.hpp"

namespace heat_checks {

using namespace flarenut;
using namespace flarenut::heat;
using network::HeatElement;
using network::HeatLinearisation;
using network::HeatSlopes;
using network::StreamPoint;

/// Properties that bend with temperature as an oil's and a coolant's do, and stay above zero anywhere.
struct InventedLiquid {
  double viscosity, per_kelvin, specific_heat, conductivity, density;

  template <class N>
  LiquidState<N> at(const N& kelvin) const {
    using std::exp;
    LiquidState<N> state;
    state.density = Density<N>::from_value(density * exp(N(-6e-4 * (kelvin - 353.15))));
    state.viscosity = DynamicViscosity<N>::from_value(viscosity * exp(N(-per_kelvin * (kelvin - 353.15))));
    state.temperature = Temperature<N>::from_value(kelvin);
    return state;
  }
  template <class N>
  HeatState<N> heat_at(const N& kelvin) const {
    using std::exp;
    HeatState<N> state;
    state.specific_heat = SpecificHeat<N>::from_value(specific_heat * exp(N(0.0015 * (kelvin - 353.15))));
    state.conductivity = ThermalConductivity<N>::from_value(conductivity * exp(N(-4e-4 * (kelvin - 353.15))));
    return state;
  }
};

inline const InventedLiquid oil{0.02, 0.03, 2100.0, 0.135, 850.0};
inline const InventedLiquid coolant{9e-4, 0.012, 3600.0, 0.42, 1040.0};

inline Stream<> stream_of(const InventedLiquid& liquid, double flow, double inlet, double mean, bool forward = true) {
  Stream<> stream;
  stream.flow = MassFlow<>::from_value(flow);
  stream.inlet = Temperature<>::from_value(inlet);
  stream.liquid = liquid.at(mean);
  stream.heat = liquid.heat_at(mean);
  stream.forward = forward;
  return stream;
}

/// A point of the solver with its own properties.
struct Point {
  LiquidState<Dual<1>> liquid;
  HeatState<Dual<1>> heat;
  double flow, inlet;
  bool forward;

  Point(const InventedLiquid& of, double flow_, double inlet_, double mean, bool forward_ = true)
      : liquid(of.at(Dual<1>(mean, 0))), heat(of.heat_at(Dual<1>(mean, 0))), flow(flow_), inlet(inlet_), forward(forward_) {}
  StreamPoint point() const { return {flow, inlet, forward, &liquid, &heat}; }
};

/// The numbers of one stream, to be moved one at a time.
struct Numbers {
  const InventedLiquid* liquid;
  double flow, inlet, mean;
  bool forward = true;
};

inline HeatLinearisation ask(const HeatElement& element, const std::array<Numbers, 2>& at) {
  const Point first(*at[0].liquid, at[0].flow, at[0].inlet, at[0].mean, at[0].forward),
      second(*at[1].liquid, at[1].flow, at[1].inlet, at[1].mean, at[1].forward);
  const StreamPoint points[] = {first.point(), second.point()};
  HeatLinearisation out;
  element.linearise(points, out);
  return out;
}

inline bool finite(const HeatSlopes& slopes) {
  bool all = std::isfinite(slopes.value);
  for (std::size_t s = 0; s < 2; ++s)
    all = all && std::isfinite(slopes.by_flow[s]) && std::isfinite(slopes.by_inlet[s]) && std::isfinite(slopes.by_mean[s]);
  return all;
}
inline bool finite(const HeatLinearisation& all) { return finite(all.heat) && finite(all.mean_share[0]) && finite(all.mean_share[1]); }

/// Worst difference between carried slopes and fourth-order differences, in parts of the scale of each quantity.
inline double slope_error(const HeatElement& element, const std::array<Numbers, 2>& at) {
  const HeatLinearisation here = ask(element, at);
  double worst = 0.0;
  for (std::size_t s = 0; s < static_cast<std::size_t>(element.streams()); ++s)
    for (int which = 0; which < 3; ++which) {
      const double base = which == 0 ? at[s].flow : which == 1 ? at[s].inlet : at[s].mean;
      const double step = which == 0 ? 1e-4 * base : 0.02;
      const auto moved = [&](double by) {
        auto there = at;
        (which == 0 ? there[s].flow : which == 1 ? there[s].inlet : there[s].mean) += by * step;
        return ask(element, there);
      };
      const auto m2 = moved(-2.0), m1 = moved(-1.0), p1 = moved(1.0), p2 = moved(2.0);
      const auto check = [&](const auto& pick, double scale) {
        const auto value = [&](const HeatLinearisation& l) { return pick(l).value; };
        const double difference = (8.0 * (value(p1) - value(m1)) - (value(p2) - value(m2))) / (12.0 * step);
        const HeatSlopes& slopes = pick(here);
        const double slope = which == 0 ? slopes.by_flow[s] : which == 1 ? slopes.by_inlet[s] : slopes.by_mean[s];
        worst = std::max(worst, std::abs(slope - difference) / std::max({std::abs(difference), scale}));
      };
      const double per = which == 0 ? base : 10.0;
      check([](const HeatLinearisation& l) -> const HeatSlopes& { return l.heat; }, 0.01 * std::abs(here.heat.value) / per + 1e-6);
      for (std::size_t i = 0; i < static_cast<std::size_t>(element.streams()); ++i)
        check([&](const HeatLinearisation& l) -> const HeatSlopes& { return l.mean_share[i]; }, 0.02 / per);
    }
  return worst;
}

inline void set(HeatElement& element, std::string_view name, double value) {
  const auto info = element.info();
  for (std::size_t i = 0; i < info.fields.size(); ++i)
    if (info.fields[i].name == name) return element.set_field(static_cast<int>(i), value);
  throw std::runtime_error("no field " + std::string(name));
}
inline void lend(HeatElement& element, std::string_view name, double value) {
  const auto names = element.borrowed();
  for (std::size_t i = 0; i < names.size(); ++i)
    if (names[i] == name) return element.lend(static_cast<int>(i), value);
  throw std::runtime_error("borrows no " + std::string(name));
}

inline Surroundings around(double air_celsius, double pascal = 101325.0) {
  return {Temperature<>::from_value(273.15 + air_celsius), AbsolutePressure<>::from_value(pascal)};
}

/// Uniform numbers, and uniform in the logarithm, the same on every machine.
class Dice {
 public:
  double between(double least, double most) { return least + (most - least) * static_cast<double>(engine_()) / 4294967295.0; }
  double over_decades(double least, double most) { return least * std::pow(most / least, between(0.0, 1.0)); }

 private:
  std::mt19937 engine_{20240917};
};

template <class Action>
std::string complaint(Action&& action) {
  try {
    action();
  } catch (const InputError& error) {
    return error.what();
  }
  return "no complaint";
}

}  // namespace heat_checks

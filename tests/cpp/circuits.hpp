#pragma once
/// Small circuits that the network and analysis tests share. All numbers are invented.

#include "flarenut/analysis/steady.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/network/plan.hpp"

namespace circuits {

using namespace flarenut;
using network::Network;
using network::Plan;

inline fluids::Liquid constant(double density, double viscosity, double vapour_pressure = 0.0) {
  fluids::ConstantLiquidSpec spec;
  spec.density = Density<>::from_value(density);
  spec.viscosity = DynamicViscosity<>::from_value(viscosity);
  spec.vapour_pressure = AbsolutePressure<>::from_value(vapour_pressure);
  return fluids::constant_liquid(spec);
}

/// An oil by two viscosities: density and viscosity follow temperature and pressure.
inline fluids::Liquid oil() {
  fluids::OilSpec spec;
  spec.viscosities = {{Temperature<>::from_value(313.15), KinematicViscosity<>::from_value(100e-6)},
                      {Temperature<>::from_value(373.15), KinematicViscosity<>::from_value(11e-6)}};
  return fluids::oil(spec);
}

inline parts::TankSpec<> tank(double level, double vent = 0.0, double forward = 0.0, double left = 0.0) {
  parts::TankSpec<> spec;
  spec.level = Length<>::from_value(level);
  spec.vent_pressure = GaugePressure<>::from_value(vent);
  spec.pickup_forward = Length<>::from_value(forward);
  spec.pickup_left = Length<>::from_value(left);
  return spec;
}

inline Network::Numbers pump(double shutoff = 6.5e5) {
  return {{"shutoff_rise", shutoff}, {"linear", 2.5e9}, {"quadratic", 4e13}};
}
inline Network::Numbers line(double bore, double length, double extra_loss = 0.0) {
  return {{"bore", bore}, {"length", length}, {"extra_loss", extra_loss}};
}

inline double pressure(const Plan& plan, const analysis::Solution& solution, const std::string& junction) {
  return solution.pressure[static_cast<std::size_t>(plan.network().junction(junction))];
}
inline double flow(const Plan& plan, const analysis::Solution& solution, const std::string& part, int which = 0) {
  const auto& branch = plan.branches()[static_cast<std::size_t>(plan.network().part(part))];
  return solution.flow[static_cast<std::size_t>(branch.first_flow + which)];
}

/// A return-style fuel circuit with heights: tank, pump, feed, a rail with a demand, regulator with a manifold as its
/// reference, return.
inline Network return_style(fluids::Liquid liquid = constant(750.0, 5e-4, 4e4)) {
  Network network;
  network.add_liquid(std::move(liquid));
  const int pick_up = network.add_tank("tank", tank(0.15), {-1.5, 0.2, 0.3});
  const int inlet = network.add_junction("inlet", {-1.4, 0.2, 0.35});
  const int out = network.add_junction("outlet", {-1.3, 0.2, 0.35});
  const int rail = network.add_junction("rail", {1.2, 0.0, 0.8}, 0.02);
  const int back = network.add_junction("back", {1.1, -0.1, 0.7});
  const int manifold = network.add_fixed("manifold", -4e4);
  network.add_part("suction", "line", {pick_up, inlet}, {}, line(0.010, 0.4, 0.5));
  network.add_part("pump", "quadratic pump", {inlet, out}, {}, pump());
  network.add_part("feed", "line", {out, rail}, {}, line(7.5e-3, 3.0));
  network.add_part("regulator", "bypass regulator", {rail, back}, {rail, manifold},
                   {{"set_pressure", 3e5}, {"full_area", 6e-6}});
  network.add_part("return", "line", {back, pick_up}, {}, line(6e-3, 4.0));
  return network;
}

inline void set(Plan& plan, const std::string& name, double value) { plan.set(plan.index(name), value); }

/// Sump, gear pump, relief to the sump, line, gallery that spills into the crankcase over the sump.
inline Network oil_loop(double heat, double conductance) {
  Network network;
  network.add_liquid(oil());
  const int sump = network.add_tank("sump", tank(0.1));
  const int inlet = network.add_junction("inlet"), out = network.add_junction("out"), gallery = network.add_junction("gallery");
  const int crankcase = network.add_fixed("crankcase", 0.0, {0.0, 0.0, 0.3});
  network.add_part("pick-up", "line", {sump, inlet}, {}, line(0.02, 0.4, 1.0));
  const Network::Numbers gears{{"displacement", 12e-6}, {"speed", 50.0}, {"rated_rise", 4e5}, {"rated_speed", 50.0}};
  const int gear = network.add_part("pump", "positive displacement pump", {inlet, out}, {}, gears);
  network.add_part("relief", "relief valve", {out, sump}, {}, {{"set_pressure", 4.5e5}, {"full_area", 5e-5}, {"band", 5e4}});
  network.add_part("feed", "line", {out, gallery}, {}, line(0.01, 1.5, 4.0));
  network.add_part("bearings", "line", {gallery, crankcase}, {}, line(0.002, 0.3));
  network.put_heat(gear, 0.0, 0.8);
  network.put_heat_at(sump, heat, conductance);
  network.let_mix(sump);
  network.drain(crankcase, sump);
  network.follow_heat();
  return network;
}

}  // namespace circuits

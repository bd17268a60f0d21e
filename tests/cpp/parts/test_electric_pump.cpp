#include "flarenut/parts/electric_pump.hpp"

#include <algorithm>

#include "pump_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace pump_checks;

namespace {

constexpr double litre_per_hour = 1e-3 / 3600.0;
constexpr double psi = 6894.757293168;  // BIPM/NIST SP 811 value

/// Invented in-tank pump: flow at 0, 20, 40, 60, 80 psi, listed by rising flow.
ElectricPumpSpec<> two_chart_pump(double volts) {
  ElectricPumpSpec<> spec;
  spec.volts = volts * trade::volt;
  spec.curve_volts = {12.0, 13.5};
  spec.curve_points = {5, 5};
  for (double flow : {130.0, 178.0, 212.0, 240.0, 262.0, 185.0, 225.0, 255.0, 280.0, 300.0})
    spec.curve_flow.push_back(flow * litre_per_hour);
  for (double rise : {80.0, 60.0, 40.0, 20.0, 0.0, 80.0, 60.0, 40.0, 20.0, 0.0}) spec.curve_rise.push_back(rise * psi);
  return spec;
}

double formula(double volts, double flow) {
  const double v = volts / 13.5;
  return 6.5e5 * v * v - 2.5e9 * v * flow - 4e13 * flow * std::abs(flow);
}

double flow_against(const ElectricPumpSpec<>& spec, double rise, double density = 750.0) {
  const ElectricPump<> pump(spec, liquid(density));
  return crossing([&](double flow) { return rise_at(pump, flow, density) - rise; }, 0.0, 1e-3) / litre_per_hour;
}

}  // namespace

TEST_CASE("electric pump: meets every measured point at the chart's own voltage") {
  const auto spec = two_chart_pump(13.5);
  for (std::size_t chart : {0u, 1u}) {
    auto at = spec;
    at.volts = spec.curve_volts[chart] * trade::volt;
    const ElectricPump<> pump(at, liquid());
    for (std::size_t i = 0; i < 5; ++i)
      CHECK(rise_at(pump, spec.flow_of(chart)[i]) == Approx(spec.rise_of(chart)[i]).epsilon(1e-5).margin(1.0));
  }
}

TEST_CASE("electric pump: between two charts of a similar family it is the family") {
  // The parabola rise = a v² − b v Q − c Q|Q| obeys the affinity laws exactly, so charts taken from it at two
  // voltages must give it back at a third, up to what twelve points say about a parabola.
  ElectricPumpSpec<> spec;
  spec.curve_volts = {9.0, 13.5};
  spec.curve_points = {12, 12};
  for (double volts : spec.curve_volts)
    for (int i = 0; i < 12; ++i) {
      const double flow = 1e-5 * i * volts / 13.5;
      spec.curve_flow.push_back(flow);
      spec.curve_rise.push_back(formula(volts, flow));
    }
  for (double volts : {6.0, 9.5, 11.25, 12.8, 15.0}) {
    spec.volts = volts * trade::volt;
    const ElectricPump<> pump(spec, liquid());
    for (double share : {0.02, 0.31, 0.55, 0.78}) {
      const double flow = share * 1.1e-4 * volts / 13.5;
      CHECK(rise_at(pump, flow) == Approx(formula(volts, flow)).margin(0.001 * 6.5e5));
    }
  }
}

TEST_CASE("electric pump: a tenth of a volt is about one per cent of flow") {
  // Common practice, no source: 0.1 V at the pump is 1 to 1.5 % of flow at injection pressure.
  for (double volts : {12.3, 12.75, 13.2}) {
    const double gain = flow_against(two_chart_pump(volts + 0.05), 43.5 * psi) /
                            flow_against(two_chart_pump(volts - 0.05), 43.5 * psi) - 1.0;
    CHECK(gain > 0.008);
    CHECK(gain < 0.017);
  }
}

TEST_CASE("electric pump: flow rises with volts from standstill to beyond the charts, without a jump") {
  double last = flow_against(two_chart_pump(8.0), 10.0 * psi);
  for (double volts = 8.02; volts <= 16.0; volts += 0.02) {
    const double flow = flow_against(two_chart_pump(volts), 10.0 * psi);
    INFO(volts << " V");
    CHECK(flow > last);
    CHECK(flow - last < 2.0);  // L/h for 0.02 V; the average is 0.5
    last = flow;
  }
}

TEST_CASE("electric pump: the slope with volts does not jump at a chart, at the stall or at an end of the charts") {
  const auto slope = [](double volts) {
    network::ElementOf<ElectricPump> element{two_chart_pump(volts)};
    element.prepare(liquid());
    const double point[3] = {1e5, 3e5, 0.04};
    double by_volts = 0.0;
    element.residual_by_field(point, 0, {&by_volts, 1});
    return by_volts;
  };
  for (double volts : {1.0, 2.0, 12.0, 12.75, 13.5, 15.0}) {
    INFO(volts << " V");
    CHECK(slope(volts - 1e-7) == Approx(slope(volts + 1e-7)).epsilon(1e-4));
  }
  CHECK(slope(13.0) > 0.0);
}

TEST_CASE("electric pump: its law is sound at any voltage, with and without relief") {
  for (double relief : {0.0, 6e5})
    for (double volts : {0.0, 0.008, 0.5, 1.7, 7.0, 12.0, 12.6, 13.5, 18.0}) {
      INFO(volts << " V, relief " << relief);
      auto spec = two_chart_pump(volts);
      spec.relief_set_pressure = PressureDifference<>::from_value(relief);
      law_is_sound(ElectricPump<>(spec, liquid()), 750.0 * 300.0 * litre_per_hour);
    }
}

TEST_CASE("electric pump: stopped, it leaks its share and makes no energy") {
  const ElectricPump<> pump(two_chart_pump(0.0), liquid());
  for (double flow : {-1e-3, -1e-6, 1e-6, 1e-3}) CHECK(rise_at(pump, flow) * flow < 0.0);
  // 5 % of 262 L/h (the lowest chart) at its top rise of 80 psi, by the definition of `stopped_leak`; the linear
  // term adds 2 % and the run-out loss 0.25 %.
  CHECK(rise_at(pump, -0.05 * 262.0 * litre_per_hour) == Approx(80.0 * psi * 1.0225).epsilon(1e-3));
}

TEST_CASE("electric pump: the relief caps the dead-head rise and leaves lower pressures alone") {
  auto spec = two_chart_pump(13.5);
  const double open_dead_head = rise_at(ElectricPump<>(spec, liquid()), 0.0);
  spec.relief_set_pressure = PressureDifference<>::from_value(85.0 * psi);
  const ElectricPump<> pump(spec, liquid());
  REQUIRE(open_dead_head > 130.0 * psi);
  CHECK(rise_at(pump, 0.0) == Approx(85.0 * psi + 0.1 * (open_dead_head - 85.0 * psi)).epsilon(1e-3));
  CHECK(rise_at(pump, 255.0 * litre_per_hour) == Approx(40.0 * psi).epsilon(1e-3));
  CHECK(pump.regime(flowing(750.0 * 100.0 * litre_per_hour)) == Regime::relieving);
  // Even a stopped pump lets a higher outlet pressure back through its relief valve.
  spec.volts = {};
  CHECK(rise_at(ElectricPump<>(spec, liquid()), -100.0 * litre_per_hour) <
        0.2 * rise_at(ElectricPump<>(two_chart_pump(0.0), liquid()), -100.0 * litre_per_hour));
}

TEST_CASE("electric pump: density counts as much as the builder says") {
  auto spec = two_chart_pump(13.5);
  const double flow = 255.0 * litre_per_hour;
  CHECK(rise_at(ElectricPump<>(spec, liquid(900.0)), flow, 900.0) == Approx(40.0 * psi).epsilon(1e-5));
  spec.density_share = Ratio<>::from_value(1.0);
  spec.test_density = 750.0 * trade::kilogram_per_cubic_metre;
  CHECK(rise_at(ElectricPump<>(spec, liquid(900.0)), flow, 900.0) == Approx(1.2 * 40.0 * psi).epsilon(1e-5));
}

TEST_CASE("electric pump: gradients by volts and by every other number are true") {
  for (double volts : {1.3, 10.0, 12.6, 15.0}) {
    INFO(volts << " V");
    auto spec = two_chart_pump(volts);
    spec.relief_set_pressure = PressureDifference<>::from_value(3e5);
    spec.density_share = Ratio<>::from_value(0.4);
    gradients_are_true<ElectricPump>(spec, liquid(), 0.03);
    gradients_are_true<ElectricPump>(spec, liquid(), 0.06);
    gradients_are_true<ElectricPump>(spec, liquid(), -0.01);
  }
}

TEST_CASE("electric pump: says how it runs and when it leaves its data") {
  const auto pump = [](double volts) { return ElectricPump<>(two_chart_pump(volts), liquid()); };
  const auto state = [](double litres) { return flowing(750.0 * litres * litre_per_hour); };
  CHECK(pump(13.0).regime(state(230)) == Regime::pumping);
  CHECK(pump(13.0).regime(state(0.1)) == Regime::dead_headed);
  CHECK(pump(13.0).regime(state(-40)) == Regime::reversed);
  CHECK(pump(13.0).regime(state(310)) == Regime::running_out);
  CHECK(pump(0.4).regime(state(5)) == Regime::stopped);
  CHECK_FALSE(pump(12.7).beyond_data(state(200)));
  CHECK_FALSE(pump(12.0).beyond_data(state(262)));
  CHECK(pump(12.7).beyond_data(state(100)));
  CHECK(pump(12.7).beyond_data(state(290)));
  CHECK(pump(11.9).beyond_data(state(200)));
  CHECK(pump(14.0).beyond_data(state(250)));
}

TEST_CASE("electric pump: a hump is reported, a falling chart is not one") {
  CHECK_FALSE(ElectricPump<>(two_chart_pump(13.5), liquid()).has_hump());
  auto spec = two_chart_pump(13.5);
  spec.curve_rise[6] = 81.0 * psi;
  CHECK(ElectricPump<>(spec, liquid()).has_hump());
  CHECK(complaint(spec) == "no complaint");
}

TEST_CASE("electric pump: bad charts are refused in the builder's words") {
  using Catch::Contains;
  const auto refuses = [](auto&& spoil, const std::string& field, const std::string& words) {
    auto spec = two_chart_pump(13.5);
    spoil(spec);
    CHECK_THAT(complaint(spec), Contains("the pump: " + field + ": ") && Contains(words));
  };
  refuses([](auto& s) { s.curve_volts.clear(); }, "curve_volts", "is empty");
  refuses([](auto& s) { s.curve_volts = {13.5, 12.0}; }, "curve_volts", "12 V follows 13.5 V");
  refuses([](auto& s) { s.curve_volts[0] = 1200.0; }, "curve_volts", "outside 1 to 60 V");
  refuses([](auto& s) { s.curve_points = {10}; }, "curve_points", "1 entries for 2 voltages");
  refuses([](auto& s) { s.curve_points = {4.5, 5.5}; }, "curve_points", "whole number");
  refuses([](auto& s) { s.curve_points = {5, 6}; }, "curve_flow", "has 10 points but curve_points adds up to 11");
  refuses([](auto& s) { s.curve_rise.pop_back(); }, "curve_rise", "has 9 points");
  refuses([](auto& s) { s.curve_flow[2] = s.curve_flow[1]; }, "curve_flow", "chart at 12 V: point 3");
  refuses([](auto& s) { s.curve_flow[5] = -1e-6; }, "curve_flow", "chart at 13.5 V: point 1");
  refuses([](auto& s) { s.curve_rise[1] = NAN; }, "curve_rise", "point 2 is not a finite number");
  refuses([](auto& s) { for (double& rise : s.curve_rise) rise = -rise; }, "curve_rise", "no point above zero");
  const auto swap_the_flows = [](auto& s) {
    std::rotate(s.curve_flow.begin(), s.curve_flow.begin() + 5, s.curve_flow.end());
  };
  refuses(swap_the_flows, "curve_rise", "check which chart belongs to which voltage");
  refuses([](auto& s) { s.relief_set_pressure = PressureDifference<>::from_value(6.0); }, "relief_set_pressure",
          "too low for a relief valve");
  refuses([](auto& s) { s.volts = Voltage<>::from_value(-1.0); }, "volts", "outside 0 to 60 V");
}

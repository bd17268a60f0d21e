/// Rows of regulators, relief and check valves, thermostats, filters, cores, bearings and injectors. All numbers are invented but usual.

#include "law_suite.hpp"

namespace laws {
namespace {

constexpr double ambient = 101325.0;
constexpr double bar = 1e5;

Row bypass_regulator(const std::string& variant, double seat_share) {
  // Entries: supply, return, sensed, reference, flow.
  return {.kind = "bypass regulator",
          .variant = variant,
          .fields = {{"set_pressure", 3 * bar}, {"band", 2e4}, {"full_area", 6e-6}, {"seat_share", seat_share}},
          .columns = {},
          .states = {{ambient + 3.1 * bar, ambient + 5e3, ambient + 3.1 * bar, ambient, 0.04},
                     {ambient + 2.0 * bar, ambient, ambient + 2.0 * bar, ambient, 1e-4},
                     {ambient + 5.0 * bar, ambient + 1.5 * bar, ambient + 5.0 * bar, ambient, 0.1},
                     {ambient + 2.4 * bar, ambient + 5e3, ambient + 2.4 * bar, ambient - 0.6 * bar, 0.02}},
          .paths = {{{ambient, ambient, ambient, ambient, 1e-5},
                     {ambient + 6 * bar, ambient, ambient + 6 * bar, ambient, 0.1}},
                    {{ambient + 3.05 * bar, ambient, ambient + 3.05 * bar, ambient, -0.02},
                     {ambient + 3.05 * bar, ambient, ambient + 3.05 * bar, ambient, 0.06}}},
          .regimes = {Regime::shut, Regime::regulating, Regime::wide_open},
          .passive = true,
          .known_failures = {}};
}

Row reducing_regulator(const std::string& variant, double seat_share) {
  // Entries: supply, regulated side, sensed, reference, flow.
  return {.kind = "reducing regulator",
          .variant = variant,
          .fields = {{"set_pressure", 0.4 * bar}, {"band", 5e3}, {"full_area", 1.2e-5}, {"seat_share", seat_share}},
          .columns = {},
          .states = {{ambient + 1 * bar, ambient + 0.38 * bar, ambient + 0.38 * bar, ambient, 0.02},
                     {ambient + 1 * bar, ambient + 0.9 * bar, ambient + 0.9 * bar, ambient, 1e-5},
                     {ambient + 0.3 * bar, ambient + 0.1 * bar, ambient + 0.1 * bar, ambient, 0.06},
                     {ambient + 2 * bar, ambient + 1.1 * bar, ambient + 1.1 * bar, ambient + 0.75 * bar, 0.04}},
          .paths = {{{ambient + 1 * bar, ambient + 0.6 * bar, ambient + 0.6 * bar, ambient, 1e-5},
                     {ambient + 1 * bar, ambient, ambient, ambient, 0.1}},
                    {{ambient + 1 * bar, ambient + 0.38 * bar, ambient + 0.38 * bar, ambient, -0.02},
                     {ambient + 1 * bar, ambient + 0.38 * bar, ambient + 0.38 * bar, ambient, 0.06}}},
          .regimes = {Regime::shut, Regime::regulating, Regime::wide_open},
          .passive = true,
          .known_failures = {}};
}

Row relief_valve() {
  return {.kind = "relief valve",
          .variant = "one step",
          .fields = {{"set_pressure", 5 * bar}, {"band", 5e4}, {"full_area", 5e-5}},
          .columns = {},
          .states = {{ambient + 5.3 * bar, ambient, 0.5},
                     {ambient + 3 * bar, ambient, 1e-4},
                     {ambient + 9 * bar, ambient + 0.5 * bar, 1.0}},
          .paths = {{{ambient, ambient, 1e-5}, {ambient + 12 * bar, ambient, 1.5}},
                    {{ambient + 5.2 * bar, ambient, -0.2}, {ambient + 5.2 * bar, ambient, 0.5}}},
          .regimes = {Regime::shut, Regime::relieving, Regime::wide_open},
          .passive = true,
          .known_failures = {}};
}

Row two_step_relief_valve() {
  return {.kind = "relief valve",
          .variant = "two steps",
          .fields = {{"set_pressure", 3 * bar},
                     {"band", 2e4},
                     {"full_area", 1e-5},
                     {"second_set_pressure", 6 * bar},
                     {"second_area", 6e-5}},
          .columns = {},
          .states = {{ambient + 3.1 * bar, ambient, 0.1},
                     {ambient + 6.3 * bar, ambient + 0.1 * bar, 0.7},
                     {ambient + 1 * bar, ambient, 1e-5}},
          .paths = {{{ambient, ambient, 1e-5}, {ambient + 9 * bar, ambient, 1.5}}},
          .regimes = {Regime::shut, Regime::relieving, Regime::wide_open},
          .passive = true,
          .known_failures = {}};
}

Row check_valve(const std::string& variant, double cracking, double area, double seepage) {
  return {.kind = "check valve",
          .variant = variant,
          .fields = {{"cracking_pressure", cracking}, {"full_area", area}, {"seepage_resistance", seepage}},
          .columns = {},
          .states = {{ambient + 0.3 * bar, ambient, 0.04},
                     {ambient, ambient + 4 * bar, -2e-5},
                     {ambient + 0.04 * bar, ambient, 1e-6}},
          .paths = {{{ambient, ambient, -0.05}, {ambient + 0.3 * bar, ambient, 0.08}},
                    {{ambient, ambient, -2e-5}, {ambient, ambient, 2e-5}}},
          .regimes = {Regime::shut, Regime::open},
          .passive = true,
          .known_failures = {}};
}

/// The liquids of the suite stand at 293.15 K: whether the valve is open is said by its range.
Row thermostat(const std::string& kind, const std::string& variant, double start, double full, double bleed, Regime met) {
  return {.kind = kind,
          .variant = variant,
          .fields = {{"start_temperature", start}, {"full_temperature", full}, {"full_area", 1.1e-4}, {"bleed", bleed}},
          .columns = {},
          .states = {{ambient + 0.3 * bar, ambient, 0.1}, {ambient, ambient + 0.1 * bar, -0.02}, {ambient + 2 * bar, ambient, 1e-3}},
          .paths = {{{ambient, ambient, -0.1}, {ambient + 0.3 * bar, ambient, 0.1}}},
          .regimes = {met},
          .passive = true,
          .known_failures = {}};
}

Row filter(const std::string& variant, double loading, double quadratic) {
  return {.kind = "filter",
          .variant = variant,
          .fields = {{"linear", 1.2e8},
                     {"quadratic", quadratic},
                     {"rating_viscosity", 6e-4},
                     {"rating_density", 780.0},
                     {"loading", loading}},
          .columns = {},
          .states = {{ambient + 0.2 * bar, ambient, 0.05}, {ambient, ambient + 0.1 * bar, -0.02}},
          .paths = {{{ambient, ambient, -0.1}, {ambient + 0.3 * bar, ambient, 0.1}}},
          .regimes = {},
          .passive = true,
          .known_failures = {}};
}

Row filter_with_bypass() {
  // Entries: inlet, outlet, flow through the element, flow through the bypass.
  return {.kind = "filter with bypass",
          .variant = "",
          .fields = {{"linear", 3e7},
                     {"quadratic", 2e10},
                     {"rating_viscosity", 0.012},
                     {"rating_density", 850.0},
                     {"loading", 3.0},
                     {"bypass_pressure", 1 * bar},
                     {"bypass_area", 8e-5}},
          .columns = {},
          .states = {{ambient + 4 * bar, ambient + 3.6 * bar, 0.3, 1e-4},
                     {ambient + 4 * bar, ambient + 2.7 * bar, 0.2, 0.4},
                     {ambient + 4 * bar, ambient + 1.5 * bar, 0.5, 0.8},
                     {ambient + 2 * bar, ambient + 2.5 * bar, -0.1, -1e-4}},
          .paths = {{{ambient, ambient + 0.5 * bar, -0.1, -1e-3}, {ambient + 4 * bar, ambient, 0.6, 1.0}}},
          .regimes = {Regime::passive, Regime::bypassing},
          .passive = true,
          .known_failures = {}};
}

Row core(const std::string& variant, double inertial) {
  return {.kind = "core",
          .variant = variant,
          .fields = {{"viscous", 2e9}, {"inertial", inertial}, {"inlet_bore", 12e-3}, {"outlet_bore", 16e-3}},
          .columns = {},
          .states = {{ambient + 0.5 * bar, ambient, 0.3}, {ambient, ambient + 0.1 * bar, -0.05}},
          .paths = {{{ambient, ambient, -0.5}, {ambient + 2 * bar, ambient, 0.5}}},
          .regimes = {},
          .passive = true,
          .known_failures = {}};
}

Row bearings(const std::string& variant, double speed) {
  return {.kind = "bearings",
          .variant = variant,
          .fields = {{"count", 5},
                     {"diameter", 55e-3},
                     {"land_width", 8.5e-3},
                     {"radial_clearance", 28e-6},
                     {"eccentricity", 0.8},
                     {"speed", speed},
                     {"film_viscosity", 0.7}},
          .columns = {},
          .states = {{ambient + 3 * bar, ambient, 0.05}, {ambient, ambient + 0.1 * bar, -0.002}, {ambient + 0.1 * bar, ambient, 1e-4}},
          .paths = {{{ambient, ambient, -0.05}, {ambient + 4 * bar, ambient, 0.1}}},
          .regimes = {},
          .passive = true,
          .known_failures = {}};
}

Row injector_bank(const std::string& variant, double duty) {
  const double flow = 6 * duty * 5.5e-3;
  return {.kind = "injector bank",
          .variant = variant,
          .fields = {{"count", 6},
                     {"rated_flow", 7.3e-6},
                     {"rated_pressure", 3 * bar},
                     {"rating_density", 684.0},
                     {"duty", duty}},
          .columns = {},
          .states = {{ambient + 3 * bar, ambient, flow},
                     {ambient + 3 * bar, ambient - 0.6 * bar, 1.1 * flow},
                     {ambient, ambient + 1 * bar, -0.5 * flow}},
          .paths = {{{ambient, ambient + 1 * bar, -0.01}, {ambient + 4 * bar, ambient, 0.04}}},
          .regimes = duty > 0.0 ? std::vector{Regime::open, Regime::reversed} : std::vector{Regime::stopped},
          .passive = true,
          .known_failures = {}};
}

}  // namespace

std::vector<Row> rows_of_valves() {
  return {
      bypass_regulator("balanced", 0.0),
      bypass_regulator("seat share 5 %", 0.05),
      reducing_regulator("balanced", 0.0),
      reducing_regulator("seat share 5 %", 0.05),
      relief_valve(),
      two_step_relief_valve(),
      check_valve("sprung, in a fuel pump", 8e3, 1.1e-5, 1e12),
      check_valve("unsprung flap, for oil", 100.0, 1e-4, 1e13),
      check_valve("thick oil through a pinhole", 3.5e3, 1e-8, 1e9),
      thermostat("thermostat", "cold", 355.0, 368.0, 0.1, Regime::shut),
      thermostat("thermostat", "cold, without a bleed", 355.0, 368.0, 0.0, Regime::shut),
      thermostat("thermostat", "warming", 288.0, 301.0, 0.1, Regime::regulating),
      thermostat("thermostat", "hot", 270.0, 283.0, 0.1, Regime::wide_open),
      thermostat("thermostat bypass", "cold", 355.0, 368.0, 0.02, Regime::wide_open),
      thermostat("thermostat bypass", "warming", 288.0, 301.0, 0.02, Regime::regulating),
      thermostat("thermostat bypass", "hot", 270.0, 283.0, 0.02, Regime::shut),
      filter("clean", 1.0, 3e12),
      filter("loaded", 4.0, 3e12),
      filter("no square part", 2.0, 0.0),
      filter_with_bypass(),
      core("passages and ends", 3e8),
      core("passages alone", 0.0),
      bearings("at rest", 0.0),
      bearings("turning", 100.0),
      injector_bank("half duty", 0.5),
      injector_bank("almost shut", 1e-6),
      injector_bank("shut", 0.0),
  };
}

}  // namespace laws

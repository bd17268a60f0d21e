/// Rows of pumps. All numbers are invented but usual. Pumps bring energy in, so the energy law does not judge them.

#include "law_suite.hpp"

namespace laws {
namespace {

constexpr double ambient = 101325.0;
constexpr double bar = 1e5;

Row pump(const std::string& kind, const std::string& variant, double flow, double rise,
         std::vector<std::pair<std::string, double>> fields,
         std::vector<std::pair<std::string, std::vector<double>>> columns, std::vector<Regime> regimes,
         std::vector<KnownFailure> known_failures = {}) {
  return {.kind = kind,
          .variant = variant,
          .fields = std::move(fields),
          .columns = std::move(columns),
          .states = {{ambient, ambient + rise, flow}, {ambient - 0.1 * bar, ambient + 1.3 * rise, 0.3 * flow},
                     {ambient, ambient + 0.2 * rise, 1.4 * flow}},
          .paths = {{{ambient, ambient + rise, -flow}, {ambient, ambient, 4.0 * flow}}},
          .regimes = std::move(regimes),
          .passive = false,
          .known_failures = std::move(known_failures)};
}

Row electric_pump(const std::string& variant, double volts, double relief, std::vector<Regime> regimes) {
  return pump("electric pump", variant, 0.05, 3 * bar,
              {{"volts", volts}, {"relief_set_pressure", relief}, {"density_share", 0.5}},
              {{"curve_volts", {12.0, 13.5}},
               {"curve_points", {5, 5}},
               {"curve_flow", {0.0, 2e-5, 4e-5, 6e-5, 7e-5, 0.0, 2.5e-5, 5e-5, 7e-5, 8.5e-5}},
               {"curve_rise", {7e5, 6e5, 4.5e5, 2e5, 0.0, 8e5, 7e5, 5e5, 2.7e5, 0.0}}},
              std::move(regimes));
}

const std::vector<Regime> working{Regime::pumping, Regime::dead_headed, Regime::reversed, Regime::running_out};

}  // namespace

std::vector<Row> rows_of_pumps() {
  return {
      electric_pump("between two charts, with relief", 13.0, 6.5 * bar,
                    {Regime::pumping, Regime::relieving, Regime::reversed, Regime::running_out}),
      electric_pump("low volts", 8.0, 0.0, working),
      electric_pump("stalling", 1.5, 0.0, {}),
      electric_pump("no volts", 0.0, 6.5 * bar, {Regime::stopped}),
      pump("quadratic pump", "running", 0.045, 4 * bar,
           {{"volts", 12.8}, {"shutoff_rise", 6.5e5}, {"linear", 2.5e9}, {"quadratic", 4e13}}, {}, working),
      pump("quadratic pump", "stopped", 0.045, 4 * bar,
           {{"volts", 0.0}, {"shutoff_rise", 6.5e5}, {"linear", 2.5e9}, {"quadratic", 4e13}}, {}, {Regime::stopped}),
      pump("positive displacement pump", "running", 0.5, 4 * bar,
           {{"displacement", 1.6e-5}, {"speed", 40.0}, {"rated_rise", 4e5}, {"rated_speed", 50.0},
            {"turbulent_share", 0.3}}, {}, working),
      pump("positive displacement pump", "turned backwards, laminar slip", -0.5, 4 * bar,
           {{"displacement", 1.6e-5}, {"speed", -40.0}, {"rated_rise", 4e5}, {"rated_speed", 50.0}}, {}, {}),
      pump("positive displacement pump", "stopped", 0.5, 4 * bar,
           {{"displacement", 1.6e-5}, {"speed", 0.0}, {"rated_rise", 4e5}, {"rated_speed", 50.0},
            {"turbulent_share", 0.3}}, {}, {Regime::stopped},
           {{"number slope", "the width that rounds its turbulent slip near no slip follows the rated point, which "
                             "slopes by the rated point leave out; it matters below a thousandth of the rated slip"}}),
      pump("centrifugal pump", "running", 1.0, 0.8 * bar,
           {{"speed", 70.0}, {"rated_speed", 60.0}},
           {{"curve_flow", {0.0, 0.5e-3, 1e-3, 1.5e-3, 2e-3}}, {"curve_rise", {1.2e5, 1.15e5, 1e5, 0.7e5, 0.2e5}}},
           working),
      pump("centrifugal pump", "stopped", 1.0, 0.8 * bar,
           {{"speed", 0.0}, {"rated_speed", 60.0}},
           {{"curve_flow", {0.0, 0.5e-3, 1e-3, 1.5e-3, 2e-3}}, {"curve_rise", {1.2e5, 1.15e5, 1e5, 0.7e5, 0.2e5}}},
           {Regime::stopped}),
  };
}

}  // namespace laws

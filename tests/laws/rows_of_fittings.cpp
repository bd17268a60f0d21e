/// Rows of fittings, steps, openings, tees, restrictors and other plain resistances. All numbers are invented but usual.

#include "law_suite.hpp"

namespace laws {
namespace {

constexpr double ambient = 101325.0;
constexpr double bar = 1e5;
constexpr double degree = 3.14159265358979323846 / 180.0;

using Fields = std::vector<std::pair<std::string, double>>;

/// A two-port resistance whose usual flow is `flow`.
Row resistance(const std::string& kind, const std::string& variant, double flow, Fields fields,
               std::vector<KnownFailure> known_failures = {}) {
  return {.kind = kind,
          .variant = variant,
          .fields = std::move(fields),
          .columns = {},
          .states = {{ambient + 0.3 * bar, ambient, flow}, {ambient, ambient + 0.1 * bar, -0.4 * flow}},
          .paths = {{{ambient, ambient, -flow}, {ambient + 0.5 * bar, ambient, flow}},
                    {{ambient, ambient, -1e-4 * flow}, {ambient, ambient, 1e-4 * flow}}},
          .regimes = {},
          .passive = true,
          .known_failures = std::move(known_failures)};
}

Row tee(const std::string& variant, double run1, double run2, double branch, double angle,
        std::vector<KnownFailure> more = {}) {
  const double flow = 1100.0 * run1 * run1;  // near 2 m/s of petrol
  const auto at = [](double straight, double aside) {
    return Point{ambient + 0.2 * bar, ambient, ambient + 0.1 * bar, straight, aside};
  };
  Row row{.kind = "tee",
          .variant = variant,
          .fields = {{"run1_bore", run1}, {"run2_bore", run2}, {"branch_bore", branch}, {"branch_angle", angle}},
          .columns = {},
          .states = {at(flow, 0.3 * flow), at(0.4 * flow, 0.9 * flow), at(flow, -0.35 * flow), at(0.3 * flow, -flow),
                     at(-0.6 * flow, -0.3 * flow)},
          .paths = {{at(flow, -0.4 * flow), at(flow, 0.4 * flow)},  // the branch turns round
                    {at(-0.5 * flow, flow), at(0.5 * flow, flow)},  // the far run turns round
                    {at(-0.8 * flow, 0.3 * flow), at(0.8 * flow, -0.3 * flow)}},  // everything turns round
          .regimes = {},
          .passive = true,
          .known_failures = {{"flow sign",
                              "the loss of one leg hangs on the flow of another: dividing, Borda-Carnot's (u0 - u1)² is "
                              "flat where both run legs are equally fast. Published coefficients do the same"},
                             {"solvable",
                              "dividing, each leg's loss hangs more on the other flow than on its own, so the slope "
                              "block turns its sign on the way from combining to dividing"}}};
  row.known_failures.insert(row.known_failures.end(), more.begin(), more.end());
  return row;
}

Row measured(const std::string& variant, std::vector<double> flow, std::vector<double> drop) {
  Row row = resistance("measured table", variant, 750.0 * flow.back(),
                       {{"rating_viscosity", 5e-4}, {"rating_density", 750.0}});
  row.columns = {{"flow", std::move(flow)}, {"pressure_drop", std::move(drop)}};
  return row;
}

}  // namespace

std::vector<Row> rows_of_fittings() {
  const std::string kink = "a run of unequal bores keeps a kink of a tenth of the slope while the branch stands still: "
                           "easing it further would make energy (correlations/junction.hpp)";
  return {
      resistance("two-k fitting", "threaded elbow", 0.08, {{"bore", 0.0087}}),
      resistance("three-k fitting", "threaded elbow", 0.08, {{"bore", 0.0087}}),
      resistance("three-k fitting", "viscous share only", 0.08, {{"bore", 0.0087}, {"turbulent_constant", 0.0}}),
      resistance("size step", "sudden, narrowing", 0.06, {{"inlet_bore", 0.0111}, {"outlet_bore", 0.0079}}),
      resistance("size step", "cone of 20 degrees, widening", 0.06,
                 {{"inlet_bore", 0.0079}, {"outlet_bore", 0.0111}, {"included_angle", 20.0 * degree}}),
      resistance("size step", "cone of 90 degrees, narrowing", 0.06,
                 {{"inlet_bore", 0.0111}, {"outlet_bore", 0.0079}, {"included_angle", 90.0 * degree}}),
      resistance("size step", "no step at all", 0.06, {{"inlet_bore", 0.0079}, {"outlet_bore", 0.0079}},
                 {{"number slope", "the loss is the same whichever bore is the smaller, so it has a corner where they are equal"}}),
      resistance("opening", "pick-up", 0.08, {{"bore", 0.0087}}),
      resistance("return opening", "return", 0.08, {{"bore", 0.0087}, {"entrance_loss", 0.78}}),
      tee("equal, 90 degrees", 0.0087, 0.0087, 0.0087, 90.0 * degree),
      tee("small branch, 60 degrees", 0.0111, 0.0111, 0.0079, 60.0 * degree),
      tee("reducing run, wye", 0.0111, 0.0087, 0.0087, 45.0 * degree,
          {{"slope", kink}, {"continuity", kink}}),
      resistance("orifice", "sharp, between wide spaces", 0.03, {{"bore", 0.004}}),
      resistance("orifice", "measured, in a line", 0.03,
                 {{"bore", 0.004}, {"line_bore", 0.0087}, {"discharge_coefficient", 0.72}}),
      resistance("orifice", "sharp, in a line", 0.03, {{"bore", 0.004}, {"line_bore", 0.0087}}),
      resistance("short tube orifice", "between wide spaces", 0.02, {{"bore", 0.003}, {"length", 0.009}}),
      resistance("short tube orifice", "in a line", 0.02,
                 {{"bore", 0.003}, {"length", 0.009}, {"line_bore", 0.0087}}),
      resistance("valve", "half open", 0.08, {{"flow_coefficient", 5e-5}, {"opening", 0.5}, {"bore", 0.0087}}),
      resistance("valve", "shut", 1e-6, {{"flow_coefficient", 5e-5}, {"opening", 0.0}}),
      resistance("resistance", "square law", 0.09,
                 {{"rated_drop", 3e4}, {"rated_flow", 1.2e-4}, {"rating_viscosity", 5e-4}, {"rating_density", 750.0}}),
      resistance("resistance", "smooth tube", 0.09,
                 {{"rated_drop", 3e4}, {"rated_flow", 1.2e-4}, {"exponent", 1.75}, {"rating_viscosity", 5e-4},
                  {"rating_density", 750.0}}),
      measured("rounded points", {2e-5, 5e-5, 9e-5, 1.4e-4}, {900.0, 5.2e3, 1.6e4, 3.9e4}),
      measured("from zero, flattening", {0.0, 4e-5, 8e-5, 1.2e-4}, {0.0, 8e3, 1.1e4, 1.2e4}),
  };
}

}  // namespace laws

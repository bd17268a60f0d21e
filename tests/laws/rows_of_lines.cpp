/// Rows of lines. All numbers are invented but usual.

#include "law_suite.hpp"

namespace laws {
namespace {

constexpr double ambient = 101325.0;
constexpr double bar = 1e5;

Row line(const std::string& variant, double bore, double length, double roughness, double extra_loss) {
  const double flow = 1100.0 * bore * bore;  // near 2 m/s of petrol
  return {.kind = "line",
          .variant = variant,
          .fields = {{"bore", bore}, {"length", length}, {"roughness", roughness}, {"extra_loss", extra_loss}},
          .columns = {},
          .states = {{ambient + 0.3 * bar, ambient, flow}, {ambient, ambient + 0.1 * bar, -0.4 * flow}},
          .paths = {{{ambient, ambient, -flow}, {ambient + 0.5 * bar, ambient, flow}},
                    {{ambient, ambient, 0.0}, {ambient, ambient, 0.1 * flow}}},
          .regimes = {Regime::laminar, Regime::transitional, Regime::turbulent},
          .passive = true,
          .known_failures = {}};
}

Row bent_line(const std::string& variant, double angle) {
  Row row = line(variant, 0.0087, 1.2, 1.5e-6, 0.5);
  row.fields.insert(row.fields.end(), {{"bend_angle", angle}, {"bend_radius", 0.04}});
  return row;
}

}  // namespace

std::vector<Row> rows_of_lines() {
  return {
      line("smooth hose", 0.0087, 4.0, 1.5e-6, 2.0),
      line("rough tube, nothing extra", 0.0075, 2.0, 4.5e-5, 0.0),
      line("no length", 0.012, 0.0, 0.0, 1.5),
      bent_line("two bends of 90 degrees", 3.1415926535897931),
      bent_line("one bend of 45 degrees", 0.78539816339744828),
  };
}

}  // namespace laws

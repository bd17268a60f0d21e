// Published pump and suction examples. Every row of the file is claimed by a test here; rows without a published
// answer are judged against the independent recalculation the file carries.
#include <set>

#include "../csv.hpp"
#include "flarenut/correlations/suction.hpp"
#include "flarenut/parts/centrifugal_pump.hpp"
#include "flarenut/parts/line.hpp"
#include "flarenut/parts/quadratic_pump.hpp"
#include "flarenut/parts/tank.hpp"
#include "pump_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace pump_checks;

namespace {

const std::string file = "hydraulics/pumps_npsh_examples.csv";

csv::Row row_of(const std::string& id, const std::string& result) {
  for (const auto& row : csv::read(file))
    if (row.text("case_id") == id && row.text("result_name") == result) return row;
  throw std::runtime_error("no row " + id + " " + result);
}

/// The published figure where there is one, else the recalculation.
double answer(const csv::Row& row) {
  return row.number(row.empty("published_value_SI") ? "recomputed_SI" : "published_value_SI");
}

double in(const csv::Row& row, const std::string& name) { return row.input("inputs_SI", name); }

LineSpec<> line_of(double bore, double length, double roughness, double loss) {
  LineSpec<> spec;
  spec.bore = Length<>::from_value(bore);
  spec.length = Length<>::from_value(length);
  spec.roughness = Length<>::from_value(roughness);
  spec.extra_loss = Ratio<>::from_value(loss);
  return spec;
}

/// PU01 to PU03: lift through a long line with a pump whose curve h = a + c Q² is fitted to three points.
struct LiftSystem {
  static constexpr double density = 1000.0, gravity = 9.81;  // both cancel: the example counts in heads
  csv::Row row = row_of("PU01", "flow");
  Line<> line{line_of(in(row, "D"), in(row, "L"), in(row, "eps"), 0.0), liquid(density, density * in(row, "nu"))};

  QuadraticPump<> pump() const {
    const double flow[] = {0.0, 5000.0 * 6.30901964e-5, 7850.0 * 6.30901964e-5};  // US gal/min, 231 in³
    const double head[] = {81.0 * 0.3048, 60.0 * 0.3048, 20.0 * 0.3048};
    double square = 0, fourth = 0, heads = 0, mixed = 0;  // least squares of h = a + c Q²
    for (int i = 0; i < 3; ++i) {
      const double q2 = flow[i] * flow[i];
      square += q2, fourth += q2 * q2, heads += head[i], mixed += q2 * head[i];
    }
    const double c = (3.0 * mixed - square * heads) / (3.0 * fourth - square * square);
    const double a = (heads - c * square) / 3.0;
    QuadraticPumpSpec<> spec;
    spec.shutoff_rise = PressureDifference<>::from_value(density * gravity * a);
    spec.quadratic = QuadraticResistance<>::from_value(-density * gravity * c);
    validate("the pump", spec);
    return QuadraticPump<>(spec, liquid(density));
  }
  double line_loss(double flow) const { return line.drop(MassFlow<>::from_value(density * flow)).value(); }
  /// Loss with the friction factor of 1 ft³/s kept, as the example does.
  double frozen_loss(double flow) const {
    const double one = 0.3048 * 0.3048 * 0.3048;
    return line_loss(one) * (flow / one) * (flow / one);
  }
  double lift() const { return density * gravity * in(row, "static head"); }
};

}  // namespace

TEST_CASE("pump examples: operating point of a pump on a lift, friction factor frozen (OT-MAU, chapter 7)") {
  const LiftSystem system;
  const auto pump = system.pump();
  const double flow = crossing(
      [&](double q) { return rise_at(pump, q, 1000.0) - system.lift() - system.frozen_loss(q); }, 0.0, 1.0);
  CHECK(flow == Approx(answer(row_of("PU01", "flow"))).epsilon(0.002));
  CHECK(rise_at(pump, flow, 1000.0) / 9810.0 == Approx(answer(row_of("PU01", "head"))).epsilon(0.002));
}

TEST_CASE("pump examples: the same with the friction of the flow itself (OT-MAU, recalculated)") {
  const LiftSystem system;
  const auto pump = system.pump();
  const double flow = crossing(
      [&](double q) { return rise_at(pump, q, 1000.0) - system.lift() - system.line_loss(q); }, 0.0, 1.0);
  CHECK(flow == Approx(answer(row_of("PU02", "flow"))).epsilon(0.002));
  CHECK(rise_at(pump, flow, 1000.0) / 9810.0 == Approx(answer(row_of("PU02", "head"))).epsilon(0.002));
}

TEST_CASE("pump examples: two pumps in parallel add their flows at one head (recalculated; rule from memory)") {
  const LiftSystem system;
  const auto pump = system.pump();
  const double flow = crossing(
      [&](double q) { return rise_at(pump, 0.5 * q, 1000.0) - system.lift() - system.frozen_loss(q); }, 0.0, 1.0);
  CHECK(flow == Approx(answer(row_of("PU03", "total flow"))).epsilon(0.002));
  CHECK(rise_at(pump, 0.5 * flow, 1000.0) / 9810.0 == Approx(answer(row_of("PU03", "head"))).epsilon(0.002));
}

TEST_CASE("pump examples: pump between two tanks, power and suction pressure (BK-SUB example 11.31)") {
  const auto row = row_of("PU06", "hydraulic power");
  const double gravity = in(row, "g"), density = in(row, "gamma") / gravity, flow = in(row, "Q");
  const auto lossy = [&](const std::string& end, double loss) {  // fixed friction factor: all loss told as K
    const double bore = in(row, "D" + end), length = in(row, "L" + end);
    const Line<> line(line_of(bore, 0.0, 0.0, loss + in(row, "f") * length / bore), liquid(density, 1e-3));
    return line.drop(MassFlow<>::from_value(density * flow)).value();
  };
  const double suction_loss = lossy("1", in(row, "K entrance"));
  const double rise = density * gravity * (in(row, "z delivery") - in(row, "z source")) + suction_loss +
                      lossy("2", in(row, "K exit"));
  CHECK(rise * flow == Approx(answer(row)).epsilon(0.002));

  const double velocity = flow / (0.25 * 3.14159265358979 * in(row, "D1") * in(row, "D1"));
  const double suction_static = in(row, "gamma") * (in(row, "p atm head") + in(row, "z source") - in(row, "z pump")) -
                                suction_loss - 0.5 * density * velocity * velocity;
  CHECK(suction_static == Approx(answer(row_of("PU06", "suction pressure, absolute"))).epsilon(0.002));
}

TEST_CASE("pump examples: affinity rules from 3500 to 1700 rev/min (HB-TP410 problem 7.33)") {
  const auto row = row_of("PU07", "flow");
  const double density = 998.2, gravity = trade::standard_gravity_value;
  const double flow = in(row, "Q1"), rise = density * gravity * in(row, "H1");
  CentrifugalPumpSpec<> spec;  // an invented curve through the one point the problem gives
  spec.curve_flow = {0.0, flow, 1.5 * flow};
  spec.curve_rise = {1.2 * rise, rise, 0.6 * rise};
  spec.rated_speed = in(row, "N1") * trade::revolution_per_minute;
  spec.speed = in(row, "N2") * trade::revolution_per_minute;
  const CentrifugalPump<> pump(spec, liquid(density));
  // The flow at which the slowed pump lifts the head of the answer is the flow of the answer, and the reverse.
  const double slow_flow = answer(row), slow_rise = density * gravity * answer(row_of("PU07", "head"));
  CHECK(rise_at(pump, slow_flow, density) == Approx(slow_rise).epsilon(0.005));
  const double found = crossing([&](double q) { return rise_at(pump, q, density) - slow_rise; }, 0.0, flow);
  CHECK(found == Approx(slow_flow).epsilon(0.02));
  // Power at like efficiency goes with flow × rise.
  const double power = in(row, "P1") * (slow_flow * rise_at(pump, slow_flow, density)) / (flow * rise);
  CHECK(power == Approx(answer(row_of("PU07", "power"))).epsilon(0.005));
}

TEST_CASE("NPSH: highest place of a pump above the water (BK-MUN example 12.3)") {
  const auto row = row_of("NP01", "highest lift z");
  const double gravity = in(row, "g"), density = in(row, "gamma") / gravity;
  const Line<> suction(line_of(in(row, "D"), 0.0, 0.0, in(row, "K total suction")), liquid(density, 1e-3));
  const double loss = suction.drop(MassFlow<>::from_value(density * in(row, "Q"))).value();
  const auto needed = correlations::least_inlet_pressure(Length<>::from_value(in(row, "NPSHr")),
                                                         AbsolutePressure<>::from_value(in(row, "pv")),
                                                         Density<>::from_value(density));
  CHECK((in(row, "p atm") - loss - needed.value()) / in(row, "gamma") == Approx(answer(row)).epsilon(0.005));
}

TEST_CASE("NPSH: pump above a closed tank under pressure (HB-TP410 problem 7.32, recalculated)") {
  const auto row = row_of("NP04", "NPSH available");
  const auto density = Density<>::from_value(in(row, "rho"));
  TankSpec<> spec;
  spec.vent_pressure = GaugePressure<>::from_value(in(row, "p tank gauge"));
  const auto at_surface = Tank<>(spec).pressure_at_pickup(AbsolutePressure<>::from_value(in(row, "p atm")), density);
  const auto at_pump = at_surface - density * trade::standard_gravity *
                                        Length<>::from_value(in(row, "lift") + in(row, "suction loss"));
  const auto available =
      correlations::net_positive_suction_head(at_pump, AbsolutePressure<>::from_value(in(row, "pv")), density);
  CHECK(available.value() == Approx(answer(row)).epsilon(0.002));
  CHECK(available < 20.0 * trade::foot);  // what that pump needs: the handbook's "not enough"
}

TEST_CASE("NPSH: needing what is available leaves the pressure that is there") {
  const auto vapour = AbsolutePressure<>::from_value(40e3), total = AbsolutePressure<>::from_value(95e3);
  const auto density = 740.0 * trade::kilogram_per_cubic_metre;
  const auto head = correlations::net_positive_suction_head(total, vapour, density);
  CHECK(head.value() == Approx(55e3 / (740.0 * 9.80665)));
  CHECK(correlations::least_inlet_pressure(head, vapour, density).value() == Approx(95e3));
  CHECK(correlations::net_positive_suction_head(AbsolutePressure<>::from_value(30e3), vapour, density).value() < 0.0);
}

TEST_CASE("pump examples: no row of the file is left out, and none is excused") {
  std::set<std::string> rows, excused, without_published_answer;
  for (const auto& row : csv::read(file)) {
    const std::string key = row.text("case_id") + " " + row.text("result_name");
    rows.insert(key);
    if (row.text("flag_over_2_percent") == "YES") excused.insert(key);
    if (row.empty("published_value_SI")) without_published_answer.insert(key);
  }
  CHECK(rows == std::set<std::string>{"PU01 flow", "PU01 head", "PU02 flow", "PU02 head", "PU03 total flow",
                                      "PU03 head", "NP01 highest lift z", "NP04 NPSH available",
                                      "PU06 hydraulic power", "PU06 suction pressure, absolute", "PU07 flow",
                                      "PU07 head", "PU07 power"});
  CHECK(excused.empty());
  CHECK(without_published_answer ==
        std::set<std::string>{"PU02 flow", "PU02 head", "PU03 total flow", "PU03 head", "NP04 NPSH available"});
}

// Spike: coupled temperature. An oil line cools on its way, T_out = T_amb + (T_in − T_amb) exp(−UA/(q c)); its oil thickens,
// its flow falls, it cools more. The part states its heat law beside its drop law; the plan takes "<part>.temperature";
// the analysis alternates. Judge: the same problem as one scalar equation, solved by bisection with none of that machinery.
#include <cmath>

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/analysis/readings.hpp"
#include "flarenut/network/element_of.hpp"
#include "flarenut/parts/line.hpp"

namespace warm_line {

using namespace flarenut;

/// A line with a conductance to the air around it.
template <Number N = double>
struct WarmLineSpec {
  Length<N> bore = Length<N>::from_value(N(0.012)), length = Length<N>::from_value(N(4.0));
  ThermalConductance<N> conductance = ThermalConductance<N>::from_value(N(60.0));
  TemperatureDifference<N> surroundings = TemperatureDifference<N>::from_value(N(290.0));  ///< above absolute zero

  static constexpr auto fields() {
    using S = WarmLineSpec;
    return std::tuple{
        parts::Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.5, "m", "inside diameter"},
        parts::Field<S, Length<N>>{"length", &S::length, 1e-3, 1e3, "m", "length"},
        parts::Field<S, ThermalConductance<N>>{"conductance", &S::conductance, 0.0, 1e6, "W/K", "to the air, whole length"},
        parts::Field<S, TemperatureDifference<N>>{"surroundings", &S::surroundings, 150.0, 700.0, "K", "air around it"},
    };
  }
};

template <Number N = double>
class WarmLine {
 public:
  template <Number M>
  using Spec = WarmLineSpec<M>;
  static constexpr std::string_view kind = "warm line";
  static constexpr parts::Shape shape{};

  WarmLine(const WarmLineSpec<N>& spec, const fluids::LiquidState<N>& liquid)
      : line_(plain(spec), liquid), spec_(spec), specific_heat_(liquid.specific_heat) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return line_.drop(flow);
  }

  Temperature<> outlet_temperature(const parts::PartState<double>& state, Temperature<> inlet) const {
    const double capacity = std::abs(state.flow[0].value()) * value_of(specific_heat_.value());
    const double air = value_of(spec_.surroundings.value());
    const double left = std::exp(-value_of(spec_.conductance.value()) / capacity);
    return Temperature<>::from_value(air + (inlet.value() - air) * left);
  }

  std::array<MassFlow<>, 1> start_flow() const { return line_.start_flow(); }
  std::array<Length<>, 2> bores() const { return line_.bores(); }

 private:
  static parts::LineSpec<N> plain(const WarmLineSpec<N>& spec) {
    parts::LineSpec<N> line;
    line.bore = spec.bore;
    line.length = spec.length;
    return line;
  }
  parts::Line<N> line_;
  WarmLineSpec<N> spec_;
  SpecificHeat<N> specific_heat_;
};

constexpr double inlet = 370.0, air = 290.0, conductance = 60.0, bore = 0.012, length = 4.0;

struct Found {
  double flow, outlet;
  int turns;
};

/// Flow and temperature by turns, the line's properties at the mean of its ends.
Found by_turns(double drop) {
  network::Network network;
  network.add_liquid(circuits::oil());
  const int from = network.add_fixed("from", drop), mid = network.add_junction("mid"), to = network.add_fixed("to", 0.0);
  // Two halves: the second takes in what the first lets out.
  for (const char* name : {"first", "second"}) {
    WarmLineSpec<> spec;
    spec.length = Length<>::from_value(0.5 * length);
    spec.conductance = ThermalConductance<>::from_value(0.5 * conductance);
    const bool first = std::string(name) == "first";
    network.add_element(name, std::make_unique<network::ElementOf<WarmLine>>(spec), {first ? from : mid, first ? mid : to});
  }
  network::Plan plan(network);
  const int number[2] = {plan.index("first.temperature"), plan.index("second.temperature")};
  for (int one : number) plan.set(one, inlet);
  Found found{};
  for (found.turns = 1; found.turns < 200; ++found.turns) {
    const auto solution = analysis::solve(plan);
    REQUIRE(solution.converged());
    found.flow = solution.flow[0];
    double temperature = inlet, moved = 0.0;
    for (int part : {0, 1}) {
      const auto out = plan.element(part).outlet_temperature(analysis::point_of(plan, solution, part).data(), temperature);
      REQUIRE(out.has_value());
      const double mean = 0.5 * (temperature + *out);
      moved = std::max(moved, std::abs(mean - plan.get(number[part])));
      plan.set(number[part], mean);
      temperature = *out;
    }
    found.outlet = temperature;
    if (moved < 1e-9) return found;
  }
  FAIL("flow and temperature did not settle");
  return found;
}

/// The same by hand: laminar, so q follows from the two mean temperatures; bisection on q.
Found by_hand(double drop) {
  const auto liquid = circuits::oil();
  const auto at = [&](double kelvin) {
    return liquid.at(Temperature<>::from_value(kelvin), AbsolutePressure<>::from_value(101325.0));
  };
  const auto half = [&](double q, double in, double& lost) {
    // Outlet and mean depend on the specific heat at the mean: a few turns settle it.
    double out = in;
    for (int turn = 0; turn < 100; ++turn)
      out = air + (in - air) * std::exp(-0.5 * conductance / (q * at(0.5 * (in + out)).specific_heat.value()));
    const auto state = at(0.5 * (in + out));
    lost += 128.0 * state.viscosity.value() * 0.5 * length * q / (3.14159265358979323846 * state.density.value() * std::pow(bore, 4));
    return out;
  };
  double low = 1e-6, high = 10.0, out = 0.0;
  for (int turn = 0; turn < 200; ++turn) {
    const double q = 0.5 * (low + high);
    double lost = 0.0;
    out = half(q, half(q, inlet, lost), lost);
    (lost > drop ? high : low) = q;
  }
  return {low, out, 0};
}

}  // namespace warm_line

using namespace warm_line;

TEST_CASE("spike: an oil line whose outlet temperature follows its flow") {
  double last_outlet = 0.0;
  for (const double drop : {2e3, 6e3, 1.5e4}) {
    const Found ours = by_turns(drop), judge = by_hand(drop);
    INFO("drop " << drop << " Pa: " << ours.flow << " kg/s, " << ours.outlet << " K after " << ours.turns << " turns");
    CHECK(ours.flow == Approx(judge.flow).epsilon(1e-7));
    CHECK(ours.outlet == Approx(judge.outlet).margin(1e-5));
    CHECK(ours.outlet > air);
    CHECK(ours.outlet < inlet);
    CHECK(ours.outlet > last_outlet);  // the quicker the hotter
    last_outlet = ours.outlet;
  }
}

TEST_CASE("spike: the heat law stays bounded as the flow stops") {
  network::ElementOf<WarmLine> element{WarmLineSpec<>{}};
  element.prepare(circuits::oil().at(Temperature<>::from_value(330.0), AbsolutePressure<>::from_value(101325.0)));
  for (double q : {0.0, 1e-12, -1e-9}) {
    const double point[3] = {2e5, 1e5, q};
    CHECK(*element.outlet_temperature(point, inlet) == Approx(air));
  }
  const double fast[3] = {2e5, 1e5, 1e4};
  CHECK(*element.outlet_temperature(fast, inlet) == Approx(inlet).margin(0.01));
}

#include "spike.hpp"

#include "flarenut/parts/line.hpp"

// Temperature: an oil line that cools its stream, and two circuits of different liquids that share an exchanger. Parts have a
// heat law beside their drop law; the plan takes a temperature for each part; nothing of either changes.
namespace flarenut::spikes {

template <Number N = double>
struct CoolingLineSpec {
  Length<N> bore = Length<N>::from_value(N(10e-3));
  Length<N> length = Length<N>::from_value(N(8.0));
  ThermalConductance<N> conductance = ThermalConductance<N>::from_value(N(20.0));
  Ratio<N> surroundings = Ratio<N>::from_value(N(293.15));  ///< K

  static constexpr auto fields() {
    using S = CoolingLineSpec;
    return std::tuple{
        parts::Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.1, "m", "inside diameter"},
        parts::Field<S, Length<N>>{"length", &S::length, 0.0, 100.0, "m", "length"},
        parts::Field<S, ThermalConductance<N>>{"conductance", &S::conductance, 0.0, 1e6, "W/K", "heat lost per degree"},
        parts::Field<S, Ratio<N>>{"surroundings", &S::surroundings, 200.0, 500.0, "K", "temperature around it"},
    };
  }
};

/// A line that loses heat: T_out = T_around + (T_in − T_around) exp(−UA/(ṁ c)). Its drop is that of a plain line.
template <Number N = double>
class CoolingLine {
 public:
  template <Number M>
  using Spec = CoolingLineSpec<M>;
  static constexpr std::string_view kind = "cooling line";
  static constexpr parts::Shape shape{};

  CoolingLine(const CoolingLineSpec<N>& spec, const parts::LiquidState<N>& liquid)
      : line_(plain(spec), liquid), spec_(spec), heat_(liquid.specific_heat) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const { return line_.drop(flow); }

  Temperature<> outlet_temperature(const parts::PartState<double>& state, Temperature<> inlet) const {
    const double around = value_of(spec_.surroundings.value());
    const double capacity = std::abs(state.flow[0].value()) * value_of(heat_.value());
    const double left = std::exp(-value_of(spec_.conductance.value()) / capacity);
    return Temperature<>::from_value(around + (inlet.value() - around) * left);
  }

  std::array<MassFlow<>, 1> start_flow() const { return line_.start_flow(); }
  std::array<Length<>, 2> bores() const { return line_.bores(); }

 private:
  static parts::LineSpec<N> plain(const CoolingLineSpec<N>& spec) {
    parts::LineSpec<N> line;
    line.bore = spec.bore;
    line.length = spec.length;
    line.roughness = Length<N>::from_value(N(0.0));
    return line;
  }
  parts::Line<N> line_;
  CoolingLineSpec<N> spec_;
  SpecificHeat<N> heat_;
};

inline fluids::Liquid engine_oil() {
  fluids::OilSpec spec;  // viscosities of ISO VG 100's middle, VI 95 (ISO 3448, from memory); density assumed
  spec.viscosities = {{Temperature<>::from_value(313.15), KinematicViscosity<>::from_value(100e-6)},
                      {Temperature<>::from_value(373.15), KinematicViscosity<>::from_value(11.1e-6)}};
  spec.density_15 = Density<>::from_value(880.0);
  return fluids::oil(spec);
}

inline double heat_rate(const parts::LiquidState<>& liquid, double flow, double difference) {
  return flow * liquid.specific_heat.value() * difference;
}

TEST_CASE("spike: the outlet temperature of an oil line follows its flow, and its flow the temperature") {
  constexpr double inlet = 363.15, rise = 4e4, around = 293.15, conductance = 20.0;
  const auto oil = engine_oil();
  network::Network network;
  network.add_liquid(oil);
  const int from = network.add_fixed("from", rise);
  const int to = network.add_fixed("to", 0.0);
  network.add_element("line", std::make_unique<network::ElementOf<CoolingLine>>(CoolingLineSpec<>{}), {from, to});
  network::Plan plan(network);
  analysis::SteadySolver solver(plan);
  analysis::Solution solution;
  const int temperature = plan.index("line.temperature");
  double outlet = inlet;
  for (int turn = 0; turn < 60; ++turn) {
    plan.set(temperature, 0.5 * (inlet + outlet));
    solver.solve(solution);
    REQUIRE(solution.converged());
    const double point[] = {solution.pressure[0], solution.pressure[1], solution.flow[0]};
    outlet = *plan.element(0).outlet_temperature(point, inlet);
  }

  // By hand: bisect the mean temperature; laminar flow by Hagen–Poiseuille, cooling by the exponential.
  double cold = around, hot = inlet;
  for (int turn = 0; turn < 200; ++turn) {
    const double mean = 0.5 * (cold + hot);
    const auto state = oil.at(Temperature<>::from_value(mean), AbsolutePressure<>::from_value(101325.0));
    const double flow = rise * state.density.value() * std::numbers::pi * std::pow(10e-3, 4) / (128.0 * state.viscosity.value() * 8.0);
    const double out = around + (inlet - around) * std::exp(-conductance / (flow * state.specific_heat.value()));
    (0.5 * (inlet + out) > mean ? cold : hot) = mean;
  }
  CHECK(0.5 * (inlet + outlet) == Approx(0.5 * (cold + hot)).epsilon(1e-9));
  CHECK(outlet < inlet - 1.0);
}

TEST_CASE("spike: two circuits of different liquids share one exchanger, and heat lost is heat gained") {
  constexpr double oil_in = 383.15, water_in = 353.15, conductance = 400.0;
  network::Network network;
  const int oil = network.add_liquid(liquid(850.0, 12e-3, 2100.0));
  const int water = network.add_liquid(liquid(970.0, 0.35e-3, 4190.0));
  const auto side = [&](const std::string& name, double pressure, double bore, int which) {
    const int from = network.add_fixed(name + " from", pressure);
    const int to = network.add_fixed(name + " to", 0.0);
    network.add_part(name, "line", {from, to}, {}, {{"bore", bore}, {"length", 2.0}}, {}, which);
  };
  side("oil side", 1e5, 10e-3, oil);
  side("water side", 2e4, 12e-3, water);
  network::Plan plan(network);
  const analysis::Solution solution = analysis::solve(plan);
  REQUIRE(solution.converged());

  // One plan, two islands, each with its own liquid. Counterflow effectiveness by its closed form (Incropera and others,
  // Fundamentals of Heat and Mass Transfer, table 11.3).
  const double hot_capacity = heat_rate(plan.liquid_in(0), solution.flow[0], 1.0);
  const double cold_capacity = heat_rate(plan.liquid_in(1), solution.flow[1], 1.0);
  const double least = std::min(hot_capacity, cold_capacity), ratio = least / std::max(hot_capacity, cold_capacity);
  const double units = conductance / least;
  const double effectiveness = (1.0 - std::exp(-units * (1.0 - ratio))) / (1.0 - ratio * std::exp(-units * (1.0 - ratio)));
  const double heat = effectiveness * least * (oil_in - water_in);
  const double oil_out = oil_in - heat / hot_capacity, water_out = water_in + heat / cold_capacity;
  plan.set(plan.index("oil side.temperature"), 0.5 * (oil_in + oil_out));
  plan.set(plan.index("water side.temperature"), 0.5 * (water_in + water_out));
  plan.refresh();
  CHECK(plan.liquid_in(0).temperature.value() == Approx(0.5 * (oil_in + oil_out)));
  CHECK(plan.liquid_in(1).temperature.value() == Approx(0.5 * (water_in + water_out)));

  // Judged by the other way of writing an exchanger: heat = UA × logarithmic mean temperature difference.
  const double one_end = oil_in - water_out, other_end = oil_out - water_in;
  const double mean = (one_end - other_end) / std::log(one_end / other_end);
  CHECK(heat == Approx(conductance * mean).epsilon(1e-9));
  CHECK(hot_capacity * (oil_in - oil_out) == Approx(cold_capacity * (water_out - water_in)).epsilon(1e-12));
  CHECK(solution.flow[0] * 2100.0 == Approx(hot_capacity));
}

}  // namespace flarenut::spikes

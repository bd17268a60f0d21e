#include "spike.hpp"

// A gas line at low Mach number: a law in the pressures at both ends, not in their difference.
namespace flarenut::spikes {

/// Isothermal flow of a perfect gas in a line: p1² − p2² = G² R T (2 ln(p1/p2) + f L/D).
template <Number N = double>
struct GasLineSpec {
  Length<N> bore{}, length{};
  Ratio<N> friction{};        ///< Darcy factor
  Ratio<N> gas_temperature{};  ///< R·T [J/kg]

  static constexpr auto fields() {
    using S = GasLineSpec;
    return std::tuple{
        parts::Field<S, Length<N>>{"bore", &S::bore, 1e-4, 10.0, "m", "inside diameter"},
        parts::Field<S, Length<N>>{"length", &S::length, 0.0, 1e5, "m", "length"},
        parts::Field<S, Ratio<N>>{"friction", &S::friction, 1e-3, 1.0, "", "Darcy friction factor"},
        parts::Field<S, Ratio<N>>{"gas_temperature", &S::gas_temperature, 1.0, 1e7, "J/kg", "gas constant times temperature"},
    };
  }
};

template <Number N = double>
class GasLine {
 public:
  template <Number M>
  using Spec = GasLineSpec<M>;
  static constexpr std::string_view kind = "gas line";
  static constexpr parts::Shape shape{};

  GasLine(const GasLineSpec<N>& spec, const parts::LiquidState<N>&) : spec_(spec) {}

  template <Number M>
  std::array<PressureDifference<parts::Mixed<N, M>>, 1> mismatch(const parts::PartState<M>& state) const {
    using std::log;
    using R = parts::Mixed<N, M>;
    const auto p1 = state.pressure[0].value(), p2 = state.pressure[1].value();
    const auto flux = state.flow[0].value() / parts::bore_area(spec_.bore).value();
    const auto resistance = spec_.friction.value() * spec_.length.value() / spec_.bore.value();
    const auto square = signed_square(R(flux)) * spec_.gas_temperature.value() * (2.0 * log(p1 / p2) + resistance);
    return {PressureDifference<R>::from_value(((p1 * p1 - p2 * p2) - square) / (p1 + p2))};
  }

  std::array<MassFlow<>, 1> start_flow() const { return {MassFlow<>::from_value(1e-3)}; }
  std::array<Length<>, 2> bores() const { return {}; }

 private:
  GasLineSpec<N> spec_;
};

// Coulson and Richardson, Chemical Engineering Vol. 1, example 4.2: air through 30 m of 150 mm line from 0.4 to 0.13 kPa
// absolute, R/(ρu²) = 0.005 (Darcy 0.04), 211.5 m³/kg at inlet. Published 0.41 kg/(m² s), rounded; 0.40627 recomputed (read as a
// transcription of the numbered example; row GA01 of tests/data/hydraulics/gas_line_examples.csv).
TEST_CASE("spike: an isothermal gas line carries the published mass flux") {
  network::Network network;
  network.add_liquid(liquid(1.0, 1.8e-5));
  const int inlet = network.add_fixed("inlet", 400.0 - 101325.0);
  const int middle = network.add_junction("middle");
  const int outlet = network.add_fixed("outlet", 130.0 - 101325.0);
  GasLineSpec<> half;
  half.bore = Length<>::from_value(0.15);
  half.length = Length<>::from_value(15.0);
  half.friction = Ratio<>::from_value(0.04);
  half.gas_temperature = Ratio<>::from_value(400.0 * 211.5);
  // In two halves, so that the pressure between them has to be found.
  network.add_element("first half", std::make_unique<network::ElementOf<GasLine>>(half), {inlet, middle});
  network.add_element("second half", std::make_unique<network::ElementOf<GasLine>>(half), {middle, outlet});
  network::Plan plan(network);
  analysis::SteadySolver solver(plan);
  analysis::Solution solution;
  const std::vector<double> guess{400.0, 300.0, 130.0}, flows{1e-3, 1e-3};
  solver.solve(solution, {&guess, &flows});
  INFO(solution.message);
  REQUIRE(solution.converged());
  const double flux = solution.flow[0] / (0.25 * std::numbers::pi * 0.15 * 0.15);
  CHECK(flux == Approx(0.4062731).epsilon(1e-4));
  CHECK(flux == Approx(0.41).epsilon(0.02));
}

}  // namespace flarenut::spikes

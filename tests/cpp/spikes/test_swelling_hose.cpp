#include "spike.hpp"

// A closed hose that swells and takes up a volume: a part with a storage law, in a plan that knows nothing of time.
namespace flarenut::spikes {

inline constexpr double ambient = 101325.0;

/// A soft hose at the end of a line. Its storage law: the mass it holds grows in proportion to its pressure.
template <Number N = double>
struct SoftHoseSpec {
  Length<N> bore = Length<N>::from_value(N(3.2e-3));
  Length<N> length = Length<N>::from_value(N(1.5));
  /// Volume taken up per length and pressure [m³/(m Pa)]: 0.36 cm³/ft at 1000 psi, a regular brake hose.
  Ratio<N> swell_1e12 = Ratio<N>::from_value(N(0.17));

  static constexpr auto fields() {
    using S = SoftHoseSpec;
    return std::tuple{
        parts::Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.1, "m", "inside diameter"},
        parts::Field<S, Length<N>>{"length", &S::length, 0.0, 100.0, "m", "length"},
        parts::Field<S, Ratio<N>>{"swell_1e12", &S::swell_1e12, 0.0, 1e6, "m3/(m TPa)", "volume taken up"},
    };
  }
};

template <Number N = double>
class SoftHose {
 public:
  template <Number M>
  using Spec = SoftHoseSpec<M>;
  static constexpr std::string_view kind = "soft hose";
  static constexpr parts::Shape shape{};

  SoftHose(const SoftHoseSpec<N>& spec, const parts::LiquidState<N>& liquid)
      : spec_(spec), density_(liquid.density),
        resistance_(PressureDifference<N>::from_value(128.0 * liquid.viscosity.value() * spec.length.value() /
                                                      (std::numbers::pi * liquid.density.value() *
                                                       square(spec.bore.value() * spec.bore.value()))) /
                    MassFlow<N>::from_value(N(1.0))) {}

  /// Steady drop: laminar.
  template <Number M>
  auto drop(const MassFlow<M>& flow) const { return resistance_ * flow; }

  /// Storage: mass held at a pressure.
  template <Number M>
  Mass<parts::Mixed<N, M>> stored(const AbsolutePressure<M>& pressure) const {
    const auto volume = parts::bore_area(spec_.bore).value() * spec_.length.value() +
                        1e-12 * spec_.swell_1e12.value() * spec_.length.value() * (pressure.value() - ambient);
    return Mass<parts::Mixed<N, M>>::from_value(density_.value() * volume);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {MassFlow<>::from_value(1e-3)}; }
  std::array<Length<>, 2> bores() const { return {}; }

 private:
  SoftHoseSpec<N> spec_;
  Density<N> density_;
  decltype(PressureDifference<N>{} / MassFlow<N>{}) resistance_;
};

TEST_CASE("spike: a closed hose swells and fills as resistance and capacity say") {
  network::Network network;
  network.add_liquid(liquid(1050.0, 8e-3));
  const int supply = network.add_fixed("supply", 50e5);
  const int end = network.add_junction("closed end");
  SoftHoseSpec<> spec;
  network.add_element("hose", std::make_unique<network::ElementOf<SoftHose>>(spec), {supply, end});
  network::Plan plan(network);
  analysis::SteadySolver solver(plan);
  const int taken_up = plan.index("closed end.demand");

  const double per_pressure = 1050.0 * 0.17e-12 * 1.5;  // kg/Pa
  const double resistance = 128.0 * 8e-3 * 1.5 / (std::numbers::pi * 1050.0 * std::pow(3.2e-3, 4));
  const double constant = resistance * per_pressure;  // s
  const double step = constant / 50.0;

  // Implicit Euler: what the closed end takes is the rate at which the hose's mass grows. One Newton step a time step,
  // with the storage law's own slope and the slope of the end's pressure from the plan's gradient.
  analysis::Solution solution;
  double pressure = ambient;
  const network::Element& hose = plan.element(0);
  const auto mass_at = [&](double p) { return *hose.stored(&p); };
  double demand = 0.0;
  for (int n = 1; n <= 100; ++n) {
    const double mass_before = mass_at(pressure)[0];
    for (int turn = 0; turn < 3; ++turn) {
      plan.set(taken_up, demand);
      solver.solve(solution);
      REQUIRE(solution.converged());
      const auto slopes = analysis::gradient(solver, solution, {analysis::Output::What::pressure, end});
      const auto [mass, slope] = mass_at(solution.pressure[static_cast<std::size_t>(end)]);
      const double error = demand - (mass - mass_before) / step;
      demand -= error / (1.0 - slope * slopes[static_cast<std::size_t>(taken_up)] / step);
    }
    pressure = solution.pressure[static_cast<std::size_t>(end)];
    const double implicit_euler = ambient + 50e5 * (1.0 - std::pow(1.0 + step / constant, -n));
    CHECK(pressure == Approx(implicit_euler).epsilon(1e-6));
  }
  // The closed form p = p_supply (1 − exp(−t/RC)); implicit Euler of this step is within 1 % of it.
  const double closed_form = ambient + 50e5 * (1.0 - std::exp(-2.0));
  CHECK(pressure == Approx(closed_form).epsilon(0.01));
}

}  // namespace flarenut::spikes

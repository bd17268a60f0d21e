// Spike: what brakes and transients will need. A hose shut at its end swells and takes up liquid; its part states a storage
// law, the analysis steps in time. Judge: a laminar line (resistance R) filling a linear compliance C is an RC circuit,
// p = p_supply (1 − exp(−t/RC)); implicit Euler's own closed form is p_n = p_supply (1 − (1 + Δt/RC)^−n).
#include <cmath>

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/analysis/gradient.hpp"
#include "flarenut/analysis/readings.hpp"
#include "flarenut/network/element_of.hpp"

namespace swelling_hose {

using namespace flarenut;

/// A wide rubber hose: next to no friction; holds ρ V (1 + p/K) and, stiffening, less and less more.
template <Number N = double>
struct HoseSpec {
  Volume<N> volume = Volume<N>::from_value(N(4e-5));
  PressureDifference<N> stiffness = PressureDifference<N>::from_value(N(5e7));  ///< pressure that would double the volume
  Ratio<N> stiffening{};  ///< share of the swelling lost for each megapascal

  static constexpr auto fields() {
    using S = HoseSpec;
    return std::tuple{
        parts::Field<S, Volume<N>>{"volume", &S::volume, 1e-9, 1.0, "m3", "volume at one atmosphere"},
        parts::Field<S, PressureDifference<N>>{"stiffness", &S::stiffness, 1e5, 1e12, "Pa", "pressure over relative swelling"},
        parts::Field<S, Ratio<N>>{"stiffening", &S::stiffening, 0.0, 1.0, "", "per MPa"},
    };
  }
};

template <Number N = double>
class Hose {
 public:
  template <Number M>
  using Spec = HoseSpec<M>;
  static constexpr std::string_view kind = "swelling hose";
  static constexpr parts::Shape shape{};

  Hose(const HoseSpec<N>& spec, const fluids::LiquidState<N>& liquid) : spec_(spec), density_(liquid.density) {}

  template <Number M>
  PressureDifference<parts::Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    return PressureDifference<parts::Mixed<N, M>>::from_value(1e3 * flow.value());
  }

  template <Number M>
  Mass<parts::Mixed<N, M>> stored(const AbsolutePressure<M>& pressure) const {
    using T = parts::Mixed<N, M>;
    const T above = T(pressure.value()) - 101325.0;
    const T swelling = above / spec_.stiffness.value() * (1.0 - spec_.stiffening.value() * 1e-6 * above);
    return Mass<T>::from_value(density_.value() * spec_.volume.value() * (1.0 + swelling));
  }

  std::array<MassFlow<>, 1> start_flow() const { return {}; }
  std::array<Length<>, 2> bores() const { return {}; }

 private:
  HoseSpec<N> spec_;
  Density<N> density_;
};

constexpr double pi = 3.14159265358979323846;
constexpr double density = 1050.0, viscosity = 0.02, supply = 2e5, bore = 0.002, length = 1.5;

network::Network circuit(double stiffening) {
  network::Network network;
  network.add_liquid(circuits::constant(density, viscosity));
  const int source = network.add_fixed("source", supply), joint = network.add_junction("joint"), end = network.add_junction("end");
  network.add_part("line", "line", {source, joint}, {}, circuits::line(bore, length));
  HoseSpec<> spec;
  spec.stiffening = Ratio<>::from_value(stiffening);
  network.add_element("hose", std::make_unique<network::ElementOf<Hose>>(spec), {joint, end});
  return network;
}

/// Fills the hose by implicit Euler steps: each step finds the flow into storage (a demand at the joint) for which the mass
/// taken up is the mass that came. Newton on that one number, with the slopes that the part and the gradient give.
struct Filling {
  network::Plan plan;
  analysis::SteadySolver solver{plan};
  analysis::Solution solution;
  int hose, joint, demand;
  double mass = 0.0, came = 0.0;

  explicit Filling(double stiffening)
      : plan(circuit(stiffening)), hose(plan.network().part("hose")), joint(plan.network().junction("joint")),
        demand(plan.index("joint.demand")) {
    // Before the tap opens the hose is at ambient pressure.
    mass = (*plan.element(hose).stored(std::array{plan.ambient(), plan.ambient(), 0.0}.data()))[0];
  }

  double gauge() const { return solution.pressure[static_cast<std::size_t>(joint)] - plan.ambient(); }

  void step(double seconds) {
    for (int turn = 0; turn < 20; ++turn) {
      solver.solve(solution);
      REQUIRE(solution.converged());
      const auto held = plan.element(hose).stored(analysis::point_of(plan, solution, hose).data());
      REQUIRE(held.has_value());
      const double taken = plan.get(demand);
      const double excess = taken - ((*held)[0] - mass) / seconds;
      const auto slopes = analysis::gradient(solver, solution, {analysis::Output::What::pressure, joint, 0});
      const double slope = 1.0 - (*held)[1] / seconds * slopes[static_cast<std::size_t>(demand)];
      if (std::abs(excess) < 1e-12) {
        mass = (*held)[0];
        came += taken * seconds;
        return;
      }
      plan.set(demand, taken - excess / slope);
    }
    FAIL("the step did not settle");
  }
};

}  // namespace swelling_hose

using namespace swelling_hose;

TEST_CASE("spike: a closed hose that swells fills as an RC circuit does") {
  const double resistance = 128.0 * viscosity * length / (pi * density * std::pow(bore, 4));  // Pa s/kg, Hagen-Poiseuille
  const double compliance = density * 4e-5 / 5e7;                                             // kg/Pa
  const double constant = resistance * compliance;
  for (const int steps : {20, 200}) {
    Filling filling(0.0);
    const double dt = 2.0 * constant / steps;
    double worst = 0.0;
    for (int n = 1; n <= steps; ++n) {
      filling.step(dt);
      const double euler = supply * (1.0 - std::pow(1.0 + dt / constant, -n));
      CHECK(filling.gauge() == Approx(euler).epsilon(1e-7));
      worst = std::max(worst, std::abs(filling.gauge() / supply - (1.0 - std::exp(-n * dt / constant))));
    }
    // First order in the step: at most Δt/RC times 1/(2e).
    CHECK(worst < 0.19 * dt / constant);
    CHECK(worst > 0.10 * dt / constant);
  }
}

TEST_CASE("spike: a hose that stiffens keeps every gram, and ends at the pressure of its source") {
  Filling filling(0.5);
  const double before = filling.mass;
  for (int n = 0; n < 120; ++n) filling.step(5e-3);
  CHECK(filling.mass - before == Approx(filling.came).epsilon(1e-9));
  CHECK(filling.gauge() == Approx(supply).epsilon(1e-3));
  // By hand: ρ V p/K (1 − 0.5 · 0.2) for 0.2 MPa.
  CHECK(filling.mass - before == Approx(density * 4e-5 * supply / 5e7 * 0.9).epsilon(2e-3));
}

TEST_CASE("spike: a part without a storage law says so") {
  network::Plan plan(circuit(0.0));
  const double point[3] = {2e5, 2e5, 0.0};
  CHECK_FALSE(plan.element(plan.network().part("line")).stored(point).has_value());
}

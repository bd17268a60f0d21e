// What a solve does where full steps fail, with a part made to fail them.
#include <algorithm>
#include <cmath>

#include "../catch_shim.hpp"
#include "../circuits.hpp"
#include "flarenut/analysis/flow_system.hpp"
#include "flarenut/network/element_of.hpp"
#include "flarenut/solver/newton.hpp"

namespace stubborn_part {

using namespace flarenut;

/// y / √(1 + y²) of a bar, less what it is driven by; y the flow over its scale. A law that Newton from afar cannot solve: flat far out, so that full steps overshoot without end. Driven, so that the last
/// rung of the ladder has something to raise.
template <Number N = double>
struct StubbornSpec {
  Ratio<N> scale = Ratio<N>::from_value(N(1.0));
  Ratio<N> push = Ratio<N>::from_value(N(1.0));
  static constexpr auto fields() {
    using S = StubbornSpec;
    return std::tuple{parts::Field<S, Ratio<N>>{"scale", &S::scale, 1e-9, 1e9, "", "flow at which it bends [kg/s]"},
                      parts::Field<S, Ratio<N>>{"push", &S::push, 0.0, 1e3, "", "share of its drive", true}};
  }
};

template <Number N = double>
class Stubborn {
 public:
  template <Number M>
  using Spec = StubbornSpec<M>;
  static constexpr std::string_view kind = "stubborn";
  static constexpr parts::Shape shape{};
  Stubborn(const StubbornSpec<N>& spec, const fluids::LiquidState<N>&) : scale_(spec.scale.value()), push_(spec.push.value()) {}
  template <Number M>
  PressureDifference<parts::Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    using T = parts::Mixed<N, M>;
    using std::sqrt;
    const T y = T(flow.value()) / scale_;
    return PressureDifference<T>::from_value(1e5 * (y / sqrt(1.0 + y * y)) - 1e5 * push_);
  }
  std::array<MassFlow<>, 1> start_flow() const { return {MassFlow<>::from_value(5.0 * value_of(scale_))}; }
  std::array<Length<>, 2> bores() const { return {}; }

 private:
  N scale_, push_;
};

}  // namespace stubborn_part

using namespace circuits;
using stubborn_part::Stubborn;
using stubborn_part::StubbornSpec;
using analysis::Rung;
using analysis::Solution;
using analysis::SteadySolver;

namespace {

/// A stubborn part between open air and open air, behind it a wide line, or a second one as stubborn: that is solvable only
/// while the push is below 1.
Network stubborn(double push, bool both = false) {
  Network network;
  network.add_liquid(constant(998.0, 1e-3));
  const int a = network.add_fixed("a", 0.0), b = network.add_junction("b"), c = network.add_fixed("c", 0.0);
  StubbornSpec<> spec;
  spec.push = Ratio<>::from_value(push);
  spec.scale = Ratio<>::from_value(0.01);
  network.add_element("stubborn", std::make_unique<network::ElementOf<Stubborn>>(spec), {a, b});
  if (both) network.add_element("stubborn too", std::make_unique<network::ElementOf<Stubborn>>(spec), {b, c});
  else network.add_part("line", "line", {b, c}, {}, line(0.05, 0.1));
  return network;
}

bool all_nan(const std::vector<double>& values) {
  return std::all_of(values.begin(), values.end(), [](double value) { return std::isnan(value); });
}

}  // namespace

TEST_CASE("steady: when full steps fail the ladder goes on, says which rung held, and the answer is right") {
  // y / sqrt(1 + y²) = push: y by hand. The line behind it costs next to nothing.
  const double push = 0.5;
  Plan plan(stubborn(push));
  const Solution first_rung = analysis::solve(plan, {}, {.allow_ladder = false});
  CHECK_FALSE(first_rung.converged());
  const Solution solution = analysis::solve(plan);
  INFO(solution.message);
  REQUIRE(solution.converged());
  CHECK(solution.rung == Rung::line_search);
  CHECK(flow(plan, solution, "stubborn") == Approx(0.01 * push / std::sqrt(1.0 - push * push)).epsilon(1e-3));
  CHECK(solution.mass_closure <= 1e-12);

  // From a hopeless warm start the same answer is reached, by another rung than warm.
  std::vector<double> pressure(3, plan.ambient()), far(2, 50.0);
  SteadySolver solver(plan);
  Solution warm;
  solver.solve(warm, {&pressure, &far});
  REQUIRE(warm.converged());
  CHECK(warm.rung != Rung::warm);
  CHECK(warm.flow[0] == Approx(solution.flow[0]).epsilon(1e-9));
}

TEST_CASE("steady: what cannot be solved is NaN and words, and leaves the drives as they were") {
  Plan plan(stubborn(1.5, true));  // asks for more than the law can ever give: no flow satisfies it
  SteadySolver solver(plan);
  Solution solution;
  solver.solve(solution);
  CHECK_FALSE(solution.converged());
  CHECK(solution.rung == Rung::none);
  CHECK(solution.pressure.size() == 3);
  CHECK(all_nan(solution.pressure));
  CHECK(all_nan(solution.flow));
  CHECK(solution.worst.find("stubborn") == 0);
  CHECK(solution.message.find("stubborn") != std::string::npos);
  CHECK(solution.message.size() > 40);
  CHECK(plan.get(plan.index("stubborn.push")) == 1.5);

  // Mended, the same solver solves.
  plan.set(plan.index("stubborn.push"), 0.3);
  plan.set(plan.index("stubborn too.push"), 0.3);
  solver.solve(solution);
  REQUIRE(solution.converged());
  CHECK(solution.message.empty());
  CHECK(flow(plan, solution, "stubborn") == Approx(0.01 * 0.3 / std::sqrt(1.0 - 0.09)).epsilon(1e-6));
}

TEST_CASE("steady: each rung alone solves an ordinary circuit to the same answer") {
  Plan plan(return_style());
  const Solution judge = analysis::solve(plan);
  REQUIRE(judge.converged());
  for (solver::Stepping stepping : {solver::Stepping::line_search, solver::Stepping::pseudo_time}) {
    analysis::FlowSystem system(plan);
    system.start_cold();
    const auto report = solver::newton(system, {.most_iterations = 200, .stepping = stepping});
    INFO("stepping " << static_cast<int>(stepping));
    REQUIRE(report.end == solver::NewtonEnd::converged);
    for (std::size_t j = 0; j < judge.pressure.size(); ++j) CHECK(std::abs(system.pressures()[j] - judge.pressure[j]) < 1e-2);
  }
}

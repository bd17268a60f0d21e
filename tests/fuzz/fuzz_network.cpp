/// A network from bytes to an answer: built, compiled, changed, solved warm and cold, read, sloped, and followed in time.
/// Whatever the bytes say, it is an answer that keeps its promises, no answer that says why, or an InputError.

#include "circuit.hpp"
#include "flarenut/analysis/gradient.hpp"
#include "flarenut/analysis/heat_solver.hpp"
#include "flarenut/analysis/readings.hpp"
#include "flarenut/network/row_plan.hpp"
#include "promises.hpp"

namespace {

using namespace fuzz;
using analysis::Solution;
using network::Plan;

void change(Bytes& bytes, Plan& plan) {
  const int count = static_cast<int>(plan.names().size());
  if (bytes.chance(64)) {
    std::vector<std::pair<int, double>> many;
    for (int i = bytes.below(5); i > 0; --i) many.emplace_back(bytes.below(count), bytes.between(0.0, 10.0));
    return plan.set_many(many);
  }
  if (bytes.chance(48)) {
    const int part = bytes.below(static_cast<int>(plan.branches().size()));
    const auto info = plan.element(part).info();
    return plan.set_columns(part, columns(bytes, info.columns));
  }
  const int number = bytes.below(count);
  const double now = plan.get(number);
  plan.set(number, bytes.chance(128) && std::isfinite(now) ? now * bytes.between(0.5, 2.0) : bytes.between(1e-3, 1e3));
}

void read(const Plan& plan, const Solution& solution) {
  for (int part = 0; part < static_cast<int>(plan.branches().size()); ++part) {
    analysis::ends_of(plan, solution, part);
    analysis::regime_of(plan, solution, part);
    analysis::heat_of_part(solution, part);
    if (std::string(plan.element(part).kind()).find("pump") != std::string::npos) analysis::suction_of(plan, solution, part);
  }
  analysis::remarks_on(plan, solution);
  analysis::least_margin(plan, solution);
}

void slope(Bytes& bytes, analysis::SteadySolver& solver, const Plan& plan, const Solution& solution) {
  analysis::Output output;
  output.what = bytes.chance(128) ? analysis::Output::What::pressure : analysis::Output::What::flow;
  output.index = bytes.below(output.what == analysis::Output::What::pressure ? plan.junction_count() : static_cast<int>(plan.branches().size()));
  output.flow = bytes.below(4);
  const auto slopes = analysis::gradient(solver, solution, output);
  require(slopes.size() == plan.names().size(), "a gradient has a slope for every number");
}

void in_time(Bytes& bytes, analysis::SteadySolver& solver) {
  Solution moment;
  solver.heat().begin(moment, bytes.between(260.0, 380.0));
  judge(moment, false);
  for (int i = bytes.below(3); i > 0; --i) {
    solver.heat().advance(moment, bytes.between(0.01, 100.0));
    judge(moment);
  }
}

void solve_rows(Network network) {
  network::RowPlan rows(std::move(network));
  rows.written_out();
}

void solve_plan(Bytes& bytes, Network network) {
  Plan plan(std::move(network));
  analysis::SteadySolver solver(plan);
  Solution solution;
  for (int turn = 0; turn < 3; ++turn) {
    tried([&] {
      const Solution before = solution;
      solver.solve(solution, turn > 0 && before.converged() ? analysis::Start(before) : analysis::Start());
      judge(solution);
      if (solution.converged()) read(plan, solution);
      if (solution.converged() && bytes.chance(64)) slope(bytes, solver, plan, solution);
      if (plan.heat() != nullptr && bytes.chance(32)) in_time(bytes, solver);
    });
    if (bytes.empty()) return;
    for (int i = 1 + bytes.below(3); i > 0; --i) tried([&] { change(bytes, plan); });
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Bytes bytes(data, size);
  tried([&] {
    Network network = circuit(bytes);
    if (network::RowPlan::fits(network)) tried([&] { solve_rows(network); });
    solve_plan(bytes, std::move(network));
  });
  return 0;
}

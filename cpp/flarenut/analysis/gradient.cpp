#include "flarenut/analysis/gradient.hpp"

#include "flarenut/analysis/gradients.hpp"

namespace flarenut::analysis {
namespace {

void require_known(const Plan& plan, const Output& output, const std::vector<int>& numbers) {
  const auto within = [](int index, std::size_t count) { return index >= 0 && static_cast<std::size_t>(index) < count; };
  const bool pressure = output.what == Output::What::pressure;
  if (!within(output.index, pressure ? static_cast<std::size_t>(plan.junction_count()) : plan.branches().size()))
    throw InputError("gradient", "place", "is none of this circuit");
  if (!pressure && !within(output.flow, static_cast<std::size_t>(plan.branches()[static_cast<std::size_t>(output.index)].flows)))
    throw InputError(plan.network().parts()[static_cast<std::size_t>(output.index)].name, "flow", "has no such internal flow");
  for (int number : numbers)
    if (!within(number, plan.names().size())) throw InputError("gradient", "numbers", "asks for a number the circuit does not have");
}

/// The system at the answer, linearised there.
FlowSystem& standing_at(SteadySolver& solver, const Solution& solution) {
  if (!solution.converged()) throw InputError("gradient", "solution", "did not converge, so it has no slopes");
  FlowSystem& system = solver.system();
  if (system.plan().heat() != nullptr)
    throw InputError("gradient", "solution", "has temperatures that were found; slopes are worked out at given temperatures only");
  if (system.stands_at(solution.pressure, solution.flow)) return system;
  system.start_at(solution.pressure, solution.flow);
  system.linearise();
  if (!system.accepted()) throw InputError("gradient", "solution", "is not an answer at the numbers of now; solve again first");
  return system;
}

}  // namespace

std::vector<double> gradient(SteadySolver& solver, const Solution& solution, const Output& output) {
  require_known(solver.system().plan(), output, {});
  std::vector<double> slopes;
  solver.gradients().find(standing_at(solver, solution), output, slopes);
  return slopes;
}

std::vector<double> gradient(SteadySolver& solver, const Solution& solution, const Output& output, const std::vector<int>& numbers) {
  require_known(solver.system().plan(), output, numbers);
  std::vector<double> slopes;
  solver.gradients().find(standing_at(solver, solution), output, numbers, slopes);
  return slopes;
}

}  // namespace flarenut::analysis

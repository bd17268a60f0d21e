#include "flarenut/analysis/gradient.hpp"

#include <array>
#include <numeric>

#include "flarenut/units/trade_units.hpp"

namespace flarenut::analysis {

using network::most_flows;
using network::NumberPlace;

namespace {

/// Weights of the answer: what one unit of error in each equation does to the output.
struct Adjoint {
  std::vector<double> junction;                            ///< per unknown: a mass imbalance
  std::vector<std::array<double, most_flows>> residual;    ///< per part: a residual of its laws
  std::vector<double> pressure;                            ///< per junction: a held pressure
};

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

Adjoint adjoint_of(FlowSystem& system, const Output& output) {
  const Plan& plan = system.plan();
  const auto& branches = plan.branches();
  Adjoint adjoint;
  std::vector<double> right(static_cast<std::size_t>(plan.unknown_count()), 0.0);
  adjoint.junction = right;
  if (output.what == Output::What::pressure) {
    if (const int unknown = plan.unknown_of(output.index); unknown >= 0) right[static_cast<std::size_t>(unknown)] = 1.0;
  } else {
    const Branch& branch = branches[static_cast<std::size_t>(output.index)];
    for (int i = 0; i < branch.pressures(); ++i)
      if (branch.unknown[i] >= 0)
        right[static_cast<std::size_t>(branch.unknown[i])] += system.flow_by_pressure(output.index, output.flow, i);
  }
  if (plan.unknown_count() > 0 && !system.matrix().solve_transposed(right.data(), adjoint.junction.data()))
    throw InputError("gradient", "solution", "has a pressure that nothing determines, as behind a shut injector, and so no slopes");

  adjoint.residual.resize(branches.size());
  adjoint.pressure.assign(static_cast<std::size_t>(plan.junction_count()), 0.0);
  if (output.what == Output::What::pressure && plan.unknown_of(output.index) < 0)
    adjoint.pressure[static_cast<std::size_t>(output.index)] = 1.0;
  for (std::size_t b = 0; b < branches.size(); ++b) {
    const Branch& branch = branches[b];
    // What one unit of each flow, added by a change of law, does to the output ...
    std::array<double, most_flows> by_flow{};
    for (int f = 0; f < branch.flows; ++f) {
      for (int port = 0; port < branch.ports; ++port)
        if (branch.unknown[port] >= 0)
          by_flow[f] += branch.inflow[port * branch.flows + f] * adjoint.junction[static_cast<std::size_t>(branch.unknown[port])];
      if (output.what == Output::What::flow && output.index == static_cast<int>(b) && output.flow == f) by_flow[f] += 1.0;
    }
    // ... and so one unit of each residual: Δq = −(∂r/∂q)⁻¹ r.
    const auto line = system.linearisation(static_cast<int>(b));
    if (branch.flows == 1) {
      adjoint.residual[b][0] = -by_flow[0] / line.by_flow[0];
    } else {
      const double inverse = 1.0 / (line.by_flow[0] * line.by_flow[3] - line.by_flow[1] * line.by_flow[2]);
      adjoint.residual[b][0] = -inverse * (line.by_flow[3] * by_flow[0] - line.by_flow[2] * by_flow[1]);
      adjoint.residual[b][1] = -inverse * (line.by_flow[0] * by_flow[1] - line.by_flow[1] * by_flow[0]);
    }
    for (int i = 0; i < branch.pressures(); ++i)
      if (branch.unknown[i] < 0)
        for (int f = 0; f < branch.flows; ++f)
          adjoint.pressure[static_cast<std::size_t>(branch.junction[i])] +=
              adjoint.residual[b][f] * line.by_pressure[f * branch.pressures() + i];
  }
  return adjoint;
}

}  // namespace

std::vector<double> gradient(SteadySolver& solver, const Solution& solution, const Output& output) {
  std::vector<int> all(solver.system().plan().names().size());
  std::iota(all.begin(), all.end(), 0);
  return gradient(solver, solution, output, all);
}

std::vector<double> gradient(SteadySolver& solver, const Solution& solution, const Output& output, const std::vector<int>& numbers) {
  require_known(solver.system().plan(), output, numbers);
  if (!solution.converged()) throw InputError("gradient", "solution", "did not converge, so it has no slopes");
  FlowSystem& system = solver.system();
  if (system.plan().heat() != nullptr)
    throw InputError("gradient", "solution", "has temperatures that were found; slopes are worked out at given temperatures only");
  if (!system.stands_at(solution.pressure, solution.flow)) {
    system.start_at(solution.pressure, solution.flow);
    system.linearise();
    if (!system.accepted()) throw InputError("gradient", "solution", "is not an answer at the numbers of now; solve again first");
  }
  system.assemble();
  const Plan& plan = system.plan();
  const Adjoint adjoint = adjoint_of(system, output);
  const auto& branches = plan.branches();
  const auto& parts = plan.network().parts();

  // A part's weight against a change of its residuals.
  const auto weigh = [&](std::size_t part, const std::array<double, most_flows>& change) {
    double sum = 0.0;
    for (int f = 0; f < branches[part].flows; ++f) sum += adjoint.residual[part][f] * change[f];
    return sum;
  };
  // Weight of a part's gravity heads, per unit of ρ·pull along each axis.
  const auto weigh_heads = [&](std::size_t part, std::size_t axis) {
    const Branch& branch = branches[part];
    const auto line = system.linearisation(static_cast<int>(part));
    double sum = 0.0;
    for (int i = 1; i < branch.pressures(); ++i)
      for (int f = 0; f < branch.flows; ++f)
        sum -= adjoint.residual[part][f] * line.by_pressure[f * branch.pressures() + i] * branch.reach[i][axis];
    return sum;
  };
  const std::array<double, 3> pull{-plan.acceleration()[0], -plan.acceleration()[1],
                                   -trade::standard_gravity_value - plan.acceleration()[2]};

  using Warmed = fluids::LiquidState<Dual<1>>;  // sloped with temperature, or with the ambient pressure
  const auto liquid_sloped = [&](int liquid, double kelvin, bool by_temperature) {
    using D = Dual<1>;
    const D temperature = by_temperature ? D(kelvin, 0) : D(kelvin);
    const D pressure = by_temperature ? D(plan.ambient()) : D(plan.ambient(), 0);
    return plan.network().liquids()[static_cast<std::size_t>(liquid)].at(Temperature<D>::from_value(temperature),
                                                                         AbsolutePressure<D>::from_value(pressure));
  };
  const auto weigh_liquid = [&](std::size_t part, const Warmed& liquid) {
    std::array<double, most_flows> change{};
    plan.element(static_cast<int>(part)).residual_by_liquid(system.point(static_cast<int>(part)).data(), liquid, change.data());
    double sum = weigh(part, change);
    for (std::size_t axis = 0; axis < 3; ++axis) sum += liquid.density.value().slope[0] * pull[axis] * weigh_heads(part, axis);
    return sum;
  };
  // How a tank's pressure moves with something: `seed` marks it on the inputs of the tank's law.
  struct TankInputs {
    parts::TankSpec<Dual<1>> spec;
    AbsolutePressure<Dual<1>> ambient;
    Temperature<Dual<1>> temperature;
    parts::VehicleAcceleration<Dual<1>> acceleration;
  };
  const auto tank_slope = [&](std::size_t junction, auto&& seed) {
    using D = Dual<1>;
    const network::Junction& tank = plan.junction_state(static_cast<int>(junction));
    if (tank.kind != network::JunctionKind::tank) return 0.0;
    TankInputs in{parts::lifted<parts::TankSpec, D>(tank.tank), AbsolutePressure<D>::from_value(D(plan.ambient())),
                  Temperature<D>::from_value(D(plan.liquid_temperature())), {}};
    for (std::size_t axis = 0; axis < 3; ++axis) in.acceleration[axis] = Acceleration<D>::from_value(D(plan.acceleration()[axis]));
    seed(in);
    const auto density = plan.network().liquids()[static_cast<std::size_t>(tank.liquid)].at(in.temperature, in.ambient).density;
    return parts::Tank<D>(in.spec).pressure_at_pickup(in.ambient, density, in.acceleration).value().slope[0];
  };
  const auto mark = [](auto& quantity) {
    quantity = std::decay_t<decltype(quantity)>::from_value(Dual<1>(value_of(quantity.value()), 0));
  };

  std::vector<double> slopes(numbers.size(), 0.0);
  for (std::size_t n = 0; n < slopes.size(); ++n) {
    const NumberPlace& place = plan.place(numbers[n]);
    const auto owner = static_cast<std::size_t>(place.owner);
    using What = NumberPlace::What;
    switch (place.what) {
      case What::field: {
        std::array<double, most_flows> change{};
        plan.element(place.owner).residual_by_field(system.point(place.owner).data(), place.field, change);
        slopes[n] = weigh(owner, change);
        break;
      }
      case What::part_temperature:
        slopes[n] = weigh_liquid(owner, liquid_sloped(parts[owner].liquid, plan.temperature_of_part(place.owner), true));
        break;
      case What::demand: slopes[n] = -adjoint.junction[static_cast<std::size_t>(plan.unknown_of(place.owner))]; break;
      case What::gauge: slopes[n] = adjoint.pressure[owner]; break;
      case What::tank:
        slopes[n] = adjoint.pressure[owner] * tank_slope(owner, [&](TankInputs& in) {
          int field = 0;
          std::apply([&](const auto&... one) { ((field++ == place.field ? mark(in.spec.*one.member) : void()), ...); },
                     parts::TankSpec<Dual<1>>::fields());
        });
        break;
      case What::ambient:
      case What::liquid_temperature: {
        const bool by_temperature = place.what == What::liquid_temperature;
        for (std::size_t part = 0; part < parts.size(); ++part)
          if (!by_temperature || !plan.has_own_temperature(static_cast<int>(part)))
            slopes[n] += weigh_liquid(part, liquid_sloped(parts[part].liquid, plan.temperature_of_part(static_cast<int>(part)), by_temperature));
        for (std::size_t j = 0; j < adjoint.pressure.size(); ++j) {
          const bool tank = plan.junction_state(static_cast<int>(j)).kind == network::JunctionKind::tank;
          const double slope = tank ? tank_slope(j, [&](TankInputs& in) { by_temperature ? mark(in.temperature) : mark(in.ambient); })
                                    : (by_temperature ? 0.0 : 1.0);
          slopes[n] += adjoint.pressure[j] * slope;
        }
        break;
      }
      case What::heat: break;
      case What::acceleration:
        for (std::size_t part = 0; part < parts.size(); ++part)
          slopes[n] -= plan.liquid_in(static_cast<int>(part)).density.value() * weigh_heads(part, owner);
        for (std::size_t j = 0; j < adjoint.pressure.size(); ++j)
          slopes[n] += adjoint.pressure[j] * tank_slope(j, [&](TankInputs& in) { mark(in.acceleration[owner]); });
        break;
    }
  }
  return slopes;
}

}  // namespace flarenut::analysis

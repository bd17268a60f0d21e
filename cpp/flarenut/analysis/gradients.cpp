#include "flarenut/analysis/gradients.hpp"

#include <algorithm>

namespace flarenut::analysis {

using network::NumberPlace;
using What = NumberPlace::What;

Gradients::Gradients(const Plan& plan, const DropField& drops, LawsBy laws)
    : plan_(plan), adjoint_(plan), field_(plan, drops, laws), warming_(plan.branches().size()), needed_(plan.branches().size(), 0) {
  for (const network::PartEntry& part : plan.network().parts()) liquid_of_.push_back(part.liquid);
  std::vector<int> seat(static_cast<std::size_t>(plan.junction_count()));
  for (int j = 0; j < plan.junction_count(); ++j) {
    if (const int unknown = plan.unknown_of(j); unknown >= 0) {
      seat[static_cast<std::size_t>(j)] = static_cast<int>(demands_.size());
      demands_.push_back(unknown);
    } else {
      seat[static_cast<std::size_t>(j)] = static_cast<int>(held_.size());
      held_.push_back({j, plan.junction_state(j).kind == network::JunctionKind::tank, {}});
    }
  }
  demand_slope_.resize(demands_.size());
  for (int number = 0; number < static_cast<int>(plan.names().size()); ++number) where_.push_back(place_of(plan.place(number), seat));
}

/// Where the slope with a number will stand.
const double* Gradients::place_of(const NumberPlace& place, const std::vector<int>& seat) const {
  static constexpr double none = 0.0;
  const auto owner = static_cast<std::size_t>(place.owner);
  const auto of_junction = [&] { return static_cast<std::size_t>(seat[owner]); };
  switch (place.what) {
    case What::field: return field_.by_field(owner, place.field);
    case What::part_temperature: return &warming_[owner];
    case What::demand: return &demand_slope_[of_junction()];
    case What::gauge: return &held_[of_junction()].slope[0];
    case What::tank: return &held_[of_junction()].slope[static_cast<std::size_t>(place.field)];
    case What::ambient: return &surroundings_[0];
    case What::liquid_temperature: return &surroundings_[1];
    case What::acceleration: return &surroundings_[2 + owner];
    case What::heat: break;  // slopes are worked out at given temperatures only
  }
  return &none;
}

void Gradients::find(FlowSystem& system, const Output& output, std::vector<double>& slopes) {
  work_out(system, output, nullptr);
  slopes.resize(where_.size());
  std::transform(where_.begin(), where_.end(), slopes.begin(), [](const double* where) { return *where; });
}

void Gradients::find(FlowSystem& system, const Output& output, const std::vector<int>& numbers, std::vector<double>& slopes) {
  work_out(system, output, need(numbers));
  slopes.resize(numbers.size());
  for (std::size_t n = 0; n < numbers.size(); ++n) slopes[n] = *where_[static_cast<std::size_t>(numbers[n])];
}

void Gradients::work_out(FlowSystem& system, const Output& output, const std::vector<char>* needed) {
  adjoint_.find(system, output);
  field_.find(system, adjoint_, needed);
  find_liquids(needed);
  find_junctions();
}

/// Parts whose laws must be asked; nothing where all must.
const std::vector<char>* Gradients::need(const std::vector<int>& numbers) {
  std::fill(needed_.begin(), needed_.end(), 0);
  for (int number : numbers) {
    const NumberPlace& place = plan_.place(number);
    if (place.what == What::field || place.what == What::part_temperature) needed_[static_cast<std::size_t>(place.owner)] = 1;
    if (place.what == What::ambient || place.what == What::liquid_temperature) return nullptr;
  }
  return &needed_;
}

/// With temperatures, ambient pressure and acceleration: what liquids and heights make of them.
void Gradients::find_liquids(const std::vector<char>* needed) {
  double by_ambient = 0.0, by_temperature = 0.0;
  double* const warming = warming_.data();
  const LiquidSlopes* liquid = nullptr;
  for (std::size_t b = 0; b < liquid_of_.size(); ++b) {
    if (needed != nullptr && !(*needed)[b]) continue;
    const int part = static_cast<int>(b);
    const SlopeField::ByLiquid& found = field_.by_liquid(b);
    const bool own = plan_.has_own_temperature(part);
    const double kelvin = own ? plan_.temperature_of_part(part) : plan_.liquid_temperature();
    if (liquid == nullptr || liquid->liquid != liquid_of_[b] || liquid->kelvin != kelvin) liquid = &liquid_slopes(liquid_of_[b], kelvin);
    const double by_density = *found.density + adjoint_.density(part), by_viscosity = *found.viscosity;
    const double warming_here = by_density * liquid->density[0] + by_viscosity * liquid->viscosity[0] + *found.temperature;
    warming[b] = warming_here;
    by_ambient += by_density * liquid->density[1] + by_viscosity * liquid->viscosity[1];
    if (!own) by_temperature += warming_here;
  }
  surroundings_ = {by_ambient, by_temperature, adjoint_.acceleration(0), adjoint_.acceleration(1), adjoint_.acceleration(2)};
}

void Gradients::find_junctions() {
  for (std::size_t i = 0; i < demands_.size(); ++i) demand_slope_[i] = adjoint_.demand(demands_[i]);
  for (Held& held : held_) {
    const double weight = adjoint_.pressure(held.junction);
    if (!held.tank) {
      held.slope[0] = weight;
      surroundings_[0] += weight;
      continue;
    }
    held.slope = tank_slopes(held.junction);
    for (double& slope : held.slope) slope *= weight;
    for (std::size_t i = 0; i < surroundings_.size(); ++i) surroundings_[i] += held.slope[tank_fields + i];
  }
}

const Gradients::LiquidSlopes& Gradients::liquid_slopes(int liquid, double kelvin) {
  for (const LiquidSlopes& known : liquids_)
    if (known.liquid == liquid && known.kelvin == kelvin && known.ambient == plan_.ambient()) return known;
  constexpr std::size_t most_kept = 64;
  if (liquids_.size() >= most_kept) liquids_.clear();
  using D = Dual<1>;
  LiquidSlopes found{liquid, kelvin, plan_.ambient()};
  for (std::size_t i = 0; i < 2; ++i) {
    const auto state = plan_.network().liquids()[static_cast<std::size_t>(liquid)].at(
        Temperature<D>::from_value(i == 0 ? D(kelvin, 0) : D(kelvin)),
        AbsolutePressure<D>::from_value(i == 1 ? D(plan_.ambient(), 0) : D(plan_.ambient())));
    found.heaviness = state.density.value().value;
    found.density[i] = state.density.value().slope[0];
    found.viscosity[i] = state.viscosity.value().slope[0];
  }
  return liquids_.emplace_back(found);
}

Gradients::TankSlopes Gradients::tank_slopes(int junction) {
  constexpr int density = tank_fields;
  using D = Dual<density + 5>;
  const network::Junction& state = plan_.junction_state(junction);
  const LiquidSlopes& liquid = liquid_slopes(state.liquid, plan_.liquid_temperature());
  auto spec = parts::lifted<parts::TankSpec, D>(state.tank);
  int direction = 0;
  const auto start = [&](auto& quantity) {
    quantity = std::decay_t<decltype(quantity)>::from_value(D(quantity.value().value, direction++));
  };
  std::apply([&](const auto&... field) { (start(spec.*field.member), ...); }, parts::TankSpec<D>::fields());
  auto ambient = AbsolutePressure<D>::from_value(D(plan_.ambient()));
  start(ambient);
  auto heaviness = Density<D>::from_value(D(liquid.heaviness));
  start(heaviness);
  parts::VehicleAcceleration<D> acceleration;
  for (std::size_t axis = 0; axis < 3; ++axis) {
    acceleration[axis] = Acceleration<D>::from_value(D(plan_.acceleration()[axis]));
    start(acceleration[axis]);
  }
  TankSlopes slopes = parts::Tank<D>(spec).pressure_at_pickup(ambient, heaviness, acceleration).value().slope;
  // From density to temperature and ambient pressure.
  const double by_density = slopes[density + 1];
  slopes[density] += by_density * liquid.density[1];
  slopes[density + 1] = by_density * liquid.density[0];
  return slopes;
}

}  // namespace flarenut::analysis

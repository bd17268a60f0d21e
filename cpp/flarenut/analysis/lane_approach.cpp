#include "flarenut/analysis/lane_approach.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace flarenut::analysis {

namespace {

/// Where the regions of a state begin, in the order of their places.
auto beginnings(const lanes::Regions& at) {
  return std::array{at.pressure, at.flow,    at.head,  at.number, at.point, at.demand,
                    at.flow_scale, at.limited, at.whole, at.drop,   at.gain,  at.factor};
}

/// Where circuits keep how far the last step moved each flow.
std::vector<int> step_places(const lanes::Circuit& circuit) {
  std::vector<int> places;
  for (const lanes::Run& run : circuit.runs) places.push_back(run.gain);
  for (const lanes::Branch& branch : circuit.branches)
    for (int f = 0; f < branch.flows; ++f)
      places.push_back(branch.first_gain + (f * branch.gains() + 1 + branch.pressures) * circuit.width);
  return places;
}

}  // namespace

std::unique_ptr<LaneApproach> LaneApproach::make(const network::Plan& plan, const BatchTask& task, const LaneLayout& layout,
                                                 const LaneReference& reference, const LaneRows& rows, const LanePoints& points,
                                                 const lanes::Kernel& kernel) {
  const auto& branches = layout.circuit.branches;
  const bool asks = std::any_of(branches.begin(), branches.end(), [](const auto& branch) { return branch.law == lanes::outside; });
  if (!reference.known() || !rows.rest().empty() || asks) return nullptr;
  std::optional<LaneLayout> single = lay_out(plan, task.numbers, kernel.approach->width);
  if (!single) return nullptr;
  return std::unique_ptr<LaneApproach>(new LaneApproach(std::move(*single), layout, reference, rows, points, kernel));
}

LaneApproach::LaneApproach(LaneLayout single, const LaneLayout& layout, const LaneReference& reference, const LaneRows& rows,
                           const LanePoints& points, const lanes::Kernel& kernel)
    : kernel_(kernel), circuit_(layout.circuit), layout_(std::move(single)), single_(layout_.circuit), state_(single_),
      found_(2, lanes::State(circuit_)), groups_(2, rows.group()), steps_(step_places(circuit_)),
      bend_(circuit_.runs.size() * static_cast<std::size_t>(single_.width)), numbers_(rows.places()), gauges_(rows.gauge_places()) {
  std::vector<int> unknowns = circuit_.junction_of;
  for (int flow = 0; flow < circuit_.flows; ++flow) unknowns.push_back(circuit_.region.flow + flow * circuit_.width);
  carried_ = unknowns;
  for (const LanePoints::Flow& point : points.flows) carried_.push_back(point.to);
  for (const LanePoints::Pressure& point : points.pressures) carried_.push_back(point.to);
  carried_.push_back(circuit_.region.limited);
  carried_.push_back(circuit_.region.whole);
  kept_ = carried_;
  kept_.insert(kept_.end(), numbers_.begin(), numbers_.end());
  kept_.insert(kept_.end(), gauges_.begin(), gauges_.end());
  kept_.insert(kept_.end(), steps_.begin(), steps_.end());
  single_numbers_ = across(numbers_);
  single_gauges_ = across(gauges_);
  single_unknowns_ = across(unknowns);
  single_carried_ = across(carried_);
  for (const LanePoints::Flow& point : points.flows) points_.flows.push_back({across(point.to), across(point.from), point.sign});
  for (const LanePoints::Pressure& point : points.pressures)
    points_.pressures.push_back({across(point.to), across(point.from), across(point.head)});
  take_moves(reference.moves());
}

void LaneApproach::take_moves(const lanes::Moves& moves) {
  const auto narrowed = [](const double* from, std::size_t count) {
    std::vector<float> numbers(count);
    std::transform(from, from + count, numbers.begin(), [](double number) { return static_cast<float>(number); });
    return numbers;
  };
  from_ = narrowed(moves.from, moves.numbers);
  unmoved_ = narrowed(moves.unmoved, moves.unknowns);
  least_ = narrowed(moves.least, moves.unknowns);
  most_ = narrowed(moves.most, moves.unknowns);
  slope_ = narrowed(moves.slope, moves.unknowns * moves.numbers);
  for (std::size_t column = 0; column < moves.numbers; ++column) columns_.push_back(static_cast<int>(column) * single_.width);
  values_ = lanes::AlignedOf<float>(moves.numbers * static_cast<std::size_t>(single_.width));
  moved_ = lanes::AlignedOf<float>(moves.unknowns * static_cast<std::size_t>(single_.width));
}

int LaneApproach::across(int place) const {
  const auto from = beginnings(circuit_.region), to = beginnings(single_.region);
  const auto region = static_cast<std::size_t>(std::upper_bound(from.begin(), from.end(), place) - from.begin()) - 1;
  return to[region] + (place - from[region]) / circuit_.width * single_.width;
}

std::vector<int> LaneApproach::across(std::vector<int> places) const {
  for (int& place : places) place = across(place);
  return places;
}

void LaneApproach::hold(const lanes::State& state, int lane) {
  const lanes::Regions& of = circuit_.region;
  const auto hold_all = [&](int begin, int count) {
    for (int place = begin, end = begin + count * circuit_.width; place != end; place += circuit_.width) {
      const double number = state.memory[static_cast<std::size_t>(place + lane)];
      std::fill_n(&state_.memory[static_cast<std::size_t>(across(place))], single_.width, static_cast<float>(number));
      for (lanes::State& found : found_) std::fill_n(&found.memory[static_cast<std::size_t>(place)], circuit_.width, number);
    }
  };
  hold_all(of.pressure, circuit_.junctions);
  hold_all(of.head, circuit_.heads);
  hold_all(of.number, circuit_.numbers);
  hold_all(of.demand, circuit_.equations + 1);
  hold_all(of.flow_scale, 1);
}

/// Brings the numbers of a group into its half of the lanes.
void LaneApproach::start(LaneRows& rows, const LaneRows::Group& group, int half) {
  const int first = half * circuit_.width;
  const lanes::ApproachKernel& kernel = *kernel_.approach;
  kernel.narrow(single_numbers_.size(), group.numbers.data(), single_numbers_.data(), state_.memory.data() + first);
  kernel.narrow(single_gauges_.size(), group.pressures.data(), single_gauges_.data(), state_.memory.data() + first);
  kernel.narrow(columns_.size(), rows.values(group), columns_.data(), values_.data() + first);
}

/// Moves the reference's answer to all rows, and points devices there.
void LaneApproach::stand_at_start() {
  const int width = single_.width;
  float* const base = state_.memory.data();
  const lanes::MovesOf<float> moves{columns_.size(), single_unknowns_.size(), from_.data(), unmoved_.data(),
                                    least_.data(),   most_.data(),            slope_.data()};
  kernel_.approach->move(moves, values_.data(), moved_.data());
  const float* moved = moved_.data();
  for (int place : single_unknowns_) {
    std::copy_n(moved, width, base + place);
    moved += width;
  }
  for (const LanePoints::Flow& point : points_.flows)
    for (int lane = 0; lane < width; ++lane) base[point.to + lane] = static_cast<float>(point.sign) * base[point.from + lane];
  for (const LanePoints::Pressure& point : points_.pressures)
    for (int lane = 0; lane < width; ++lane) base[point.to + lane] = base[point.from + lane] + base[point.head + lane];
  std::fill_n(base + single_.region.limited, width, 0.0F);
  std::fill_n(base + single_.region.whole, width, 0.0F);
}

void LaneApproach::arrive(const LaneRows::Group& group, int half) {
  lanes::State& found = found_[static_cast<std::size_t>(half)];
  double* const base = found.memory.data();
  const int first = half * circuit_.width;
  const lanes::ApproachKernel& kernel = *kernel_.approach;
  kernel.place(numbers_.size(), group.numbers.data(), numbers_.data(), base);
  kernel.place(gauges_.size(), group.pressures.data(), gauges_.data(), base);
  kernel.widen(carried_.size(), state_.memory.data() + first, single_carried_.data(), carried_.data(), base);
  kernel.arrive(circuit_, found, steps_.size(), steps_.data(), bend_.data() + first);
  found.accepted &= group.sound;
}

int LaneApproach::run(LaneRows& rows, std::size_t first, std::size_t end) {
  int halves = 0;
  for (; halves < 2 && first < end; ++halves) {
    LaneRows::Group& group = groups_[static_cast<std::size_t>(halves)];
    rows.prepare(group, first, end);
    start(rows, group, halves);
    first = group.end;
  }
  stand_at_start();
  kernel_.approach->approach(single_, state_, steps, bend_.data());
  for (int half = 0; half < halves; ++half) arrive(groups_[static_cast<std::size_t>(half)], half);
  return halves;
}

bool LaneApproach::keep(int half, int column, std::vector<double>& kept) const {
  const double* const from = found_[static_cast<std::size_t>(half)].memory.data() + column;
  kept.resize(kept_.size());
  double sum = 0.0;
  for (std::size_t i = 0; i < kept_.size(); ++i) sum += std::abs(kept[i] = from[kept_[i]]);
  return std::isfinite(sum);
}

void LaneApproach::bring(const double* kept, lanes::State& state, int lane) const {
  double* const to = state.memory.data() + lane;
#pragma GCC unroll 4
  for (const int *place = kept_.data(), *end = place + kept_.size(); place != end; ++place) to[*place] = *kept++;
}

}  // namespace flarenut::analysis

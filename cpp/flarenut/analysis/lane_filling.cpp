#include <algorithm>
#include <cmath>

#include "flarenut/analysis/lane_worker.hpp"

// How the numbers of a row come into a lane, and where its iterate begins.

namespace flarenut::analysis {

using Point = std::array<double, network::most_pressures + network::most_flows>;

void LaneWorker::set_whole_row(Plan& plan, std::size_t row) const {
  const BatchTask& task = batch_.task_;
  plan.set_row(task.numbers, task.values + row * task.numbers.size());
  plan.refresh();
}

void LaneWorker::fill(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  LaneRows::Group& rows = *here.rows;
  if (here.row >= rows.end || here.row < rows.first) rows_.prepare(rows, here.row, std::max(here.end, end_row_));
  here.packed = rows_.sound(rows, here.row);
  if (!here.packed) {  // to be refused in words, or something rare
    set_whole_row(here.plan, here.row);
    load(lane);
    for (int part : rows_.parts()) load_part(lane, part);
    for (int junction : rows_.junctions()) at(pressure_of(junction), lane) = here.plan.held_pressure()[static_cast<std::size_t>(junction)];
    return;
  }
  if (!rows_.rest().empty()) here.plan.set_row(rows_.rest(), rows_.rest_of(here.row));
  here.plan.refresh();  // a liquid may refuse its temperature
  load(lane);
  rows_.bring(rows, here.row, state_, lane);
}

void LaneWorker::load(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  if (here.plan.renewals() > here.seen)
    for (int part = 0; part < static_cast<int>(layout_.part.size()); ++part)
      if (here.plan.renewed_at(part) > here.seen) load_part(lane, part);
  if (here.plan.heads_at() > here.seen) load_heads(lane);
  here.seen = here.plan.renewals();
  if (!demands_vary_) return;
  for (int row = 0; row < circuit_.equations; ++row) {
    const int junction = (circuit_.junction_of[static_cast<std::size_t>(row)] - circuit_.region.pressure) / kernel_.width;
    at(circuit_.region.demand + row * kernel_.width, lane) = here.plan.demand(junction);
  }
}

void LaneWorker::load_part(int lane, int part) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  const network::Element& element = here.plan.element(part);
  const LaneLayout::Part& place = layout_.part[static_cast<std::size_t>(part)];
  int law = lanes::outside, number = 0;
  if (place.member >= 0) {
    const lanes::Member& member = circuit_.members[static_cast<std::size_t>(place.member)];
    law = member.law, number = member.number;
  } else {
    const lanes::Branch& branch = circuit_.branches[static_cast<std::size_t>(place.branch)];
    law = branch.law, number = branch.first_number;
  }
  if (law != lanes::outside) {
    element.bundle(bundle_.data());
    double* to = &at(number, lane);
    for (int i = 0, size = lanes::numbers_of_law(law); i < size; ++i, to += kernel_.width) *to = bundle_[static_cast<std::size_t>(i)];
  }
  if (follows_[static_cast<std::size_t>(part)]) return;
  const Branch& branch = here.plan.branches()[static_cast<std::size_t>(part)];
  Point point;
  element.start(point.data());
  std::copy_n(point.begin() + branch.pressures(), branch.flows, here.start_flow.begin() + branch.first_flow);
}

void LaneWorker::load_heads(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  at(circuit_.region.flow_scale, lane) = here.plan.flow_scale();
  const auto head = [&](int part) -> const auto& { return here.plan.branches()[static_cast<std::size_t>(part)].head; };
  for (std::size_t run = 0; run < circuit_.runs.size(); ++run) {
    double sum = 0.0;
    for (int place : layout_.run[run]) {
      const lanes::Member& member = circuit_.members[static_cast<std::size_t>(place)];
      const double own = head(member.part)[0] - head(member.part)[1], on_the_way = member.reversed ? -own : own;
      at(member.head, lane) = on_the_way;
      sum += on_the_way;
    }
    at(circuit_.runs[run].head, lane) = sum;
  }
  for (const lanes::Branch& branch : circuit_.branches)
    for (int i = 0; i < branch.pressures; ++i)
      at(branch.first_head + i * kernel_.width, lane) = head(branch.part)[static_cast<std::size_t>(i)];
}

void LaneWorker::point_at_iterate(const lanes::Branch& branch, int lane, double* point, int stride) {
  const double* head = &at(branch.first_head, lane);
  for (int i = 0; i < branch.pressures; ++i, point += stride, head += kernel_.width)
    *point = at(branch.junction[static_cast<std::size_t>(i)], lane) + *head;
  for (int f = 0; f < branch.flows; ++f, point += stride) *point = at(branch.first_flow + f * kernel_.width, lane);
}

/// Where a row begins: where its chain says (`lane_chain.hpp`), or cold.
void LaneWorker::start(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  double* const to = &at(0, lane);
  if (here.warm) {
    double* answer = here.chain.next();
#pragma GCC unroll 4
    for (const int *place = unknowns_.data(), *end = place + unknowns_.size(); place != end; ++place) *answer++ = to[*place];
    here.chain.follow(here.row);
  }
  const double* unknown = here.chain.start(here.row, here.warm);
  const bool moved = here.chain.at_reference();
  here.cold = unknown == nullptr && !moved;
  if (here.cold) return start_cold(lane);
  if (moved) {
    rows_.bring_moved(*here.rows, here.row, state_, lane, unknowns_);
  } else {
#pragma GCC unroll 4
    for (const int *place = unknowns_.data(), *end = place + unknowns_.size(); place != end; ++place) to[*place] = *unknown++;
  }
  stand_at_start(lane);
}

/// As `FlowSystem::start_at`.
void LaneWorker::stand_at_start(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  double* const to = &at(0, lane);
  const double* const held = here.plan.held_pressure().data();
  for (int junction : held_) to[pressure_of(junction)] = held[junction];
  for (const LanePoints::Flow& point : points_.flows) to[point.to] = point.sign * to[point.from];
  for (const LanePoints::Pressure& point : points_.pressures) to[point.to] = to[point.from] + to[point.head];
  to[circuit_.region.limited] = to[circuit_.region.whole] = 0.0;
}

/// A run starts with the mean of the flows that its members would start with.
void LaneWorker::start_runs(Lane& lane, const std::vector<RunStart>& runs) const {
  double* const flow = lane.start_flow.data();
  for (const RunStart& start : runs) {
    double sum = 0.0;
    for (const int *of = run_flows_.data() + start.first, *end = of + start.count; of != end; ++of) sum += std::abs(flow[*of]);
    flow[start.to] = sum * start.share;
  }
}

/// As `FlowSystem::start_cold`.
void LaneWorker::start_cold(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  if (here.packed) rows_.bring_starts(*here.rows, here.row, here.start_flow.data());
  start_runs(here, varied_runs_);
  double* const to = &at(0, lane);
  const double ambient = here.plan.ambient();
  for (int place : circuit_.junction_of) to[place] = ambient;
  const double* const held = here.plan.held_pressure().data();
  for (int junction : held_) to[pressure_of(junction)] = held[junction];
  const double* const flow = here.start_flow.data();
  for (const auto& [place, from] : cold_) to[place] = flow[from];
  // A device that stands against its run begins in its own direction.
  to[circuit_.region.limited] = against_ ? 1.0 : 0.0;
  to[circuit_.region.whole] = 0.0;
  for (const lanes::Branch& branch : circuit_.branches) start_branch(lane, branch);
}

void LaneWorker::start_branch(int lane, const lanes::Branch& branch) {
  const Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  const int width = kernel_.width;
  const Branch& of = here.plan.branches()[static_cast<std::size_t>(branch.part)];
  for (int f = 0; f < branch.flows; ++f)
    at(branch.first_flow + f * width, lane) = here.start_flow[static_cast<std::size_t>(of.first_flow + f)];
  Point point, before;
  point_at_iterate(branch, lane, point.data(), 1);
  before = point;
  if (follows_[static_cast<std::size_t>(branch.part)]) here.plan.element(branch.part).start(point.data());
  if (!std::equal(point.begin(), point.begin() + branch.pressures, before.begin())) at(circuit_.region.limited, lane) = 1.0;
  for (int f = 0; f < branch.flows; ++f)
    at(branch.first_flow + f * width, lane) = point[static_cast<std::size_t>(branch.pressures + f)];
  for (int i = 0; i < branch.pressures + branch.flows; ++i)
    at(branch.first_point + i * width, lane) = point[static_cast<std::size_t>(i)];
}

}  // namespace flarenut::analysis

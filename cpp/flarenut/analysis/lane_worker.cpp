#include "flarenut/analysis/lane_worker.hpp"

#include <algorithm>

namespace flarenut::analysis {

using network::most_flows;
using network::most_pressures;
using Point = std::array<double, most_pressures + most_flows>;

LaneWorker::LaneWorker(Batch& batch, const Plan& plan, const lanes::Circuit& circuit, const lanes::Kernel& kernel)
    : batch_(batch), circuit_(circuit), kernel_(kernel), state_(circuit), plan_(plan), solver_(plan_) {
  state_.others = this;
  int largest = 0;
  follows_.resize(circuit.branches.size());
  for (const lanes::Branch& branch : circuit.branches) {
    const network::Element& element = plan.element(branch.part);
    largest = std::max(largest, element.bundle_size());
    const bool follows = element.start_follows_pressure();
    follows_[static_cast<std::size_t>(branch.part)] = follows;
    if (branch.has_limit || branch.law == lanes::outside || follows) pointed_.push_back({&branch, follows});
  }
  for (int junction = 0; junction < circuit.junctions; ++junction)
    if (plan.unknown_of(junction) < 0) held_.push_back(junction);
  bundle_.resize(static_cast<std::size_t>(largest));
  for (int lane = 0; lane < kernel.width; ++lane) {
    lanes_.push_back(std::make_unique<Lane>(plan));
    Lane& made = *lanes_.back();
    made.cold_flow.resize(static_cast<std::size_t>(circuit.flows));
    load(lane);  // an idle lane, too, holds numbers that can be reckoned with
    start_cold(lane);
  }
  const std::vector<int>& numbers = batch.task_.numbers;
  demands_vary_ = std::any_of(numbers.begin(), numbers.end(),
                              [&](int number) { return plan.place(number).what == network::NumberPlace::What::demand; });
}

void LaneWorker::run() {
  for (int lane = 0; lane < kernel_.width; ++lane) begin(lane);
  while (!batch_.stopped_ && std::any_of(lanes_.begin(), lanes_.end(), [](const auto& lane) { return lane->busy; })) {
    kernel_.evaluate(circuit_, state_);
    bool going = false;
    for (int lane = 0; lane < kernel_.width; ++lane) {
      Lane& here = *lanes_[static_cast<std::size_t>(lane)];
      const unsigned bit = 1U << static_cast<unsigned>(lane);
      const bool accepted = (state_.accepted & bit) != 0, spent = (state_.broken & bit) != 0 || here.iterations == most_iterations;
      state_.active[lane] = here.busy && !accepted && !spent ? 1.0 : 0.0;
      if (!here.busy) continue;
      if (accepted && !below_absolute_zero(lane)) {
        finish(lane);
      } else if (accepted || spent) {
        solve_alone(lane, here.iterations == most_iterations);
      } else {
        ++here.iterations;
        going = true;
        continue;
      }
      ++here.row;
      begin(lane);
    }
    if (going) kernel_.advance(circuit_, state_);
  }
}

void LaneWorker::begin(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  const BatchTask& task = batch_.task_;
  for (;; ++here.row) {
    if (here.row == here.end) {
      here.row = batch_.stopped_ ? task.count : batch_.next_block_++ * batch_.options_.block;
      here.busy = here.row < task.count;
      if (!here.busy) {
        here.row = here.end = 0;
        return;
      }
      here.end = std::min(task.count, here.row + batch_.options_.block);
      here.warm = false;
    }
    try {
      here.plan.set_row(task.numbers, task.values + here.row * task.numbers.size());
      here.plan.refresh();  // a liquid may refuse its temperature
    } catch (const InputError& error) {
      batch_.fail(here.row, RowStatus::refused, error.what());
      continue;
    }
    here.iterations = 0;
    load(lane);
    start(lane);
    return;
  }
}

void LaneWorker::load(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  for (const lanes::Branch& branch : circuit_.branches)
    if (here.plan.renewed_at(branch.part) > here.seen) load_part(lane, branch);
  if (here.plan.heads_at() > here.seen) load_heads(lane);
  here.seen = here.plan.renewals();
  if (!demands_vary_) return;
  for (int row = 0; row < circuit_.equations; ++row)
    at(state_.demand, row * kernel_.width, lane) = here.plan.demand(circuit_.junction_of[static_cast<std::size_t>(row)] / kernel_.width);
}

void LaneWorker::load_part(int lane, const lanes::Branch& branch) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  const auto part = static_cast<std::size_t>(branch.part);
  const network::Element& element = here.plan.element(branch.part);
  if (branch.law != lanes::outside) {
    element.bundle(bundle_.data());
    double* to = state_.number + branch.first_number + lane;
    for (int i = 0, size = lanes::numbers_of_law(branch.law); i < size; ++i, to += kernel_.width) *to = bundle_[static_cast<std::size_t>(i)];
  }
  if (follows_[part]) return;
  Point point;
  element.start(point.data());
  std::copy_n(point.begin() + branch.pressures, branch.flows, here.cold_flow.begin() + here.plan.branches()[part].first_flow);
}

void LaneWorker::load_heads(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  state_.flow_scale[lane] = here.plan.flow_scale();
  for (const lanes::Branch& branch : circuit_.branches)
    for (int i = 0; i < branch.pressures; ++i)
      at(state_.head, branch.first_head + i * kernel_.width, lane) =
          here.plan.branches()[static_cast<std::size_t>(branch.part)].head[static_cast<std::size_t>(i)];
}

void LaneWorker::point_at_iterate(const lanes::Branch& branch, int lane, double* point, int stride) const {
  const double* head = state_.head + branch.first_head + lane;
  for (int i = 0; i < branch.pressures; ++i, point += stride, head += kernel_.width)
    *point = at(state_.pressure, branch.junction[static_cast<std::size_t>(i)], lane) + *head;
  for (int f = 0; f < branch.flows; ++f, point += stride) *point = at(state_.flow, branch.first_flow + f * kernel_.width, lane);
}

/// As `FlowSystem::start_cold` and `start_at`.
void LaneWorker::start(int lane) {
  const Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  if (!here.warm) return start_cold(lane);
  const int width = kernel_.width;
  if (!here.in_place) {
    for (int junction = 0; junction < circuit_.junctions; ++junction)
      at(state_.pressure, junction * width, lane) = here.answer.pressure[static_cast<std::size_t>(junction)];
    for (int flow = 0; flow < circuit_.flows; ++flow) at(state_.flow, flow * width, lane) = here.answer.flow[static_cast<std::size_t>(flow)];
  }
  for (int junction : held_) at(state_.pressure, junction * width, lane) = here.plan.held_pressure()[static_cast<std::size_t>(junction)];
  for (const auto& [pointed, follows] : pointed_) {
    point_at_iterate(*pointed, lane, state_.point + pointed->first_point + lane, width);
    at(state_.limited, pointed->place, lane) = 0.0;
  }
}

void LaneWorker::start_cold(int lane) {
  const Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  for (int junction = 0; junction < circuit_.junctions; ++junction)
    at(state_.pressure, junction * kernel_.width, lane) = here.plan.held_pressure()[static_cast<std::size_t>(junction)];
  for (int flow = 0; flow < circuit_.flows; ++flow) at(state_.flow, flow * kernel_.width, lane) = here.cold_flow[static_cast<std::size_t>(flow)];
  Point point, before;
  for (const auto& [pointed, follows] : pointed_) {
    const lanes::Branch& branch = *pointed;
    at(state_.limited, branch.place, lane) = 0.0;
    if (!follows) {
      point_at_iterate(branch, lane, state_.point + branch.first_point + lane, kernel_.width);
      continue;
    }
    point_at_iterate(branch, lane, point.data(), 1);
    before = point;
    here.plan.element(branch.part).start(point.data());
    const bool moved = !std::equal(point.begin(), point.begin() + branch.pressures, before.begin());
    for (int f = 0; f < branch.flows; ++f)
      at(state_.flow, branch.first_flow + f * kernel_.width, lane) = point[static_cast<std::size_t>(branch.pressures + f)];
    for (int i = 0; i < branch.pressures + branch.flows; ++i)
      at(state_.point, branch.first_point + i * kernel_.width, lane) = point[static_cast<std::size_t>(i)];
    at(state_.limited, branch.place, lane) = moved ? 1.0 : 0.0;
  }
}

bool LaneWorker::below_absolute_zero(int lane) const {
  return std::any_of(circuit_.junction_of.begin(), circuit_.junction_of.end(),
                     [&](int junction) { return impossible_pressure(at(state_.pressure, junction, lane)); });
}

void LaneWorker::finish(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  Solution& answer = here.answer;
  answer.pressure.resize(static_cast<std::size_t>(circuit_.junctions));
  answer.flow.resize(static_cast<std::size_t>(circuit_.flows));
  for (std::size_t j = 0; j < answer.pressure.size(); ++j) answer.pressure[j] = at(state_.pressure, static_cast<int>(j) * kernel_.width, lane);
  for (std::size_t f = 0; f < answer.flow.size(); ++f) answer.flow[f] = at(state_.flow, static_cast<int>(f) * kernel_.width, lane);
  answer.status = Status::converged;
  answer.iterations = here.iterations;
  answer.residual = state_.residual[lane];
  here.warm = here.in_place = true;
  batch_.record(here.row, here.plan, answer);
}

void LaneWorker::solve_alone(int lane, bool tried) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  here.in_place = false;
  plan_.set_row(batch_.task_.numbers, batch_.task_.values + here.row * batch_.task_.numbers.size());
  SteadyOptions options;
  if (tried) options.tried = here.warm ? Rung::warm : Rung::cold;
  solver_.solve(solution_, here.warm ? Start{&here.answer.pressure, &here.answer.flow} : Start{}, options);
  batch_.record(here.row, plan_, solution_);
  if (!solution_.converged()) return;
  here.answer.pressure = solution_.pressure;
  here.answer.flow = solution_.flow;
  here.warm = true;
}

void LaneWorker::linearise(int part, int lane, const double* point, double* residual, double* by_flow, double* by_pressure) {
  const Plan& plan = lanes_[static_cast<std::size_t>(lane)]->plan;
  const Branch& branch = plan.branches()[static_cast<std::size_t>(part)];
  network::Linearisation line;
  plan.element(part).linearise(point, line);
  std::copy_n(line.residual.begin(), branch.flows, residual);
  std::copy_n(line.by_flow.begin(), branch.flows * branch.flows, by_flow);
  std::copy_n(line.by_pressure.begin(), branch.flows * branch.pressures(), by_pressure);
}

bool LaneWorker::limit(int part, int lane, const double* last, double* proposed) {
  return lanes_[static_cast<std::size_t>(lane)]->plan.element(part).limit(last, proposed);
}

}  // namespace flarenut::analysis

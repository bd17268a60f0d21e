#include "flarenut/analysis/lane_worker.hpp"

#include <algorithm>
#include <bit>

namespace flarenut::analysis {

using What = network::NumberPlace::What;

namespace {

/// Whether a plan could be brought up to date: a liquid may refuse the temperature that rows will change.
bool refreshes(Plan& plan) {
  try {
    plan.refresh();
    return true;
  } catch (const InputError&) {
    return false;
  }
}

}  // namespace

LaneWorker::LaneWorker(Batch& batch, const Plan& plan, const LaneLayout& layout, const LaneReference& reference,
                       const lanes::Kernel& kernel)
    : batch_(batch), layout_(layout), reference_(reference), circuit_(layout.circuit), kernel_(kernel), state_(circuit_), plan_(plan),
      rows_(plan_, batch.task_, layout, reference, kernel, refreshes(plan_)), solver_(plan_) {
  state_.others = this;
  study_parts();
  study_runs();
  study_readings();
  const std::size_t width = static_cast<std::size_t>(kernel.width), block = batch.options_.block;
  approach_ = LaneApproach::make(plan_, batch.task_, layout, reference, rows_, points_, kernel);
  one_by_one_ = block == 1 || approach_ != nullptr;
  const std::size_t blocks = (batch.task_.count + block - 1) / block, takers = (one_by_one_ ? 1 : width) * batch.threads_wanted();
  blocks_at_once_ = std::clamp<std::size_t>(blocks / (4 * takers), 1, (width + block - 1) / block);
  groups_.assign(one_by_one_ ? 1 : width, rows_.group());
  for (int lane = 0; lane < kernel.width; ++lane) {
    lanes_.push_back(std::make_unique<Lane>(plan_, LaneChain(reference_, batch.task_, unknowns_.size())));
    Lane& made = *lanes_.back();
    made.rows = &groups_[one_by_one_ ? 0 : static_cast<std::size_t>(lane)];
    made.start_flow.resize(static_cast<std::size_t>(plan.flow_count()) + runs_.size());
    for (int junction : rows_.junctions()) at(pressure_of(junction), lane) = plan_.held_pressure()[static_cast<std::size_t>(junction)];
    load(lane);  // an idle lane, too, holds numbers that can be reckoned with
    start_runs(made, runs_);
    start_cold(lane);
  }
  if (approach_) approach_->hold(state_, 0);
  const std::vector<int>& numbers = batch.task_.numbers;
  demands_vary_ = std::any_of(numbers.begin(), numbers.end(), [&](int number) { return plan_.place(number).what == What::demand; });
}

void LaneWorker::study_parts() {
  int largest = 0;
  for (int part = 0; part < static_cast<int>(plan_.branches().size()); ++part) {
    largest = std::max(largest, plan_.element(part).bundle_size());
    follows_.push_back(plan_.element(part).start_follows_pressure());
  }
  bundle_.resize(static_cast<std::size_t>(largest));
  for (const lanes::Branch& branch : circuit_.branches)
    if (branch.has_limit || branch.law == lanes::outside || follows_[static_cast<std::size_t>(branch.part)]) {
      const int width = kernel_.width, after = branch.first_point + branch.pressures * width;
      for (int i = 0; i < branch.pressures; ++i)
        points_.pressures.push_back(
            {branch.first_point + i * width, branch.junction[static_cast<std::size_t>(i)], branch.first_head + i * width});
      for (int f = 0; f < branch.flows; ++f) points_.flows.push_back({after + f * width, branch.first_flow + f * width, 1.0});
    }
  const std::vector<int>& brought = rows_.junctions();
  for (int junction = 0; junction < circuit_.junctions; ++junction)
    if (plan_.unknown_of(junction) < 0 && std::find(brought.begin(), brought.end(), junction) == brought.end()) held_.push_back(junction);
}

void LaneWorker::study_runs() {
  const std::vector<int>& numbers = batch_.task_.numbers;
  std::vector<char> varies(plan_.branches().size(), 0);
  for (int number : numbers) {
    const network::NumberPlace& place = plan_.place(number);
    if (place.what == What::field) varies[static_cast<std::size_t>(place.owner)] = 1;
    else if (place.what != What::gauge && place.what != What::demand) std::fill(varies.begin(), varies.end(), 1);
  }
  int next = plan_.flow_count();
  for (std::size_t run = 0; run < circuit_.runs.size(); ++run) {
    const auto& places = layout_.run[run];
    bool varied = false;
    RunStart start{0, static_cast<int>(run_flows_.size()), static_cast<int>(places.size()), 1.0 / static_cast<double>(places.size())};
    for (int place : places) {
      const auto part = static_cast<std::size_t>(circuit_.members[static_cast<std::size_t>(place)].part);
      run_flows_.push_back(plan_.branches()[part].first_flow);
      varied = varied || varies[part] != 0;
    }
    start.to = start.count == 1 ? run_flows_.back() : next++;
    if (start.count > 1) runs_.push_back(start);
    if (start.count > 1 && varied) varied_runs_.push_back(start);
    cold_.emplace_back(circuit_.runs[run].flow, start.to);
    for (int place : places) {
      const lanes::Member& member = circuit_.members[static_cast<std::size_t>(place)];
      if (!member.has_limit) continue;
      points_.flows.push_back({member.point, member.flow, member.reversed ? -1.0 : 1.0});
      against_ = against_ || member.reversed;
      cold_.emplace_back(member.point, member.reversed ? plan_.branches()[static_cast<std::size_t>(member.part)].first_flow : start.to);
    }
  }
  unknowns_ = circuit_.junction_of;
  for (int flow = 0; flow < circuit_.flows; ++flow) unknowns_.push_back(circuit_.region.flow + flow * kernel_.width);
}

void LaneWorker::study_readings() {
  for (const BatchReading& reading : batch_.task_.readings) {
    if (reading.what == BatchReading::What::total) {
      plain_.push_back({pressure_of(reading.index), 1.0});
    } else if (reading.what == BatchReading::What::flow) {
      const int flow = plan_.branches()[static_cast<std::size_t>(reading.index)].first_flow + reading.port;
      const LaneLayout::Flow& place = layout_.flow[static_cast<std::size_t>(flow)];
      plain_.push_back({place.place, place.sign});
    }
  }
}

void LaneWorker::run() {
  const int width = kernel_.width;
  for (int lane = 0; lane < width; ++lane) begin(lane);
  while (!batch_.stopped_ && std::any_of(lanes_.begin(), lanes_.end(), [](const auto& lane) { return lane->busy; })) {
    kernel_.evaluate(circuit_, state_);
    // Lanes that are done take the step, too: it polishes their answers, and a warm start goes on from there.
    kernel_.advance(circuit_, state_);
    ++turn_;
    unsigned ended = state_.accepted | state_.broken;
    if (turn_ >= deadline_) ended |= out_of_steps();
    for (; ended != 0; ended &= ended - 1) {
      const int lane = std::countr_zero(ended);
      if (lanes_[static_cast<std::size_t>(lane)]->busy) settle(lane);
    }
  }
  tell();
}

unsigned LaneWorker::out_of_steps() {
  constexpr int last = most_iterations + 1;
  unsigned found = 0;
  deadline_ = turn_ + last;
  for (unsigned lane = 0; lane < lanes_.size(); ++lane) {
    const std::int64_t ends = lanes_[lane]->began + last;
    if (ends <= turn_) found |= 1U << lane;
    else deadline_ = std::min(deadline_, ends);
  }
  return found;
}

void LaneWorker::tell() {
  batch_.done_ += untold_;
  untold_ = 0;
}

void LaneWorker::settle(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  const unsigned bit = 1U << static_cast<unsigned>(lane);
  const bool forecast = (state_.forecast & bit) != 0;  // the step that it foresaw was one of them
  here.iterations = static_cast<int>(turn_ - here.began) - (forecast ? 0 : 1) + (here.approached ? LaneApproach::steps + 1 : 0);
  if ((state_.accepted & ~state_.impossible & bit) != 0) finish(lane);
  else solve_alone(lane);
  ++here.row;
  begin(lane);
}

void LaneWorker::take_block(Lane& lane) {
  const std::size_t block = batch_.options_.block, count = batch_.task_.count;
  lane.row = batch_.stopped_ ? count : batch_.next_block_.fetch_add(blocks_at_once_) * block;
  lane.end = std::min(count, lane.row + blocks_at_once_ * block);
}

void LaneWorker::take_one(Lane& lane) {
  const std::size_t count = batch_.task_.count;
  if (next_row_ == end_row_) {
    next_row_ = batch_.stopped_ ? count : std::min(count, batch_.next_block_.fetch_add(blocks_at_once_));
    end_row_ = std::min(count, next_row_ + blocks_at_once_);
  }
  lane.row = next_row_;
  lane.end = next_row_ = std::min(end_row_, next_row_ + 1);
}

bool LaneWorker::take_rows(Lane& lane) {
  if (lane.row == lane.end) {
    if (one_by_one_) take_one(lane);
    else take_block(lane);
    lane.busy = lane.row < batch_.task_.count;
    if (!lane.busy) {
      lane.row = lane.end = 0;
      return false;
    }
    lane.chain_end = lane.row;
  }
  if (lane.row == lane.chain_end) {
    lane.chain_end += batch_.options_.block;
    lane.warm = false;
    lane.chain.begin();
  }
  return true;
}

void LaneWorker::begin(int lane) {
  if (approach_) return begin_near(lane);
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  for (; take_rows(here); ++here.row) {
    try {
      fill(lane);
    } catch (const InputError& error) {
      batch_.fail(here.row, RowStatus::refused, error.what());
      here.chain.break_off();
      continue;
    }
    here.began = turn_;
    start(lane);
    return;
  }
}

void LaneWorker::write_answer(const lanes::State& state, int lane) {
  const double* const from = state.memory.data() + lane;
  answer_.pressure.resize(static_cast<std::size_t>(circuit_.junctions));
  answer_.flow.resize(layout_.flow.size());
  for (std::size_t j = 0; j < answer_.pressure.size(); ++j) answer_.pressure[j] = from[pressure_of(static_cast<int>(j))];
  for (std::size_t f = 0; f < answer_.flow.size(); ++f) answer_.flow[f] = layout_.flow[f].sign * from[layout_.flow[f].place];
}

/// Reads a row's answer off a lane. Readings that look at more than a pressure or a flow need a plan, which is told the row.
void LaneWorker::write_row(std::size_t row, const lanes::State& state, int lane, Plan& plan) {
  const BatchTask& task = batch_.task_;
  double* out = task.results + row * task.readings.size();
  if (plain_.size() == task.readings.size()) {
    const double* const from = state.memory.data() + lane;
    for (const Plain& reading : plain_) *out++ = reading.sign * from[reading.place];
    return;
  }
  write_answer(state, lane);
  if (!rows_.parts().empty() || !rows_.junctions().empty()) set_whole_row(plan, row);
  batch_.read(plan, answer_, out);
}

void LaneWorker::count(std::size_t row, int iterations, double residual) {
  batch_.keep(row, iterations, residual);
  constexpr std::size_t at_once = 16;  // all threads count in one place
  if (++untold_ == at_once) tell();
}

void LaneWorker::finish(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  here.warm = true;
  here.chain.solved(here.row, here.iterations);
  write_row(here.row, state_, lane, here.plan);
  here.seen = here.plan.renewals();  // nothing that is not in the lane
  const bool forecast = (state_.forecast >> static_cast<unsigned>(lane) & 1U) != 0;
  count(here.row, here.iterations, forecast ? circuit_.forecast_tolerance : at(circuit_.region.residual, lane));
}

void LaneWorker::solve_alone(int lane) {
  Lane& here = *lanes_[static_cast<std::size_t>(lane)];
  plan_.set_row(batch_.task_.numbers, batch_.task_.values + here.row * batch_.task_.numbers.size());
  SteadyOptions options;
  if (here.iterations == most_iterations && here.cold) options.tried = Rung::cold;
  solver_.solve(solution_, {}, options);
  batch_.record(here.row, plan_, solution_);
  here.chain.break_off();
  if (solution_.converged()) here.chain.solved(here.row, most_iterations);
  if (solution_.converged()) take_over(lane, solution_);
  else if (here.warm) go_back(lane);
  here.warm = here.warm || solution_.converged();
}

void LaneWorker::go_back(int lane) {
  const double* before = lanes_[static_cast<std::size_t>(lane)]->chain.last().data();
  for (int place : unknowns_) at(place, lane) = *before++;
}

void LaneWorker::take_over(int lane, const Solution& solution) {
  for (int junction = 0; junction < circuit_.junctions; ++junction)
    at(pressure_of(junction), lane) = solution.pressure[static_cast<std::size_t>(junction)];
  for (std::size_t f = 0; f < layout_.flow.size(); ++f) at(layout_.flow[f].place, lane) = layout_.flow[f].sign * solution.flow[f];
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

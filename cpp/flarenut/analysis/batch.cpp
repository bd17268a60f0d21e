#include "flarenut/analysis/batch.hpp"

#include <algorithm>
#include <limits>

#include "flarenut/analysis/lane_worker.hpp"

namespace flarenut::analysis {
namespace {

using What = BatchReading::What;
const std::string further_reasons = "a further reason; too many different ones to keep them all";
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

enum class Owner { junction, part, port, internal_flow, number, nobody };

Owner owner_of(What what) {
  switch (what) {
    case What::total:
    case What::temperature: return Owner::junction;
    case What::end_total:
    case What::end_static:
    case What::end_flow:
    case What::velocity:
    case What::reynolds:
    case What::leaving:
    case What::vapour_margin: return Owner::port;
    case What::flow: return Owner::internal_flow;
    case What::number: return Owner::number;
    case What::least_margin:
    case What::energy_closure:
    case What::heat_moved:
    case What::ambient: return Owner::nobody;
    default: return Owner::part;
  }
}

void require_known(const Plan& plan, const BatchReading& reading) {
  const auto within = [](int index, std::size_t count) { return index >= 0 && index < static_cast<int>(count); };
  const Owner owner = owner_of(reading.what);
  if (owner == Owner::nobody) return;
  const std::size_t known = owner == Owner::junction ? static_cast<std::size_t>(plan.junction_count())
                            : owner == Owner::number ? plan.names().size()
                                                     : plan.branches().size();
  if (!within(reading.index, known)) throw InputError("batch", "readings", "asks for something the circuit does not have");
  if (owner != Owner::port && owner != Owner::internal_flow) return;
  const Branch& branch = plan.branches()[static_cast<std::size_t>(reading.index)];
  if (!within(reading.port, static_cast<std::size_t>(owner == Owner::port ? branch.ports : branch.flows)))
    throw InputError(plan.network().parts()[static_cast<std::size_t>(reading.index)].name, "readings", "has no such port or flow");
}

double read_end(const End& end, What what) {
  switch (what) {
    case What::end_total: return end.total;
    case What::end_static: return end.static_;
    case What::end_flow: return end.flow;
    case What::velocity: return end.velocity;
    case What::reynolds: return end.reynolds;
    default: return end.vapour_margin;
  }
}

double read_suction(const Suction& suction, What what) {
  if (what == What::suction_margin) return suction.margin;
  return what == What::suction_gauge ? suction.inlet_gauge : suction.npsh_available;
}

}  // namespace

Batch::Batch(const Plan& plan, BatchTask task, BatchOptions options) : plan_(plan), task_(std::move(task)), options_(std::move(options)) {
  if (options_.block == 0) throw InputError("batch", "block", "must be at least 1");
  for (int number : task_.numbers)
    if (number < 0 || number >= static_cast<int>(plan.names().size()))
      throw InputError("batch", "numbers", "asks for a number the circuit does not have");
  for (const BatchReading& reading : task_.readings) require_known(plan, reading);
  choose_kernel();
  std::fill_n(task_.results, task_.count * task_.readings.size(), unknown);
  std::fill_n(task_.status, task_.count, RowStatus::not_reached);
  std::fill_n(task_.iterations, task_.count, 0);
  std::fill_n(task_.residual, task_.count, unknown);
  std::fill_n(task_.reason, task_.count, -1);
}

Batch::~Batch() { stop(); }

std::vector<std::string> Batch::kernel_names() {
  std::vector<std::string> names;
  for (const lanes::Kernel& kernel : lanes::kernels()) names.emplace_back(kernel.name);
  names.emplace_back("single");
  return names;
}

void Batch::choose_kernel() {
  const auto known = lanes::kernels();
  if (options_.kernel == "single" || plan_.heat() != nullptr) return;
  if (options_.kernel.empty()) {
    if (known.front().fast) kernel_ = known.front();
  } else {
    const auto found = std::find_if(known.begin(), known.end(), [&](const auto& one) { return one.name == options_.kernel; });
    if (found == known.end()) throw InputError("batch", "kernel", "'" + options_.kernel + "' is none that runs on this processor");
    kernel_ = *found;
  }
  if (!kernel_) return;
  layout_ = lay_out(plan_, task_.numbers, kernel_->width);
  if (layout_) reference_.emplace(plan_, task_, *layout_);
  else kernel_.reset();
}

std::size_t Batch::threads_wanted() const {
  return options_.threads > 0 ? static_cast<std::size_t>(options_.threads) : std::max(1U, std::thread::hardware_concurrency());
}

void Batch::start() {
  const std::size_t blocks = (task_.count + options_.block - 1) / options_.block;
  working_ = std::max<std::size_t>(1, std::min(threads_wanted(), blocks));
  for (std::size_t i = 0, count = working_; i < count; ++i) threads_.emplace_back([this] { work(); });
}

bool Batch::wait(std::chrono::milliseconds at_most) {
  std::unique_lock lock(mutex_);
  const bool ready = finished_.wait_for(lock, at_most, [this] { return working_ == 0; });
  if (ready && fault_) std::rethrow_exception(fault_);
  return ready;
}

void Batch::stop() {
  stopped_ = true;
  for (std::thread& thread : threads_) thread.join();
  threads_.clear();
}

void Batch::work_singly() {
  Plan plan(plan_);
  SteadySolver solver(plan, plan.heat() != nullptr ? LawsBy::lanes : LawsBy::parts);
  Solution solution;
  for (;;) {
    const std::size_t first = next_block_++ * options_.block;
    if (first >= task_.count || stopped_) return;
    solve_block(plan, solver, solution, first);
  }
}

void Batch::work() {
  try {
    if (kernel_ && layout_ && reference_) LaneWorker(*this, plan_, *layout_, *reference_, *kernel_).run();
    else work_singly();
  } catch (...) {
    const std::lock_guard lock(mutex_);
    if (!fault_) fault_ = std::current_exception();
    stopped_ = true;
  }
  const std::lock_guard lock(mutex_);
  if (--working_ == 0) finished_.notify_all();
}

void Batch::solve_block(Plan& plan, SteadySolver& solver, Solution& solution, std::size_t first) {
  const std::size_t end = std::min(task_.count, first + options_.block);
  Solution before;
  for (std::size_t r = first; r < end && !stopped_; ++r) {
    try {
      plan.set_row(task_.numbers, task_.values + r * task_.numbers.size());
      plan.refresh();  // a liquid may refuse its temperature
      solver.solve(solution, before.converged() ? Start(before) : Start());  // and that of what comes in
    } catch (const InputError& error) {
      fail(r, RowStatus::refused, error.what());
      continue;
    }
    record(r, plan, solution);
    if (solution.converged()) before = solution;
  }
}

void Batch::record(std::size_t row, const Plan& plan, const Solution& solution) {
  task_.iterations[row] = solution.iterations;
  if (!solution.converged()) return fail(row, RowStatus::not_converged, solution.message);
  read(plan, solution, task_.results + row * task_.readings.size());
  solved(row, solution.iterations, solution.residual);
}

void Batch::solved(std::size_t row, int iterations, double residual) {
  keep(row, iterations, residual);
  ++done_;
}

void Batch::keep(std::size_t row, int iterations, double residual) {
  task_.iterations[row] = iterations;
  task_.residual[row] = residual;
  task_.status[row] = RowStatus::solved;
}

void Batch::fail(std::size_t row, RowStatus status, const std::string& reason) {
  const std::lock_guard lock(mutex_);
  const bool room = reasons_.size() + 1 < most_reasons;
  const std::string& kept = room || reason_of_.contains(reason) ? reason : further_reasons;
  const auto [known, fresh] = reason_of_.emplace(kept, static_cast<std::int32_t>(reasons_.size()));
  if (fresh) reasons_.push_back(kept);
  task_.reason[row] = known->second;
  task_.status[row] = status;
  ++done_;
}

void Batch::read(const Plan& plan, const Solution& solution, double* out) const {
  int last_pump = -1;
  Suction suction;
  for (const BatchReading& reading : task_.readings) {
    switch (reading.what) {
      case What::total: *out = solution.pressure[static_cast<std::size_t>(reading.index)]; break;
      case What::flow:
        *out = solution.flow[static_cast<std::size_t>(plan.branches()[static_cast<std::size_t>(reading.index)].first_flow + reading.port)];
        break;
      case What::suction_margin:
      case What::suction_gauge:
      case What::npsh:
        if (reading.index != last_pump) suction = suction_of(plan, solution, reading.index);
        last_pump = reading.index;
        *out = read_suction(suction, reading.what);
        break;
      case What::regime: *out = static_cast<double>(regime_of(plan, solution, reading.index)); break;
      case What::density: *out = plan.liquid_in(reading.index).density.value(); break;
      case What::viscosity: *out = plan.liquid_in(reading.index).viscosity.value(); break;
      case What::vapour_pressure: *out = plan.whole_liquid_in(reading.index).vapour_pressure.value(); break;
      case What::least_margin: *out = least_margin(plan, solution); break;
      case What::ambient: *out = plan.ambient(); break;
      case What::number: *out = plan.get(reading.index); break;
      case What::temperature: *out = temperature_of_junction(plan, solution, reading.index); break;
      case What::leaving: *out = temperature_of_end(plan, solution, reading.index, reading.port); break;
      case What::mean_temperature: *out = plan.temperature_of_part(reading.index); break;
      case What::heat: *out = heat_of_part(solution, reading.index); break;
      case What::power: *out = power_of_part(solution, reading.index); break;
      case What::energy_closure: *out = solution.energy_closure; break;
      case What::heat_moved: *out = solution.heat_moved; break;
      default: *out = read_end(end_of(plan, solution, reading.index, reading.port), reading.what); break;
    }
    ++out;
  }
}

}  // namespace flarenut::analysis

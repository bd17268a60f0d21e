#pragma once
/// Many scenarios of one plan: the same circuit with other numbers, row by row, on all cores.
///
/// A row is solved as a single solve would solve it. Rows are taken in **blocks** of fixed size: the first row of a block
/// starts from the answer at the plan's own numbers, moved along its slopes (`lane_reference.hpp`), or cold where there is
/// none; each further one by what its block has found before (`lane_chain.hpp`). Where parts and numbers allow, all rows start
/// from the plan's answer and are taken near their own side by side (`lane_approach.hpp`): a block is then no chain, and no
/// answer depends on it. A block is always worked on in one place from a plan of its own, so an answer depends on the plan, its
/// row, its block and nothing else: the same to the bit for any number of threads, and for a batch cut in pieces at whole
/// blocks. Kernel "single" starts the first row of a block cold, each
/// further one from the answer before it.
///
/// Each thread works on several blocks at once, one per **lane** of the processor's vector instructions (`lane_worker.hpp`,
/// `lanes/`). Circuits beyond the listed elimination (`solver/fixed_lu.hpp`), and processors without a fast kernel, take one
/// row after the other. Kernels agree to the bit with each other, and with single solves to round-off.
///
/// **Threads.** The batch's own threads work on copies of the plan, which they make themselves: the plan may be read by others all the
/// while, and must not be changed until the batch is done or stopped. `wait` and `done` may be called from any thread; `start` and `stop`
/// belong to one. Results of a row are to be read once the batch is done. Several batches may run at once, of one plan or of many.
///
/// A row whose numbers the plan refuses, or that does not converge, is NaN with a reason in words; the others are not
/// troubled.

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <exception>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "flarenut/analysis/batch_task.hpp"
#include "flarenut/analysis/lane_reference.hpp"
#include "flarenut/analysis/readings.hpp"

namespace flarenut::analysis {

class Batch {
 public:
  static constexpr std::size_t most_reasons = 1000;  ///< different ones that are kept; the last stands for all further ones

  /// How rows can be solved here, the best first: instruction sets of the lanes, and "single", one row after the other.
  static std::vector<std::string> kernel_names();

  /// Checks the task and fills the outputs with "not reached". InputError when a number or reading is not the plan's.
  Batch(const Plan& plan, BatchTask task, BatchOptions options = {});
  Batch(const Batch&) = delete;
  Batch& operator=(const Batch&) = delete;
  ~Batch();  ///< stops

  void start();
  /// True when all is done, or stopped. Throws what a thread met that is nobody's input: no memory, a fault of the engine.
  bool wait(std::chrono::milliseconds at_most);
  /// Tells every thread to stop, and returns when they have. Rows at work are left unsolved.
  void stop();

  std::size_t done() const { return done_; }
  const std::vector<std::string>& reasons() const { return reasons_; }  ///< once done

 private:
  friend class LaneWorker;

  std::size_t threads_wanted() const;
  void choose_kernel();
  void work();
  void work_singly();
  void solve_block(Plan& plan, SteadySolver& solver, Solution& solution, std::size_t first);
  void record(std::size_t row, const Plan& plan, const Solution& solution);  ///< solved, or not converged
  void solved(std::size_t row, int iterations, double residual);
  void keep(std::size_t row, int iterations, double residual);  ///< the same, but for counting it
  void read(const Plan& plan, const Solution& solution, double* out) const;
  void fail(std::size_t row, RowStatus status, const std::string& reason);

  const Plan& plan_;
  BatchTask task_;
  BatchOptions options_;
  std::optional<lanes::Kernel> kernel_;  ///< none: one row after the other
  std::optional<LaneLayout> layout_;
  std::optional<LaneReference> reference_;
  std::vector<std::thread> threads_;
  std::atomic<std::size_t> next_block_{0}, done_{0};
  std::atomic<bool> stopped_{false};
  std::mutex mutex_;
  std::condition_variable finished_;
  std::size_t working_ = 0;
  std::vector<std::string> reasons_;
  std::map<std::string, std::int32_t> reason_of_;
  std::exception_ptr fault_;
};

}  // namespace flarenut::analysis

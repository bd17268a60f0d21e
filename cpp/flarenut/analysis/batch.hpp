#pragma once
/// Many scenarios of one plan: the same circuit with other numbers, row by row, on all cores.
///
/// A row is solved as a single solve would solve it. Rows are taken in **blocks** of fixed size: the first row of a block
/// starts cold, each further one from the answer before it. A block is always worked on in one place from a plan of its
/// own, so an answer depends on its row, its block and nothing else: the same to the bit for any number of threads, and for a
/// batch cut in pieces at whole blocks.
///
/// Each thread works on several blocks at once, one per **lane** of the processor's vector instructions (`lane_worker.hpp`,
/// `lanes/`). Circuits beyond the listed elimination (`solver/fixed_lu.hpp`), and processors without a fast kernel, take one
/// row after the other. Kernels agree to the bit with each other, and with single solves to round-off.
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

#include "flarenut/analysis/readings.hpp"
#include "flarenut/lanes/circuit.hpp"

namespace flarenut::analysis {

/// One number read off every answer.
struct BatchReading {
  enum class What {
    total,           ///< of a junction [Pa abs]
    end_total,       ///< these: at a port of a part, as `End`
    end_static,
    end_flow,
    velocity,
    reynolds,
    vapour_margin,
    flow,            ///< internal flow of a part [kg/s]; `port` says which
    suction_margin,  ///< these: of a pump, as `Suction`
    suction_gauge,
    npsh,
    regime,          ///< of a part, as a number of `Regime`
    density,         ///< these: of the liquid in a part
    viscosity,
    vapour_pressure,
    least_margin,    ///< least static pressure above vapour pressure in the circuit [Pa], where it is not sprayed into gas; below 0 it boils
    ambient,         ///< [Pa abs]
    temperature,     ///< of a junction [K]
    leaving,         ///< of what passes a port of a part [K]
    mean_temperature,  ///< these: of the stream in a part [K]; heat into it [W]; power of a pump into the liquid [W]
    heat,
    power,
    energy_closure,  ///< worst imbalance of a junction over the heat moved; these are 0 where temperatures are given
    heat_moved,
    number,          ///< of the plan, as it stood
  };
  What what = What::total;
  int index = 0;  ///< of the junction, part or number
  int port = 0;
};

/// What became of a row.
enum class RowStatus : std::uint8_t { solved = 0, not_converged = 1, refused = 2, not_reached = 3 };

/// Rows in, readings out. The memory belongs to the caller and must outlive the batch.
struct BatchTask {
  std::vector<int> numbers;            ///< which numbers of the plan vary
  const double* values = nullptr;      ///< [count × numbers], SI
  std::size_t count = 0;
  std::vector<BatchReading> readings;
  double* results = nullptr;           ///< [count × readings]; NaN where there is no answer
  RowStatus* status = nullptr;         ///< [count]
  std::int32_t* iterations = nullptr;  ///< [count]
  double* residual = nullptr;          ///< [count]; worst scaled residual, NaN where there is no answer
  std::int32_t* reason = nullptr;      ///< [count]; place in `reasons()`, −1 when solved
};

struct BatchOptions {
  int threads = 0;         ///< 0: as many as the machine has
  std::size_t block = 64;  ///< rows in a chain of warm starts
  std::string kernel{};    ///< empty: the best; else one of `Batch::kernel_names()`
};

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

  void choose_kernel();
  void work();
  void work_singly();
  void solve_block(Plan& plan, SteadySolver& solver, Solution& solution, std::size_t first);
  void record(std::size_t row, const Plan& plan, const Solution& solution);  ///< solved, or not converged
  void read(const Plan& plan, const Solution& solution, double* out) const;
  void fail(std::size_t row, RowStatus status, const std::string& reason);

  const Plan& plan_;
  BatchTask task_;
  BatchOptions options_;
  std::optional<lanes::Kernel> kernel_;  ///< none: one row after the other
  lanes::Circuit circuit_;
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

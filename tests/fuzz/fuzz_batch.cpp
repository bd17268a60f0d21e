/// Many scenarios of a circuit from bytes: which numbers, which readings, any values, every kernel of this processor. Kernels agree with each
/// other to the bit, with single solves on whether there is an answer at all; what has none is no number and has a reason.

#include <bit>

#include "circuit.hpp"
#include "flarenut/analysis/batch.hpp"
#include "promises.hpp"

namespace {

using namespace fuzz;
using analysis::Batch;
using analysis::BatchReading;
using analysis::RowStatus;
using network::Plan;

struct Rows {
  std::vector<double> results, residual;
  std::vector<RowStatus> status;
  std::vector<std::int32_t> iterations, reason;
  std::vector<std::string> reasons;
};

Rows solved(const Plan& plan, const std::vector<int>& numbers, const std::vector<double>& values, std::size_t count,
            const std::vector<BatchReading>& readings, const analysis::BatchOptions& options) {
  Rows rows;
  rows.results.resize(count * readings.size());
  rows.residual.resize(count);
  rows.status.resize(count);
  rows.iterations.resize(count);
  rows.reason.resize(count);
  analysis::BatchTask task;
  task.numbers = numbers;
  task.values = values.data();
  task.count = count;
  task.readings = readings;
  task.results = rows.results.data();
  task.status = rows.status.data();
  task.iterations = rows.iterations.data();
  task.residual = rows.residual.data();
  task.reason = rows.reason.data();
  Batch batch(plan, std::move(task), options);
  batch.start();
  while (!batch.wait(std::chrono::milliseconds(100))) {}
  rows.reasons = batch.reasons();
  return rows;
}

void judge(const Rows& rows, std::size_t width) {
  for (std::size_t row = 0; row < rows.status.size(); ++row) {
    const bool answer = rows.status[row] == RowStatus::solved;
    require(rows.status[row] != RowStatus::not_reached, "every row is reached");
    require(answer == (rows.reason[row] < 0), "a row without an answer has a reason, and no other");
    require(answer || rows.reason[row] < static_cast<int>(rows.reasons.size()), "a reason is one that is told");
    require(answer ? rows.residual[row] <= 1e-10 : std::isnan(rows.residual[row]), "a row holds its certificate");
    for (std::size_t i = 0; i < width && !answer; ++i) require(std::isnan(rows.results[row * width + i]), "no answer is no number");
  }
}

BatchReading reading(Bytes& bytes) {
  return {static_cast<BatchReading::What>(bytes.below(static_cast<int>(BatchReading::What::number) + 1)), bytes.index(8), bytes.index(3)};
}

void run(Bytes& bytes) {
  Plan plan(circuit(bytes));
  std::vector<int> numbers;
  for (int i = bytes.below(4); i >= 0; --i) numbers.push_back(bytes.index(static_cast<int>(plan.names().size())));
  std::vector<BatchReading> readings;
  for (int i = bytes.below(6); i >= 0; --i) readings.push_back(reading(bytes));
  const std::size_t count = static_cast<std::size_t>(1 + bytes.below(12));
  std::vector<double> values;
  for (std::size_t i = 0; i < count * numbers.size(); ++i) {
    const int number = numbers[i % numbers.size()];
    const bool known = number >= 0 && number < static_cast<int>(plan.names().size());
    const double now = known ? plan.get(number) : 1.0;
    values.push_back(bytes.chance(128) && std::isfinite(now) ? now * bytes.between(0.8, 1.25) : bytes.between(1e-3, 1e3));
  }
  const std::size_t block = static_cast<std::size_t>(bytes.below(9));
  Rows first;
  bool have = false;
  for (const std::string& kernel : Batch::kernel_names()) {
    const Rows rows = solved(plan, numbers, values, count, readings, {1, block, kernel});
    judge(rows, readings.size());
    if (kernel == "single") break;  // agrees to round-off alone, and may find an answer by another rung
    if (have)
      for (std::size_t i = 0; i < rows.results.size(); ++i)
        require(std::bit_cast<std::uint64_t>(rows.results[i]) == std::bit_cast<std::uint64_t>(first.results[i]) ||
                    (std::isnan(rows.results[i]) && std::isnan(first.results[i])), "kernels agree to the bit");
    first = rows;
    have = true;
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  Bytes bytes(data, size);
  tried([&] { run(bytes); });
  return 0;
}

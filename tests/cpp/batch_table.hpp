#pragma once
/// What the tests of batches share.

#include "circuits.hpp"
#include "flarenut/analysis/batch.hpp"

namespace circuits {

using analysis::BatchReading;
using analysis::RowStatus;

/// A task with the memory it needs.
struct Table {
  std::vector<double> values, results, residual;
  std::vector<RowStatus> status;
  std::vector<std::int32_t> iterations, reason;
  std::vector<std::string> reasons;
  bool whole = true;

  analysis::BatchTask task(const std::vector<int>& numbers, const std::vector<BatchReading>& readings) {
    analysis::BatchTask task;
    task.numbers = numbers;
    task.readings = readings;
    task.values = values.data();
    task.count = values.size() / numbers.size();
    results.resize(task.count * readings.size());
    residual.resize(task.count);
    status.resize(task.count);
    iterations.resize(task.count);
    reason.resize(task.count);
    task.results = results.data();
    task.residual = residual.data();
    task.status = status.data();
    task.iterations = iterations.data();
    task.reason = reason.data();
    return task;
  }
  void run(const Plan& plan, const std::vector<int>& numbers, const std::vector<BatchReading>& readings,
           analysis::BatchOptions options = {}) {
    analysis::Batch batch(plan, task(numbers, readings), options);
    batch.start();
    while (!batch.wait(std::chrono::milliseconds(50))) {}
    whole = batch.done() == status.size();
    reasons = batch.reasons();
  }
};

}  // namespace circuits

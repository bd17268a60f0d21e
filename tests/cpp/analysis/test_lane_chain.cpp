#include <cmath>

#include "batch_table.hpp"
#include "catch_shim.hpp"
#include "flarenut/analysis/lane_chain.hpp"

// Where rows of a batch start. That their answers don't depend on it is judged in `test_batch_lanes.cpp`.

using namespace circuits;
using analysis::LaneChain;
using analysis::LaneReference;

namespace {

struct Asked {
  explicit Asked(std::vector<const char*> names) {
    for (const char* name : names) numbers.push_back(plan.index(name));
    layout = *analysis::lay_out(plan, numbers, 2);
  }
  LaneReference reference() { return {plan, table.task(numbers, {}), layout}; }

  Plan plan{return_style()};
  std::vector<int> numbers;
  analysis::LaneLayout layout;
  Table table;
};

/// What a chain starts with when answers are a function of the row, row after row. No row takes many iterations.
std::vector<double> starts(const LaneReference& reference, const analysis::BatchTask& task, double (*answer)(const double* row),
                           std::size_t surprise = 1000) {
  LaneChain chain(reference, task, 1);
  std::vector<double> found;
  for (std::size_t row = 0; row < task.count; ++row) {
    if (row > 0) {
      *chain.next() = answer(task.values + (row - 1) * task.numbers.size());
      chain.follow(row);
    }
    const double* start = chain.start(row, row > 0);
    found.push_back(start == nullptr ? NAN : *start);
    chain.solved(row, row == surprise ? 9 : 2);
  }
  return found;
}

/// Nothing is known of it: a pump that is asked for more than can be.
LaneReference unknown(const analysis::BatchTask& task) {
  Network network;
  network.add_liquid(constant(750.0, 5e-4));
  const int tank_place = network.add_tank("tank", tank(0.1)), rail = network.add_junction("rail", {}, 50.0);
  network.add_part("feed", "line", {tank_place, rail}, {}, line(0.005, 1.0));
  const Plan plan(network);
  return {plan, task, *analysis::lay_out(plan, {plan.index("feed.bore")}, 2)};
}

}  // namespace

TEST_CASE("lanes: the reference moves as its circuit moves, to the first order, and turns no flow round") {
  Asked asked({"pump.volts", "return.bore", "manifold.gauge"});
  const LaneReference reference = asked.reference();
  REQUIRE(reference.known());
  const std::vector<double> base(reference.numbers(), reference.numbers() + 3);
  const std::size_t unknowns = reference.answer().size(), pressures = asked.layout.circuit.junction_of.size();
  std::vector<double> moved(unknowns), again(unknowns);
  const double small[] = {1e-4 * base[0], 1e-4 * base[1], 10.0};
  for (std::size_t i = 0; i < 3; ++i) {
    // The same plan at other numbers is a reference, too: the slopes of both and their answers must fit, to the second order.
    std::vector<double> to = base;
    to[i] += small[i];
    Asked other({"pump.volts", "return.bore", "manifold.gauge"});
    for (std::size_t n = 0; n < 3; ++n) other.plan.set(other.numbers[n], to[n]);
    const LaneReference there = other.reference();
    reference.move(base.data(), reference.answer().data(), to.data(), moved.data());
    there.move(to.data(), there.answer().data(), base.data(), again.data());
    for (std::size_t u = 0; u < unknowns; ++u) {
      const double change = std::abs(there.answer()[u] - reference.answer()[u]), scale = u < pressures ? 1e5 : 1e-2;
      CHECK(std::abs(moved[u] - there.answer()[u]) <= 2e-3 * change + 1e-9 * scale);
      CHECK(std::abs(again[u] - reference.answer()[u]) <= 2e-3 * change + 1e-9 * scale);
    }
  }
  std::vector<double> far = base;
  far[0] = 0.0;
  far[2] = 2e5;
  reference.move(base.data(), reference.answer().data(), far.data(), moved.data());
  for (std::size_t u = pressures; u < unknowns; ++u) CHECK(moved[u] * reference.answer()[u] > 0.0);
  CHECK(reference.distance(base.data(), base.data()) == 0.0);
  CHECK(reference.distance(base.data(), far.data()) > 0.5);
}

TEST_CASE("lanes: rows that are moved from the reference side by side stand where each would alone, by every kernel to the bit") {
  Asked asked({"pump.volts", "return.bore", "manifold.gauge"});
  const LaneReference reference = asked.reference();
  const std::size_t unknowns = reference.answer().size(), pressures = asked.layout.circuit.junction_of.size();
  const lanes::Moves moves = reference.moves();
  REQUIRE(moves.unknowns == unknowns);
  // Near the reference, far off where flows meet their bounds, and where nothing is moved.
  const std::vector<std::vector<double>> rows{{13.0, 6.2e-3, -3.9e4}, {0.0, 6e-3, 2e5}, {40.0, 3e-3, -9e4}, {9.0, 2e-2, 0.0},
                                              {reference.numbers()[0], reference.numbers()[1], reference.numbers()[2]}};
  std::vector<double> first;
  for (const lanes::Kernel& kernel : lanes::kernels()) {
    INFO(kernel.name);
    const auto width = static_cast<std::size_t>(kernel.width);
    std::vector<double> found;
    for (std::size_t begin = 0; begin < rows.size(); begin += width) {
      lanes::Aligned numbers(3 * width), moved(unknowns * width);
      for (std::size_t lane = 0; lane < width; ++lane)
        for (std::size_t i = 0; i < 3; ++i) numbers[i * width + lane] = rows[std::min(begin + lane, rows.size() - 1)][i];
      kernel.rows->move(moves, numbers.data(), moved.data());
      for (std::size_t lane = 0; lane < width && begin + lane < rows.size(); ++lane)
        for (std::size_t u = 0; u < unknowns; ++u) found.push_back(moved[u * width + lane]);
    }
    std::vector<double> alone(unknowns);
    for (std::size_t row = 0; row < rows.size(); ++row) {
      reference.move(reference.numbers(), reference.answer().data(), rows[row].data(), alone.data());
      for (std::size_t u = 0; u < unknowns; ++u)
        CHECK(std::abs(found[row * unknowns + u] - alone[u]) <= 1e-13 * (u < pressures ? 1e6 : std::abs(alone[u]) + 1e-2));
    }
    if (first.empty()) first = found;
    CHECK(found == first);
  }
}

TEST_CASE("lanes: a circuit without an answer of its own is no reference") {
  Asked asked({"pump.volts"});
  CHECK_FALSE(unknown(asked.table.task(asked.numbers, {})).known());
}

TEST_CASE("lanes: rows in even steps start on the curve through those before them") {
  Asked asked({"pump.volts"});
  for (int row = 0; row < 9; ++row) asked.table.values.push_back(8.0 + 0.5 * row);
  const analysis::BatchTask task = asked.table.task(asked.numbers, {});
  const LaneReference none = unknown(task);
  const auto cubic = [](const double* row) { return 3.0 + row[0] * (2.0 + row[0] * (0.7 - 0.4 * row[0])); };
  const std::vector<double> found = starts(none, task, cubic);
  CHECK(std::isnan(found[0]));
  CHECK(found[1] == cubic(task.values));  // where the row before ended
  CHECK(found[2] == Approx(2.0 * cubic(task.values + 1) - cubic(task.values)).epsilon(1e-12));
  for (std::size_t row = 4; row < 9; ++row) CHECK(found[row] == Approx(cubic(task.values + row)).epsilon(1e-12));
  // After a surprise the curve begins anew.
  const std::vector<double> anew = starts(none, task, cubic, 5);
  CHECK(anew[6] == cubic(task.values + 5));
  CHECK(anew[7] == Approx(2.0 * cubic(task.values + 6) - cubic(task.values + 5)).epsilon(1e-12));
}

TEST_CASE("lanes: the runs of a sweep over two numbers open as those before them did") {
  Asked asked({"pump.volts", "return.bore"});
  for (int slow = 0; slow < 4; ++slow)
    for (int fast = 0; fast < 6; ++fast) {
      asked.table.values.push_back(8.0 + 0.5 * fast);
      asked.table.values.push_back(4e-3 + 1e-3 * slow);
    }
  const analysis::BatchTask task = asked.table.task(asked.numbers, {});
  const LaneReference none = unknown(task);
  // Any curve along the fast number, and a straight line along the slow one.
  const auto answer = [](const double* row) { return std::exp(0.3 * row[0]) + 500.0 * row[1]; };
  const std::vector<double> found = starts(none, task, answer);
  for (std::size_t row = 12; row < 24; row += 6) CHECK(found[row] == Approx(answer(task.values + 2 * row)).epsilon(1e-12));
  for (std::size_t run = 6; run < 24; run += 6)
    for (std::size_t row = run + 1; row < run + 4; ++row) CHECK(found[row] == Approx(answer(task.values + 2 * row)).epsilon(1e-12));
}

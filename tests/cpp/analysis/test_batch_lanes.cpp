#include <algorithm>
#include <cmath>
#include <cstring>
#include <random>

#include "batch_table.hpp"
#include "catch_shim.hpp"
#include "flarenut/analysis/lane_approach.hpp"

// Rows in lanes against the same rows one after the other, which the other tests of batches judge.

using namespace circuits;
using analysis::Batch;
using analysis::BatchReading;
using analysis::RowStatus;
using What = BatchReading::What;

namespace {

std::vector<BatchReading> everything(const Plan& plan) {
  std::vector<BatchReading> readings;
  for (int j = 0; j < plan.junction_count(); ++j) readings.push_back({What::total, j, 0});
  for (int part = 0; part < static_cast<int>(plan.branches().size()); ++part)
    for (int f = 0; f < plan.branches()[static_cast<std::size_t>(part)].flows; ++f) readings.push_back({What::flow, part, f});
  return readings;
}

/// A circuit with parts that the lanes know by heart and parts that they ask for one by one: a tee, a charted pump, a filter
/// with a bypass, a relief valve, fittings, an orifice. With a device's sensing line, heights, a demand and two liquids.
Network mixed() {
  Network network;
  network.add_liquid(oil());
  network.add_liquid(constant(840.0, 0.02));
  const int sump = network.add_tank("sump", tank(0.1), {0.0, 0.0, 0.1});
  std::vector<int> at;
  for (int i = 0; i < 9; ++i) at.push_back(network.add_junction("j" + std::to_string(i), {0.1 * i, 0.0, 0.05 * i}, i == 6 ? 0.05 : 0.0));
  const int air = network.add_fixed("air", 0.0);
  network.add_part("pick-up", "line", {sump, at[0]}, {}, line(0.02, 0.5, 1.0));
  network.add_part("pump", "electric pump", {at[0], at[1]}, {}, {{"volts", 12.0}},
                   {{"curve_volts", {10.0, 14.0}}, {"curve_points", {3.0, 3.0}}, {"curve_flow", {0.0, 3e-4, 6e-4, 0.0, 4e-4, 8e-4}},
                    {"curve_rise", {4e5, 3.6e5, 1e5, 7e5, 6.2e5, 2e5}}});
  network.add_part("relief", "relief valve", {at[1], sump}, {}, {{"set_pressure", 4.5e5}, {"full_area", 2e-5}});
  network.add_part("filter", "filter with bypass", {at[1], at[2]}, {},
                   {{"linear", 2e8}, {"quadratic", 1e11}, {"rating_viscosity", 0.02}, {"rating_density", 840.0},
                    {"bypass_pressure", 1e5}, {"bypass_area", 3e-5}});
  network.add_part("check", "check valve", {at[2], at[3]}, {}, {{"full_area", 5e-5}});
  network.add_part("tee", "tee", {at[3], at[4], at[5]}, {}, {{"run1_bore", 0.01}, {"run2_bore", 0.01}, {"branch_bore", 0.008}});
  network.add_part("gallery", "line", {at[4], at[6]}, {}, line(0.01, 0.8, 2.0));
  network.add_part("jet", "orifice", {at[6], air}, {}, {{"bore", 0.0015}, {"line_bore", 0.01}});
  network.add_part("cooler", "line", {at[5], at[7]}, {}, line(0.006, 2.0, 3.0), {}, 1);
  network.add_part("regulator", "bypass regulator", {at[7], at[8]}, {at[7], air}, {{"set_pressure", 1e5}, {"full_area", 1e-5}});
  network.add_part("return", "line", {at[8], sump}, {}, line(0.012, 1.0));
  return network;
}

/// Parts in series as builders have them: lines written against the flow, a check valve and a pump against the run they stand in, parts
/// of one bore and of different ones, a junction with a demand between them, heights, a loop that hangs on one place, a bend.
Network series() {
  Network network;
  network.add_liquid(constant(800.0, 2e-3));
  const int sump = network.add_tank("sump", tank(0.1), {0.0, 0.0, 0.1});
  std::vector<int> at;
  for (int i = 0; i < 12; ++i) at.push_back(network.add_junction("j" + std::to_string(i), {0.1 * i, 0.02 * i, 0.07 * i}, i == 7 ? 0.02 : 0.0));
  network.add_part("pick-up", "line", {at[0], sump}, {}, line(0.02, 0.5, 1.0));
  network.add_part("pump", "quadratic pump", {at[0], at[1]}, {}, pump());
  network.add_part("hose", "line", {at[2], at[1]}, {}, line(0.01, 1.0, 0.5));
  network.add_part("check", "check valve", {at[2], at[3]}, {}, {{"full_area", 5e-5}});
  network.add_part("tube", "line", {at[3], at[4]}, {}, line(0.01, 0.4));
  network.add_part("tube on", "line", {at[4], at[5]}, {}, {{"bore", 0.01}, {"length", 0.6}, {"bend_angle", 1.5}, {"bend_radius", 0.03}});
  network.add_part("filter", "filter", {at[6], at[5]}, {}, {{"linear", 2e8}, {"quadratic", 1e12}, {"rating_viscosity", 2e-3}, {"rating_density", 800.0}});
  network.add_part("to the tap", "line", {at[6], at[7]}, {}, line(0.008, 0.5));
  network.add_part("from the tap", "line", {at[7], at[8]}, {}, line(0.008, 0.5));
  network.add_part("loop", "line", {at[8], at[9]}, {}, line(0.006, 0.5));
  network.add_part("loop back", "line", {at[8], at[9]}, {}, line(0.007, 0.5));
  network.add_part("return", "line", {at[10], at[8]}, {}, line(0.009, 2.0));
  network.add_part("return check", "check valve", {at[10], at[11]}, {}, {{"full_area", 5e-5}});
  network.add_part("end", "line", {at[11], sump}, {}, line(0.009, 1.0));
  return network;
}

Table rows_of(const Plan& plan, const std::vector<int>& numbers, int count, unsigned seed, double spread) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> factor(1.0 - spread, 1.0 + spread);
  Table table;
  for (int row = 0; row < count; ++row)
    for (int number : numbers) table.values.push_back(plan.get(number) * factor(random));
  return table;
}

void agree(const Plan& plan, const std::vector<int>& numbers, const Table& rows, std::size_t block) {
  const auto readings = everything(plan);
  Table single = rows;
  single.run(plan, numbers, readings, {1, block, "single"});
  double largest_flow = 0.0;
  for (std::size_t i = 0; i < single.results.size(); ++i)
    if (readings[i % readings.size()].what == What::flow && !std::isnan(single.results[i]))
      largest_flow = std::max(largest_flow, std::abs(single.results[i]));
  Table first;
  for (const std::string& kernel : Batch::kernel_names()) {
    if (kernel == "single") continue;
    INFO(kernel);
    Table lanes = rows;
    lanes.run(plan, numbers, readings, {2, block, kernel});
    CHECK(lanes.whole);
    CHECK(lanes.status == single.status);
    std::size_t solved = 0;
    for (std::size_t i = 0; i < lanes.results.size(); ++i) {
      if (std::isnan(single.results[i])) continue;
      ++solved;
      // 1e-9 of a bar, 1e-9 of the largest flow.
      const double scale = readings[i % readings.size()].what == What::flow ? largest_flow : 1e5;
      if (!(std::abs(lanes.results[i] - single.results[i]) <= 1e-9 * scale))
        FAIL_CHECK("row " << i / readings.size() << " reading " << i % readings.size() << ": " << lanes.results[i] << " for "
                          << single.results[i]);
    }
    CHECK(solved > lanes.results.size() / 2);
    if (first.results.empty()) first = lanes;
    CHECK(std::memcmp(first.results.data(), lanes.results.data(), first.results.size() * sizeof(double)) == 0);
    CHECK(std::memcmp(first.residual.data(), lanes.residual.data(), first.residual.size() * sizeof(double)) == 0);
    CHECK(first.iterations == lanes.iterations);
  }
}

}  // namespace

TEST_CASE("lanes: rows of a fuel circuit are those of single solves, and the same to the bit by every kernel") {
  const Plan plan(return_style());
  std::vector<int> numbers;
  for (const char* name : {"feed.bore", "return.bore", "rail.demand", "manifold.gauge", "regulator.set_pressure", "pump.volts"})
    numbers.push_back(plan.index(name));
  agree(plan, numbers, rows_of(plan, numbers, 500, 1, 0.5), 16);
  agree(plan, numbers, rows_of(plan, numbers, 300, 2, 0.3), 1);
}

TEST_CASE("lanes: parts that the lanes don't know are asked, in a circuit of many kinds") {
  const Plan plan(mixed());
  std::vector<int> numbers;
  for (const char* name : {"pump.volts", "filter.loading", "gallery.bore", "cooler.bore", "liquid.temperature", "ambient.pressure",
                           "regulator.set_pressure", "j6.demand", "sump.level"})
    numbers.push_back(plan.index(name));
  Table rows = rows_of(plan, numbers, 300, 3, 0.08);
  for (std::size_t row = 0; row < 300; ++row) rows.values[row * numbers.size() + 1] = 1.0 + 0.01 * static_cast<double>(row);
  agree(plan, numbers, rows, 16);
}

TEST_CASE("lanes: parts in series share a flow, whichever way they are written, and what stands between them is found") {
  const Plan plan(series());
  std::vector<int> numbers;
  for (const char* name : {"pump.volts", "tube.bore", "hose.bore", "filter.loading", "tube on.bend_angle", "end.extra_loss", "loop.bore"})
    numbers.push_back(plan.index(name));
  Table rows = rows_of(plan, numbers, 300, 5, 0.3);
  for (std::size_t row = 0; row < 300; ++row) {
    rows.values[row * numbers.size() + 3] = 1.0 + 0.01 * static_cast<double>(row);
    if (row % 3 == 0) rows.values[row * numbers.size() + 1] = rows.values[row * numbers.size() + 2];  // hose and tube of one bore
    rows.values[row * numbers.size() + 5] = row % 5 == 0 ? 2.0 : 0.0;
  }
  agree(plan, numbers, rows, 16);
  agree(plan, numbers, rows, 1);
  numbers.push_back(plan.index("j4.demand"));  // no longer within a run
  Table taken = rows_of(plan, numbers, 100, 6, 0.2);
  for (std::size_t row = 0; row < 100; ++row) {
    taken.values[row * numbers.size() + 3] = 2.0;
    taken.values[row * numbers.size() + 7] = 1e-4 * static_cast<double>(row % 7);
  }
  agree(plan, numbers, taken, 8);
}

TEST_CASE("lanes: a sweep in even steps starts ahead of itself, and ends where single solves end") {
  const Plan plan(return_style());
  // What is taken out at a place is not prepared in packs, so rows are not taken near side by side: they go in chains.
  const std::vector<int> numbers{plan.index("pump.volts"), plan.index("return.bore"), plan.index("rail.demand")};
  Table rows;
  for (int bore = 0; bore < 12; ++bore)
    for (int volts = 0; volts < 25; ++volts)
      for (double value : {8.0 + 0.3 * volts, 4e-3 + 5e-4 * bore, 1e-4}) rows.values.push_back(value);
  agree(plan, numbers, rows, 64);
  const auto spent = [&](std::size_t block) {
    Table table = rows;
    table.run(plan, numbers, everything(plan), {1, block, ""});
    double sum = 0.0;
    for (std::int32_t iterations : table.iterations) sum += iterations;
    return sum;
  };
  CHECK(spent(64) < 0.75 * spent(1));
}

TEST_CASE("lanes: most rows are done when they have been taken near, and all end where single solves end") {
  const Plan plan(return_style());
  std::vector<int> numbers;
  for (const char* name : {"feed.bore", "return.bore", "manifold.gauge", "pump.volts"})
    numbers.push_back(plan.index(name));
  constexpr int count = 1000;
  const double near_answer = 1e-2 * analysis::FlowSystem::branch_tolerance;
  for (double spread : {0.1, 0.5, 0.95}) {
    INFO("numbers by " << spread);
    Table rows = rows_of(plan, numbers, count, 11, spread);
    agree(plan, numbers, rows, 64);
    rows.run(plan, numbers, everything(plan), {1, 64, ""});
    const auto done = std::count_if(rows.residual.begin(), rows.residual.end(),
                                    [&](double left) { return std::abs(left / near_answer - 1.0) < 1e-9; });
    if (Batch::kernel_names().front() != "plain") CHECK(done > (spread < 0.2 ? 800 : spread < 0.6 ? 400 : 50));
    // A row knows nothing of the others, and nothing of its block.
    for (std::size_t block : {1, 7}) {
      Table cut = rows;
      cut.run(plan, numbers, everything(plan), {2, block, ""});
      CHECK(std::memcmp(cut.results.data(), rows.results.data(), rows.results.size() * sizeof(double)) == 0);
    }
    Table last;
    last.values.assign(rows.values.end() - static_cast<std::ptrdiff_t>(3 * numbers.size()), rows.values.end());
    last.run(plan, numbers, everything(plan), {1, 1, ""});
    const double* const same = rows.results.data() + rows.results.size() - last.results.size();
    CHECK(std::memcmp(last.results.data(), same, last.results.size() * sizeof(double)) == 0);
  }
}

TEST_CASE("lanes: rows about the cracking of a check valve, at rest and refused are those of single solves when they are taken near") {
  Network network;
  network.add_liquid(constant(750.0, 5e-4));
  const int from = network.add_fixed("from", 0.0), to = network.add_fixed("to", 0.0);
  const int before = network.add_junction("before"), behind = network.add_junction("behind");
  network.add_part("inlet", "line", {from, before}, {}, line(6e-3, 1.0));
  network.add_part("check", "check valve", {before, behind}, {}, {{"full_area", 2e-5}, {"cracking_pressure", 3.5e3}});
  network.add_part("outlet", "line", {behind, to}, {}, line(5e-3, 2.0));
  Plan plan(network);
  const std::vector<int> numbers{plan.index("from.gauge"), plan.index("inlet.bore")};
  plan.set(numbers[0], 3e3);
  Table rows;
  for (int row = 0; row < 400; ++row)
    for (double value : {row % 40 == 7 ? 0.0 : 20.0 * row - 1e3, row % 50 == 3 ? -1.0 : 4e-3 + 1e-5 * row}) rows.values.push_back(value);
  std::vector<BatchReading> readings = everything(plan);
  readings.push_back({What::velocity, plan.network().part("outlet"), 0});
  Table single = rows, near = rows;
  single.run(plan, numbers, readings, {1, 16, "single"});
  near.run(plan, numbers, readings, {2, 16, ""});
  CHECK(near.status == single.status);
  CHECK(std::count(near.status.begin(), near.status.end(), RowStatus::refused) == 8);
  // As many steps as the way there has: most rows are done at its end.
  CHECK(std::count(near.iterations.begin(), near.iterations.end(), analysis::LaneApproach::steps + 1) > 200);
  for (std::size_t row = 0; row < 400; ++row)
    for (std::size_t reading = 0; reading < readings.size(); ++reading) {
      if (near.status[row] != RowStatus::solved) continue;
      const std::size_t place = row * readings.size() + reading;
      INFO("row " << row << " reading " << reading);
      const bool pressure = readings[reading].what == What::total;
      CHECK(std::abs(near.results[place] - single.results[place]) <= (pressure ? 1e-5 : 1e-11));  // Pa; kg/s and m/s
    }
}

TEST_CASE("lanes: readings that look at a part see the numbers of their row") {
  const Plan plan(return_style());
  const std::vector<int> numbers{plan.index("feed.bore"), plan.index("manifold.gauge"), plan.index("pump.volts")};
  const int feed = plan.network().part("feed");
  const std::vector<BatchReading> readings{{What::velocity, feed, 0}, {What::end_static, feed, 1}, {What::number, numbers[0], 0},
                                           {What::suction_margin, plan.network().part("pump"), 0}, {What::flow, feed, 0}};
  Table rows = rows_of(plan, numbers, 100, 7, 0.2), single = rows;
  rows.run(plan, numbers, readings, {2, 8});
  single.run(plan, numbers, readings, {1, 8, "single"});
  for (std::size_t i = 0; i < rows.results.size(); ++i) CHECK(rows.results[i] == Approx(single.results[i]).epsilon(1e-9));
}

TEST_CASE("lanes: refused and impossible rows are told as by single solves, wherever they stand") {
  const Plan plan(return_style());
  const std::vector<int> numbers{plan.index("feed.bore"), plan.index("rail.demand")};
  const std::vector<BatchReading> readings{{What::total, plan.network().junction("rail"), 0}};
  Table rows;
  for (int row = 0; row < 200; ++row)
    for (double value : {row % 7 == 3 ? -1.0 : 7e-3, row % 5 == 1 ? 90.0 : 1e-4 * row}) rows.values.push_back(value);
  Table single = rows;
  single.run(plan, numbers, readings, {1, 16, "single"});
  for (const std::string& kernel : Batch::kernel_names()) {
    Table lanes = rows;
    lanes.run(plan, numbers, readings, {3, 16, kernel});
    INFO(kernel);
    CHECK(lanes.status == single.status);
    for (std::size_t row = 0; row < 200; ++row) {
      const auto words = [&](const Table& of) { return of.reason[row] < 0 ? "" : of.reasons[static_cast<std::size_t>(of.reason[row])]; };
      CHECK(words(lanes) == words(single));
    }
  }
}

TEST_CASE("lanes: a kernel that this processor has not is refused") {
  const Plan plan(return_style());
  Table table;
  table.values = {7e-3};
  CHECK_THROWS_AS(Batch(plan, table.task({plan.index("feed.bore")}, {}), {1, 1, "abacus"}), InputError);
}

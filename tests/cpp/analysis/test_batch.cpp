#include <algorithm>
#include <cmath>
#include <cstring>
#include <random>

#include "batch_table.hpp"
#include "catch_shim.hpp"

// A batch against the same rows solved one at a time, which the other tests judge against the outside.

using namespace circuits;
using analysis::Batch;
using analysis::BatchReading;
using analysis::RowStatus;
using What = BatchReading::What;

namespace {

std::vector<int> varied(const Plan& plan) {
  return {plan.index("feed.bore"), plan.index("rail.demand"), plan.index("manifold.gauge"), plan.index("regulator.set_pressure"),
          plan.index("liquid.temperature")};
}

Table scenarios(int count, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  Table table;
  for (int row = 0; row < count; ++row)
    for (double value : {5e-3 + 6e-3 * share(random), 0.02 * share(random), -7e4 + 2e5 * share(random), 2e5 + 2e5 * share(random),
                         350.0 + 40.0 * share(random)})
      table.values.push_back(value);
  return table;
}

std::vector<BatchReading> all_readings(const Plan& plan) {
  const auto part = [&](const char* name) { return plan.network().part(name); };
  const int rail = plan.network().junction("rail");
  return {{What::total, rail, 0}, {What::end_total, part("feed"), 1}, {What::end_static, part("feed"), 1},
          {What::end_flow, part("return"), 1}, {What::velocity, part("feed"), 0}, {What::reynolds, part("feed"), 0},
          {What::vapour_margin, part("suction"), 1}, {What::flow, part("pump"), 0}, {What::suction_margin, part("pump"), 0},
          {What::suction_gauge, part("pump"), 0}, {What::npsh, part("pump"), 0}, {What::regime, part("regulator"), 0},
          {What::density, part("feed"), 0}, {What::viscosity, part("feed"), 0}, {What::vapour_pressure, part("feed"), 0},
          {What::least_margin, 0, 0}, {What::ambient, 0, 0}, {What::number, plan.index("feed.bore"), 0}};
}

}  // namespace

TEST_CASE("batch: a row reads what a solve of its own reads") {
  const Plan plan(return_style(oil()));
  const auto numbers = varied(plan);
  const auto readings = all_readings(plan);
  Table table = scenarios(40, 3);
  table.run(plan, numbers, readings, {2, 8});
  CHECK(table.whole);
  for (std::size_t row = 0; row < table.status.size(); ++row) {
    Plan alone(plan);
    std::vector<std::pair<int, double>> values;
    for (std::size_t n = 0; n < numbers.size(); ++n) values.emplace_back(numbers[n], table.values[row * numbers.size() + n]);
    alone.set_many(values);
    const auto solution = analysis::solve(alone);
    INFO("row " << row);
    REQUIRE((table.status[row] == RowStatus::solved) == solution.converged());
    REQUIRE(solution.converged());
    CHECK(table.residual[row] <= 1e-9);
    const auto part = [&](const char* name) { return alone.network().part(name); };
    const auto feed = analysis::ends_of(alone, solution, part("feed"));
    const auto suction = analysis::suction_of(alone, solution, part("pump"));
    double least = 1e9;  // by hand over every end but the manifold's
    for (const char* name : {"suction", "pump", "feed", "regulator", "return"})
      for (const auto& end : analysis::ends_of(alone, solution, part(name))) least = std::min(least, end.vapour_margin);
    const double expected[] = {pressure(alone, solution, "rail"), feed[1].total, feed[1].static_,
                               analysis::ends_of(alone, solution, part("return"))[1].flow, feed[0].velocity, feed[0].reynolds,
                               analysis::ends_of(alone, solution, part("suction"))[1].vapour_margin, flow(alone, solution, "pump"),
                               suction.margin, suction.inlet_gauge, suction.npsh_available,
                               static_cast<double>(analysis::regime_of(alone, solution, part("regulator"))),
                               alone.liquid_in(part("feed")).density.value(), alone.liquid_in(part("feed")).viscosity.value(),
                               alone.liquid_in(part("feed")).vapour_pressure.value(), least, alone.ambient(),
                               alone.get(alone.index("feed.bore"))};
    for (std::size_t i = 0; i < readings.size(); ++i) {
      INFO("reading " << i);
      CHECK(table.results[row * readings.size() + i] == Approx(expected[i]).epsilon(1e-7).margin(1e-6));
    }
  }
}

TEST_CASE("batch: the same to the bit for any number of threads, and cut at whole blocks") {
  const Plan plan(return_style());
  const auto numbers = varied(plan);
  const std::vector<BatchReading> readings{{What::total, plan.network().junction("rail"), 0}, {What::flow, plan.network().part("pump"), 0}};
  Table one = scenarios(300, 5), many = one, tail = one;
  one.run(plan, numbers, readings, {1, 16});
  many.run(plan, numbers, readings, {5, 16});
  tail.values.erase(tail.values.begin(), tail.values.begin() + static_cast<std::ptrdiff_t>(160 * numbers.size()));
  tail.run(plan, numbers, readings, {2, 16});
  CHECK(std::memcmp(one.results.data(), many.results.data(), one.results.size() * sizeof(double)) == 0);
  CHECK(std::memcmp(one.residual.data(), many.residual.data(), one.residual.size() * sizeof(double)) == 0);
  CHECK(one.iterations == many.iterations);
  CHECK(std::memcmp(one.results.data() + 160 * readings.size(), tail.results.data(), tail.results.size() * sizeof(double)) == 0);
}

TEST_CASE("batch: a row that is refused or has no answer is NaN with its reason, and the others are not troubled") {
  const Plan plan(return_style());
  const std::vector<int> numbers{plan.index("feed.bore"), plan.index("rail.demand")};
  const std::vector<BatchReading> readings{{What::total, plan.network().junction("rail"), 0}};
  Table table, without;
  table.values = {7e-3, 0.01, -1.0, 0.01, 7e-3, 90.0, 8e-3, 0.01};  // sound, no bore at all, more than any pump gives, sound
  without.values = {7e-3, 0.01, 8e-3, 0.01};
  table.run(plan, numbers, readings, {1, 64});
  without.run(plan, numbers, readings, {1, 64});
  CHECK(table.whole);
  CHECK(table.status == std::vector<RowStatus>{RowStatus::solved, RowStatus::refused, RowStatus::not_converged, RowStatus::solved});
  CHECK(std::isnan(table.results[1]));
  CHECK(std::isnan(table.results[2]));
  CHECK(std::isnan(table.residual[2]));
  REQUIRE(table.reasons.size() == 2);
  CHECK(table.reasons[static_cast<std::size_t>(table.reason[1])].find("bore") != std::string::npos);
  CHECK(table.reasons[static_cast<std::size_t>(table.reason[2])].find("absolute zero") != std::string::npos);
  CHECK(table.reason[0] == -1);
  CHECK(table.results[0] == without.results[0]);
  CHECK(table.results[3] == without.results[1]);
}

TEST_CASE("batch: a temperature that the liquid refuses fails its row, not the program") {
  const Plan plan(return_style(oil()));
  Table table;
  table.values = {360.0, 699.0, 370.0};
  table.run(plan, {plan.index("liquid.temperature")}, {{What::ambient, 0, 0}}, {2, 1});
  CHECK(table.status == std::vector<RowStatus>{RowStatus::solved, RowStatus::refused, RowStatus::solved});
  REQUIRE(table.reasons.size() == 1);
  CHECK(table.reasons[0].find("temperature") != std::string::npos);
}

TEST_CASE("batch: the same row has the same answer wherever it stands, also where a part has a temperature of its own") {
  const Plan plan(return_style(oil()));
  Table table;
  for (int row = 0; row < 6; ++row)
    for (double value : {plan.get(plan.index("feed.temperature")), 350.0}) table.values.push_back(value);
  table.run(plan, {plan.index("feed.temperature"), plan.index("liquid.temperature")},
            {{What::viscosity, plan.network().part("feed"), 0}, {What::viscosity, plan.network().part("return"), 0}}, {1, 2});
  for (std::size_t row = 1; row < 6; ++row) {
    CHECK(table.results[2 * row] == table.results[0]);
    CHECK(table.results[2 * row + 1] == table.results[1]);
  }
  CHECK(table.results[0] > 2.0 * table.results[1]);
}

TEST_CASE("batch: past the reasons that are kept, a row is never given another row's") {
  const Plan plan(return_style());
  Table table;
  for (int row = 0; row < 1200; ++row) table.values.push_back(-1.0 - 1e-3 * row);
  table.run(plan, {plan.index("feed.bore")}, {{What::ambient, 0, 0}}, {1, 64});
  CHECK(table.reasons.size() == Batch::most_reasons);
  CHECK(table.reasons[static_cast<std::size_t>(table.reason[7])].find("-1.007") != std::string::npos);
  CHECK(table.reasons[static_cast<std::size_t>(table.reason[1100])].find("further") != std::string::npos);
}

TEST_CASE("batch: stopping leaves what is solved, and the rest not reached") {
  const Plan plan(return_style());
  const auto numbers = varied(plan);
  Table table = scenarios(200000, 9);
  Batch batch(plan, table.task(numbers, {{What::total, plan.network().junction("rail"), 0}}), {2, 16});
  batch.start();
  batch.wait(std::chrono::milliseconds(30));
  batch.stop();
  std::size_t solved = 0, left = 0;
  for (std::size_t row = 0; row < table.status.size(); ++row) {
    solved += table.status[row] == RowStatus::solved;
    left += table.status[row] == RowStatus::not_reached;
    CHECK((table.status[row] == RowStatus::solved) == !std::isnan(table.results[row]));
  }
  CHECK(solved + left == table.status.size());
  CHECK(left > 0);
  CHECK(solved > 0);
  CHECK(batch.done() == solved);
}

TEST_CASE("batch: asking for what the circuit does not have is refused before anything is solved") {
  const Plan plan(return_style());
  Table table;
  table.values = {7e-3};
  const auto refused = [&](std::vector<int> numbers, BatchReading reading) {
    try {
      Batch batch(plan, table.task(numbers, {reading}));
      return false;
    } catch (const InputError&) {
      return true;
    }
  };
  CHECK(refused({plan.index("feed.bore")}, {What::total, 99, 0}));
  CHECK(refused({plan.index("feed.bore")}, {What::end_static, 0, 2}));
  CHECK(refused({plan.index("feed.bore")}, {What::flow, 0, 1}));
  CHECK(refused({-1}, {What::ambient, 0, 0}));
  CHECK_FALSE(refused({plan.index("feed.bore")}, {What::ambient, 0, 0}));
}

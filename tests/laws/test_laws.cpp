/// Runs every law over every kind. See `law_suite.hpp`.

#include <algorithm>
#include <iostream>
#include <map>
#include <set>

#include "../cpp/catch_shim.hpp"
#include "flarenut/network/kinds.hpp"
#include "law_suite.hpp"

namespace {

/// Why this law may fail for this row, or nothing.
const laws::KnownFailure* excuse(const laws::Row& row, const std::string& law) {
  const auto found = std::find_if(row.known_failures.begin(), row.known_failures.end(),
                                  [&](const auto& known) { return known.law == law; });
  return found == row.known_failures.end() ? nullptr : &*found;
}

void judge(const laws::Law& law, const laws::Row& row) {
  std::size_t count = 0;
  std::string first;
  for (const auto& liquid : laws::liquids()) {
    for (const auto& finding : law.check(row, liquid)) {
      if (count++ < 3) first += "\n  " + liquid.name + ": " + finding;
    }
  }
  INFO(row.name() << " breaks '" << law.meaning << "' " << count << " times:" << first);
  if (const auto* known = excuse(row, law.name)) {
    std::cout << "known failure: " << row.name() << ", " << law.name << ": " << known->reason << "\n";
    INFO("the row lists this as a known failure, but it passes: take it off the row");
    CHECK(count > 0);
  } else {
    CHECK(count == 0);
  }
}

}  // namespace

TEST_CASE("laws: every kind of part has a row, and every row is of a kind", "[laws]") {
  std::set<std::string> with_row;
  for (const auto& row : laws::all_rows()) with_row.insert(row.kind);
  for (const auto kind : flarenut::network::kind_names()) {
    INFO("kind '" << kind << "' needs a row in tests/laws/rows_*.cpp");
    CHECK(with_row.erase(std::string(kind)) == 1);
  }
  for (const auto& stranger : with_row) FAIL_CHECK("a row is of kind '" << stranger << "', which the engine lacks");
}

TEST_CASE("laws: every part obeys every law", "[laws]") {
  for (const auto& row : laws::all_rows()) {
    for (const auto& law : laws::all_laws()) {
      DYNAMIC_SECTION(row.name() << ": " << law.meaning) { judge(law, row); }
    }
  }
}

TEST_CASE("laws: every row's paths lead through all the regimes it names", "[laws]") {
  for (const auto& row : laws::all_rows()) {
    std::set<flarenut::Regime> met;
    for (const auto& liquid : laws::liquids()) {
      const auto element = laws::build(row, liquid);
      for (const auto& path : row.paths)
        for (int i = 0; i <= 1000; ++i) {
          laws::Point point = path.from;
          for (std::size_t k = 0; k < point.size(); ++k) point[k] += (i / 1000.0) * (path.to[k] - path.from[k]);
          met.insert(element->regime(point.data()));
        }
    }
    for (const auto regime : row.regimes) {
      INFO(row.name() << " never meets the regime '" << flarenut::name(regime) << "'");
      CHECK(met.count(regime) == 1);
    }
  }
}

TEST_CASE("laws: a clone keeps the numbers and answers alike", "[laws]") {
  for (const auto& row : laws::all_rows()) {
    INFO(row.name());
    const auto element = laws::build(row, laws::liquids()[0]);
    const auto twin = element->clone();
    for (int i = 0; i < element->field_count(); ++i) CHECK(twin->field(i) == element->field(i));
    for (const auto& state : row.states) {
      CHECK(laws::ask(*twin, state).residual == laws::ask(*element, state).residual);
    }
  }
}

/// What the solver and the user lean on: finite answers, honest limiters, usable starts, bad numbers refused.

#include <cmath>
#include <limits>
#include <random>
#include <sstream>

#include "flarenut/base/error.hpp"
#include "law_suite.hpp"

namespace laws {
namespace {

bool finite(const Answer& answer) {
  for (double r : answer.residual)
    if (!std::isfinite(r)) return false;
  for (const auto& slopes : answer.slope)
    for (double s : slopes)
      if (!std::isfinite(s)) return false;
  return true;
}

/// Every combination of the given values over all entries, pressures and flows each with their own list.
void for_all_extremes(const Layout& at, const std::vector<double>& pressures, const std::vector<double>& flows,
                      const auto& visit) {
  Point point(at.entries);
  const auto fill = [&](const auto& self, int entry) -> void {
    if (entry == at.entries) return visit(point);
    for (double value : entry < at.pressures ? pressures : flows) {
      point[entry] = value;
      self(self, entry + 1);
    }
  };
  fill(fill, 0);
}

std::string two_points(const std::string& trouble, const Point& last, const Point& proposed, const Point& result) {
  return trouble + ": last " + text(last) + ", proposed " + text(proposed) + ", became " + text(result);
}

}  // namespace

Findings finite_everywhere(const Row& row, const NamedLiquid& liquid) {
  Findings findings;
  const auto judge = [&](const Element& element, const std::string& with) {
    const Layout at(element);
    const auto judge_point = [&](const Point& point) {
      const Answer answer = ask(element, point);
      if (!finite(answer)) findings.push_back("not finite at " + text(point) + with);
      for (int f = 0; f < at.flows; ++f)
        if (!(answer.slope[f][at.flow(f)] != 0.0)) findings.push_back("no slope by flow at " + text(point) + with);
    };
    for_all_extremes(at, {-1e7, 0.0, 101325.0, 1e9}, {0.0, 1e-12, -1e-12, 1e-3, -1.0, 1e3, -1e3}, judge_point);
    for (const Point& point : spread(row, element)) judge_point(point);
  };
  const auto element = build(row, liquid);
  judge(*element, "");
  // Again with each number at either end of its range, as far as the others allow.
  const auto info = element->info();
  for (int index = 0; index < element->field_count(); ++index)
    for (double end : {info.fields[index].least, info.fields[index].most}) {
      const auto edge = element->clone();
      edge->set_field(index, end);
      try {
        edge->validate("the part");
      } catch (const flarenut::InputError&) {
        continue;
      }
      edge->prepare(liquid.state);
      std::ostringstream with;
      with << ", " << info.fields[index].name << " " << end;
      judge(*edge, with.str());
    }
  return findings;
}

Findings limiter_pulls_back_and_rests(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const Layout at(*element);
  Findings findings;
  std::mt19937 random(20240229);
  std::normal_distribution<double> normal;
  const auto points = spread(row, *element);
  for (int trial = 0; trial < 4000; ++trial) {
    // Two neighbours of row states, a long or a short way apart; half of the time apart in one entry only.
    Point last = points[random() % points.size()];
    Point proposed = last;
    const double reach = std::pow(10.0, -4.0 + 5.0 * static_cast<double>(random() % 1000) / 1000.0);
    const int only = trial % 2 == 0 ? static_cast<int>(random() % at.entries) : -1;
    for (int i = 0; i < at.entries; ++i) {
      if (only >= 0 && i != only) continue;
      const double scale = i < at.pressures ? 1e6 : 1e-3 + std::abs(last[i]);
      proposed[i] += reach * scale * normal(random);
    }
    Point result = proposed;
    const bool moved = element->limit(last.data(), result.data());
    if (!element->has_limit() && moved) findings.push_back("says it has no limiter, yet moves the point");
    if (moved != (result != proposed)) findings.push_back(two_points("misreports", last, proposed, result));
    // A pressure lands between where it was and where it would go. A flow may also be taken to what the device passes.
    if (only >= 0 && only < at.pressures && moved && result[only] != proposed[only]) {
      const double low = std::min(last[only], proposed[only]), high = std::max(last[only], proposed[only]);
      const double slack = 1e-9 * (std::abs(low) + std::abs(high));
      if (result[only] < low - slack || result[only] > high + slack)
        findings.push_back(two_points("moves past", last, proposed, result));
    }
    Point again = result;
    if (element->limit(last.data(), again.data())) findings.push_back(two_points("does not rest", last, result, again));
    if (at.flows == at.ports - 1 && at.flows == 2) continue;  // a tee has no flow to solve for at given pressures
    for (int f = 0; f < at.flows; ++f) solve_flow(*element, last, f);
    Point resting = last;
    if (element->limit(last.data(), resting.data()))
      findings.push_back(two_points("disturbs an answer", last, last, resting));
  }
  return findings;
}

Findings start_is_usable(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const Layout at(*element);
  Findings findings;
  const auto judge = [&](Point point) {
    element->start(point.data());
    for (double entry : point)
      if (!std::isfinite(entry)) findings.push_back("start is not finite: " + text(point));
    const Answer answer = ask(*element, point);
    if (!finite(answer)) findings.push_back("law is not finite at the start " + text(point));
    for (int f = 0; f < at.flows; ++f)
      if (!(std::abs(point[at.flow(f)]) < 1e3)) findings.push_back("start flow is absurd: " + text(point));
  };
  for (double guess : {0.0, 101325.0, 1e7}) {
    Point point(at.entries, 0.0);
    for (int i = 0; i < at.pressures; ++i) point[i] = guess;
    judge(point);
  }
  for (const Point& state : row.states) judge(state);
  for (double bore : element->bores())
    if (!(bore >= 0.0 && bore < 10.0)) findings.push_back("a bore is not a length");
  return findings;
}

Findings bad_numbers_are_refused(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const auto info = element->info();
  Findings findings;
  for (int index = 0; index < element->field_count(); ++index) {
    const auto& field = info.fields[index];
    const std::string name(field.name);
    if (name.empty() || field.meaning.empty() || !(field.least < field.most))
      findings.push_back(name + ": is not described");
    const double below = field.least - 1e-3 * (std::abs(field.least) + 1e-3);
    const double above = field.most + 1e-3 * std::abs(field.most) + 1e-3;
    for (double bad : {below, above, std::numeric_limits<double>::quiet_NaN(),
                       std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()}) {
      const auto spoiled = element->clone();
      spoiled->set_field(index, bad);
      std::ostringstream value;
      value << bad;
      try {
        spoiled->validate("the part");
        findings.push_back(name + ": accepts " + value.str());
      } catch (const flarenut::InputError& error) {
        if (error.place() != "the part" || error.field() != name)
          findings.push_back(name + ": the refusal of " + value.str() + " names '" + error.place() + "', '" +
                             error.field() + "'");
        if (error.trouble().size() < 20) findings.push_back(name + ": the refusal says too little");
      }
    }
    // The ends of the range belong to it, as far as the other numbers allow: a refusal must then name some field.
    for (double end : {field.least, field.most}) {
      const auto edge = element->clone();
      edge->set_field(index, end);
      try {
        edge->validate("the part");
      } catch (const flarenut::InputError& error) {
        if (error.field().empty()) findings.push_back(name + ": refused at its end without naming a field");
        if (error.trouble().find("outside") != std::string::npos && error.field() == name)
          findings.push_back(name + ": an end of its own range is refused");
      }
    }
  }
  return findings;
}

}  // namespace laws

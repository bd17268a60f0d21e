/// Slopes against differences.

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <sstream>

#include "law_suite.hpp"

namespace laws {
namespace {

struct Derivative {
  double value, error;
};

/// From which side a difference is taken. A law with q|q| has a bend in its slope at rest: there the slopes from
/// either side are to be found, each from its own side.
enum class Side { both, above, below };

/// Ridders' method: differences at shrinking steps, extrapolated; the best of the table with its error.
Derivative difference(const std::function<double(double)>& f, double x, double step, Side side) {
  constexpr int levels = 20;
  constexpr double shrink = 2.0;
  const double order = side == Side::both ? shrink * shrink : shrink;
  double table[levels][levels];
  Derivative best{0.0, std::numeric_limits<double>::infinity()};
  for (int i = 0; i < levels; ++i, step /= shrink) {
    // The steps that are really taken, after rounding.
    const double right = side == Side::below ? x : x + step, left = side == Side::above ? x : x - step;
    const double high = f(right), low = f(left);
    table[0][i] = (high - low) / (right - left);
    const double noise = 4.0 * std::numeric_limits<double>::epsilon() * (std::abs(high) + std::abs(low)) / step;
    double factor = order;
    for (int j = 1; j <= i; ++j, factor *= order) {
      table[j][i] = (factor * table[j - 1][i] - table[j - 1][i - 1]) / (factor - 1.0);
      const double error = std::max(std::abs(table[j][i] - table[j - 1][i]),
                                    std::abs(table[j][i] - table[j - 1][i - 1])) + noise;
      if (error < best.error) best = {table[j][i], error};
    }
  }
  return best;
}

/// Slope and difference agree to a millionth, give or take what the difference itself is unsure of. A difference that
/// cannot tell (error above a thousandth) is excused only where the slope hardly matters against `unit`, the slope
/// that would change the equation's largest term by its own size, and only if it does not contradict.
bool agree(double slope, const Derivative& judge, double unit) {
  const double apart = std::abs(slope - judge.value);
  if (judge.error <= 1e-3 * std::abs(slope)) return apart <= 1e-6 * std::abs(slope) + 3.0 * judge.error;
  return std::abs(slope) <= 1e-4 * unit && judge.error <= 1e-3 * unit && apart <= 1e-12 * unit + 3.0 * judge.error;
}

struct Verdict {
  bool agreed = false;
  Derivative judge{};
};

/// A corner narrower than the steps needs smaller ones: try again closer in, then from either side, before complaining.
Verdict compare(const std::function<double(double)>& f, double x, double scale, double slope, double unit) {
  Verdict verdict;
  for (double reach = 0.05; reach > 1e-9; reach *= 1e-2) {
    verdict.judge = difference(f, x, reach * scale, Side::both);
    if (agree(slope, verdict.judge, unit)) return {true, verdict.judge};
    if (agree(slope, difference(f, x, reach * scale, Side::above), unit) &&
        agree(slope, difference(f, x, reach * scale, Side::below), unit))
      return {true, verdict.judge};
  }
  return verdict;
}

std::string complaint(const std::string& of, const Point& point, double slope, const Derivative& judge) {
  std::ostringstream out;
  out.precision(10);
  out << "slope by " << of << " at " << text(point) << " is " << slope << " but the difference says " << judge.value
      << " ± " << judge.error;
  return out.str();
}

/// Size of the terms that cancel in a residual: pressures and the cost of the flow.
double magnitude(const Element& element, const Answer& answer, const Point& point, int f) {
  const Layout at(element);
  double size = std::abs(answer.residual[f]);
  for (int i = 0; i < at.entries; ++i) size = std::max(size, std::abs(answer.slope[f][i] * point[i]));
  return size;
}

}  // namespace

Findings slopes_match_differences(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const Layout at(*element);
  Findings findings;
  for (const Point& point : spread(row, *element)) {
    const Answer answer = ask(*element, point);
    for (int entry = 0; entry < at.entries; ++entry) {
      double scale = std::max(std::abs(point[entry]), 1e3);
      if (entry >= at.pressures) {
        scale = 1e-6;
        for (const Point& state : row.states)
          for (int f = 0; f < at.flows; ++f) scale = std::max(scale, std::abs(state[at.flow(f)]));
        if (point[entry] != 0.0) scale = std::min(scale, std::abs(point[entry]));
      }
      for (int f = 0; f < at.flows; ++f) {
        const auto residual = [&](double value) {
          Point moved = point;
          moved[entry] = value;
          return ask(*element, moved).residual[f];
        };
        const double slope = answer.slope[f][entry];
        const double unit = magnitude(*element, answer, point, f) / scale;
        const auto [agreed, judge] = compare(residual, point[entry], scale, slope, unit);
        if (!agreed) findings.push_back(complaint("entry " + std::to_string(entry), point, slope, judge));
      }
    }
  }
  return findings;
}

Findings number_slopes_match_differences(const Row& row, const NamedLiquid& liquid) {
  const auto element = build(row, liquid);
  const Layout at(*element);
  const auto info = element->info();
  Findings findings;
  const auto judge_number = [&](const std::string& of, const Point& point, double value, const std::vector<double>& slopes,
                           const std::function<double(double, int)>& residual) {
    for (int f = 0; f < at.flows; ++f) {
      const Answer answer = ask(*element, point);
      const double scale = value == 0.0 ? 1e-3 : std::abs(value);
      const double unit = magnitude(*element, answer, point, f) / scale;
      const auto [agreed, judge] =
          compare([&](double x) { return residual(x, f); }, value, scale, slopes[f], unit);
      if (!agreed) findings.push_back(complaint(of, point, slopes[f], judge));
    }
  };
  const auto points = spread(row, *element);
  const auto other = element->clone();
  for (std::size_t p = 0; p < points.size(); ++p) {
    const Point& point = points[p];
    std::vector<double> slopes(at.flows);
    for (int index = 0; index < element->field_count(); ++index) {
      const double value = element->field(index);
      // At the edge of its range a field cannot be moved both ways; rows give a second variant inside.
      if (value - info.fields[index].least <= 0.0 || value - info.fields[index].most >= 0.0) continue;
      element->residual_by_field(point.data(), index, slopes);
      judge_number(std::string(info.fields[index].name), point, value, slopes, [&](double x, int f) {
        other->set_field(index, x);
        other->prepare(liquid.state);
        const double result = ask(*other, point).residual[f];
        other->set_field(index, value);
        return result;
      });
    }
    const auto judge_property = [&](const char* name, auto member) {
      const double value = (liquid.state.*member.first).value();
      auto sloped = liquid.state.template as<flarenut::Dual<1>>();
      auto& seeded = sloped.*member.second;
      seeded = std::decay_t<decltype(seeded)>::from_value(flarenut::Dual<1>(value, 0));
      element->residual_by_liquid(point.data(), sloped, slopes.data());
      judge_number(name, point, value, slopes, [&](double x, int f) {
        auto changed = liquid.state;
        auto& moved = changed.*member.first;
        moved = std::decay_t<decltype(moved)>::from_value(x);
        other->prepare(changed);
        return ask(*other, point).residual[f];
      });
    };
    using State = flarenut::fluids::LiquidState<>;
    using Sloped = flarenut::fluids::LiquidState<flarenut::Dual<1>>;
    judge_property("density", std::pair(&State::density, &Sloped::density));
    judge_property("viscosity", std::pair(&State::viscosity, &Sloped::viscosity));
    if (element->is_similar()) {
      // Δp = (μ²/ρ) G(q/μ): the drop at another viscosity and density is that of another flow, scaled.
      double drop, slope, other_drop, other_slope;
      const double flow = point[static_cast<std::size_t>(element->shape().ports + element->shape().senses)];
      element->linearise_drop(flow, drop, slope);
      auto changed = liquid.state;
      changed.viscosity = 1.7 * changed.viscosity;
      changed.density = 1.1 * changed.density;
      other->prepare(changed);
      other->linearise_drop(1.7 * flow, other_drop, other_slope);
      if (!(std::abs(other_drop - 1.7 * 1.7 / 1.1 * drop) <= 1e-9 * std::abs(drop) + 1e-12)) findings.push_back("is not similar, as it says");
    }
    if (liquid.state.temperature.value() > 0.0) judge_property("temperature", std::pair(&State::temperature, &Sloped::temperature));
  }
  return findings;
}

Findings slopes_together_are_those_one_by_one(const Row& row, const NamedLiquid& liquid) {
  using flarenut::Dual;
  using flarenut::network::liquid_inputs;
  const auto element = build(row, liquid);
  const int fields = element->field_count(), flows = element->shape().flows;
  const double weight[] = {0.7, -1.9};
  Findings findings;
  for (const Point& point : spread(row, *element)) {
    std::vector<double> together(static_cast<std::size_t>(fields + liquid_inputs));
    element->weighed_slopes(point.data(), weight, together.data());
    for (int input = 0; input < fields + liquid_inputs; ++input) {
      double change[2] = {};
      if (input < fields) {
        element->residual_by_field(point.data(), input, change);
      } else {
        auto sloped = liquid.state.as<Dual<1>>();
        const auto mark = [](auto& quantity) {
          quantity = std::decay_t<decltype(quantity)>::from_value(Dual<1>(quantity.value().value, 0));
        };
        if (input == fields) mark(sloped.density);
        if (input == fields + 1) mark(sloped.viscosity);
        if (input == fields + 2) mark(sloped.temperature);
        element->residual_by_liquid(point.data(), sloped, change);
      }
      double sum = 0.0, size = 0.0;
      for (int f = 0; f < flows; ++f) {
        sum += weight[f] * change[f];
        size += std::abs(weight[f] * change[f]);
      }
      const double found = together[static_cast<std::size_t>(input)];
      if (std::abs(found - sum) <= 1e-10 * size) continue;
      std::ostringstream out;
      out.precision(16);
      out << "slope " << input << " at " << text(point) << " is " << found << " of all together, " << sum << " alone";
      findings.push_back(out.str());
    }
  }
  return findings;
}

}  // namespace laws

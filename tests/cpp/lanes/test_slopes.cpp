// Slopes of laws with all numbers at once, many parts side by side, against the same slopes one number and one part at a time.
#include "flarenut/lanes/slopes.hpp"

#include <random>

#include "catch_shim.hpp"
#include "flarenut/lanes/circuit.hpp"
#include "flarenut/lanes/slope_kernel.hpp"
#include "flarenut/network/kinds.hpp"

using namespace flarenut;

namespace {

/// Usual numbers of each kind; all are stretched at random.
struct Sample {
  std::string_view kind;
  std::vector<double> fields;
};
const std::vector<Sample>& samples() {
  static const std::vector<Sample> all{
      {"line", {8e-3, 1.5, 1e-5, 0.7, 2.0, 0.03}},
      {"filter", {1e8, 2e12, 5e-4, 745.0, 2.0}},
      {"quadratic pump", {11.0, 13.5, 6.5e5, 2.5e9, 4e13}},
      {"check valve", {3500.0, 2e-5, 0.7, 500.0, 1e12}},
      {"injector bank", {2.0, 8e-6, 3e5, 720.0, 0.4}},
      {"bypass regulator", {3e5, 2e4, 1e-5, 0.7, 0.1, 1e-4}},
  };
  return all;
}

struct Case {
  std::unique_ptr<network::Element> element;
  fluids::LiquidState<> liquid;
  std::vector<double> point;
  double weight;
};

/// What a line may also be: straight, without length, with one bend. A few of a pack, or all of it.
void vary_line(network::Element& line, int way) {
  if (way % 2 == 1) line.set_field(4, 0.0);
  if (way == 2) line.set_field(4, 0.8);
  if (way == 4) line.set_field(1, 0.0);
  if (way == 5) line.set_field(1, 0.0);
}

Case draw(const Sample& sample, int way, std::mt19937& random) {
  std::uniform_real_distribution<double> stretch(0.8, 1.25), pressure(5e4, 8e5), size(-6.0, 0.0), sign(-1.0, 1.0);
  Case one{network::make_element(sample.kind), {}, {}, 2.0 * sign(random)};
  for (std::size_t i = 0; i < sample.fields.size(); ++i) one.element->set_field(static_cast<int>(i), sample.fields[i] * stretch(random));
  if (sample.kind == "line") vary_line(*one.element, way);
  one.liquid.density = Density<>::from_value(745.0 * stretch(random));
  one.liquid.viscosity = DynamicViscosity<>::from_value(5e-4 * std::pow(10.0, 1.0 + sign(random)));
  one.element->prepare(one.liquid);
  const parts::Shape shape = one.element->shape();
  for (int i = 0; i < shape.ports + shape.senses; ++i) one.point.push_back(pressure(random));
  one.point.push_back(std::copysign(std::pow(10.0, size(random)), sign(random)));
  return one;
}

/// One slope after the other; and what a slope would be that changes the largest term of the residual by its own size.
void judge(const Case& one, std::vector<double>& slopes, std::vector<double>& unit) {
  const network::Element& element = *one.element;
  network::Linearisation line;
  element.linearise(one.point.data(), line);
  const double size = std::abs(one.weight) * (8e5 + std::abs(line.by_flow[0] * one.point.back()));
  double change[1];
  slopes.clear(), unit.clear();
  for (int field = 0; field < element.field_count(); ++field) {
    element.residual_by_field(one.point.data(), field, change);
    slopes.push_back(one.weight * change[0]);
    unit.push_back(element.field(field) == 0.0 ? 0.0 : size / std::abs(element.field(field)));
  }
  for (int input = 0; input < 2; ++input) {
    auto liquid = one.liquid.as<Dual<1>>();
    if (input == 0) liquid.density = Density<Dual<1>>::from_value(Dual<1>(one.liquid.density.value(), 0));
    else liquid.viscosity = DynamicViscosity<Dual<1>>::from_value(Dual<1>(one.liquid.viscosity.value(), 0));
    element.residual_by_liquid(one.point.data(), liquid, change);
    slopes.push_back(one.weight * change[0]);
    unit.push_back(size / (input == 0 ? one.liquid.density.value() : one.liquid.viscosity.value()));
  }
}

using Evaluate = void (*)(int, int, const double*, const double*, const double*, double*);

void compare(std::size_t width, Evaluate evaluate, int law) {
  const Sample& sample = samples()[static_cast<std::size_t>(law)];
  REQUIRE(sample.kind == lanes::law_names()[static_cast<std::size_t>(law)]);
  const auto inputs = static_cast<std::size_t>(lanes::slope_shape(law).inputs), rows = static_cast<std::size_t>(lanes::slope_shape(law).rows);
  REQUIRE(inputs == sample.fields.size() + 2);
  INFO(sample.kind << ", " << width << " wide");
  std::mt19937 random(11);
  std::vector<double> right, unit;
  for (int turn = 0; turn < 400; ++turn) {
    constexpr std::size_t packs = 2;
    lanes::Aligned number(packs * inputs * width), point(packs * rows * width), weight(packs * width), slope(packs * inputs * width);
    std::vector<Case> cases;
    for (std::size_t i = 0; i < packs * width; ++i) {
      const std::size_t pack = i / width, lane = i % width;
      const int mixed = static_cast<int>(i) % 6, same = turn % 6;
      const Case& one = cases.emplace_back(draw(sample, turn % 3 == 0 ? mixed : same, random));
      for (std::size_t n = 0; n + 2 < inputs; ++n) number[(pack * inputs + n) * width + lane] = one.element->field(static_cast<int>(n));
      number[(pack * inputs + inputs - 2) * width + lane] = one.liquid.density.value();
      number[(pack * inputs + inputs - 1) * width + lane] = one.liquid.viscosity.value();
      for (std::size_t r = 0; r < rows; ++r) point[(pack * rows + r) * width + lane] = one.point[r];
      weight[i] = one.weight;
    }
    evaluate(law, packs, number.data(), point.data(), weight.data(), slope.data());
    for (std::size_t i = 0; i < packs * width; ++i) {
      judge(cases[i], right, unit);
      for (std::size_t n = 0; n < inputs; ++n) {
        const double found = slope[(i / width * inputs + n) * width + i % width];
        INFO("number " << n << ": " << found << ", one by one " << right[n]);
        CHECK(std::abs(found - right[n]) <= 1e-10 * std::abs(right[n]) + 1e-14 * unit[n]);
      }
    }
  }
}

}  // namespace

TEST_CASE("lanes: slopes with all numbers at once are those with one after the other") {
  for (int law = 0; law < static_cast<int>(samples().size()); ++law) {
    compare(lanes::PlainSet::width, &lanes::Slopes<lanes::PlainSet>::evaluate, law);
    if (const auto kernel = lanes::slope_kernel()) compare(static_cast<std::size_t>(kernel->width), kernel->evaluate, law);
  }
}

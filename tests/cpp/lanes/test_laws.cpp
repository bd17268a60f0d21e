#include <algorithm>
#include <random>

#include "catch_shim.hpp"
#include "flarenut/lanes/circuit.hpp"
#include "flarenut/lanes/laws.hpp"
#include "flarenut/lanes/pack.hpp"
#include "flarenut/lanes/preparing.hpp"
#include "flarenut/network/element_of.hpp"
#include "flarenut/network/kinds.hpp"

// Every law that goes through the lanes against the same law one number at a time: filled through the row of doubles that a
// prepared part is, linearised and limited at random points.

using namespace flarenut;
using P = lanes::Pack<lanes::PlainSet>;

namespace {

constexpr int tries = 3000;

/// Numbers of a part with every field somewhere in the usual, by kind; checked by the part itself.
struct Sample {
  std::string_view kind;
  std::vector<std::pair<int, double>> fields;
};

const std::vector<Sample>& samples() {
  static const std::vector<Sample> all{
      {"line", {{0, 8e-3}, {1, 1.5}, {2, 1e-5}, {3, 0.7}, {4, 2.0}, {5, 0.03}}},
      {"filter", {{0, 1e8}, {1, 2e12}, {2, 5e-4}, {3, 745.0}, {4, 2.0}}},
      {"quadratic pump", {{0, 11.0}, {1, 13.5}, {2, 6.5e5}, {3, 2.5e9}, {4, 4e13}}},
      {"check valve", {{0, 3500.0}, {1, 2e-5}}},
      {"injector bank", {{0, 2.0}, {1, 8e-6}, {2, 3e5}, {3, 720.0}, {4, 0.4}}},
      {"bypass regulator", {{0, 3e5}, {1, 2e4}, {2, 1e-5}, {4, 0.1}}},
  };
  return all;
}

std::unique_ptr<network::Element> prepared(std::string_view kind) {
  auto element = network::make_element(kind);
  for (const Sample& sample : samples())
    if (sample.kind == kind)
      for (const auto& [field, value] : sample.fields) element->set_field(field, value);
  element->validate(kind);
  fluids::LiquidState<> liquid;
  liquid.density = Density<>::from_value(745.0);
  liquid.viscosity = DynamicViscosity<>::from_value(5e-4);
  element->prepare(liquid);
  return element;
}

double lane(const P& pack, int which) {
  alignas(16) double numbers[P::width];
  pack.store(numbers);
  return numbers[which];
}

template <template <class> class Part>
void compare() {
  constexpr parts::Shape shape = Part<double>::shape;
  constexpr int n = shape.ports + shape.senses, all = n + 1;
  INFO(Part<double>::kind);
  const auto element = prepared(Part<double>::kind);
  std::vector<double> bundle(static_cast<std::size_t>(element->bundle_size()));
  REQUIRE(bundle.size() * sizeof(double) * P::width == sizeof(Part<P>));
  element->bundle(bundle.data());
  std::vector<P> lanes_bundle(bundle.begin(), bundle.end());
  const auto& part = *reinterpret_cast<const Part<P>*>(lanes_bundle.data());

  std::mt19937 random(4);
  std::uniform_real_distribution<double> pressure(5e4, 8e5), size(-9.0, 0.0), sign(-1.0, 1.0);
  const auto draw = [&](double* point) {
    for (int i = 0; i < n; ++i) point[i] = pressure(random);
    point[n] = std::copysign(std::pow(10.0, size(random)), sign(random));
  };
  for (int turn = 0; turn < tries; ++turn) {
    double point[2][all], last[2][all];
    for (int which = 0; which < 2; ++which) draw(point[which]), draw(last[which]);
    const auto both = [&](const double (&of)[2][all], int i) {
      alignas(16) const double numbers[] = {of[0][i], of[1][i]};
      return P::load(numbers);
    };
    using D = Dual<all, P>;
    const auto state_of = [&]<class N>(const double (&of)[2][all], N (*make)(const P&, int)) {
      parts::PartState<N, 2, 1, shape.senses> state;
      for (int i = 0; i < 2; ++i) state.pressure[i] = AbsolutePressure<N>::from_value(make(both(of, i), i));
      for (int i = 0; i < shape.senses; ++i) state.sensed[i] = AbsolutePressure<N>::from_value(make(both(of, 2 + i), 2 + i));
      state.flow[0] = MassFlow<N>::from_value(make(both(of, n), n));
      return state;
    };
    D row;
    const auto state = state_of(point, +[](const P& x, int i) { return D(x, i); });
    if constexpr (parts::HasOpening<Part<P>>)
      row = (part.opening_squared() * state.pressure_drop() - part.drop(state.flow[0])).value();
    else if constexpr (parts::Drops<Part<P>, D>) row = (state.pressure_drop() - part.drop(state.flow[0])).value();
    else row = part.mismatch(state)[0].value();
    for (int which = 0; which < 2; ++which) {
      network::Linearisation right;
      element->linearise(point[which], right);
      // Round-off of the largest term: a residual is a difference.
      const double scale = 1e-13 * (8e5 + std::abs(right.by_flow[0] * point[which][n]));
      CHECK(std::abs(lane(row.value, which) - right.residual[0]) <= scale);
      CHECK(lane(row.slope[n], which) == Approx(right.by_flow[0]).epsilon(1e-12));
      for (int i = 0; i < n; ++i)
        CHECK(lane(row.slope[static_cast<std::size_t>(i)], which) == Approx(right.by_pressure[static_cast<std::size_t>(i)]).epsilon(1e-11).margin(1e-14));
    }
    if constexpr (network::ElementOf<Part>::limits) {
      const auto plain = +[](const P& x, int) { return x; };
      auto next = state_of(point, plain);
      const auto moved = part.limit(state_of(last, plain), next);
      for (int which = 0; which < 2; ++which) {
        double right[all];
        std::copy_n(point[which], all, right);
        CHECK(moved.holds(which) == element->limit(last[which], right));
        CHECK(lane(next.flow[0].value(), which) == Approx(right[n]).epsilon(1e-12));
        CHECK(lane(next.pressure[0].value(), which) == right[0]);
        for (int i = 0; i < shape.senses; ++i)
          CHECK(lane(next.sensed[static_cast<std::size_t>(i)].value(), which) == Approx(right[2 + i]).epsilon(1e-13));
      }
    }
  }
}

/// A part prepared for two rows at once, of which the second has its first field changed, against each prepared alone.
template <template <class> class Part>
void prepare_both() {
  INFO(Part<double>::kind);
  auto element = prepared(Part<double>::kind);
  fluids::LiquidState<> liquid;
  liquid.density = Density<>::from_value(745.0);
  liquid.viscosity = DynamicViscosity<>::from_value(5e-4);
  if (Part<double>::kind == "line") element->set_field(4, 0.0);  // those with bends are prepared alone
  const auto fields = static_cast<std::size_t>(element->field_count()), numbers = static_cast<std::size_t>(element->bundle_size());
  std::vector<P> packed(fields), part(numbers), start(1);
  double* const field = reinterpret_cast<double*>(packed.data());
  for (std::size_t i = 0; i < fields; ++i)
    for (std::size_t row = 0; row < 2; ++row) field[2 * i + row] = element->field(static_cast<int>(i)) * (i == 0 && row == 1 ? 2.0 : 1.0);
  const auto names = lanes::law_names();
  const int law = static_cast<int>(std::find(names.begin(), names.end(), Part<double>::kind) - names.begin());
  const unsigned sound = lanes::Preparing<lanes::PlainSet>::prepare(law, field, liquid, reinterpret_cast<double*>(part.data()), reinterpret_cast<double*>(start.data()));
  const bool follows = element->start_follows_pressure();
  CHECK(sound == (follows ? 0U : 3U));
  if (follows) return;
  for (int row = 0; row < 2; ++row) {
    element->set_field(0, field[row]);
    element->prepare(liquid);
    std::vector<double> alone(numbers);
    element->bundle(alone.data());
    for (std::size_t i = 0; i < numbers; ++i) CHECK(lane(part[i], row) == alone[i]);
    double point[3] = {};
    element->start(point);
    CHECK(lane(start[0], row) == point[2]);
  }
  field[1] = -1.0;
  CHECK(lanes::Preparing<lanes::PlainSet>::prepare(law, field, liquid, reinterpret_cast<double*>(part.data()), reinterpret_cast<double*>(start.data())) == 1U);
}

template <template <class> class... Part>
void prepare_all(lanes::LawList<Part...>) {
  (prepare_both<Part>(), ...);
}

template <template <class> class... Part>
void compare_all(lanes::LawList<Part...>) {
  CHECK(sizeof...(Part) == samples().size());
  (compare<Part>(), ...);
}

}  // namespace

TEST_CASE("lanes: every law, and its limiting, is the scalar one to round-off") { compare_all(lanes::Laws{}); }

TEST_CASE("lanes: a part prepared for several rows at once is that of each row to the bit, and tells which rows it cannot be") {
  prepare_all(lanes::Laws{});
}

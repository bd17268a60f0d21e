#pragma once
/// Writes an `Element` for any part from its laws. See `element.hpp`.

#include <cstring>
#include <type_traits>
#include <utility>

#include "flarenut/base/prepared.hpp"
#include "flarenut/network/spec_numbers.hpp"

namespace flarenut::network {

template <template <class> class Part>
class ElementOf final : public Element {
  using Plain = Part<double>;
  template <class N>
  using Spec = typename Plain::template Spec<N>;
  static constexpr Shape S = Plain::shape;
  static constexpr int P = S.ports, F = S.flows, K = S.senses;
  static constexpr bool depends_on_flow_alone = parts::Drops<Plain>;
  template <class N>
  using State = parts::PartState<N, P, F, K>;
  static_assert(F >= 1 && F <= most_flows && P <= most_ports && P + K <= most_pressures,
                "raise the limits in element.hpp for a part of this shape");
  static_assert(!depends_on_flow_alone || (P == 2 && F == 1 && K == 0), "a drop is between two ends, of one flow, and senses nothing");

 public:
  explicit ElementOf(Spec<double> spec) : spec_(std::move(spec)) {}

  std::unique_ptr<Element> clone() const override { return std::make_unique<ElementOf>(*this); }
  std::string_view kind() const override { return Plain::kind; }
  Shape shape() const override { return S; }

  int inflow(int port, int flow) const override {
    if constexpr (requires { Plain::inflow(port, flow); }) return Plain::inflow(port, flow);
    return port == 0 ? -1 : +1;
  }
  bool wet(int i) const override {
    if constexpr (requires { Plain::wet(i); }) return Plain::wet(i);
    return true;
  }

  static constexpr int all_fields = count_of_fields<Spec<double>>;
  int field_count() const override { return all_fields; }
  double field(int index) const override { return number_at(spec_, index); }
  void set_field(int index, double value) override { set_number_at(spec_, index, value); }

  void fields(double* out) const noexcept override {
    std::apply([&](const auto&... field) { ((*out++ = si_value(spec_.*field.member)), ...); }, Spec<double>::fields());
  }

  double exchange_field(int index, double value) override {
    double before = 0.0;
    at_field<Spec<double>>(index, [&](const auto& field) {
      before = si_value(spec_.*field.member);
      put(spec_.*field.member, value);
    });
    return before;
  }

  std::vector<double> column(int index) const override { return column_at(spec_, index); }
  void set_column(int index, std::vector<double> values) override { set_column_at(spec_, index, std::move(values)); }
  KindInfo info() const override { return info_of(Plain::kind, S, spec_); }
  void validate(std::string_view name) const override { parts::validate(name, spec_); }

  void prepare(const LiquidState<>& liquid) override {
    liquid_ = liquid;
    part_.prepare(spec_, liquid);
  }

  bool drops() const override { return depends_on_flow_alone; }
  bool is_similar() const override { return parts::is_similar<Plain>(); }
  bool has_opening() const override { return parts::HasOpening<Plain>; }
  double opening_squared() const noexcept override {
    if constexpr (parts::HasOpening<Plain>) return part_->opening_squared().value();
    return 1.0;
  }
  void linearise_drop(double flow, double& value, double& slope) const noexcept override {
    if constexpr (depends_on_flow_alone) {
      const auto drop = part_->drop(MassFlow<Dual<1>>::from_value(Dual<1>(flow, 0))).value();
      value = drop.value;
      slope = drop.slope[0];
    }
  }

  void linearise(const double* point, Linearisation& out) const noexcept override {
    if constexpr (depends_on_flow_alone) {
      double drop, slope;
      linearise_drop(point[P + K], drop, slope);
      const double opening = opening_squared();
      out.residual[0] = opening * (point[0] - point[1]) - drop;
      out.by_flow[0] = -slope;
      out.by_pressure[0] = opening;
      out.by_pressure[1] = -opening;
    } else {
      constexpr int directions = P + K + F;
      using D = Dual<directions>;
      const auto rows = part_->mismatch(state_at<D>(point, [](double x, int i) { return D(x, i); }));
      for (int f = 0; f < F; ++f) {
        const D& row = rows[f].value();
        out.residual[f] = row.value;
        for (int i = 0; i < P + K; ++i) out.by_pressure[f * (P + K) + i] = row.slope[i];
        for (int g = 0; g < F; ++g) out.by_flow[f * F + g] = row.slope[P + K + g];
      }
    }
  }

  static constexpr bool limits = requires(const Plain& part, const State<double>& last, State<double>& next) {
    { part.limit(last, next) } -> std::same_as<bool>;
  };
  bool has_limit() const override { return limits; }
  bool limit(const double* last, double* proposed) const noexcept override {
    if constexpr (limits) {
      auto next = plain_state(proposed);
      const bool moved = part_->limit(plain_state(last), next);
      if (moved) write(next, proposed);
      return moved;
    }
    return false;
  }

  void start(double* point) const noexcept override {
    if constexpr (requires(State<double>& s) { part_->start(s); }) {
      auto state = plain_state(point);
      part_->start(state);
      write(state, point);
    } else {
      const auto flows = part_->start_flow();
      for (int f = 0; f < F; ++f) point[P + K + f] = flows[f].value();
    }
  }

  bool start_follows_pressure() const override {
    return requires(const Plain& part, State<double>& s) { part.start(s); };
  }

  static constexpr bool bundles = std::is_trivially_destructible_v<Plain> && sizeof(Plain) % sizeof(double) == 0;
  int bundle_size() const override { return bundles ? static_cast<int>(sizeof(Plain) / sizeof(double)) : 0; }
  void bundle(double* out) const noexcept override {
    if constexpr (bundles) std::memcpy(out, static_cast<const void*>(&*part_), sizeof(Plain));
  }
  bool has_check() const override {
    return requires(const Spec<double>& spec, std::string_view name) { spec.check(name); };
  }

  void check(std::string_view name) const override {
    if constexpr (requires { spec_.check(name); }) spec_.check(name);
  }

  Regime regime(const double* point) const override {
    if constexpr (requires(const State<double>& s) { part_->regime(s); }) return part_->regime(plain_state(point));
    return Regime::passive;
  }

  bool beyond_data(const double* point) const override {
    if constexpr (requires(const State<double>& s) { part_->beyond_data(s); })
      return part_->beyond_data(plain_state(point));
    return false;
  }
  bool has_hump() const override {
    if constexpr (requires { part_->has_hump(); }) return part_->has_hump();
    return false;
  }

  std::array<double, most_ports> bores() const override {
    std::array<double, most_ports> result{};
    const auto bores = part_->bores();
    for (int i = 0; i < P; ++i) result[i] = bores[i].value();
    return result;
  }

  void residual_by_field(const double* point, int index, std::span<double> out) const override {
    using D = Dual<1>;
    auto spec = parts::lifted<Spec, D>(spec_);
    int i = 0;
    std::apply([&](const auto&... field) {
      ((i++ == index ? seed(spec.*field.member) : void()), ...);
    }, Spec<D>::fields());
    slopes_of(Part<D>(spec, liquid_.template as<D>()), point, out);
  }

  void residual_by_liquid(const double* point, const fluids::LiquidState<Dual<1>>& liquid, double* out) const noexcept override {
    slopes_of(Part<Dual<1>>(parts::lifted<Spec, Dual<1>>(spec_), liquid), point, std::span<double>(out, F));
  }

  void weighed_slopes(const double* point, const double* weight, double* out) const noexcept override {
    using D = Dual<all_fields + liquid_inputs>;
    auto spec = parts::lifted<Spec, D>(spec_);
    auto liquid = liquid_.template as<D>();
    int direction = 0;
    const auto start = [&](auto& quantity) {
      quantity = std::decay_t<decltype(quantity)>::from_value(D(quantity.value().value, direction++));
    };
    std::apply([&](const auto&... field) { (start(spec.*field.member), ...); }, Spec<D>::fields());
    start(liquid.density);
    start(liquid.viscosity);
    start(liquid.temperature);
    const auto rows = residuals_of(Part<D>(spec, liquid), point);
    for (int i = 0; i < D::directions; ++i) {
      out[i] = weight[0] * rows[0].slope[static_cast<std::size_t>(i)];
      for (std::size_t f = 1; f < F; ++f) out[i] += weight[f] * rows[f].slope[static_cast<std::size_t>(i)];
    }
  }

  std::optional<std::array<double, 2>> stored(const double* point) const override {
    if constexpr (requires(AbsolutePressure<Dual<1>> p) { part_->stored(p); }) {
      const auto mass = part_->stored(AbsolutePressure<Dual<1>>::from_value(Dual<1>(point[0], 0)));
      return std::array<double, 2>{mass.value().value, mass.value().slope[0]};
    }
    return std::nullopt;
  }

 private:
  template <class N, class Make>
  static State<N> state_at(const double* point, Make&& make) {
    State<N> state;
    for (int i = 0; i < P; ++i) state.pressure[i] = AbsolutePressure<N>::from_value(make(point[i], i));
    for (int i = 0; i < K; ++i) state.sensed[i] = AbsolutePressure<N>::from_value(make(point[P + i], P + i));
    for (int i = 0; i < F; ++i) state.flow[i] = MassFlow<N>::from_value(make(point[P + K + i], P + K + i));
    return state;
  }
  static State<double> plain_state(const double* point) {
    return state_at<double>(point, [](double x, int) { return x; });
  }
  static void write(const State<double>& state, double* point) {
    for (int i = 0; i < P; ++i) point[i] = state.pressure[i].value();
    for (int i = 0; i < K; ++i) point[P + i] = state.sensed[i].value();
    for (int i = 0; i < F; ++i) point[P + K + i] = state.flow[i].value();
  }

  template <class Quantity>
  static void seed(Quantity& quantity) {
    quantity = Quantity::from_value(Dual<1>(quantity.value().value, 0));
  }

  /// Residuals of a part whose own numbers are sloped.
  template <class D>
  static std::array<D, F> residuals_of(const Part<D>& part, const double* point) {
    std::array<D, F> residuals;
    if constexpr (depends_on_flow_alone) {
      residuals[0] = -part.drop(MassFlow<>::from_value(point[P + K])).value();
      if constexpr (parts::HasOpening<Plain>) residuals[0] += part.opening_squared().value() * (point[0] - point[1]);
    } else {
      const auto rows = part.mismatch(plain_state(point));
      for (std::size_t f = 0; f < F; ++f) residuals[f] = rows[f].value();
    }
    return residuals;
  }
  static void slopes_of(const Part<Dual<1>>& part, const double* point, std::span<double> out) {
    const auto rows = residuals_of(part, point);
    for (std::size_t f = 0; f < F; ++f) out[f] = rows[f].slope[0];
  }

  Spec<double> spec_;
  LiquidState<> liquid_;
  Prepared<Plain> part_;
};

}  // namespace flarenut::network

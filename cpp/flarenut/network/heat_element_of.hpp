#pragma once
/// Writes a `HeatElement` for any heat law. See `heat_element.hpp`.
///
/// Slopes come from dual numbers of three directions a stream: flow, mean temperature, inlet; of two where a law says its heat per degree.
/// Properties arrive with their slope with the mean temperature, which is chained into the second.

#include <limits>
#include <optional>
#include <tuple>
#include <utility>

#include "flarenut/base/prepared.hpp"
#include "flarenut/network/heat_element.hpp"
#include "flarenut/network/spec_numbers.hpp"

namespace flarenut::network {

template <template <class> class Law>
class HeatElementOf final : public HeatElement {
  using Plain = Law<double>;
  using Spec = typename Plain::template Spec<double>;
  static constexpr int S = Plain::streams;
  static_assert(S == 1 || S == 2, "a heat law belongs to one part or to two");
  static constexpr int flow_direction = 0, mean_direction = 1, inlet_direction = 2, directions = 3 * S;
  using D = Dual<directions>;

 public:
  explicit HeatElementOf(Spec spec = {}) : spec_(std::move(spec)) {}

  std::unique_ptr<HeatElement> clone() const override { return std::make_unique<HeatElementOf>(*this); }
  std::string_view kind() const override { return Plain::kind; }
  int streams() const override { return S; }

  int field_count() const override { return count_of_fields<Spec>; }
  double field(int index) const override { return number_at(spec_, index); }
  void set_field(int index, double value) override { set_number_at(spec_, index, value); }
  std::vector<double> column(int index) const override { return column_at(spec_, index); }
  void set_column(int index, std::vector<double> values) override { set_column_at(spec_, index, std::move(values)); }
  KindInfo info() const override { return info_of(Plain::kind, {}, spec_); }
  void validate(std::string_view name) const override { parts::validate(name, spec_); }

  std::vector<std::string_view> borrowed() const override {
    std::vector<std::string_view> names;
    if constexpr (borrows) std::apply([&](const auto&... field) { (names.push_back(field.name), ...); }, Spec::borrowed());
    return names;
  }
  void lend(int index, double value) override {
    if constexpr (borrows) at_index(Spec::borrowed(), index, [&](const auto& field) { put(spec_.*field.member, value); });
  }

  void prepare(const heat::Surroundings& around) override {
    if constexpr (follows_air) {
      Plain* const law = law_.if_prepared();
      if (law != nullptr && made_of_ && made_of_->pressure == around.pressure && same_fields(made_of_->spec)) {
        law->follow_air(spec_, around);
        return;
      }
      made_of_.reset();
    }
    law_.prepare(spec_, around);
    if constexpr (follows_air) made_of_ = MadeOf{spec_, around.pressure};
  }

  void linearise(const StreamPoint* stream, HeatLinearisation& out) const noexcept override {
    if constexpr (says_per_degree) {
      const auto per_degree = law_->per_degree(sloped<2>(stream[0], 0));
      write_per_degree(per_degree.conductance.value(), law_->sink().value() - stream[0].inlet, out.heat);
      write(per_degree.mean_share, out.mean_share[0]);
    } else if constexpr (S == 1) {
      const heat::Warming<D> warming = law_->warming(sloped<directions>(stream[0], 0));
      write(warming.heat.value(), out.heat);
      write(warming.mean_share, out.mean_share[0]);
    } else {
      const heat::Exchanged<D> exchanged = law_->exchange(sloped<directions>(stream[0], 0), sloped<directions>(stream[1], 3));
      write(exchanged.heat.value(), out.heat);
      write(exchanged.first_mean_share, out.mean_share[0]);
      write(exchanged.second_mean_share, out.mean_share[1]);
    }
  }

  double sink() const noexcept override {
    if constexpr (requires(const Plain& law) { law.sink(); }) return law_->sink().value();
    return std::numeric_limits<double>::quiet_NaN();
  }

  bool beyond_data(const StreamPoint* stream) const override {
    if constexpr (S == 1) {
      if constexpr (requires(const Plain& law, const heat::Stream<>& s) { law.beyond_data(s); }) return law_->beyond_data(plain(stream[0]));
    } else {
      if constexpr (requires(const Plain& law, const heat::Stream<>& s) { law.beyond_data(s, s); })
        return law_->beyond_data(plain(stream[0]), plain(stream[1]));
    }
    return false;
  }

 private:
  static constexpr bool borrows = requires { Spec::borrowed(); };
  static constexpr bool says_per_degree = requires(const Plain& law, const heat::Stream<>& s) { law.per_degree(s); };

  /// Laws that are dear to make, and of which little hangs on how warm the air is.
  static constexpr bool follows_air = requires(Plain& law, const Spec& spec, const heat::Surroundings& around) { law.follow_air(spec, around); };
  static_assert(!(follows_air && has_columns<Spec>), "columns are not compared in `same_fields`");
  struct MadeOf {
    Spec spec;
    AbsolutePressure<> pressure;
  };
  bool same_fields(const Spec& before) const {
    const auto same = [&](const auto&... field) { return ((si_value(spec_.*field.member) == si_value(before.*field.member)) && ...); };
    if constexpr (borrows)
      if (!std::apply(same, Spec::borrowed())) return false;
    return std::apply(same, Spec::fields());
  }

  /// `stream` with every property on the number type `To`.
  template <class To, class Convert>
  static heat::Stream<To> with(const StreamPoint& point, const To& flow, const To& inlet, const Convert& convert) {
    const auto carry = [&](auto& to, const auto& from) { to = std::decay_t<decltype(to)>::from_value(convert(from.value())); };
    heat::Stream<To> stream;
    stream.flow = MassFlow<To>::from_value(flow);
    stream.inlet = Temperature<To>::from_value(inlet);
    stream.forward = point.forward;
    const auto &liquid = *point.liquid;
    const auto &warm = *point.heat;
    carry(stream.liquid.density, liquid.density);
    carry(stream.liquid.viscosity, liquid.viscosity);
    carry(stream.liquid.temperature, liquid.temperature);
    carry(stream.heat.specific_heat, warm.specific_heat);
    carry(stream.heat.conductivity, warm.conductivity);
    carry(stream.heat.expansion, warm.expansion);
    carry(stream.heat.enthalpy, warm.enthalpy);
    carry(stream.heat.enthalpy_per_pressure, warm.enthalpy_per_pressure);
    return stream;
  }
  /// Of two directions, without that of the inlet.
  template <int many>
  static heat::Stream<Dual<many>> sloped(const StreamPoint& point, int first_direction) {
    using To = Dual<many>;
    const To inlet = many == 2 ? To(point.inlet) : To(point.inlet, first_direction + inlet_direction);
    return with<To>(point, To(point.flow, first_direction + flow_direction), inlet,
                   [&](const Dual<1>& x) {
                     To result(x.value);
                     result.slope[static_cast<std::size_t>(first_direction + mean_direction)] = x.slope[0];
                     return result;
                   });
  }
  static heat::Stream<> plain(const StreamPoint& point) {
    return with<double>(point, point.flow, point.inlet, [](const Dual<1>& x) { return x.value; });
  }

  template <int many>
  static void write(const Dual<many>& from, HeatSlopes& to) {
    to = {};
    to.value = from.value;
    for (std::size_t s = 0; s < S; ++s) {
      to.by_flow[s] = from.slope[3 * s + flow_direction];
      if constexpr (many == directions) to.by_inlet[s] = from.slope[3 * s + inlet_direction];
      to.by_mean[s] = from.slope[3 * s + mean_direction];
    }
  }
  /// Heat of a conductance that knows nothing of the inlet, across a difference to the sink [K].
  static void write_per_degree(const Dual<2>& conductance, double difference, HeatSlopes& to) {
    to = {};
    to.value = conductance.value * difference;
    to.by_flow[0] = conductance.slope[flow_direction] * difference;
    to.by_mean[0] = conductance.slope[mean_direction] * difference;
    to.by_inlet[0] = -conductance.value;
  }

  Spec spec_;
  Prepared<Plain> law_;
  std::optional<MadeOf> made_of_;  ///< where the law follows the air
};

}  // namespace flarenut::network

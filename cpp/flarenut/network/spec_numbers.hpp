#pragma once
/// Numbers and columns of a spec by index, as its `fields()` and `columns()` list them: what the adaptors of parts (`element_of.hpp`) and of
/// heat laws (`heat_element_of.hpp`) share. An index that the spec does not have reads 0 and sets nothing.

#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include "flarenut/network/element.hpp"

namespace flarenut::network {

/// Hands `visit` the one of `fields` that stands at `index`.
template <class Fields, class Visit>
void at_index(const Fields& fields, int index, Visit&& visit) {
  int i = 0;
  std::apply([&](const auto&... field) { ((i++ == index ? visit(field) : void()), ...); }, fields);
}

template <class Quantity>
void put(Quantity& quantity, double value) {
  quantity = Quantity::from_value(value);
}

template <class Spec>
inline constexpr int count_of_fields = std::tuple_size_v<decltype(Spec::fields())>;

template <class Spec, class Visit>
void at_field(int index, Visit&& visit) {
  static constexpr auto fields = Spec::fields();
  at_index(fields, index, visit);
}

template <class Spec>
double number_at(const Spec& spec, int index) {
  double value = 0.0;
  at_field<Spec>(index, [&](const auto& field) { value = si_value(spec.*field.member); });
  return value;
}

template <class Spec>
void set_number_at(Spec& spec, int index, double value) {
  at_field<Spec>(index, [&](const auto& field) { put(spec.*field.member, value); });
}

template <class Spec>
inline constexpr bool has_columns = requires { Spec::columns(); };

template <class Spec>
std::vector<double> column_at(const Spec& spec, int index) {
  std::vector<double> values;
  if constexpr (has_columns<Spec>) at_index(Spec::columns(), index, [&](const auto& column) { values = spec.*column.member; });
  return values;
}

template <class Spec>
void set_column_at(Spec& spec, int index, std::vector<double>&& values) {
  if constexpr (has_columns<Spec>) at_index(Spec::columns(), index, [&](const auto& column) { spec.*column.member = std::move(values); });
}

/// What its numbers and columns are called and allowed to be.
template <class Spec>
KindInfo info_of(std::string_view kind, Shape shape, const Spec& spec) {
  KindInfo info{kind, shape, {}, {}};
  std::apply([&](const auto&... field) {
    (info.fields.push_back({field.name, field.unit, field.meaning, field.least, field.most, si_value(spec.*field.member), field.drives}), ...);
  }, Spec::fields());
  if constexpr (has_columns<Spec>)
    std::apply([&](const auto&... column) { (info.columns.push_back({column.name, column.unit, column.meaning}), ...); }, Spec::columns());
  return info;
}

}  // namespace flarenut::network

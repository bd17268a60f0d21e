#pragma once
/// The numbers of a tank by index, from the fields of its spec.

#include <string_view>
#include <tuple>
#include <vector>

#include "flarenut/parts/tank.hpp"

namespace flarenut::network {

struct TankField {
  std::string_view name;
  int index;
};

inline std::vector<TankField> tank_fields() {
  std::vector<TankField> fields;
  std::apply([&](const auto&... field) { (fields.push_back({field.name, static_cast<int>(fields.size())}), ...); },
             parts::TankSpec<>::fields());
  return fields;
}

template <class Visit>
void visit_tank_field(int index, Visit&& visit) {
  int i = 0;
  std::apply([&](const auto&... field) { ((i++ == index ? visit(field) : void()), ...); }, parts::TankSpec<>::fields());
}

inline double tank_field(const parts::TankSpec<>& tank, int index) {
  double value = 0.0;
  visit_tank_field(index, [&](const auto& field) { value = si_value(tank.*field.member); });
  return value;
}

inline void set_tank_field(parts::TankSpec<>& tank, int index, double value) {
  visit_tank_field(index, [&](const auto& field) {
    auto& member = tank.*field.member;
    member = std::decay_t<decltype(member)>::from_value(value);
  });
}

}  // namespace flarenut::network

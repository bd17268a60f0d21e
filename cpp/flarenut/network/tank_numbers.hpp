#pragma once
/// The numbers of a tank, from the fields of its spec; `number_at` and `set_number_at` read and set them.

#include <string_view>
#include <tuple>
#include <vector>

#include "flarenut/network/spec_numbers.hpp"
#include "flarenut/parts/tank.hpp"

namespace flarenut::network {

struct TankField {
  std::string_view name;
  int index;
};

inline std::vector<TankField> tank_fields() {
  std::vector<TankField> fields;
  fields.reserve(count_of_fields<parts::TankSpec<>>);
  std::apply([&](const auto&... field) { (fields.push_back({field.name, static_cast<int>(fields.size())}), ...); },
             parts::TankSpec<>::fields());
  return fields;
}

}  // namespace flarenut::network

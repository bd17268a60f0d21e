/// The list of kinds of heat laws. A new law adds its include and one line here.

#include <array>
#include <string>

#include "flarenut/heat/air_core.hpp"
#include "flarenut/heat/heat_table.hpp"
#include "flarenut/heat/line_wall.hpp"
#include "flarenut/heat/liquid_exchanger.hpp"
#include "flarenut/network/heat_element_of.hpp"

namespace flarenut::network {
namespace {

struct HeatKind {
  std::string_view name;
  std::unique_ptr<HeatElement> (*make)();
};

template <template <class> class Law>
constexpr HeatKind heat_kind_of() {
  return {Law<double>::kind, []() -> std::unique_ptr<HeatElement> { return std::make_unique<HeatElementOf<Law>>(); }};
}

constexpr std::array heat_kinds{
    heat_kind_of<heat::LineWall>(),
    heat_kind_of<heat::AirCore>(),
    heat_kind_of<heat::HeatTable>(),
    heat_kind_of<heat::LiquidExchanger>(),
};

}  // namespace

std::vector<std::string_view> heat_kind_names() {
  std::vector<std::string_view> names;
  names.reserve(heat_kinds.size());
  for (const HeatKind& kind : heat_kinds) names.push_back(kind.name);
  return names;
}

std::unique_ptr<HeatElement> make_heat_element(std::string_view name) {
  for (const HeatKind& kind : heat_kinds)
    if (kind.name == name) return kind.make();
  std::string known;
  for (const HeatKind& kind : heat_kinds) known += (known.empty() ? "" : ", ") + std::string(kind.name);
  throw InputError(name, "kind", "no such kind of heat law in the engine; there are: " + known);
}

}  // namespace flarenut::network

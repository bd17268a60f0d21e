#include "flarenut/network/kinds.hpp"

#include <array>
#include <string>

#include "flarenut/network/element_of.hpp"
#include "flarenut/parts/bearings.hpp"
#include "flarenut/parts/bypass_regulator.hpp"
#include "flarenut/parts/centrifugal_pump.hpp"
#include "flarenut/parts/check_valve.hpp"
#include "flarenut/parts/core.hpp"
#include "flarenut/parts/electric_pump.hpp"
#include "flarenut/parts/filter.hpp"
#include "flarenut/parts/filter_with_bypass.hpp"
#include "flarenut/parts/fitting.hpp"
#include "flarenut/parts/injector_bank.hpp"
#include "flarenut/parts/line.hpp"
#include "flarenut/parts/measured_table.hpp"
#include "flarenut/parts/opening.hpp"
#include "flarenut/parts/orifice.hpp"
#include "flarenut/parts/positive_displacement_pump.hpp"
#include "flarenut/parts/quadratic_pump.hpp"
#include "flarenut/parts/reducing_regulator.hpp"
#include "flarenut/parts/relief_valve.hpp"
#include "flarenut/parts/resistance.hpp"
#include "flarenut/parts/short_tube_orifice.hpp"
#include "flarenut/parts/size_step.hpp"
#include "flarenut/parts/tee.hpp"
#include "flarenut/parts/thermostat.hpp"
#include "flarenut/parts/valve.hpp"

namespace flarenut::network {
namespace {

struct Kind {
  std::string_view name;
  std::unique_ptr<Element> (*make)();
};

template <template <class> class Part>
constexpr Kind kind_of() {
  return {Part<double>::kind, []() -> std::unique_ptr<Element> {
            return std::make_unique<ElementOf<Part>>(typename Part<double>::template Spec<double>{});
          }};
}

constexpr std::array kinds{
    kind_of<parts::Line>(),
    kind_of<parts::TwoKFitting>(),
    kind_of<parts::ThreeKFitting>(),
    kind_of<parts::SizeStep>(),
    kind_of<parts::Opening>(),
    kind_of<parts::ReturnOpening>(),
    kind_of<parts::Tee>(),
    kind_of<parts::Orifice>(),
    kind_of<parts::ShortTubeOrifice>(),
    kind_of<parts::Valve>(),
    kind_of<parts::Resistance>(),
    kind_of<parts::MeasuredTable>(),
    kind_of<parts::BypassRegulator>(),
    kind_of<parts::ReducingRegulator>(),
    kind_of<parts::ReliefValve>(),
    kind_of<parts::CheckValve>(),
    kind_of<parts::Thermostat>(),
    kind_of<parts::ThermostatBypass>(),
    kind_of<parts::Filter>(),
    kind_of<parts::FilterWithBypass>(),
    kind_of<parts::Core>(),
    kind_of<parts::Bearings>(),
    kind_of<parts::InjectorBank>(),
    kind_of<parts::ElectricPump>(),
    kind_of<parts::QuadraticPump>(),
    kind_of<parts::PositiveDisplacementPump>(),
    kind_of<parts::CentrifugalPump>(),
};

}  // namespace

std::vector<std::string_view> kind_names() {
  std::vector<std::string_view> names;
  names.reserve(kinds.size());
  for (const Kind& kind : kinds) names.push_back(kind.name);
  return names;
}

std::unique_ptr<Element> make_element(std::string_view name) {
  for (const Kind& kind : kinds)
    if (kind.name == name) return kind.make();
  throw InputError(name, "kind", "no such kind of part in the engine");
}

}  // namespace flarenut::network

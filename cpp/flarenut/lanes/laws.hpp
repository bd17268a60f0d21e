#pragma once
/// The kinds of parts that go through the lanes side by side: those whose laws are straight formulas. A kind that is not here is
/// asked lane by lane through its `Element`, and works as well, only slower. To add one, its law (and its limiting) must be
/// written with `choose` in place of branches, and its prepared part must be made of doubles alone.

#include "flarenut/parts/bypass_regulator.hpp"
#include "flarenut/parts/check_valve.hpp"
#include "flarenut/parts/filter.hpp"
#include "flarenut/parts/injector_bank.hpp"
#include "flarenut/parts/line.hpp"
#include "flarenut/parts/quadratic_pump.hpp"

namespace flarenut::lanes {

template <template <class> class... Part>
struct LawList {
  static constexpr int count = sizeof...(Part);
};
using Laws = LawList<parts::Line, parts::Filter, parts::QuadraticPump, parts::CheckValve, parts::InjectorBank, parts::BypassRegulator>;

}  // namespace flarenut::lanes

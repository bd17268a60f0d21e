#pragma once
/// What state a device is found in, for the report: a gauge shows a pressure, the regime says why.

#include <string_view>

namespace flarenut {

enum class Regime {
  passive,        ///< nothing to switch: a plain resistance
  laminar,        ///< line flow below Reynolds 2000
  transitional,   ///< between 2000 and 4000: pressure loss uncertain
  turbulent,      ///< above 4000
  shut,           ///< a valve on its seat: leakage only
  regulating,     ///< between shut and wide open: holds its set pressure
  wide_open,      ///< the opening is spent: a fixed restriction from here on
  open,           ///< a check valve passing flow
  relieving,      ///< a relief valve lifted off its seat
  bypassing,      ///< a filter's or cooler's bypass has opened
  pumping,        ///< a pump moving liquid forward against a pressure rise
  dead_headed,    ///< a pump running against no flow
  running_out,    ///< a pump pushed past the end of its curve
  reversed,       ///< flow runs against the written direction
  stopped,        ///< a pump without drive, or an injector held shut
};

/// The regime in words.
constexpr std::string_view name(Regime regime) {
  switch (regime) {
    case Regime::passive: return "passive";
    case Regime::laminar: return "laminar";
    case Regime::transitional: return "transitional";
    case Regime::turbulent: return "turbulent";
    case Regime::shut: return "shut";
    case Regime::regulating: return "regulating";
    case Regime::wide_open: return "wide open";
    case Regime::open: return "open";
    case Regime::relieving: return "relieving";
    case Regime::bypassing: return "bypassing";
    case Regime::pumping: return "pumping";
    case Regime::dead_headed: return "dead-headed";
    case Regime::running_out: return "running out";
    case Regime::reversed: return "reversed";
    case Regime::stopped: return "stopped";
  }
  return "unknown";
}

}  // namespace flarenut

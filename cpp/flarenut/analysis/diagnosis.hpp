#pragma once
/// Says in words why a solve failed, and what in a good answer deserves a warning.

#include <string>
#include <vector>

#include "flarenut/analysis/flow_system.hpp"

namespace flarenut::analysis {

/// The likeliest cause of a failure, naming the part or junction to look at.
std::string explain_failure(const FlowSystem& system);

/// [Pa] more than the strongest hydraulic hose bursts at (judgement, no source): liquid that is pushed where it cannot get out.
inline constexpr double beyond_any_pressure = 1e9;
/// Whether no liquid stands at such a pressure.
inline bool impossible_pressure(double pressure) { return pressure < 0.0 || pressure > beyond_any_pressure; }

/// Whether pressures are so far out that what is left of the equations could not bring them back: a known flow that is forced through what is
/// shut, where round-off alone keeps an answer from being accepted.
bool beyond_round_off(const FlowSystem& system);

/// Why the present answer cannot be, though it satisfies every equation: a junction below absolute zero pressure, or at one
/// that nothing bears. Empty when it can. It says where most of the pressure is lost on the way there.
std::string explain_impossible(const FlowSystem& system);

/// What shuts the ways to a place (`shut_ways.hpp`), in words: "the valve 'cock'; the check valve 'check', with ..."; "" where nothing does.
/// `told` is a part that has been named already.
std::string what_shuts(const FlowSystem& system, int place, int told = -1);

/// Something in an answer that a person should hear of. Words and units for people are made elsewhere.
struct Remark {
  std::string code;     ///< which rule: "dead-headed pump", "below vapour pressure" ...
  std::string subject;  ///< part or junction
  double value = 0.0;   ///< what was found [SI]
  double limit = 0.0;   ///< against what [SI]
};

}  // namespace flarenut::analysis

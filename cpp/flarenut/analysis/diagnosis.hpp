#pragma once
/// Says in words why a solve failed, and what in a good answer deserves a warning.

#include <string>
#include <vector>

#include "flarenut/analysis/flow_system.hpp"

namespace flarenut::analysis {

/// The likeliest cause of a failure, naming the part or junction to look at.
std::string explain_failure(const FlowSystem& system);

/// Why the present answer cannot be, though it satisfies every equation: a junction below absolute zero pressure. Empty
/// when it can.
std::string explain_impossible(const FlowSystem& system);

/// Something in an answer that a person should hear of. Words and units for people are made elsewhere.
struct Remark {
  std::string code;     ///< which rule: "dead-headed pump", "below vapour pressure" ...
  std::string subject;  ///< part or junction
  double value = 0.0;   ///< what was found [SI]
  double limit = 0.0;   ///< against what [SI]
};

}  // namespace flarenut::analysis

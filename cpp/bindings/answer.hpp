#pragma once
#include "kept_plan.hpp"

namespace flarenut::bindings {

/// A solution with the plan as it stood when it was found, so that later changes cannot bend its readings.
struct Answer {
  Solution solution;
  std::shared_ptr<const RowPlan> rows;  ///< of a large network; its plan is written out when a reading needs it
  mutable std::shared_ptr<const Plan> written;
  std::shared_ptr<KeptPlan> kept;

  const Plan& plan() const {
    if (!written) written = std::make_shared<const Plan>(rows->written_out());
    return *written;
  }
  const network::Network& network() const { return rows ? rows->network() : written->network(); }
  int part(const std::string& name) const { return network().part(name); }
};

}  // namespace flarenut::bindings

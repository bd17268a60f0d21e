#pragma once
#include <memory>

#include "flarenut/analysis/steady.hpp"

namespace flarenut::bindings {

using analysis::Solution;
using network::Plan;

/// A plan with its workspace and its last answer: what Python knows as `Plan`.
class KeptPlan {
 public:
  explicit KeptPlan(network::Network network) : plan_(std::make_unique<Plan>(std::move(network))), solver_(*plan_) {}
  KeptPlan(const KeptPlan& other) : plan_(std::make_unique<Plan>(*other.plan_)), solver_(*plan_), last_(other.last_) {}

  Plan& plan() { return *plan_; }
  analysis::SteadySolver& solver() { return solver_; }
  Solution& last() { return last_; }

 private:
  std::unique_ptr<Plan> plan_;
  analysis::SteadySolver solver_;
  Solution last_;
};

}  // namespace flarenut::bindings

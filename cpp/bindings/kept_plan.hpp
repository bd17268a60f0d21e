#pragma once
#include <memory>
#include <string>

#include "flarenut/analysis/plain_solver.hpp"
#include "flarenut/analysis/steady.hpp"
#include "flarenut/solver/block_kernel.hpp"

namespace flarenut::bindings {

using analysis::Solution;
using network::Plan;
using network::RowPlan;

/// A plan with its workspace and its last answer: what Python knows as `Plan`. A large network of rows stays in rows until somebody
/// asks for what only the plan that is written out can do.
class KeptPlan {
 public:
  KeptPlan(network::Network network, int symmetric_from) {
    options_.symmetric_from = symmetric_from;
    if (RowPlan::fits(network) && network.part_count() >= symmetric_from) rows_ = std::make_unique<RowPlan>(std::move(network));
    else take(std::make_unique<Plan>(std::move(network)));
  }
  explicit KeptPlan(network::Network network) : KeptPlan(std::move(network), analysis::SteadyOptions{}.symmetric_from) {}
  KeptPlan(const KeptPlan& other) : options_(other.options_), last_(other.last_) {
    if (other.rows_) rows_ = std::make_unique<RowPlan>(*other.rows_);
    else take(std::make_unique<Plan>(*other.plan_));
  }

  Plan& plan() { return write_out(), *plan_; }
  analysis::SteadySolver& solver() { return write_out(), *solver_; }
  /// The plan in rows; nothing when it is written out.
  RowPlan* rows() { return rows_.get(); }
  Solution& last() { return last_; }
  const analysis::SteadyOptions& options() const { return options_; }

  const network::Network& network() { return rows_ ? rows_->network() : plan_->network(); }

  void solve(Solution& solution, analysis::Start start = {}) {
    if (!rows_) return solver_->solve(solution, start, options_);
    if (!row_solver_) row_solver_ = std::make_unique<analysis::RowSolver>(*rows_);
    row_solver_->solve(solution, start, options_);
  }

  /// Bytes that the symmetric system keeps; 0 when solves went to the general one.
  std::size_t workspace_bytes() const {
    const analysis::PlainSystem* const system = plain_system();
    return system != nullptr ? system->bytes() + system->circuit().bytes() : 0;
  }
  /// How solves work, in words.
  std::string method() const {
    const analysis::PlainSystem* const system = plain_system();
    if (system == nullptr) return "general system";
    return "symmetric system, blocks for " + std::string(solver::block_kernel().name) + (system->pivoted() ? ", with pivoting" : "");
  }

 private:
  const analysis::PlainSystem* plain_system() const {
    if (row_solver_) return &row_solver_->system();
    return solver_ ? solver_->plain_system() : nullptr;
  }
  void take(std::unique_ptr<Plan> plan) {
    plan_ = std::move(plan);
    solver_ = std::make_unique<analysis::SteadySolver>(*plan_);
  }
  void write_out() {
    if (plan_) return;
    take(std::make_unique<Plan>(rows_->written_out()));
    row_solver_.reset();
    rows_.reset();
  }

  analysis::SteadyOptions options_;
  std::unique_ptr<RowPlan> rows_;
  std::unique_ptr<analysis::RowSolver> row_solver_;
  std::unique_ptr<Plan> plan_;
  std::unique_ptr<analysis::SteadySolver> solver_;
  Solution last_;
};

}  // namespace flarenut::bindings

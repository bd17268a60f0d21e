#pragma once
/// How one output moves with every number of the plan, from one transposed solve at the answer.
///
/// At the answer the laws and the mass balances hold; differentiating them gives A dp = (what a number does to the
/// laws), with the A of the last Newton step. For an output y, solve Aᵀ λ = ∂y/∂p once; then dy/dθ for a number θ
/// costs one pass over the parts θ touches. Exact to round-off of the solve, no differences taken.

#include <vector>

#include "flarenut/analysis/adjoint.hpp"
#include "flarenut/analysis/steady.hpp"

namespace flarenut::analysis {

/// Slopes of `output` with every number, in the order of `plan.names()`. The solver must hold the converged answer
/// `solution` of the plan at its present numbers; throws InputError for a solution that did not converge.
std::vector<double> gradient(SteadySolver& solver, const Solution& solution, const Output& output);

/// The same with the given numbers only, in their order: the cost is one transposed solve and a little for each of them.
std::vector<double> gradient(SteadySolver& solver, const Solution& solution, const Output& output, const std::vector<int>& numbers);

}  // namespace flarenut::analysis

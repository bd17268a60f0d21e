#pragma once
/// Lays a plan out for so many lanes: which numbers of which part go where.

#include "flarenut/lanes/circuit.hpp"
#include "flarenut/network/plan.hpp"
#include "flarenut/solver/fixed_lu.hpp"

namespace flarenut::analysis {

/// `matrix` is that of the plan's `FlowSystem`; it must have its list of multiply-subtracts.
lanes::Circuit lay_out(const network::Plan& plan, const solver::FixedLU& matrix, int width);

}  // namespace flarenut::analysis

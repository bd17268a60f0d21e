#pragma once
#include <algorithm>
#include <cmath>
#include <utility>

#include "flarenut/network/element.hpp"

namespace flarenut::analysis {

/// The two by two block of a part with two flows, invertible.
struct FlowBlock {
  double a, b, c, d, inverse;
  std::array<double, 2> solve(double x, double y) const {
    return {inverse * (d * x - b * y), inverse * (a * y - c * x)};
  }
};

/// Losses of a tee's legs depend on each other, and where the stream divides its block may lose its sign: the diagonal
/// is then the place for damping, by the size of its whole row. A block that stands exactly on the edge is nudged off.
inline FlowBlock flow_block(const network::Linearisation& line, double damping) {
  FlowBlock block{line.by_flow[0], line.by_flow[1], line.by_flow[2], line.by_flow[3], 0.0};
  const double first_row = std::abs(block.a) + std::abs(block.b), second_row = std::abs(block.c) + std::abs(block.d);
  block.a -= damping * first_row;
  block.d -= damping * second_row;
  double determinant = block.a * block.d - block.b * block.c;
  const double edge = 1e-9 * first_row * second_row;
  if (std::abs(determinant) < edge) determinant = std::copysign(edge, determinant);
  block.inverse = 1.0 / determinant;
  return block;
}

}  // namespace flarenut::analysis

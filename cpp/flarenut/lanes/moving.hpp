#pragma once
/// Moves unknowns of several scenarios along straight lines: where rows of a batch begin. Compiled once per instruction set, like
/// `kernel.hpp`.

#include "flarenut/lanes/circuit.hpp"
#include "flarenut/lanes/pack.hpp"

namespace flarenut::lanes {

template <class Set>
class Moving {
  using P = Pack<Set>;
  static constexpr int W = Set::width;
  using Number = typename Set::Number;

 public:
  [[gnu::flatten]] static void move(const MovesOf<Number>& moves, Number* numbers, Number* unknowns) {
    Number* number = numbers;
    for (std::size_t i = 0; i < moves.numbers; ++i, number += W) P(P::load(number) - P(moves.from[i])).store(number);
    const Number* slope = moves.slope;
    for (std::size_t u = 0; u < moves.unknowns; ++u, unknowns += W) {
      P moved = moves.unmoved[u];
      const Number* change = numbers;
#pragma GCC unroll 4
      for (const Number* const end = slope + moves.numbers; slope != end; ++slope, change += W)
        moved = multiply_add(P(*slope), P::load(change), moved);
      smaller(larger(moved, P(moves.least[u])), P(moves.most[u])).store(unknowns);
    }
  }
};

}  // namespace flarenut::lanes

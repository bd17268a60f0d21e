#pragma once
/// Parts that are asked lane by lane, of any shape: those whose laws the lanes do not know. See `kernel.hpp`.

#include "flarenut/lanes/access.hpp"

namespace flarenut::lanes {

template <class Set>
class OutsideParts : Access<Set> {
  using typename Access<Set>::P;
  using typename Access<Set>::Numbers;
  using typename Access<Set>::Verdict;
  using Access<Set>::W;
  using Access<Set>::load;
  using Access<Set>::store;
  using Access<Set>::add;
  using Access<Set>::take;
  using Access<Set>::keep_reach;

 public:
  static void evaluate(const Branch& branch, const State& state, const Numbers& numbers, Verdict& verdict) {
    const int n = branch.pressures, flows = branch.flows;
    alignas(64) double residual[most_flows * W], by_flow[most_flows * most_flows * W], by_pressure[most_flows * most_pressures * W];
    for (int lane = 0; lane < W; ++lane) {
      double point[most_pressures + most_flows], r[most_flows], q[most_flows * most_flows], p[most_flows * most_pressures];
      for (int i = 0; i < n + flows; ++i) point[i] = numbers.base[branch.first_point + i * W + lane];
      state.others->linearise(branch.part, lane, point, r, q, p);
      for (int f = 0; f < flows; ++f) residual[f * W + lane] = r[f];
      for (int f = 0; f < flows * flows; ++f) by_flow[f * W + lane] = q[f];
      for (int i = 0; i < flows * n; ++i) by_pressure[i * W + lane] = p[i];
    }
    std::array<P, most_flows> at_iterate;
    for (int f = 0; f < flows; ++f) {
      P pressures{0.0}, through{0.0}, continued = load(residual, f * W);
      for (int i = 0; i < n; ++i) {
        const P slope = load(by_pressure, (f * n + i) * W);
        pressures += abs(slope);
        continued = multiply_add(slope, numbers.gathered(branch, i) - load(numbers.base, branch.first_point + i * W), continued);
      }
      for (int g = 0; g < flows; ++g) {
        const P slope = load(by_flow, (f * flows + g) * W);
        through += abs(slope);
        const P away = load(numbers.base, branch.first_flow + g * W) - load(numbers.base, branch.first_point + (n + g) * W);
        continued = multiply_add(slope, away, continued);
      }
      const P scale = multiply_add(pressures, numbers.pressure_scale, through * numbers.flow_scale);
      verdict.judge(load(residual, f * W), scale);
      verdict.sum += abs(load(residual, f * W)) + scale;
      verdict.pass(load(numbers.base, branch.first_flow + f * W));
      at_iterate[f] = continued;
    }
    if (flows == 1) {
      const P inverse = -1.0 / load(by_flow, 0);
      gain(branch, numbers, 0, 0, inverse * at_iterate[0]);
      for (int i = 0; i < n; ++i) gain(branch, numbers, 0, 1 + i, inverse * load(by_pressure, i * W));
    } else {
      const Block block(load(by_flow, 0), load(by_flow, W), load(by_flow, 2 * W), load(by_flow, 3 * W));
      block.solve(branch, numbers, 0, at_iterate[0], at_iterate[1]);
      for (int i = 0; i < n; ++i) block.solve(branch, numbers, 1 + i, load(by_pressure, i * W), load(by_pressure, (n + i) * W));
    }
    for (int f = 0; f < flows; ++f)
      keep_reach(numbers.base, branch.first_gain + (f * branch.gains() + 1 + n) * W,
                 numbers.forecast_tolerance * numbers.flow_scale);
    for (int port = 0; port < branch.ports; ++port) {
      const int row = branch.equation[port];
      for (int f = 0; f < flows; ++f) {
        const P out = branch.leaves[port * flows + f];
        const P flow = load(numbers.base, branch.first_flow + f * W);
        const int gains = branch.first_gain + f * branch.gains() * W;
        add(numbers.imbalance, row, out * flow);
        take(numbers.right_side, row, out * (flow + load(numbers.base, gains)));
        for (int i = 0; i < n; ++i) add(numbers.base, branch.slot[port * n + i], out * load(numbers.base, gains + (1 + i) * W));
      }
    }
  }

  static void gain(const Branch& branch, const Numbers& numbers, int flow, int place, const P& value) {
    store(numbers.base, branch.first_gain + (flow * branch.gains() + place) * W, value);
  }

  /// The slopes by flow of a part with two, inverted. One that stands exactly on the edge is nudged off it.
  struct Block {
    P a, b, c, d, inverse;
    Block(const P& a_, const P& b_, const P& c_, const P& d_) : a(a_), b(b_), c(c_), d(d_) {
      const P edge = 1e-9 * ((abs(a) + abs(b)) * (abs(c) + abs(d)));
      const P determinant = multiply_add(a, d, -(b * c));
      inverse = 1.0 / blend(abs(determinant) < edge, copysign(edge, determinant), determinant);
    }
    void solve(const Branch& branch, const Numbers& numbers, int place, const P& x, const P& y) const {
      gain(branch, numbers, 0, place, -(inverse * multiply_add(d, x, -(b * y))));
      gain(branch, numbers, 1, place, -(inverse * multiply_add(a, y, -(c * x))));
    }
  };

  static void limit(const Branch& branch, const State& state, const Numbers& numbers, P& limited) {
    const int n = branch.pressures, all = n + branch.flows;
    const unsigned settled = state.idle | state.accepted | state.broken;
    alignas(64) double moved[W] = {};
    for (int lane = 0; lane < W; ++lane) {
      if ((settled >> lane & 1U) != 0) continue;
      double last[most_pressures + most_flows], next[most_pressures + most_flows];
      for (int i = 0; i < all; ++i) last[i] = numbers.base[branch.first_point + i * W + lane];
      for (int i = 0; i < n; ++i)
        next[i] = numbers.base[branch.junction[i] + lane] + numbers.base[branch.first_head + i * W + lane];
      for (int f = 0; f < branch.flows; ++f) next[n + f] = numbers.base[branch.first_flow + f * W + lane];
      if (branch.has_limit && state.others->limit(branch.part, lane, last, next)) moved[lane] = 1.0;
      for (int i = 0; i < all; ++i) numbers.base[branch.first_point + i * W + lane] = next[i];
    }
    limited += load(moved, 0);
  }
};

}  // namespace flarenut::lanes

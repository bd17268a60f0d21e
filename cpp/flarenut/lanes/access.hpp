#pragma once
/// How the kernels reach the numbers of the lanes, and what they note of each law. See `kernel.hpp`.

#include "flarenut/lanes/circuit.hpp"
#include "flarenut/lanes/pack.hpp"

namespace flarenut::lanes {

template <class Set>
struct Access {
  using P = Pack<Set>;
  using Number = typename Set::Number;
  static constexpr int W = Set::width;
  static constexpr bool single = std::is_same_v<Number, float>;

  static P load(const Number* from, int place) { return P::load(from + place); }
  static void store(Number* to, int place, const P& pack) { pack.store(to + place); }
  static void add(Number* to, int place, const P& pack) { store(to, place, load(to, place) + pack); }
  static void take(Number* to, int place, const P& pack) { store(to, place, load(to, place) - pack); }

  /// Turns how far the last step went, at `place`, into the reach, which stands after it: what a forecast may leave, as a flow, times the
  /// square of that. Nothing is accepted in single precision.
  static void keep_reach(Number* to, int place, const P& scale) {
    if constexpr (single) return;
    const P before = load(to, place);
    store(to, place + W, scale * (before * before));
  }

  /// The memory of a state. Places count from `base`; equations from the beginning of their own.
  struct Numbers {
    Number* const base;
    Number* const imbalance;
    Number* const right_side;
    const P pressure_scale, forecast_tolerance, flow_scale;

    Numbers(const Circuit& circuit, StateOf<Number>& state)
        : base(state.memory.data()), imbalance(base + circuit.region.imbalance), right_side(base + circuit.region.right_side),
          pressure_scale(circuit.pressure_scale), forecast_tolerance(circuit.forecast_tolerance),
          flow_scale(load(base, circuit.region.flow_scale)) {}

    /// What is known of the balance of a junction: judged in double precision alone.
    void add_to_balance(int equation, const P& flow) const {
      if constexpr (!single) add(imbalance, equation, flow);
    }

    P gathered(const Branch& branch, int i) const { return load(base, branch.junction[i]) + load(base, branch.first_head + i * W); }
  };

  /// What the laws of a lane leave to be judged. The worst scaled residual is kept as a fraction: no division per part.
  struct Verdict {
    P worst{0.0}, scale{1.0}, largest_flow{0.0}, sum{0.0};

    /// Whoever calls this adds the step of the flow, or residual and scale, to the sum: it is not a number once any of them is not.
    void judge(const P& residual, const P& its_scale) {
      const P size = abs(residual);
      const auto worse = size * scale > worst * its_scale;
      worst = blend(worse, size, worst);
      scale = blend(worse, its_scale, scale);
    }
    void pass(const P& flow) { largest_flow = larger(largest_flow, abs(flow)); }
  };
};

}  // namespace flarenut::lanes

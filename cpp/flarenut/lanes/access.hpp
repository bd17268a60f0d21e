#pragma once
/// How the kernels reach the numbers of the lanes, and what they note of each law. See `kernel.hpp`.

#include "flarenut/lanes/circuit.hpp"
#include "flarenut/lanes/pack.hpp"

namespace flarenut::lanes {

template <class Set>
struct Access {
  using P = Pack<Set>;
  static constexpr int W = Set::width;

  static P load(const double* from, int place) { return P::load(from + place); }
  static void store(double* to, int place, const P& pack) { pack.store(to + place); }
  static void add(double* to, int place, const P& pack) { store(to, place, load(to, place) + pack); }
  static void take(double* to, int place, const P& pack) { store(to, place, load(to, place) - pack); }

  /// Turns how far the last step went, at `place`, into the reach, which stands after it: what a forecast may leave, as a flow, times the
  /// square of that.
  static void keep_reach(double* to, int place, const P& scale) {
    const P before = load(to, place);
    store(to, place + W, scale * (before * before));
  }

  /// The memory of a state. Places count from `base`; equations from the beginning of their own.
  struct Numbers {
    double* const base;
    double* const imbalance;
    double* const right_side;
    const P pressure_scale, forecast_tolerance, flow_scale;

    Numbers(const Circuit& circuit, State& state)
        : base(state.memory.data()), imbalance(base + circuit.region.imbalance), right_side(base + circuit.region.right_side),
          pressure_scale(circuit.pressure_scale), forecast_tolerance(circuit.forecast_tolerance),
          flow_scale(load(base, circuit.region.flow_scale)) {}

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

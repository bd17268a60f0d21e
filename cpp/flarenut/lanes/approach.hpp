#pragma once
/// Takes scenarios near their answers in single precision, where twice as many lanes cost as much, and lets one step in double precision
/// tell which of them are there. Compiled once per instruction set, like `kernel.hpp`, whose iteration it is: `Single` has twice the lanes
/// of `Set`.
///
/// All scenarios take the same steps side by side: none is judged on the way, and nothing is brought into lanes one by one.

#include "flarenut/lanes/kernel.hpp"
#include "flarenut/lanes/moving.hpp"

namespace flarenut::lanes {

template <class Set, class Single>
class Approach {
  static constexpr int W = Set::width, single_W = Single::width;
  static_assert(single_W == 2 * W);
  using P = Pack<Set>;
  using S = Pack<Single>;

  /// A step leaves of a law its bend times the square of the step. Single precision cannot tell what a step of less than this share of
  /// the flow leaves: its square is not far above the rounding of the flow.
  static constexpr double least_step = 1e-3;
  /// What turbulent flow leaves of a step, over the square of the step, times the flow: a bend is counted as this at least.
  static constexpr double square_law = 0.5;
  /// Where next to nothing flows laws are straight lines: smaller flows, as shares of the scale of flows, count as this.
  static constexpr double least_flow = 1e-6;

  [[gnu::flatten]] static void keep_steps(const Circuit& circuit, const float* base, float* bend) {
    for (const Run& run : circuit.runs) {
      S::load(base + run.gain).store(bend);
      bend += single_W;
    }
  }
  /// Turns how far the last step went into the bend that what it left tells of.
  [[gnu::flatten]] static void tell_bends(const Circuit& circuit, const float* base, float* bend) {
    const S least = least_flow * S::load(base + circuit.region.flow_scale);
    for (const Run& run : circuit.runs) {
      const S flow = larger(abs(S::load(base + run.flow)), least), went = larger(abs(S::load(bend)), S(least_step * flow));
      larger(S(abs(S::load(base + run.gain)) / (went * went)), S(square_law / flow)).store(bend);
      bend += single_W;
    }
  }

  static void approach(const Circuit& circuit, SingleState& state, int steps, float* bend) {
    for (int step = 1; step < steps; ++step) {
      Iteration<Single>::evaluate(circuit, state);
      Iteration<Single>::advance(circuit, state);
    }
    keep_steps(circuit, state.memory.data(), bend);
    Iteration<Single>::evaluate(circuit, state);
    tell_bends(circuit, state.memory.data(), bend);
    Iteration<Single>::advance(circuit, state);
  }

  [[gnu::flatten]] static void set_steps(double* base, std::size_t count, const int* steps, const P& size) {
    for (const int* const end = steps + count; steps != end; ++steps) size.store(base + *steps);
  }
  /// Lanes in whose runs the bends times the squares of the step come within the reach.
  [[gnu::flatten]] static unsigned bends_allow(const Circuit& circuit, const double* base, const float* bend) {
    auto fine = P(0.0) <= P(0.0);
    for (const Run& run : circuit.runs) {
      alignas(64) double wide[W];
      for (int lane = 0; lane < W; ++lane) wide[lane] = static_cast<double>(bend[lane]);
      const P step = P::load(base + run.gain);
      fine = fine && P::load(wide) * (step * step) <= P::load(base + run.gain + 2 * W);
      bend += single_W;
    }
    return Iteration<Set>::bits_of(fine);
  }

  /// Reaches are those of steps of this size, whatever was stepped: what may be left, as a flow.
  static void arrive(const Circuit& circuit, State& state, std::size_t count, const int* steps, const float* bend) {
    double* const base = state.memory.data();
    set_steps(base, count, steps, sqrt(P(circuit.approach_tolerance / circuit.forecast_tolerance)));
    Iteration<Set>::evaluate(circuit, state);
    P(0.0).store(base + circuit.region.mass_error);  // single precision knows no better; it is measured after the step
    Iteration<Set>::advance(circuit, state, false);
    state.accepted &= bends_allow(circuit, base, bend) & Iteration<Set>::looks_good(circuit, state);
  }

  static void place(std::size_t count, const double* from, const int* to, double* base) {
    for (const int* const end = to + count; to != end; ++to, from += W) P::load(from).store(base + *to);
  }
  static void narrow(std::size_t count, const double* from, const int* to, float* base) {
    for (const int* const end = to + count; to != end; ++to, from += W)
#pragma GCC ivdep
      for (int lane = 0; lane < W; ++lane) base[*to + lane] = static_cast<float>(from[lane]);
  }
  static void widen(std::size_t count, const float* base, const int* from, const int* to, double* wide) {
    for (const int* const end = from + count; from != end; ++from, ++to)
#pragma GCC ivdep
      for (int lane = 0; lane < W; ++lane) wide[*to + lane] = static_cast<double>(base[*from + lane]);
  }

 public:
  static constexpr ApproachKernel kernel{single_W, &Moving<Single>::move, &approach, &arrive, &place, &narrow, &widen};
};

}  // namespace flarenut::lanes

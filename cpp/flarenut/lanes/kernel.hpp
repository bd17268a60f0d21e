#pragma once
/// One Newton iteration of all lanes, written once for every instruction set. The equations are those of
/// `analysis/flow_system.hpp`, less the junctions inside runs; here every number is a pack.
///
/// First every member works out what its flow costs (`members.hpp`), kind by kind. Then each run is one equation: the sum of its
/// losses against the pressures at its two ends. That is what single solves do after their own elimination of a junction with two
/// ends, but for the order of the steps.
///
/// Lanes don't touch each other: each holds a scenario of its own at its own stage, and nothing is decided for all. So what a
/// lane finds does not depend on its neighbours. A lane that is done takes the same step as the others; whoever fills it anew does so
/// after that step.
///
/// **A forecast saves the last evaluation.** After a whole step of Newton's from an iterate at its own point, what a law leaves is its bend
/// alone: half its curvature times the square of the step. So the next step, again a whole one, will leave as much less as its square is
/// smaller. Where that is far within what is accepted for every flow, and no device was limited on the way, the iterate is accepted
/// after the step, without being evaluated once more. All is reckoned in flows: what a law leaves over its slope is the shift.
///
/// Everything here is a template of the instruction set or stands inside one, `static` and inlined into the few functions that are public.

#include "flarenut/lanes/branches.hpp"
#include "flarenut/lanes/members.hpp"
#include "flarenut/lanes/outside_parts.hpp"

namespace flarenut::lanes {

template <class Set>
class Iteration : Access<Set> {
  using typename Access<Set>::P;
  using typename Access<Set>::Number;
  using typename Access<Set>::Numbers;
  using typename Access<Set>::Verdict;
  using Access<Set>::W;
  using Access<Set>::single;
  using Access<Set>::load;
  using Access<Set>::store;
  using Access<Set>::add;
  using Access<Set>::take;
  using Access<Set>::keep_reach;

  static void evaluate_run(const Run& at, const Numbers& numbers, Verdict& verdict) {
    const Run run = at;  // a store of packs could be one into the circuit, for all that the compiler knows
    Number* const base = numbers.base;
    P drop = load(base, run.drop), slope = load(base, run.drop + W);
    for (int member = 1, place = run.drop + 2 * W; member < run.members; ++member, place += 2 * W) {
      drop += load(base, place);
      slope += load(base, place + W);
    }
    const P flow = load(base, run.flow);
    P driving = load(base, run.junction[0]) - load(base, run.junction[1]) + load(base, run.head);
    P scale = numbers.pressure_scale + numbers.pressure_scale;
    const P inverse = 1.0 / slope;
    P gain = inverse;
    if (run.has_opening) {
      const P opening = load(base, run.drop + 2 * W);
      driving *= opening;
      scale *= opening;
      gain *= opening;
    }
    const P residual = driving - drop, before = load(base, run.gain);
    scale = multiply_add(abs(slope), numbers.flow_scale, scale);
    verdict.judge(residual, scale);
    if constexpr (!single) store(base, run.gain + 2 * W, numbers.forecast_tolerance * scale * inverse * (before * before));
    verdict.pass(flow);
    const P shift = inverse * residual, moved = flow + shift;
    verdict.sum += shift;
    store(base, run.gain, shift);
    store(base, run.gain + W, gain);
    if (run.free[0]) {
      numbers.add_to_balance(run.equation[0], flow);
      take(numbers.right_side, run.equation[0], moved);
      add(base, run.slot[0], gain);
    }
    if (run.free[1]) {
      numbers.add_to_balance(run.equation[1], -flow);
      add(numbers.right_side, run.equation[1], moved);
      add(base, run.slot[3], gain);
    }
    if (run.free[0] && run.free[1]) {
      take(base, run.slot[1], gain);
      take(base, run.slot[2], gain);
    }
  }

  /// Judges the equations as single solves are judged (`FlowSystem::accepted`). A run is held to what its one weakest part may miss.
  static void judge(const Circuit& circuit, const Numbers& numbers, StateOf<Number>& state, Verdict& verdict) {
    const Regions region = circuit.region;
    P worst{0.0};
    for (int row = 0; row < circuit.equations * W; row += W) {
      const P size = abs(load(numbers.imbalance, row));
      worst = larger(worst, size);
      verdict.sum += size;
      verdict.pass(load(numbers.base, region.demand + row));
    }
    const P mass_error = worst / larger(verdict.largest_flow, 1e-3 * numbers.flow_scale);
    store(numbers.base, region.mass_error, mass_error);
    store(numbers.base, region.residual, verdict.worst / verdict.scale);
    state.accepted = bits_of(verdict.worst <= circuit.branch_tolerance * verdict.scale && mass_error <= circuit.mass_tolerance &&
                             load(numbers.base, region.limited) <= 0.0 && abs(verdict.sum) <= P::huge);
    state.broken = bits_of(!(abs(verdict.sum) <= P::huge));
  }

  /// LU without pivoting, and the step of each equation's pressure in `right_side`. A pivot that vanishes leaves a lane that
  /// is not a number, and a poor one a step whose mass does not balance: both show in the next verdict.
  static void solve(const Circuit& circuit, const Numbers& numbers) {
    const int n = circuit.equations;
    const int* const start = circuit.fill_start.data();
    const int* const index = circuit.fill_index.data();
    const int* target = circuit.list.data();
    Number* const base = numbers.base;
    Number* const f = base + circuit.region.factor;
    Number* const inverse_pivot = base + circuit.region.inverse_pivot;
    Number* const y = numbers.right_side;
    const Number* const upper = f + n * W;
    const Number* const lower = upper + circuit.fill_index.size() * W;
    for (int k = 0; k < n; ++k) {
      const P inverse = 1.0 / load(f, k * W);
      store(inverse_pivot, k * W, inverse);
      const P here = load(y, k * W);
      const int begin = start[k], end = start[k + 1];
      for (int i = begin; i < end; ++i) {
        const P factor = -(load(lower, i * W) * inverse);
        for (int j = begin; j < end; ++j, ++target) store(base, *target, multiply_add(factor, load(upper, j * W), load(base, *target)));
        store(y, index[i], multiply_add(factor, here, load(y, index[i])));
      }
    }
    for (int k = n - 1; k >= 0; --k) {
      P sum = -load(y, k * W);
      for (int i = start[k], end = start[k + 1]; i < end; ++i) sum = multiply_add(load(upper, i * W), load(y, index[i]), sum);
      store(y, k * W, -(sum * load(inverse_pivot, k * W)));
    }
  }

  /// Tells what the laws will leave, too much for a forecast to be good, and how far pressures went.
  static void move(const Circuit& circuit, const Numbers& numbers, bool foretold, P& too_much, P& farthest, P& sum) {
    Number* const base = numbers.base;
    Number* const step = numbers.right_side;
    store(step, circuit.equations * W, P(0.0));
    const int* const junction = circuit.junction_of.data();
    for (int row = 0, rows = circuit.equations; row < rows; ++row) {
      const P change = load(step, row * W), far = abs(change);
      add(base, junction[row], change);
      farthest = larger(farthest, far);
      sum += far;
    }
    for (const Run *run = circuit.runs.data(), *end = run + circuit.runs.size(); run != end; ++run) {
      const P along = load(step, run->equation[0]) - load(step, run->equation[1]);
      const P shift = load(base, run->gain), change = multiply_add(load(base, run->gain + W), along, shift);
      if constexpr (!single)
        if (foretold) too_much = larger(too_much, multiply_add(abs(shift), change * change, -load(base, run->gain + 2 * W)));
      store(base, run->gain, change);
      add(base, run->flow, change);
    }
    for (const Branch& branch : circuit.branches)
      for (int f = 0; f < branch.flows; ++f) {
        const int gains = branch.first_gain + f * branch.gains() * W, went = gains + (1 + branch.pressures) * W;
        const P shift = load(base, gains);
        P change = shift, far = abs(shift);
        for (int i = 0; i < branch.pressures; ++i) {
          const P gained = load(base, gains + (1 + i) * W) * load(step, branch.equation[i]);
          change += gained;
          far += abs(gained);
        }
        if constexpr (!single)
          if (foretold) too_much = larger(too_much, multiply_add(abs(shift), far * far, -load(base, went + W)));
        store(base, went, far);
        add(base, branch.first_flow + f * W, change);
      }
  }

  /// Pressures inside runs, and whether any of a lane cannot be, or moved too far in this step to be what was accepted.
  static void complete(const Circuit& circuit, const Numbers& numbers, StateOf<Number>& state, const P& farthest, const P& sum) {
    Number* const base = numbers.base;
    P least{0.0}, most{0.0};
    const auto look = [&](const P& pressure) {
      least = smaller(least, pressure);
      most = larger(most, pressure);
    };
    for (const Inside& inside : circuit.inside) {
      const P drop = multiply_add(load(base, inside.drop + W), load(base, inside.change), load(base, inside.drop));
      const P pressure = load(base, inside.before) + load(base, inside.head) - drop;
      store(base, inside.junction, pressure);
      look(pressure);
    }
    for (int row = 0; row < circuit.equations; ++row) look(load(base, circuit.junction_of[static_cast<std::size_t>(row)]));
    state.impossible = bits_of(least < 0.0 || most > circuit.most_pressure || farthest > circuit.most_polish || !(sum <= P::huge));
  }

  /// Accepts those whose forecast is good after two whole steps, one after the other.
  static void foresee(const Circuit& circuit, const Numbers& numbers, StateOf<Number>& state, const Mask<Set>& promising,
                      const P& limited) {
    const Regions region = circuit.region;
    Number* const base = numbers.base;
    const P yes{1.0}, no{0.0}, limited_before = load(base, region.limited), whole_before = load(base, region.whole);
    const auto whole = limited_before <= 0.0;
    store(base, region.limited, limited);
    store(base, region.whole, blend(whole, yes, no));
    const auto good = promising && whole_before > 0.0 && whole && limited <= 0.0 && load(base, region.mass_error) <= circuit.mass_tolerance;
    if constexpr (single) return;
    state.forecast = bits_of(good) & ~(state.accepted | state.broken);
    state.accepted |= state.forecast;
  }

  static const Branch* end_of(const Circuit& circuit) { return circuit.branches.data() + circuit.branches.size(); }

 public:
  static unsigned bits_of(const Mask<Set>& mask) {
    unsigned bits = 0;
    for (int lane = 0; lane < W; ++lane) bits |= mask.holds(lane) ? 1U << lane : 0U;
    return bits;
  }

  /// Lanes whose branches leave no more than their reach, and whose flows balance at every junction, bit per lane. An imbalance that is
  /// no number is not seen here: the step that leads to it is told by its size.
  [[gnu::flatten]] static unsigned looks_good(const Circuit& circuit, StateOf<Number>& state) {
    const Numbers numbers(circuit, state);
    auto fine = P(0.0) <= P(0.0);
    Branches<Set>::look(Laws{}, circuit.branches.data(), end_of(circuit), numbers, fine);
    const Number* const demands = numbers.base + circuit.region.demand;
    for (int row = 0, end = circuit.equations * W; row <= end; row += W) store(numbers.imbalance, row, load(demands, row));
    P largest{0.0}, worst{0.0};
    for (const Run& run : circuit.runs) {
      const P flow = load(numbers.base, run.flow);
      largest = larger(largest, abs(flow));
      add(numbers.imbalance, run.equation[0], flow);
      take(numbers.imbalance, run.equation[1], flow);
    }
    for (const Branch& branch : circuit.branches)
      for (int port = 0; port < branch.ports; ++port)
        for (int f = 0; f < branch.flows; ++f) {
          const P flow = load(numbers.base, branch.first_flow + f * W);
          largest = larger(largest, abs(flow));
          add(numbers.imbalance, branch.equation[port], branch.leaves[port * branch.flows + f] * flow);
        }
    for (int row = 0; row < circuit.equations * W; row += W) {
      worst = larger(worst, abs(load(numbers.imbalance, row)));
      largest = larger(largest, abs(load(demands, row)));
    }
    return bits_of(fine && worst <= circuit.mass_tolerance * larger(largest, 1e-3 * numbers.flow_scale));
  }

  [[gnu::flatten]] static void evaluate(const Circuit& circuit, StateOf<Number>& state) {
    const Numbers numbers(circuit, state);
    const P nothing{0.0};
    Number* const factor = numbers.base + circuit.region.factor;
    for (int i = 0, end = circuit.factors * W; i <= end; i += W) store(factor, i, nothing);
    const Number* const demands = numbers.base + circuit.region.demand;
    for (int row = 0, end = circuit.equations * W; row <= end; row += W) {
      const P demand = load(demands, row);
      store(numbers.imbalance, row, demand);
      store(numbers.right_side, row, -demand);
    }
    Verdict verdict;
    // Branches first: what is long in coming there can be waited for beside the members.
    const Branch* branch = circuit.branches.data();
    const Branch* const end = end_of(circuit);
    if constexpr (!single)
      for (; branch != end && branch->law == outside; ++branch) OutsideParts<Set>::evaluate(*branch, state, numbers, verdict);
    Branches<Set>::evaluate(Laws{}, branch, end, numbers, verdict);
    Members<Set>::evaluate(Laws{}, circuit, numbers.base);
    for (const Run *run = circuit.runs.data(), *last = run + circuit.runs.size(); run != last; ++run) evaluate_run(*run, numbers, verdict);
    if constexpr (!single) judge(circuit, numbers, state, verdict);
  }

  static void advance(const Circuit& circuit, StateOf<Number>& state) { advance(circuit, state, true); }
  /// `foretold`: whether reaches are those of the step before, so that they tell what is left.
  [[gnu::flatten]] static void advance(const Circuit& circuit, StateOf<Number>& state, bool foretold) {
    const Numbers numbers(circuit, state);
    solve(circuit, numbers);
    P too_much{0.0}, farthest{0.0}, sum{0.0};
    move(circuit, numbers, foretold, too_much, farthest, sum);
    P limited{0.0};
    const Branch* branch = circuit.branches.data();
    const Branch* const end = end_of(circuit);
    if constexpr (!single)
      for (; branch != end && branch->law == outside; ++branch) OutsideParts<Set>::limit(*branch, state, numbers, limited);
    Branches<Set>::limit(Laws{}, branch, end, numbers, limited);
    Members<Set>::limit(Laws{}, circuit, numbers.base, limited);
    foresee(circuit, numbers, state, too_much <= 0.0 && farthest <= circuit.most_polish && sum <= P::huge, limited);
    if constexpr (!single)
      if (state.accepted != 0) complete(circuit, numbers, state, farthest, sum);
  }
};

}  // namespace flarenut::lanes

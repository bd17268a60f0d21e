#pragma once
/// Tees and wyes: what a stream loses, or gains, where three lines meet.
///
/// Three legs: `run1` and `run2` face each other, `branch` leaves at angle θ: the turn of a stream going from run1 into
/// the branch (90° for a tee; 45° for a wye raked away from run1: easy from run1 to branch and from branch to run1).
/// Flows are signed, positive **into** the junction.
///
///     run1 ──►──┬──►── run2            Results are differences of total pressure over density, [m²/s²]:
///               │ θ                    P(run1) − P(run2) and P(run1) − P(branch).
///             branch                   Either may be negative: the quick stream drags the slow one along.
///
/// With u = |Q|/A per leg and c_ij = cos(κ δ_ij), δ_ij the turn from leg i to leg j. κ = ¾ for equal bores: the stream turns
/// less than the pipe does (M. D. Bassett, D. E. Winterbone and R. J. Pearson, Proc. Inst. Mech. Eng. C 215, 861 (2001)). A
/// small leg guides its stream fully: κ → 1, as in the formulas of Crane Technical Paper 410; straight line between in
/// the ratio of the areas (ours, fitted by eye to that paper).
///
/// - **Dividing** from leg i, each outlet j:   P_i − P_j = ½ (u_i² + u_j² − 2 c_ij u_i u_j),
///   the momentum balance of that stream; straight through it is Borda–Carnot ½(u_i − u_j)². Straight on, the slowed
///   stream recovers more than that: factor 0.4 + 0.6 λ⁴, λ = Q_j/Q_i (0.4: Crane TP 410; A. Gardel 1957 has 0.35).
/// - **Combining** into leg j from i and k, one static pressure at the two inlets (J. P. Mynard and K. Valen-Sendstad,
///   Int. J. Numer. Meth. Biomed. Eng. 31, e02717 (2015)):  P_i − P_k = ½ (u_i² − u_k²), with factor 0.4 where the
///   inlets face each other, and from the momentum balance along j
///   Σ λ_i (P_i − P_j) = ½ Σ λ_i (u_i² + u_j² − 2 c_ij u_i u_j).
///   With κ = 1 this is exactly the combining formula of Crane TP 410 with C = 1.
///
/// **No free energy**: the power lost is ½ρ Σ Q (u_i² + u_j² − 2 c u_i u_j), and each bracket is a square of a vector
/// difference, so never negative, for any bores, angle and split. That is why this form was chosen: published tables of
/// K cover four of the six patterns, jump at the edges of their columns and do not join where a flow turns round.
/// docs/theory/junctions.md derives it and shows how far it lies from published K.
///
/// **Continuity**: both formulas give the same pressures where a leg stands still, so all six flow patterns join. Their
/// slopes would differ there; while that leg has less than about a tenth of the main stream's flow and velocity they are
/// eased into each other so that the slopes join too (the power lost stays non-negative). Runs of unequal bore keep a kink
/// of at most a tenth of the slope's own size, at the moment the branch comes to rest.
///
/// **Viscous share**, linear in flow, so that cold oil has a slope at rest: each leg adds ½ K1 ν u/d towards the middle,
/// K1 = 100 for a run leg, 700 for the branch: 200 straight through, 800 round the corner (Darby's three-K table,
/// threaded tee).
///
/// Turbulent data behind it; bores 0.2 to 1 of each other, θ 30° to 150°.

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/autodiff/smooth.hpp"
#include "flarenut/correlations/chain.hpp"

namespace flarenut::correlations {

/// A three-legged fitting, reduced to what the losses need. Legs in the order run1, run2, branch.
template <Number S>
struct JunctionShapeOf {
  std::array<S, 3> area{};             ///< bore area of each leg [m²]
  std::array<S, 3> turn_cosine{};      ///< cos κδ of the pair that leaves leg k out, at index k
  std::array<double, 3> recovery{};    ///< share of ½u² lost into a standing leg, for the pair that leaves k out
  std::array<double, 3> viscous{};     ///< K1 of each leg
};
using JunctionShape = JunctionShapeOf<double>;

/// Share of the velocity head that does not reach the standing straight-on leg.
inline constexpr double straight_on_loss = 0.4;

/// `branch_angle` in radians, the turn from run1 into the branch.
template <Number S>
JunctionShapeOf<S> tee_shape(const S& run1_area, const S& run2_area, const S& branch_area, const S& branch_angle) {
  using std::cos;
  const auto turn_cosine = [&](const S& run_area, const S& turn) -> S {
    const S ratio = std::min(run_area, branch_area) / std::max(run_area, branch_area);
    return cos((1.0 - 0.25 * ratio) * turn);
  };
  return {.area = {run1_area, run2_area, branch_area},
          .turn_cosine = {turn_cosine(run2_area, S(std::numbers::pi - branch_angle)), turn_cosine(run1_area, branch_angle),
                          S(1.0)},
          .recovery = {1.0, 1.0, straight_on_loss},
          .viscous = {100.0, 100.0, 700.0}};
}

template <Number T>
struct JunctionDrops {
  T run1_to_run2{};
  T run1_to_branch{};
};

namespace detail {

/// Index of the leg that is neither a nor b; it also names the pair (a, b).
constexpr std::size_t other_leg(std::size_t a, std::size_t b) { return 3 - a - b; }

/// 0 for a leg that stands still, 1 once it moves. Small only where both its share of the flow and its velocity,
/// compared with the main stream, are small.
template <Number T>
T awake(const T& share, const T& velocity_ratio) {
  constexpr double per_zone = 1.0 / 0.2;
  return smooth_step((share + velocity_ratio) * per_zone);
}

/// Half the difference between the slopes that the combining and the dividing formula give to P_i − P_j as leg k starts to
/// move, per unit of its share, eased out as it wakes: taken off both sides, the slopes meet. Facing legs use the slower of
/// their velocities, which keeps the power lost non-negative where their bores differ.
template <Number T, Number S>
T slope_easing(const T& share, const T& awake_k, const T& u_i, const T& u_j, const S& cosine, bool facing,
               double recovery_ik) {
  const T& slower = u_i < u_j ? u_i : u_j;
  const T product = facing ? slower * slower : u_i * u_j;
  return (cosine * product - 0.5 * (1.0 - recovery_ik) * u_i * u_i) * (0.5 * share * (1.0 - awake_k));
}

/// One leg i in, two out. Writes P_i − P_j for both outlets.
template <Number T, Number S>
void dividing(const JunctionShapeOf<S>& shape, const std::array<T, 3>& speed, const std::array<T, 3>& flow, std::size_t in,
              std::array<T, 3>& drop_from_in) {
  for (std::size_t out = 0; out < 3; ++out) {
    if (out == in) continue;
    const std::size_t third = other_leg(in, out);
    const T share = -flow[out] / flow[in];
    const T third_share = -flow[third] / flow[in];
    const T awake_out = awake(share, T(speed[out] / speed[in]));
    const T awake_third = awake(third_share, T(speed[third] / speed[in]));
    const double standing = shape.recovery[third];
    const T share_2 = share * share;
    const T lost = standing == 1.0 ? T(1.0) : standing + (1.0 - standing) * (share_2 * share_2);
    const T cross = 2.0 * shape.turn_cosine[third] * awake_out * (speed[in] * speed[out]);
    drop_from_in[out] = 0.5 * lost * (speed[in] * speed[in] + speed[out] * speed[out] - cross) -
                        slope_easing(third_share, awake_third, speed[in], speed[out], shape.turn_cosine[third],
                                     shape.turn_cosine[third] == 1.0, shape.recovery[out]);
  }
  drop_from_in[in] = T(0.0);
}

/// Two legs in, one out. Writes P_i − P_out for both inlets.
template <Number T, Number S>
void combining(const JunctionShapeOf<S>& shape, const std::array<T, 3>& speed, const std::array<T, 3>& flow,
               std::size_t out, std::array<T, 3>& drop_to_out) {
  const std::size_t i = (out + 1) % 3;
  const std::size_t k = (out + 2) % 3;
  T mean_drop = 0.5 * (speed[out] * speed[out]);
  std::array<T, 3> share{};
  for (const std::size_t in : {i, k}) {
    const std::size_t third = other_leg(in, out);
    share[in] = -flow[in] / flow[out];
    const T awake_in = awake(share[in], T(speed[in] / speed[out]));
    mean_drop += share[in] * speed[in] * (0.5 * speed[in] - shape.turn_cosine[third] * awake_in * speed[out]);
    // `in` starts to move beside the stream third -> out.
    mean_drop -= slope_easing(share[in], awake_in, speed[third], speed[out], shape.turn_cosine[in],
                              shape.turn_cosine[in] == 1.0, shape.recovery[out]);
  }
  const T between = 0.5 * shape.recovery[out] * (speed[i] * speed[i] - speed[k] * speed[k]);
  drop_to_out[i] = mean_drop + share[k] * between;
  drop_to_out[k] = mean_drop - share[i] * between;
  drop_to_out[out] = T(0.0);
}

}  // namespace detail

/// Differences of total pressure over density between the legs. `flow` [m³/s] into the junction, summing to zero (the
/// branch's entry is not read but taken from the other two, so a small imbalance cannot make energy).
/// `kinematic_viscosity` [m²/s].
template <Number S, Number Flow, Number Nu>
JunctionDrops<Combined<Flow, Nu, S>> junction_drops(const JunctionShapeOf<S>& shape, const Flow& run1_flow,
                                                    const Flow& run2_flow, const Nu& kinematic_viscosity) {
  using T = Combined<Flow, S>;
  using std::abs;
  using std::sqrt;
  const std::array<T, 3> flow{T(run1_flow), T(run2_flow), T(-(run1_flow + run2_flow))};
  std::array<T, 3> speed{};
  for (std::size_t leg = 0; leg < 3; ++leg) speed[leg] = abs(flow[leg]) * (1.0 / shape.area[leg]);

  // The main leg carries the whole flow: the one whose sign differs from the other two.
  std::size_t main = 0;
  for (std::size_t leg = 1; leg < 3; ++leg) {
    if (abs(value_of(flow[leg])) > abs(value_of(flow[main]))) main = leg;
  }
  std::array<T, 3> head{};  // inertial total pressure over density, relative to the main leg
  if (value_of(flow[main]) > 0.0) {
    detail::dividing(shape, speed, flow, main, head);
    for (T& h : head) h = -h;
  } else if (value_of(flow[main]) < 0.0) {
    detail::combining(shape, speed, flow, main, head);
  }

  std::array<Combined<T, Nu>, 3> total{};
  for (std::size_t leg = 0; leg < 3; ++leg) {
    const S bore = sqrt(shape.area[leg] * (4.0 / std::numbers::pi));
    total[leg] = head[leg] + 0.5 * shape.viscous[leg] / (bore * shape.area[leg]) * (kinematic_viscosity * flow[leg]);
  }
  return {total[0] - total[1], total[0] - total[2]};
}

}  // namespace flarenut::correlations

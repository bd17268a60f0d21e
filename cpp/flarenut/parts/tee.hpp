#pragma once
/// Tee or wye: three legs that meet, a run and a branch off it.
///
/// What it is: at a branch a stream divides, or two streams join. What each leg loses depends on how the flow splits,
/// and a slow leg that meets a quick one may even gain pressure from it.
///
///     port 0 (run1) ──►──┬──►── port 1 (run2)        flow 0: port 0 to port 1
///                        │ θ                         flow 1: port 0 to port 2
///                     port 2 (branch)
///
///   p₀ − p₁ = ρ · (loss from run1 to run2 of the two volume flows)
///   p₀ − p₂ = ρ · (loss from run1 to the branch)
///
/// The losses, for all six flow patterns, with reverse and zero flows, stand in `correlations/junction.hpp`: momentum
/// balances with published turning factors, joined smoothly; a viscous share keeps slopes at rest.
/// Pressures are total: the velocity heads in the legs are not lost here.
///
/// θ is the turn of a stream from run1 into the branch: 90° for a tee, 45° for a wye raked so that run1 feeds it easily.
///
/// Assumes: sharp corners, legs as wide as their bores right up to the middle; a few bores of line on each leg.
/// Range: bores 0.2 to 1 of each other, θ 30° to 150°; take ±0.3 velocity heads as the band of any tee.
/// Sign: ports and flows as drawn; any flow may be negative.
/// Source: see `correlations/junction.hpp`.

#include "flarenut/correlations/junction.hpp"
#include "flarenut/parts/part.hpp"

namespace flarenut::parts {

template <Number N = double>
struct TeeSpec {
  Length<N> run1_bore{};    ///< bore at port 0
  Length<N> run2_bore{};    ///< bore at port 1, straight on
  Length<N> branch_bore{};  ///< bore at port 2
  Ratio<N> branch_angle = Ratio<N>::from_value(N(1.57079632679489661923));  ///< 90°: a plain tee

  static constexpr auto fields() {
    using S = TeeSpec;
    return std::tuple{
        Field<S, Length<N>>{"run1_bore", &S::run1_bore, 1e-4, 0.5, "m", "bore of the run at port 0"},
        Field<S, Length<N>>{"run2_bore", &S::run2_bore, 1e-4, 0.5, "m", "bore of the run at port 1"},
        Field<S, Length<N>>{"branch_bore", &S::branch_bore, 1e-4, 0.5, "m", "bore of the branch"},
        Field<S, Ratio<N>>{"branch_angle", &S::branch_angle, 0.52359877559829887308, 2.61799387799149436539, "rad",
                           "turn from the run at port 0 into the branch: 30 to 150 deg"},
    };
  }
  void check(std::string_view part) const;
};

template <Number N = double>
class Tee {
 public:
  template <Number M>
  using Spec = TeeSpec<M>;
  static constexpr std::string_view kind = "tee";
  static constexpr Shape shape{.ports = 3, .flows = 2, .senses = 0};
  template <Number M>
  using State = PartState<M, 3, 2, 0>;

  /// Both flows leave port 0; flow 0 arrives at port 1, flow 1 at port 2.
  static constexpr int inflow(int port, int flow) {
    if (port == 0) return -1;
    return port == flow + 1 ? +1 : 0;
  }

  Tee(const TeeSpec<N>& spec, const LiquidState<N>& liquid)
      : density_(liquid.density.value()), per_density_(1.0 / density_), viscosity_(liquid.viscosity.value() / density_),
        shape_(correlations::tee_shape(N(bore_area(spec.run1_bore).value()), N(bore_area(spec.run2_bore).value()),
                                       N(bore_area(spec.branch_bore).value()), spec.branch_angle.value())),
        bores_{without_slope<Length>(spec.run1_bore), without_slope<Length>(spec.run2_bore),
               without_slope<Length>(spec.branch_bore)} {}

  template <Number M>
  std::array<PressureDifference<Mixed<N, M>>, 2> mismatch(const State<M>& state) const {
    using Pressure = PressureDifference<Mixed<N, M>>;
    const auto [straight, aside] = drops(state.flow[0].value(), state.flow[1].value());
    return {Pressure(state.pressure[0] - state.pressure[1]) - Pressure::from_value(straight),
            Pressure(state.pressure[0] - state.pressure[2]) - Pressure::from_value(aside)};
  }

  /// A middling flow in at port 0, shared by the two others as their areas.
  std::array<MassFlow<>, 2> start_flow() const;
  std::array<Length<>, 3> bores() const { return bores_; }

 private:
  template <Number M>
  std::array<M, 2> total_drops(const M& straight_flow, const M& branch_flow) const {
    const auto lost = correlations::junction_drops(shape_, M((straight_flow + branch_flow) * per_density_),
                                                   M(-straight_flow * per_density_), viscosity_);
    return {density_ * lost.run1_to_run2, density_ * lost.run1_to_branch};
  }

  /// The losses depend on the two flows alone, so slopes are taken by those two and handed on: a state carries five.
  template <Number M>
  std::array<Mixed<N, M>, 2> drops(const M& straight_flow, const M& branch_flow) const {
    if constexpr (IsDual<N>::value) {
      return total_drops(N(straight_flow), N(branch_flow));
    } else if constexpr (std::is_same_v<M, double>) {
      return total_drops(straight_flow, branch_flow);
    } else {
      const auto lost = total_drops(Dual<2>(straight_flow.value, 0), Dual<2>(branch_flow.value, 1));
      const auto handed_on = [&](const Dual<2>& drop) {
        return correlations::chain(drop.value, drop.slope[0], straight_flow, drop.slope[1], branch_flow);
      };
      return {handed_on(lost[0]), handed_on(lost[1])};
    }
  }

  N density_, per_density_, viscosity_;
  correlations::JunctionShapeOf<N> shape_;
  std::array<Length<>, 3> bores_;
};

}  // namespace flarenut::parts

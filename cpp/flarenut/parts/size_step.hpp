#pragma once
/// Size step: a reducer, an adapter or the end of a hose that is narrower than the hose.
///
/// What it is: the bore changes from one port to the other, at once or over a cone. Narrowing, the stream contracts and
/// fills out again; widening, its jet mixes with slow liquid. Widening costs more.
///
///   Δp = K · ρ V² / 2,  V in the smaller bore, β = d_small/d_large, θ the included angle of the cone
///   widening   K = (1 − β²)² · min(1, 2.6 sin(θ/2)),  from 45° the whole (1 − β²)²
///   narrowing  K = 0.5 (1 − β²) · min(1.6 sin(θ/2), √sin(θ/2))
///
/// with a viscous share and a smooth passage through zero flow as in `local_loss.hpp`.
/// The pressures are total pressures: what is counted is the loss. The static pressure also changes with the velocity
/// head, and that part is read from the bores, not lost here.
///
/// Assumes: each side long enough for the stream to settle. Range: turbulent values at Reynolds above about 4000 in the
/// smaller bore. Sign: positive flow from port 0 (`inlet_bore`) to port 1 (`outlet_bore`); either may be the smaller.
/// Source: Borda–Carnot; A. H. Gibson 1912; Crane Technical Paper 410 (`correlations/size_step.hpp`).

#include "flarenut/parts/local_loss.hpp"

namespace flarenut::parts {

template <Number N = double>
struct SizeStepSpec {
  Length<N> inlet_bore{};   ///< bore at port 0
  Length<N> outlet_bore{};  ///< bore at port 1
  Ratio<N> included_angle = Ratio<N>::from_value(N(3.14159265358979323846));  ///< 180°: a sudden step, the costliest

  static constexpr auto fields() {
    using S = SizeStepSpec;
    return std::tuple{
        Field<S, Length<N>>{"inlet_bore", &S::inlet_bore, 1e-4, 0.5, "m", "bore at the inlet"},
        Field<S, Length<N>>{"outlet_bore", &S::outlet_bore, 1e-4, 0.5, "m", "bore at the outlet"},
        Field<S, Ratio<N>>{"included_angle", &S::included_angle, 0.01, 3.14159265358979323846, "rad",
                           "included angle of the cone; 180 deg is a sudden step"},
    };
  }
};

template <Number N = double>
class SizeStep {
 public:
  template <Number M>
  using Spec = SizeStepSpec<M>;
  static constexpr std::string_view kind = "size step";
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  SizeStep(const SizeStepSpec<N>& spec, const LiquidState<N>& liquid)
      : bores_{without_slope<Length>(spec.inlet_bore), without_slope<Length>(spec.outlet_bore)},
        loss_(loss_of(spec, liquid)) {
    start_ = middling_flow(narrows(spec) ? spec.outlet_bore : spec.inlet_bore, liquid);
  }

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return loss_.drop(flow);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {start_}; }
  std::array<Length<>, 2> bores() const { return bores_; }

 private:
  static bool narrows(const SizeStepSpec<N>& spec) {
    return value_of(spec.outlet_bore.value()) < value_of(spec.inlet_bore.value());
  }
  static StepLoss<N> loss_of(const SizeStepSpec<N>& spec, const LiquidState<N>& liquid) {
    const auto passage = narrows(spec) ? Passage::into_small_bore : Passage::out_of_small_bore;
    const auto& small = narrows(spec) ? spec.outlet_bore : spec.inlet_bore;
    const auto& large = narrows(spec) ? spec.inlet_bore : spec.outlet_bore;
    const N ratio = (small / large).value();
    const N angle = spec.included_angle.value();
    return {passage, small, ratio, correlations::gradual_contraction_loss(ratio, angle),
            correlations::gradual_expansion_loss(ratio, angle), liquid};
  }

  std::array<Length<>, 2> bores_;
  MassFlow<> start_;
  StepLoss<N> loss_;
};

}  // namespace flarenut::parts

#pragma once
/// The loss of a fitting, a step or an opening: a share that follows viscosity and a share that follows density.
///
/// What it is: what a stream loses where its bore bends, narrows, widens or ends, on top of the friction of the lines.
///
///   Δp = (K1/Re + K) · ρ V² / 2   =   K1 · μ V / (2 d)  +  K · ρ V|V| / 2          V = q / (ρ A)
///
/// on the bore d. The second form is the one in use: regular at zero flow, where K1 alone gives the slope.
///
/// `LocalLoss` has one K1 and one K both ways. `StepLoss` has a K for each direction: out of the small bore into the
/// large one the jet is lost, into the small bore it contracts. At rest both directions must cost the same (creeping
/// flow runs the same streamlines backwards), and they do: K1 is 6π(1 − β⁴) each way, and into the small bore it grows to
/// 160(1 − β⁴), the constant of an entrance, as an inlet length forms:
///
///   K1 = (1 − β⁴) · (6π + (160 − 6π) · Re / (Re + 10)) + 1       into the small bore; out of it, the first term and 1
///
/// so value and slope of Δp pass through zero without a kink. The turn at Re 10 is ours (common practice, no source).
/// The 1, as much as a sixtieth of a bore of tube, keeps a slope where the two bores are equal.
/// β = d_small/d_large. Constants and sources: `correlations/size_step.hpp`.

#include "flarenut/correlations/size_step.hpp"
#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N>
using LinearFlowResistance = decltype(PressureDifference<N>{} / MassFlow<N>{});

/// Pressure per mass flow for each unit of K1.
template <Number N>
LinearFlowResistance<N> viscous_loss_scale(const Length<N>& bore, const LiquidState<N>& liquid) {
  return liquid.viscosity / (2.0 * bore * liquid.density * bore_area(bore));
}

/// Pressure per mass flow squared for each unit of K.
template <Number N>
SquareFlowResistance<N> inertial_loss_scale(const Length<N>& bore, const LiquidState<N>& liquid) {
  const auto area = bore_area(bore);
  return 1.0 / (2.0 * liquid.density * (area * area));
}

/// Mass flow at a Reynolds number in a bore.
template <Number N>
MassFlow<N> flow_at_reynolds(double reynolds, const Length<N>& bore, const DynamicViscosity<N>& viscosity) {
  return 0.78539816339744830962 * reynolds * (bore * viscosity);  // π/4
}

/// Mass flow at 1.5 m/s in a bore: where a cold solve may begin.
template <Number N>
MassFlow<> middling_flow(const Length<N>& bore, const LiquidState<N>& liquid) {
  return without_slope<MassFlow>(liquid.density * bore_area(bore) * Velocity<N>::from_value(N(1.5)));
}

template <Number N = double>
class LocalLoss {
 public:
  LocalLoss(const N& laminar_constant, const N& turbulent_constant, const Length<N>& bore,
            const LiquidState<N>& liquid)
      : linear_(laminar_constant * viscous_loss_scale(bore, liquid)),
        square_(turbulent_constant * inertial_loss_scale(bore, liquid)) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return linear_ * flow + square_ * signed_square_flow(flow);
  }

 private:
  LinearFlowResistance<N> linear_;
  SquareFlowResistance<N> square_;
};

/// Which way a positive flow passes a change of bore.
enum class Passage { into_small_bore, out_of_small_bore };

template <Number N = double>
class StepLoss {
 public:
  /// `ratio` = d_small/d_large, 0 for a tank; the two K are those at high Reynolds number, on the small bore.
  StepLoss(Passage forward, const Length<N>& small_bore, const N& ratio, const N& loss_into, const N& loss_out,
           const LiquidState<N>& liquid) {
    const N ratio_squared = ratio * ratio;
    const N both = correlations::exit_viscous_constant * (1.0 - ratio_squared * ratio_squared);
    const N forming = (correlations::entrance_viscous_constant - correlations::exit_viscous_constant) *
                      (1.0 - ratio_squared * ratio_squared);
    const auto viscous = viscous_loss_scale(small_bore, liquid);
    const auto inertial = inertial_loss_scale(small_bore, liquid);
    linear_ = (both + least_laminar_constant) * viscous;
    turn_ = flow_at_reynolds(forming_reynolds, small_bore, liquid.viscosity);
    const Way into{loss_into * inertial, forming * viscous};
    const Way out{loss_out * inertial, LinearFlowResistance<N>{}};
    forward_ = forward == Passage::into_small_bore ? into : out;
    backward_ = forward == Passage::into_small_bore ? out : into;
  }

  template <Number M>
  PressureDifference<Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    const bool back = value_of(flow.value()) < 0.0;
    const Way& way = back ? backward_ : forward_;
    const auto size = back ? -flow : flow;
    const auto per_flow = linear_ + way.square * size + way.forming * (size / (size + turn_));
    return per_flow * flow;
  }

 private:
  static constexpr double forming_reynolds = 10.0;
  static constexpr double least_laminar_constant = 1.0;

  /// What differs between the two directions.
  struct Way {
    SquareFlowResistance<N> square;
    LinearFlowResistance<N> forming;
  };

  LinearFlowResistance<N> linear_;
  MassFlow<N> turn_;
  Way forward_, backward_;
};

}  // namespace flarenut::parts

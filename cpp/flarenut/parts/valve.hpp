#pragma once
/// Valve: a cock, a needle valve or any hand-set or commanded restriction known by its flow coefficient.
///
/// What it is: an opening that somebody sets. Its coefficient says what it passes wide open; `opening` is the share of
/// that coefficient now (not degrees of the handle: the maker's curve turns those into a share).
///
///   Δp = (q|q| + q_l q) / (ρ (y Av)²)       y = leak + (1 − leak) · opening
///   Q = Av √(Δp/ρ)                          wide open, turbulent
///
/// Av is the flow coefficient as an area: Kv/36016 m² (Kv in m³/h of water at 1 bar), Cv/41638 m² (Cv in US gal/min of
/// water at 1 psi); `correlations/valve.hpp` converts. q_l is the flow at Reynolds 10 in the area Av, below which the
/// loss turns linear. `leak` is what a shut valve passes; it is never 0, so y is not either.
///
/// Assumes: turbulent flow, no cavitation or flashing; the bore is the same on both sides.
/// Range: published coefficients hold above Reynolds 10⁴ in the port; cold oil costs more than this says.
/// Sign: positive flow from port 0 to port 1, the same backwards.
/// Source: IEC 60534-1 (definition of Kv and Cv, from memory).

#include "flarenut/correlations/valve.hpp"
#include "flarenut/parts/spring_opening.hpp"

namespace flarenut::parts {

template <Number N = double>
struct ValveSpec {
  Area<N> flow_coefficient{};                            ///< Av: from Kv or Cv, or from one drop at one flow
  Ratio<N> opening = Ratio<N>::from_value(N(1.0));       ///< share of the coefficient: wide open unless said
  Ratio<N> leak = Ratio<N>::from_value(N(1e-5));         ///< share left when shut; also keeps a slope there
  Length<N> bore{};                                      ///< of its ports; 0 (preset): velocity head not told

  static constexpr auto fields() {
    using S = ValveSpec;
    return std::tuple{
        Field<S, Area<N>>{"flow_coefficient", &S::flow_coefficient, 1e-10, 0.1, "m2",
                          "Av = Q √(ρ/Δp): Kv / 36016, Cv / 41638"},
        Field<S, Ratio<N>>{"opening", &S::opening, 0.0, 1.0, "", "share of the flow coefficient: 0 shut, 1 wide open"},
        Field<S, Ratio<N>>{"leak", &S::leak, 1e-7, 1e-2, "", "share that a shut valve still passes"},
        Field<S, Length<N>>{"bore", &S::bore, 0.0, 0.5, "m", "bore of its ports; 0: not told"},
    };
  }
};

template <Number N = double>
class Valve {
 public:
  template <Number M>
  using Spec = ValveSpec<M>;
  static constexpr std::string_view kind = "valve";
  static constexpr Shape shape{};

  Valve(const ValveSpec<N>& spec, const LiquidState<N>& liquid)
      : bore_(without_slope<Length>(spec.bore)), shut_(value_of(spec.opening.value()) == 0.0) {
    const N share = spec.leak.value() + (1.0 - spec.leak.value()) * spec.opening.value();
    const auto area = share * spec.flow_coefficient;
    square_ = 1.0 / (liquid.density * area * area);
    linear_ = square_ * laminar_flow_floor(spec.flow_coefficient, liquid.viscosity);
    start_ = without_slope<MassFlow>(sqrt(middling_drop() / square_));
  }

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return linear_ * flow + square_ * signed_square_flow(flow);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {start_}; }
  std::array<Length<>, 2> bores() const { return {bore_, bore_}; }
  Regime regime(const PartState<double>&) const { return shut_ ? Regime::shut : Regime::passive; }

 private:
  /// A guess for a cold start.
  static PressureDifference<N> middling_drop() { return PressureDifference<N>::from_value(N(2e4)); }

  SquareFlowResistance<N> square_;
  decltype(PressureDifference<N>{} / MassFlow<N>{}) linear_;
  MassFlow<> start_;
  Length<> bore_;
  bool shut_;
};

}  // namespace flarenut::parts

#pragma once
/// Orifice: a drilled plate, a jet or a restrictor thinner than its hole is wide.
///
/// What it is: a sharp-edged hole. The stream contracts to a jet behind it, and most of the jet's head is lost as it
/// mixes; in a narrow line the jet gives some of it back.
///
///   Δp = K · ρ V² / 2 + 12π · μ V / (2 d)          V in the hole of diameter d, β = d/D, D the bore of the line
///   K  = ( √(1 − β⁴(1 − C²)) / C − β² )²           the permanent loss; 1/C² between wide spaces (β = 0)
///
/// C is the discharge coefficient, 12π the creeping flow through a thin hole. This is what the circuit loses, not the
/// larger difference that a meter reads between its taps.
///
/// `discharge_coefficient` left at 0 means a sharp edge: 0.5961 + 0.0261 β² − 0.216 β⁸. A measured one beats it; a
/// rounded or worn jet reaches 0.8 to 0.95 (common practice, no source). A coefficient belongs to the way it was
/// measured: C here is the one of `Q = C A √(2 Δp / (ρ (1 − β⁴)))`, so in a wide space of `Q = C A √(2 Δp / ρ)`.
///
/// Assumes: no cavitation; the downstream pressure stays well above vapour pressure. Range: plate thinner than half the
/// hole; the formula for C is made for plates in pipes of 50 mm and more, small jets extrapolate. Between Reynolds 10
/// and 1000 real plates pass up to a tenth more. Sign: positive flow from port 0 to port 1, the same backwards.
/// Source: ISO 5167-2:2003; R. A. Sampson 1891 (`correlations/orifice.hpp`).

#include "flarenut/correlations/orifice.hpp"
#include "flarenut/parts/local_loss.hpp"

namespace flarenut::parts {

template <Number N = double>
struct OrificeSpec {
  Length<N> bore{};                  ///< diameter of the hole
  Length<N> line_bore{};             ///< of the line on both sides; 0 (preset): much wider than the hole
  Ratio<N> discharge_coefficient{};  ///< 0 (preset): sharp edge, from the bores

  static constexpr auto fields() {
    using S = OrificeSpec;
    return std::tuple{
        Field<S, Length<N>>{"bore", &S::bore, 2e-5, 0.5, "m", "diameter of the hole"},
        Field<S, Length<N>>{"line_bore", &S::line_bore, 0.0, 0.5, "m", "bore of the line; 0: much wider than the hole"},
        Field<S, Ratio<N>>{"discharge_coefficient", &S::discharge_coefficient, 0.0, 1.0, "",
                           "measured coefficient; 0: sharp edge"},
    };
  }
  void check(std::string_view part) const;
};

/// The cross-check that both restrictors share: a hole no wider than its line.
void require_hole_in_line(std::string_view part, double bore, double line_bore);

template <Number N = double>
class Orifice {
 public:
  template <Number M>
  using Spec = OrificeSpec<M>;
  static constexpr std::string_view kind = "orifice";
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  Orifice(const OrificeSpec<N>& spec, const LiquidState<N>& liquid)
      : line_bore_(without_slope<Length>(spec.line_bore)), start_(middling_flow(spec.bore, liquid)),
        loss_(N(correlations::orifice_viscous_constant), permanent_loss(spec), spec.bore, liquid) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return loss_.drop(flow);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {start_}; }
  std::array<Length<>, 2> bores() const { return {line_bore_, line_bore_}; }

 private:
  static N permanent_loss(const OrificeSpec<N>& spec) {
    const bool wide = value_of(spec.line_bore.value()) == 0.0;
    const N beta = wide ? N(0.0) : N((spec.bore / spec.line_bore).value());
    const N given = spec.discharge_coefficient.value();
    return correlations::orifice_permanent_loss(
        beta, value_of(given) == 0.0 ? correlations::sharp_orifice_coefficient(beta) : given);
  }

  Length<> line_bore_;
  MassFlow<> start_;
  LocalLoss<N> loss_;
};

}  // namespace flarenut::parts

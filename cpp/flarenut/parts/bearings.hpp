#pragma once
/// Bearings: what an engine's main gallery feeds. A row of like journal bearings under supply pressure.
///
/// What it is: oil comes to a groove round the middle of each bearing, runs out sideways through the clearance between journal and
/// shell, and drips into the sump. The clearance is a long thin slot: flow goes with supply pressure, with the cube of the clearance
/// and against viscosity. Beside that the turning journal drags oil sideways out of its loaded half, which the groove makes
/// up for. Camshaft and rod bearings are rows of their own, or a share of this one.
///
///              groove
///   shell   ═════╗ ╔═════
///             ← oil ←┃→ oil →      two lands, each `land_width` wide
///   journal ━━━━━━━━━━━━━
///
///   Q_p(Δp) = n π d c³ (1 + 1.5 ε²) Δp / (6 μ_f w)         pressed through: both lands
///   Q_h     = n π d N w c ε                                 dragged out: both lands, at most
///   Q       = Q_p + Q_h · Q_p / (Q_p + Q_h)                 a groove without pressure makes up for nothing
///   Δp      = R/2 · (Q − 2 Q_h + √(Q² + 4 Q_h²))            the same solved for Δp, with R = Δp / Q_p
///   μ_f     = film_viscosity · μ
///
/// c is the **radial** clearance, half of what a builder measures across the diameter; d the diameter, w the width of one land,
/// N the turns per second, ε the eccentricity: how far off centre the journal runs, of its clearance. Backwards it is a straight
/// line of the same slope as at rest. At rest (N = 0) only the first line is left, Δp = R Q.
///
/// Assumes: laminar film, both lands alike, a groove all round. One in the unloaded half alone passes nearly as much: with ε = 0.8,
/// 95 % (the integral of the clearance cubed over that half), as the wide gap is there. Rods that are fed through one hole pass less.
/// The film is hotter than the gallery, which the part does not know: `film_viscosity` says how much thinner it is there.
/// Range: ε 0 to 0.95; loads that move the journal about within a turn are in ε only as a mean.
/// Ports: oil stands at port 0; port 1 drips in open air, so that its height counts for nothing.
/// Sign: positive flow from gallery (port 0) to sump (port 1).
/// Source: the narrow slot between plates, its cube averaged over (1 + ε cos θ)³; that is the textbook form for a bearing with a groove
/// round its middle (J. E. Shigley, Mechanical Engineering Design, pressure-fed bearings: Q = π r c³ Δp (1 + 1.5 ε²)/(3 μ l'), from memory).
/// Side flow: the short bearing of F. W. Ocvirk and G. B. DuBois (NACA 1157, 1953, from memory), π d N w c ε from both edges of a land;
/// of each land one edge leaks to the sump. How the groove's pressure limits it is a convention of this engine (no source).

#include "flarenut/parts/part.hpp"

namespace flarenut::parts {

template <Number N = double>
struct BearingsSpec {
  Ratio<N> count = Ratio<N>::from_value(N(1.0));  ///< bearings alike on this gallery
  Length<N> diameter{};                           ///< of the journal
  Length<N> land_width{};                         ///< of one land, from groove to edge: half of (shell less groove)
  Length<N> radial_clearance{};                   ///< half of bore less journal
  Ratio<N> eccentricity = Ratio<N>::from_value(N(0.8));  ///< loaded engine bearings 0.7 to 0.95 (common practice, no source)
  Frequency<N> speed{};                                  ///< turns per second; 0 (preset): side flow left out
  /// Viscosity of the film over that in the gallery: 1 as there (preset); 0.5 to 0.7 of a film 15 to 25 K hotter (common
  /// practice, no source; the liquid's own viscosities tell).
  Ratio<N> film_viscosity = Ratio<N>::from_value(N(1.0));

  static constexpr auto fields() {
    using S = BearingsSpec;
    return std::tuple{
        Field<S, Ratio<N>>{"count", &S::count, 0.01, 1000.0, "", "bearings alike on this gallery"},
        Field<S, Length<N>>{"diameter", &S::diameter, 1e-3, 1.0, "m", "diameter of the journal"},
        Field<S, Length<N>>{"land_width", &S::land_width, 2e-4, 0.5, "m", "width of one land, from groove to edge"},
        Field<S, Length<N>>{"radial_clearance", &S::radial_clearance, 1e-6, 1e-3, "m", "half of bore less journal"},
        Field<S, Ratio<N>>{"eccentricity", &S::eccentricity, 0.0, 0.99, "", "how far off centre the journal runs, of its clearance"},
        Field<S, Frequency<N>>{"speed", &S::speed, 0.0, 1000.0, "1/s", "turns per second of the journal"},
        Field<S, Ratio<N>>{"film_viscosity", &S::film_viscosity, 0.01, 10.0, "", "viscosity of the film over that in the gallery"},
    };
  }
  void check(std::string_view part) const;
};

template <Number N = double>
class Bearings {
 public:
  template <Number M>
  using Spec = BearingsSpec<M>;
  static constexpr std::string_view kind = "bearings";
  static constexpr Shape shape{};
  static constexpr bool wet(int port) { return port == 0; }

  Bearings(const BearingsSpec<N>& spec, const LiquidState<N>& liquid);

  template <Number M>
  PressureDifference<Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    using std::sqrt;
    const auto pressed = resistance_ * flow;
    const auto half = 0.5 * pressed;
    if (!(value_of(flow.value()) > 0.0)) return dragging_ ? half : pressed;
    // √(Q² + 4 Q_h²) − 2 Q_h, written so that a small flow keeps its digits.
    const auto q = flow.value();
    const auto twice = 2.0 * dragged_.value();
    const auto more = q / (sqrt(q * q + twice * twice) + twice);
    return half + half * more;
  }

  std::array<MassFlow<>, 1> start_flow() const { return {start_}; }
  std::array<Length<>, 2> bores() const { return {}; }

 private:
  decltype(PressureDifference<N>{} / MassFlow<N>{}) resistance_;
  MassFlow<N> dragged_;
  MassFlow<> start_;
  bool dragging_;
};

// ---- body ----

template <Number N>
Bearings<N>::Bearings(const BearingsSpec<N>& spec, const LiquidState<N>& liquid) {
  constexpr double pi = 3.14159265358979323846;
  const auto c = spec.radial_clearance;
  const N eccentric = spec.eccentricity.value();
  const N wider = 1.0 + 1.5 * eccentric * eccentric;
  const auto film = spec.film_viscosity * liquid.viscosity;
  resistance_ = 6.0 * film * spec.land_width / (pi * wider * spec.count * (spec.diameter * c) * (c * c) * liquid.density);
  dragged_ = pi * eccentric * spec.count * (spec.diameter * spec.land_width) * (c * spec.speed) * liquid.density;
  dragging_ = value_of(dragged_.value()) > 0.0;
  start_ = without_slope<MassFlow>(PressureDifference<N>::from_value(N(1e5)) / resistance_);  // at one bar: a guess
}

}  // namespace flarenut::parts

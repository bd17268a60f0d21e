#pragma once
/// Positive displacement pump: gear, gerotor or vane pump driven by the engine (oil, transmission, steering).
///
/// What it is: a pump that carries the same volume every turn and lets a little of it slip back through its
/// clearances, the more the higher the pressure and the thinner the oil. It pushes until something gives: the
/// relief valve that protects it is a part of its own.
///
///   Q = D n − slip          slip = a Δp + b √Δp          Δp = rise from inlet to outlet
///   a ∝ 1/μ   laminar slip through the clearances, b turbulent slip; both set by one rated point:
///   rated slip = D n_rated (1 − η_rated) at Δp_rated and μ_rated, of which `turbulent_share` is turbulent.
///
/// In impedance form, with S = D n − Q the slip that must be going on,
///
///   Δp = (1 − 2b / (b + √(b² + 4 a |S|₀))) · S / a            without turbulent slip simply S / a
///
/// |S|₀ rounded over 10⁻³ of the rated slip, so the slope at zero rise stays finite. The law is odd in S: pushed
/// from the inlet harder than it turns, it acts as a motor with the same clearances; at standstill the clearances
/// alone are left; with negative speed it pumps from port 1 to port 0.
///
/// Assumes: filled chambers (no loss from a starved or aerated inlet: check the suction margin), clearances that
/// do not change with pressure or temperature. b is taken at the density of the liquid at hand.
/// Range: viscosity within a decade or two of the rated one; cold oil makes it very stiff, as it is.
/// Sign: positive flow from inlet (port 0) to outlet (port 1) at positive speed.
/// Source: W. E. Wilson, Trans. ASME 71 (1949), laminar slip; W. M. J. Schlösser, 1961, turbulent slip (from memory).

#include "flarenut/parts/part.hpp"

namespace flarenut::parts {

template <Number N = double>
struct PositiveDisplacementPumpSpec {
  Volume<N> displacement{};  ///< volume carried per turn of the pump (not of the engine)
  Frequency<N> speed{};      ///< turns per second of the pump; cam-driven ones turn at half the engine's speed
  Ratio<N> rated_efficiency = Ratio<N>::from_value(N(0.9));  ///< volumetric, at the rated point (no source)
  PressureDifference<N> rated_rise{};                        ///< of the rated point
  Frequency<N> rated_speed{};                                ///< of the rated point
  DynamicViscosity<N> rated_viscosity = DynamicViscosity<N>::from_value(N(0.01));  ///< near SAE 30–40 at 100 °C
  Ratio<N> turbulent_share{};  ///< of the rated slip: 0 oil, towards 0.5 thin liquids and worn clearances (no source)

  static constexpr auto fields() {
    using S = PositiveDisplacementPumpSpec;
    return std::tuple{
        Field<S, Volume<N>>{"displacement", &S::displacement, 1e-9, 1e-2, "m3", "volume carried per turn"},
        Field<S, Frequency<N>>{"speed", &S::speed, -500.0, 500.0, "1/s", "turns per second of the pump", true},
        Field<S, Ratio<N>>{"rated_efficiency", &S::rated_efficiency, 0.1, 0.999, "",
                           "volumetric efficiency at the rated point"},
        Field<S, PressureDifference<N>>{"rated_rise", &S::rated_rise, 1e3, 1e8, "Pa", "rise at the rated point"},
        Field<S, Frequency<N>>{"rated_speed", &S::rated_speed, 0.1, 500.0, "1/s", "speed at the rated point"},
        Field<S, DynamicViscosity<N>>{"rated_viscosity", &S::rated_viscosity, 1e-4, 10.0, "Pa s",
                                      "viscosity at the rated point"},
        Field<S, Ratio<N>>{"turbulent_share", &S::turbulent_share, 0.0, 0.9, "",
                           "share of the rated slip that is turbulent"},
    };
  }
};

template <Number N = double>
class PositiveDisplacementPump {
 public:
  template <Number M>
  using Spec = PositiveDisplacementPumpSpec<M>;
  static constexpr std::string_view kind = "positive displacement pump";
  static constexpr Shape shape{};

  PositiveDisplacementPump(const PositiveDisplacementPumpSpec<N>& spec, const LiquidState<N>& liquid)
      : density_(liquid.density), delivery_(spec.displacement * spec.speed) {
    using std::sqrt;
    const VolumeFlow<N> rated_slip = spec.displacement * spec.rated_speed * (1.0 - spec.rated_efficiency.value());
    const N laminar_share = 1.0 - spec.turbulent_share.value();
    const N thinness = (spec.rated_viscosity / liquid.viscosity).value();
    laminar_slip_ = laminar_share * thinness * (rated_slip / spec.rated_rise);
    turbulent_slip_ = spec.turbulent_share.value() * rated_slip.value() / sqrt(spec.rated_rise.value());
    rounding_ = 1e-3 * value_of(rated_slip.value());
  }

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    using std::sqrt;
    const auto slip = delivery_ - flow / density_;
    // Plain numbers here: the root of a pressure has no name worth giving.
    const auto size = smooth_abs(slip.value(), rounding_);
    const auto root = sqrt(turbulent_slip_ * turbulent_slip_ + 4.0 * laminar_slip_.value() * size);
    const auto laminar_part = 1.0 - 2.0 * turbulent_slip_ / (turbulent_slip_ + root);
    return -(laminar_part * (slip / laminar_slip_));
  }

  std::array<MassFlow<>, 1> start_flow() const {
    return {MassFlow<>::from_value(0.5 * value_of(delivery_.value()) * value_of(density_.value()))};
  }
  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const PartState<double>& state) const;

 private:
  using Conductance = decltype(VolumeFlow<N>{} / PressureDifference<N>{});

  Density<N> density_;
  VolumeFlow<N> delivery_;   ///< what it would carry without slip
  Conductance laminar_slip_;  ///< a
  N turbulent_slip_{};        ///< b [m³/s per √Pa]
  double rounding_ = 0.0;     ///< [m³/s]
};

}  // namespace flarenut::parts

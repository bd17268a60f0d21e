#pragma once
/// Pump by formula: an electric or speed-driven pump known by three numbers instead of a table.
///
/// What it is: a pump whose pressure rise falls with flow along a parabola, and whose drive (volts, or any
/// measure of speed in the same unit) moves the parabola by the affinity laws.
///
///   v    = volts / rated volts
///   rise = shutoff_rise · v²  −  linear · v · Q  −  quadratic · (Q|Q| + Q_l Q)         Q = q / ρ
///
/// Q_l keeps a slope at zero flow: 10⁻⁹ of the run-out scale √(shutoff_rise / quadratic), and 10⁻³ of it once the
/// drive falls below a tenth of its rating and the v-terms no longer give one.
///
/// Assumes: similar flow at every drive; the formula belongs to the liquid at hand (no correction for density
/// or viscosity). Range: the flows over which the formula was fitted. At zero volts it is the square-law loss
/// quadratic·Q|Q|; driven backwards or past run-out the same formula runs on.
/// Sign: positive flow from inlet (port 0) to outlet (port 1).
/// Source: affinity laws, any textbook of hydraulic machines; the parabola is the usual fit to a pump curve.

#include "flarenut/parts/part.hpp"

namespace flarenut::parts {

template <Number N = double>
struct QuadraticPumpSpec {
  Voltage<N> volts = Voltage<N>::from_value(N(13.5));        ///< at the pump's own terminals, running
  Voltage<N> rated_volts = Voltage<N>::from_value(N(13.5));  ///< at which the three numbers hold (usual bench value)
  PressureDifference<N> shutoff_rise{};                      ///< rise at no flow
  LinearResistance<N> linear{};                              ///< rise lost per flow
  QuadraticResistance<N> quadratic{};                        ///< rise lost per flow squared

  static constexpr auto fields() {
    using S = QuadraticPumpSpec;
    return std::tuple{
        Field<S, Voltage<N>>{"volts", &S::volts, 0.0, 60.0, "V", "at the pump's terminals while it runs", true},
        Field<S, Voltage<N>>{"rated_volts", &S::rated_volts, 1.0, 60.0, "V", "at which the formula holds"},
        Field<S, PressureDifference<N>>{"shutoff_rise", &S::shutoff_rise, 100.0, 1e8, "Pa", "rise at no flow"},
        Field<S, LinearResistance<N>>{"linear", &S::linear, 0.0, 1e16, "Pa s/m3", "rise lost per flow"},
        Field<S, QuadraticResistance<N>>{"quadratic", &S::quadratic, 1.0, 1e22, "Pa s2/m6",
                                         "rise lost per flow squared"},
    };
  }
};

template <Number N = double>
class QuadraticPump {
 public:
  template <Number M>
  using Spec = QuadraticPumpSpec<M>;
  static constexpr std::string_view kind = "quadratic pump";
  static constexpr Shape shape{};

  QuadraticPump(const QuadraticPumpSpec<N>& spec, const LiquidState<N>& liquid) : density_(liquid.density) {
    const Ratio<N> drive = spec.volts / spec.rated_volts;
    const VolumeFlow<N> runout = sqrt(spec.shutoff_rise / spec.quadratic);
    const N slowness = 1.0 - smooth_step(N(drive.value() / slow_drive));
    shutoff_rise_ = drive * drive * spec.shutoff_rise;
    linear_ = drive * spec.linear + (1e-9 + 1e-3 * slowness) * (spec.quadratic * runout);
    quadratic_ = spec.quadratic;
    scale_ = runout.value();
    drive_ = drive.value();
  }

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    const auto volume_flow = flow / density_;
    const auto squared = volume_flow * volume_flow;
    const auto turbulent = choose(value_of(flow.value()) < 0.0, [&] { return -squared; }, [&] { return squared; });
    return linear_ * volume_flow + quadratic_ * turbulent - shutoff_rise_;
  }

  /// Half the run-out flow at this drive: the middle of the curve.
  std::array<MassFlow<N>, 1> start_flow() const { return {MassFlow<N>::from_value(0.5 * drive_ * scale_ * density_.value())}; }
  std::array<Length<>, 2> bores() const { return {}; }
  Regime regime(const PartState<double>& state) const;

 private:
  static constexpr double slow_drive = 0.1;  ///< share of rated volts below which the slope needs help

  Density<N> density_;
  PressureDifference<N> shutoff_rise_;
  LinearResistance<N> linear_;
  QuadraticResistance<N> quadratic_;
  N scale_{}, drive_{};
};

}  // namespace flarenut::parts

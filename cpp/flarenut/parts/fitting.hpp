#pragma once
/// Fitting: a straight, an elbow, an adapter or a bend, by its table constants.
///
/// What it is: a short piece that costs pressure beyond the friction of its own length. Two published ways to say how
/// much, each a kind of part:
///
///   two-k fitting      K = K1/Re + K∞ (1 + 1 in / D)            W. Hooper, Chem. Eng., Aug. 24, 1981
///   three-k fitting    K = K1/Re + Ki (1 + Kd / (Dn/in)^0.3)    R. Darby, Chem. Eng., 2001
///   Δp = K · ρ V² / 2                                           V, Re on the bore D
///
/// K1 is the viscous share that rules in cold oil, K∞ or Ki the share at high flow, and the last factor makes small
/// fittings cost more. Prefer three-k below half an inch, where 1/D runs away. The presets are the 90° threaded elbow.
/// A formed (swept) end costs less than a forged one; use the row of its bend radius.
///
/// Assumes: some ten bores of line on either side; where fittings stand closer they cost a little less together (common
/// practice, no source). The bore stands in for the nominal size Dn. Range: fitted to pipe of half an inch and more;
/// smaller bores extrapolate. Constants: catalogue file `fitting_constants.csv`.
/// Sign: positive flow from port 0 to port 1; backwards it costs the same.
/// Source: the two papers; formulas in `correlations/fittings.hpp`.

#include "flarenut/correlations/fittings.hpp"
#include "flarenut/parts/local_loss.hpp"

namespace flarenut::parts {

template <Number N = double>
struct TwoKFittingSpec {
  Length<N> bore{};                                                    ///< smallest through-bore of the fitting
  Ratio<N> laminar_constant = Ratio<N>::from_value(N(800.0));          ///< K1; threaded elbow (Hooper 1981)
  Ratio<N> turbulent_constant = Ratio<N>::from_value(N(0.40));         ///< K∞; threaded elbow (Hooper 1981)

  static constexpr auto fields() {
    using S = TwoKFittingSpec;
    return std::tuple{
        Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.5, "m", "through-bore of the fitting"},
        Field<S, Ratio<N>>{"laminar_constant", &S::laminar_constant, 1.0, 1e5, "", "K1 of the two-K method"},
        Field<S, Ratio<N>>{"turbulent_constant", &S::turbulent_constant, 0.0, 1e3, "", "K at high flow, large bore"},
    };
  }
};

template <Number N = double>
struct ThreeKFittingSpec {
  Length<N> bore{};                                                    ///< through-bore, taken as nominal size
  Ratio<N> laminar_constant = Ratio<N>::from_value(N(800.0));          ///< K1; threaded elbow (Darby 2001)
  Ratio<N> turbulent_constant = Ratio<N>::from_value(N(0.14));         ///< Ki; threaded elbow (Darby 2001)
  Ratio<N> size_constant = Ratio<N>::from_value(N(4.0));               ///< Kd, in^0.3; threaded elbow (Darby 2001)

  static constexpr auto fields() {
    using S = ThreeKFittingSpec;
    return std::tuple{
        Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.5, "m", "through-bore of the fitting"},
        Field<S, Ratio<N>>{"laminar_constant", &S::laminar_constant, 1.0, 1e5, "", "K1 of the three-K method"},
        Field<S, Ratio<N>>{"turbulent_constant", &S::turbulent_constant, 0.0, 1e3, "", "Ki of the three-K method"},
        Field<S, Ratio<N>>{"size_constant", &S::size_constant, 0.0, 20.0, "", "Kd of the three-K method, in^0.3"},
    };
  }
};

template <Number N = double>
class TwoKFitting {
 public:
  template <Number M>
  using Spec = TwoKFittingSpec<M>;
  static constexpr std::string_view kind = "two-k fitting";
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  TwoKFitting(const TwoKFittingSpec<N>& spec, const LiquidState<N>& liquid)
      : bore_(without_slope<Length>(spec.bore)), start_(middling_flow(spec.bore, liquid)),
        loss_(spec.laminar_constant.value(),
              N(spec.turbulent_constant.value() * correlations::two_k_size_factor(spec.bore.value())), spec.bore,
              liquid) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return loss_.drop(flow);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {start_}; }
  std::array<Length<>, 2> bores() const { return {bore_, bore_}; }

 private:
  Length<> bore_;
  MassFlow<> start_;
  LocalLoss<N> loss_;
};

template <Number N = double>
class ThreeKFitting {
 public:
  template <Number M>
  using Spec = ThreeKFittingSpec<M>;
  static constexpr std::string_view kind = "three-k fitting";
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  ThreeKFitting(const ThreeKFittingSpec<N>& spec, const LiquidState<N>& liquid)
      : bore_(without_slope<Length>(spec.bore)), start_(middling_flow(spec.bore, liquid)),
        loss_(spec.laminar_constant.value(),
              N(spec.turbulent_constant.value() *
                correlations::three_k_size_factor(spec.bore.value(), spec.size_constant.value())),
              spec.bore, liquid) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return loss_.drop(flow);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {start_}; }
  std::array<Length<>, 2> bores() const { return {bore_, bore_}; }

 private:
  Length<> bore_;
  MassFlow<> start_;
  LocalLoss<N> loss_;
};

}  // namespace flarenut::parts

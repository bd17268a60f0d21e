#pragma once
/// What takes heat off the outside of a round line: wind, rising air and radiation together, at the temperature of its surface.
///
///     G'(T) = π d (h_air + h_radiation)   [W/(m K)],    q' = G'(T) (T − T_air)
///     h_air = (k/d) (Nu_wind⁴ + Nu_still⁴)^¼ at the film temperature (T + T_air)/2     correlations/external_convection.hpp
///     h_radiation = ε σ (T + T_air)(T² + T_air²)
///
/// Solvers ask this many times, and air's properties are long sums. So what depends on the film temperature alone (wind's film,
/// Rayleigh number per degree and its factor, k) is worked out once at a row of temperatures from 200 to 1000 K, without the power of T that
/// each nearly follows, and joined by cubics: within 4e-5 of the law itself from 240 K on. Beyond that row it is held, so nothing
/// throws while a solver tries a wild guess.
///
/// Surroundings that glow are taken at the air's temperature. A manifold in sight of the line is not in it: docs/parts/line_wall.md.

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "flarenut/correlations/external_convection.hpp"
#include "flarenut/fluids/air.hpp"

namespace flarenut::heat {

namespace detail {

/// A few functions of one number, each a smooth curve through values at even steps: cubics with slopes from
/// differences of fourth order, at the ends of third. Held beyond the ends.
template <Number N, std::size_t nodes, std::size_t functions>
class EvenCurves {
 public:
  template <class Make>
  EvenCurves(double least, double most, Make&& make) : least_(least), step_((most - least) / (nodes - 1)) {
    for (std::size_t i = 0; i < nodes; ++i) value_[i] = make(least + step_ * static_cast<double>(i));
    for (std::size_t f = 0; f < functions; ++f) {
      const auto y = [&](std::size_t i) { return value_[i][f]; };
      constexpr std::size_t last = nodes - 1;
      constexpr double sixth = 1.0 / 6.0;
      rise_[0][f] = sixth * (18.0 * y(1) - 11.0 * y(0) - 9.0 * y(2) + 2.0 * y(3));
      rise_[1][f] = sixth * (6.0 * y(2) - 2.0 * y(0) - 3.0 * y(1) - y(3));
      for (std::size_t i = 2; i + 2 <= last; ++i) rise_[i][f] = (1.0 / 12.0) * (8.0 * (y(i + 1) - y(i - 1)) - (y(i + 2) - y(i - 2)));
      rise_[last - 1][f] = sixth * (2.0 * y(last) + 3.0 * y(last - 1) - 6.0 * y(last - 2) + y(last - 3));
      rise_[last][f] = sixth * (11.0 * y(last) - 18.0 * y(last - 1) + 9.0 * y(last - 2) - 2.0 * y(last - 3));
    }
  }

  /// `own` says what becomes of the values: their slopes carried, or left.
  template <Number M, class Own>
  auto operator()(const M& x, const Own& own) const {
    using Value = decltype(own(N{}));
    using Result = correlations::Combined<Value, M>;
    const double unheld = (value_of(x) - least_) / step_;
    const double place = unheld > 0.0 ? std::min(unheld, static_cast<double>(nodes - 1)) : 0.0;  // also for what is no number
    const std::size_t i = std::min(static_cast<std::size_t>(place), nodes - 2);
    const bool inside = value_of(x) > least_ && value_of(x) < least_ + step_ * (nodes - 1);
    const M t = inside ? M((x - least_) * (1.0 / step_) - static_cast<double>(i)) : M(place - static_cast<double>(i));
    std::array<Result, functions> result;
    for (std::size_t f = 0; f < functions; ++f) {
      const Value y = own(value_[i][f]), from = own(rise_[i][f]), to = own(rise_[i + 1][f]);
      const Value secant = own(value_[i + 1][f]) - y;
      result[f] = y + t * (from + t * (3.0 * secant - 2.0 * from - to + t * (from + to - 2.0 * secant)));
    }
    return result;
  }

 private:
  double least_, step_;
  std::array<std::array<N, functions>, nodes> value_{}, rise_{};
};

}  // namespace detail

template <Number N = double>
class OuterFilm {
 public:
  /// `wind` across the line. Throws InputError when the air is outside 200 to 1000 K or its pressure outside the range of air.hpp.
  OuterFilm(const Length<N>& diameter, const Velocity<N>& wind, const Ratio<N>& emissivity, const Temperature<N>& air,
            const AbsolutePressure<>& pressure)
      : diameter_(diameter.value()), emissivity_(emissivity.value()), air_(air.value()),
        by_film_(fluids::air_coldest_kelvin, fluids::air_hottest_kelvin,
                 [&](double kelvin) { return at_film(kelvin, pressure.value(), wind.value()); }) {
    fluids::detail::check_air(value_of(air_), pressure.value());
  }

  /// The row of film temperatures knows nothing of the air's own: under the same pressure and wind it stands. Throws as the constructor does.
  void follow_air(const Temperature<N>& air, const AbsolutePressure<>& pressure) {
    fluids::detail::check_air(value_of(air.value()), pressure.value());
    air_ = air.value();
  }

  /// G' [W/(m K)] with the surface at a temperature [K]. `plain`: with that temperature's slopes alone, none of the film's own numbers.
  template <bool plain = false, Number M>
  auto conductance_per_length(const M& surface) const {
    using std::cbrt;
    using std::sqrt;
    const auto own = [](const N& x) {
      if constexpr (plain) return value_of(x);
      else return x;
    };
    using T = correlations::Combined<decltype(own(N{})), M>;
    const auto air = own(air_), diameter = own(diameter_), emissivity = own(emissivity_);
    // Neither air nor radiation is asked about a surface below 100 K or above 1500 K.
    const M kelvin = value_of(surface) < 100.0 ? M(100.0) : value_of(surface) > 1500.0 ? M(1500.0) : surface;
    const T film_kelvin = 0.5 * (kelvin + air), squared = film_kelvin * film_kelvin, fourth = squared * squared;
    const auto [wind, rising, still_factor, conducting] = by_film_(film_kelvin, own);
    const T conductivity = conducting * film_kelvin, rayleigh = rising * (kelvin - air) / fourth;
    const T forced = wind / film_kelvin, forced_squared = forced * forced;
    // Ra^⅙ and the fourth root by roots alone, which cost a fraction of a power.
    const T root = 0.60 + still_factor * sqrt(sqrt(cbrt(T(rayleigh * rayleigh + rayleigh_ease * rayleigh_ease))));
    const T still = root * root, still_squared = still * still;
    const T film = conductivity * sqrt(sqrt(T(forced_squared * forced_squared + still_squared * still_squared)));
    return T(std::numbers::pi * (film + diameter * correlations::radiation_coefficient(emissivity, kelvin, air)));
  }

 private:
  static constexpr double rayleigh_ease = 1e-3;  ///< as in correlations::detail::churchill_chu

  /// Nu_wind T, Ra T⁴ per kelvin, the factor of Ra^⅙ and k/T.
  std::array<N, 4> at_film(double kelvin, double pascal, const N& wind) const {
    const auto air = fluids::air_at(Temperature<>::from_value(kelvin), AbsolutePressure<>::from_value(pascal));
    const double prandtl = air.prandtl();
    const N forced = correlations::cylinder_cross_flow_nusselt(N(wind * diameter_ / air.kinematic_viscosity().value()), prandtl);
    const N rayleigh = correlations::rayleigh_number(air.expansion.value(), 1.0, diameter_, air.kinematic_viscosity().value(),
                                                     air.thermal_diffusivity());
    const double still_factor = 0.387 * std::pow(1.0 + std::pow(0.559 / prandtl, 9.0 / 16.0), -8.0 / 27.0);
    const double fourth = kelvin * kelvin * kelvin * kelvin;
    return {forced * kelvin, rayleigh * fourth, N(still_factor), N(air.conductivity.value() / kelvin)};
  }

  N diameter_, emissivity_, air_;
  detail::EvenCurves<N, 25, 4> by_film_;
};

}  // namespace flarenut::heat

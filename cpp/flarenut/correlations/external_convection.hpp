#pragma once
/// How well air takes heat off the outside of a line, a tank wall or a pan: by wind, by rising, by glowing.
///
///     h = Nu k/D (round line)  or  Nu k/L (flat wall),    Q = h A (T_surface − T_air)
///
/// k, ν, Pr of air at the film temperature, half way between surface and air (for radiation: nothing).
///
/// - **Wind across a line** (S. W. Churchill and M. Bernstein, J. Heat Transfer 99, 300, 1977; Re Pr above 0.2):
///   Nu = 0.3 + 0.62 Re^½ Pr^⅓ (1 + (0.4/Pr)^⅔)^−¼ · (1 + (Re/282000)^⅝)^⅘,  Re = V D/ν. Data scatter ±20 to 30 %.
/// - **Still air round a horizontal line** (S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18, 1049, 1975;
///   Ra up to 10¹²): Nu = (0.60 + 0.387 Ra^⅙ (1 + (0.559/Pr)^(9/16))^(−8/27))²,  Ra = g β ΔT D³/(ν α), α = ν/Pr. ±15 % or so.
/// - **Still air along a standing wall** (the same authors, 18, 1323): 0.825 and 0.492 instead of 0.60 and 0.559, on height.
///   A level surface is not in here: facing up it gives away more than a wall, facing down (a pan's bottom) less.
/// - **Wind along a flat wall**: Nu² = Nu_laminar² + Nu_turbulent², Nu_laminar = 0.664 Re^½ Pr^⅓,
///   Nu_turbulent = 0.037 Re^0.8 Pr/(1 + 2.443 Re^−0.1 (Pr^⅔ − 1)), mean over the length; Re 10 to 10⁷, Pr 0.6 to 2000
///   (VDI Heat Atlas, section G; Gnielinski 1975; from memory). A clean laminar edge would be lower: this is a wall under a car.
/// - **Both at once**: Nu⁴ = Nu_forced⁴ + Nu_natural⁴ (exponent 4 across a cylinder, 3 along a wall; Incropera, section 9.9,
///   from memory; after Churchill 1977). Wind against the rising air would be less; it is left out.
/// - **Radiation of a grey surface to surroundings much larger than itself**: q = ε σ (T⁴ − T_s⁴). As a coefficient it is
///   exact, h_r = ε σ (T + T_s)(T² + T_s²). A black hose near still air loses half its heat this way; a bright tube hardly any.
///
/// Newton's care: Re^½ and Ra^⅙ stand upright at zero. They are taken from Re/(Re² + 0.02²)^¼ and (Ra² + 0.001²)^(1/12), which
/// part from the published forms by less than 0.2 % where these begin, and make the law of Ra the same for a line warmer
/// or colder than its air. All arguments dimensionless unless said, speeds as magnitudes; plain or dual numbers.

#include <cmath>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/correlations/chain.hpp"

namespace flarenut::correlations {

/// Stefan–Boltzmann constant [W/(m² K⁴)], CODATA 2018.
inline constexpr double stefan_boltzmann = 5.670374419e-8;

namespace detail {

/// √x for x ≥ 0 with a finite slope at 0: x/(x² + w²)^¼.
template <Number T>
T soft_root(const T& x, double width) {
  using std::pow;
  return x * pow(T(x * x + width * width), -0.25);
}

/// (c + 0.387 Ra^⅙ (1 + (p/Pr)^(9/16))^(−8/27))², for either sign of Ra.
template <Number Ra, Number Pr>
Combined<Ra, Pr> churchill_chu(const Ra& rayleigh, const Pr& prandtl, double still, double prandtl_scale) {
  using std::pow;
  constexpr double width = 1e-3;
  const Ra rise = pow(Ra(rayleigh * rayleigh + width * width), 1.0 / 12.0);
  const auto root = still + 0.387 * rise * pow(Pr(1.0 + pow(Pr(prandtl_scale / prandtl), 9.0 / 16.0)), -8.0 / 27.0);
  return root * root;
}

}  // namespace detail

/// Wind across a cylinder, Churchill and Bernstein 1977; on its diameter.
template <Number Re, Number Pr>
Combined<Re, Pr> cylinder_cross_flow_nusselt(const Re& reynolds, const Pr& prandtl) {
  using std::pow;
  const auto by_prandtl = pow(prandtl, 1.0 / 3.0) * pow(Pr(1.0 + pow(Pr(0.4 / prandtl), 2.0 / 3.0)), -0.25);
  const Re turbulence = pow(Re(1.0 + pow(Re(reynolds * (1.0 / 282000.0)), 0.625)), 0.8);
  return 0.3 + 0.62 * detail::soft_root(reynolds, 0.02) * turbulence * by_prandtl;
}

/// Ra = g β ΔT L³/(ν α); SI: `expansion` [1/K] (1/T for air), `difference` [K] of either sign, `size` [m] (diameter or
/// height), `kinematic_viscosity` and `diffusivity` k/(ρ cp) [m²/s]. g is standard gravity.
template <Number B, Number D, Number L, Number V, Number A>
Combined<B, D, L, V, A> rayleigh_number(const B& expansion, const D& difference, const L& size, const V& kinematic_viscosity,
                                        const A& diffusivity) {
  constexpr double standard_gravity = 9.80665;
  return standard_gravity * expansion * difference * (size * size * size) / (kinematic_viscosity * diffusivity);
}

/// Still air round a horizontal cylinder, Churchill and Chu 1975; on its diameter.
template <Number Ra, Number Pr>
Combined<Ra, Pr> cylinder_natural_nusselt(const Ra& rayleigh, const Pr& prandtl) {
  return detail::churchill_chu(rayleigh, prandtl, 0.60, 0.559);
}

/// Still air along a standing wall, Churchill and Chu 1975; on its height.
template <Number Ra, Number Pr>
Combined<Ra, Pr> wall_natural_nusselt(const Ra& rayleigh, const Pr& prandtl) {
  return detail::churchill_chu(rayleigh, prandtl, 0.825, 0.492);
}

/// Wind along a flat wall; on its length in the direction of the wind. Re^−0.1 is held at Re = 1000, where the turbulent
/// share no longer counts and would turn singular in gases (0.02 % at Re 5·10⁵).
template <Number Re, Number Pr>
Combined<Re, Pr> wall_forced_nusselt(const Re& reynolds, const Pr& prandtl) {
  using std::pow;
  using T = Combined<Re, Pr>;
  const Pr two_thirds = pow(prandtl, 2.0 / 3.0);
  const T turbulent = 0.037 * pow(reynolds, 0.8) * prandtl /
                      (1.0 + 2.443 * pow(Re(reynolds + 1000.0), -0.1) * (two_thirds - 1.0));
  return detail::soft_root(T(0.664 * 0.664 * reynolds * two_thirds + turbulent * turbulent), 0.01);
}

/// Wind and rising air together; both Nu above 0. `exponent` 4 across a cylinder, 3 along a wall.
template <Number F, Number N>
Combined<F, N> mixed_nusselt(const F& forced, const N& natural, double exponent = 4.0) {
  using std::pow;
  using T = Combined<F, N>;
  return pow(T(pow(forced, exponent) + pow(natural, exponent)), 1.0 / exponent);
}

/// Radiation as a film coefficient [W/(m² K)]: `emissivity` 0 to 1; temperatures [K]. Multiply by T − T_s.
template <Number E, Number T1, Number T2>
Combined<E, T1, T2> radiation_coefficient(const E& emissivity, const T1& surface, const T2& surroundings) {
  return stefan_boltzmann * emissivity * (surface + surroundings) * (surface * surface + surroundings * surroundings);
}

}  // namespace flarenut::correlations

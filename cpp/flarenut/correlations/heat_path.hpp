#pragma once
/// The way heat takes out of a line: film inside, wall, sleeve, film outside, one after the other.
///
/// Per metre of line, with d the diameter at which a film sits:
///
///     1/(UA)' = 1/(h_in π d_bore) + Σ ln(d_outer/d_inner)/(2π k) + 1/(h_out π d_outside)   [m K/W],   Q' = (UA)' ΔT
///
/// (Fourier's law in a cylinder; any textbook.) Layers in order from the bore out, each touching the next. A loose sleeve
/// keeps an air gap: enter it as a layer with the conductivity of air. Dirt on a surface adds R/(π d), R [m² K/W].
///
/// A thin sleeve on a small line can *raise* the loss, because it widens the surface faster than it insulates: the
/// loss is largest at the outside diameter 2k/h_out (`critical_diameter`), 40 mm for rubber in still air.
///
/// Along the line the distance to the surroundings dies away with the capacity rate C = (mass flow)·cp:
///
///     T_out = T_air + (T_in − T_air) e^(−UA/C),    mean along the line: T_air + (T_in − T_air) m(UA/C), m = mean_decay
///
/// h_out usually depends on the temperature of the outside, which lies at T_air + ΔT · R_out/R_all: whoever calls takes a
/// turn or two, or carries it as an unknown. Arguments SI, positive; plain or dual numbers.

#include <cmath>
#include <numbers>
#include <span>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/correlations/chain.hpp"
#include "flarenut/correlations/decay.hpp"

namespace flarenut::correlations {

/// Resistance [m K/W] per metre of a film [W/(m² K)] on a cylinder of a diameter [m].
template <Number H, Number D>
Combined<H, D> film_resistance(const H& coefficient, const D& diameter) { return 1.0 / (std::numbers::pi * coefficient * diameter); }

/// Resistance [m K/W] per metre of dirt [m² K/W] on a cylinder of a diameter [m].
template <Number R, Number D>
Combined<R, D> fouling_resistance(const R& per_area, const D& diameter) { return per_area / (std::numbers::pi * diameter); }

/// Resistance [m K/W] per metre of a layer from one diameter [m] to another of one conductivity [W/(m K)].
template <Number I, Number O, Number K>
Combined<I, O, K> layer_resistance(const I& inner_diameter, const O& outer_diameter, const K& conductivity) {
  using T = Combined<I, O, K>;
  // ln(d_o/d_i) with all digits for thin walls.
  const T growth = (outer_diameter - inner_diameter) / inner_diameter;
  return growth * log_mean(growth) / (2.0 * std::numbers::pi * conductivity);
}

/// A wall or a sleeve: where it ends and what it is of.
template <Number T = double>
struct CylinderLayer {
  T outside_diameter;  ///< [m]
  T conductivity;      ///< [W/(m K)]
};

/// (UA)' [W/(m K)] of a line. `inside`, `outside` film coefficients [W/(m² K)], `bore` [m]; layers from the bore out.
template <Number T>
T line_conductance_per_length(const T& inside, const T& bore, std::span<const CylinderLayer<T>> layers, const T& outside) {
  T resistance = film_resistance(inside, bore), diameter = bore;
  for (const CylinderLayer<T>& layer : layers) {
    resistance += layer_resistance(diameter, layer.outside_diameter, layer.conductivity);
    diameter = layer.outside_diameter;
  }
  return 1.0 / (resistance + film_resistance(outside, diameter));
}

/// Outside diameter [m] of greatest loss, 2k/h, of a sleeve of conductivity k under a film h.
template <Number K, Number H>
Combined<K, H> critical_diameter(const K& conductivity, const H& outside_coefficient) { return 2.0 * conductivity / outside_coefficient; }

/// e^(−UA/C): how much of its distance to the surroundings a stream keeps. `conductance` [W/K] ≥ 0, `capacity_rate` [W/K], a
/// magnitude; at rest 0 with slope 0 (and 1 where nothing conducts): what stands takes the temperature around it.
template <Number U, Number C>
Combined<U, C> remaining_difference(const U& conductance, const C& capacity_rate) {
  using T = Combined<U, C>;
  using std::exp;
  if (value_of(conductance) <= 0.0 && value_of(capacity_rate) <= 0.0) return T(1.0);
  if (value_of(conductance) >= 700.0 * value_of(capacity_rate)) return T(0.0);
  return exp(T(-1.0 * conductance / capacity_rate));
}

/// Heat [W/K] that a line gives up per degree of its inlet's distance to the surroundings, C (1 − e^(−UA/C)): UA when flow is
/// quick, C when it is slow, 0 at rest with slope 1 in C.
template <Number U, Number C>
Combined<U, C> line_heat_per_inlet_difference(const U& conductance, const C& capacity_rate) {
  using T = Combined<U, C>;
  if (value_of(conductance) >= 700.0 * value_of(capacity_rate)) return T(capacity_rate);
  return conductance * mean_decay(T(conductance / capacity_rate));
}

}  // namespace flarenut::correlations

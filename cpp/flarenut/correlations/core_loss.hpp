#pragma once
/// What a cooler core or a radiator costs on its liquid side, as two coefficients: from a bench test, or from its passages.
///
///   Δp = viscous · μ Q + inertial · ρ Q|Q|
///
/// viscous [1/m³] belongs to the friction of creeping flow in many fine passages, inertial [1/m⁴] to what turns, enters and
/// leaves them. Both depend on the shape alone, so that one core has the same two in cold oil, hot oil and water. A single loss
/// coefficient has not: in oil it changes severalfold between a cold morning and a warm engine.
///
/// Assumes: a smooth passage from one law to the other; a real core turns from laminar to turbulent in a narrower range.
/// Source: Hagen–Poiseuille and the head of velocity; the sum of both is Forchheimer's form (P. Forchheimer 1901).

#include "flarenut/correlations/friction.hpp"

namespace flarenut::correlations {

/// One point of a bench test.
struct CorePoint {
  double drop;       ///< [Pa]
  double flow;       ///< [m³/s]
  double viscosity;  ///< of the liquid of the test [Pa s]
  double density;    ///< [kg/m³]
};

struct CoreLoss {
  double viscous;   ///< [1/m³]
  double inertial;  ///< [1/m⁴]

  double drop(double flow, double viscosity, double density) const {
    return viscous * viscosity * flow + inertial * density * flow * std::abs(flow);
  }
};

/// From two points, at two flows or in two liquids: the sum that passes both. A coefficient below zero, or not a number, says
/// that no such sum does.
inline CoreLoss core_of_points(const CorePoint& one, const CorePoint& other) {
  // Δp / Q = viscous · μ + inertial · ρ Q for each: two straight equations.
  const double determinant = one.viscosity * other.density * other.flow - other.viscosity * one.density * one.flow;
  const double left = one.drop / one.flow, right = other.drop / other.flow;
  return {(left * other.density * other.flow - right * one.density * one.flow) / determinant,
          (right * one.viscosity - left * other.viscosity) / determinant};
}

/// From one point, and the share of its drop that goes with flow and viscosity.
inline CoreLoss core_of_point(const CorePoint& point, double viscous_share) {
  return {viscous_share * point.drop / (point.viscosity * point.flow),
          (1.0 - viscous_share) * point.drop / (point.density * point.flow * point.flow)};
}

/// From its shape: `passages` round ones side by side, of one bore and length [m]; a flat one has the bore 4 × area / wetted
/// edge, roughly. `end_loss` is K of entering and leaving one of them, headers included. `reynolds` is the Reynolds number in a
/// passage at which the sum meets the friction law of a smooth bore exactly, as it does creeping; 0, or any below 2000, for
/// one that stays laminar.
inline CoreLoss core_of_passages(double passages, double bore, double length, double end_loss, double reynolds = 0.0) {
  constexpr double pi = 3.14159265358979323846;
  const double area = 0.25 * pi * bore * bore * passages;
  const double turbulent =
      reynolds > laminar_reynolds_limit ? (friction_times_reynolds(reynolds, 0.0) - laminar_friction_times_reynolds) / reynolds : 0.0;
  return {128.0 * length / (pi * bore * bore * bore * bore * passages),
          (end_loss + turbulent * length / bore) / (2.0 * area * area)};
}

}  // namespace flarenut::correlations

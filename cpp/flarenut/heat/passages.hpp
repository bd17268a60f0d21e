#pragma once
/// The passages of a cooler on the side where a liquid runs: how many watts a degree they hand to the wall.
///
///     h A = e · Nu(Re, Pr, D/L) k A/D   [W/K],      Re = 4 q L/(A μ)
///
/// D is the hydraulic bore, 4·(area)/(wetted edge) of one passage; L the way the liquid runs through the core, all passes one after
/// the other; A the wetted area of all passages. A/L is the wetted edge of all passages side by side, so nothing else needs to be
/// counted: n round tubes have A = n π D L. e says how much better turbulators, dimples or wavy fins do than a plain bore.
///
/// Nu: `correlations/internal_convection.hpp`, with the viscosity at the wall taken as in the stream: of a cooling oil the film is
/// up to 20 % too good (a rating takes that in). Assumes each passage gets its share of the flow.

#include <algorithm>

#include "flarenut/correlations/internal_convection.hpp"
#include "flarenut/heat/heat_law.hpp"

namespace flarenut::heat {

template <Number N = double>
class Passages {
 public:
  Passages(const Length<N>& bore, const Length<N>& length, const Area<N>& area, const Ratio<N>& enhancement)
      : reynolds_per_flow_(4.0 * length.value() / area.value()),
        scale_(enhancement.value() * area.value() / bore.value()),
        bore_over_length_(value_of(length.value()) > value_of(bore.value()) ? N((bore / length).value()) : N(1.0)) {}

  /// h A [W/K].
  template <Number M>
  Mixed<N, M> conductance(const Stream<M>& stream) const {
    const M &viscosity = stream.liquid.viscosity.value(), &conductivity = stream.heat.conductivity.value();
    const M prandtl = viscosity * stream.heat.specific_heat.value() / conductivity;
    const Mixed<N, M> reynolds = stream.flow.value() / viscosity * reynolds_per_flow_;
    return correlations::tube_nusselt(reynolds, prandtl, bore_over_length_, 1.0) * (scale_ * conductivity);
  }

 private:
  N reynolds_per_flow_, scale_, bore_over_length_;
};

}  // namespace flarenut::heat

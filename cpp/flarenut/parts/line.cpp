#include "flarenut/parts/line.hpp"

#include <cmath>
#include <sstream>

namespace flarenut::parts {

template <Number N>
void LineSpec<N>::check(std::string_view part) const {
  if (value_of(roughness.value()) > 0.05 * value_of(bore.value()))
    throw InputError(part, "roughness", "is more than 5 % of the bore, beyond the friction law; check its unit");
  const double angle = value_of(bend_angle.value());
  const double radius = value_of(bend_radius.value());
  if (angle > 0.0) {
    std::ostringstream trouble;
    const double least = 0.5 * value_of(bore.value());
    if (radius < least) {
      trouble << "is " << radius << " m, but bends need at least half the bore, " << least
              << " m; give the radius of the bends' centreline, or use a fitting for a mitred turn";
      throw InputError(part, "bend_radius", trouble.str());
    }
    // A hundredth of slack: lengths are measured with a tape.
    if (angle * radius > 1.01 * value_of(length.value())) {
      trouble << "gives bends " << angle * radius << " m long, more than the whole line, " << value_of(length.value())
              << " m; the length includes the bends: lengthen it, or reduce bend_angle or bend_radius";
      throw InputError(part, "bend_angle", trouble.str());
    }
  }
  if (value_of(length.value()) == 0.0 && value_of(extra_loss.value()) == 0.0)
    throw InputError(part, "length", "is 0 without any extra_loss: it would cost nothing; give either, or leave it out");
}
template struct LineSpec<double>;

template <>
Regime Line<double>::regime(const PartState<double>& state) const {
  const double reynolds = reynolds_per_flow_ * std::abs(state.flow[0].value());
  if (reynolds < correlations::laminar_reynolds_limit) return Regime::laminar;
  return reynolds < correlations::turbulent_reynolds_limit ? Regime::transitional : Regime::turbulent;
}

}  // namespace flarenut::parts

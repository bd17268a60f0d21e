#include "flarenut/parts/line.hpp"

namespace flarenut::parts {

template <Number N>
void LineSpec<N>::check(std::string_view part) const {
  if (value_of(roughness.value()) > 0.05 * value_of(bore.value()))
    throw InputError(part, "roughness", "is more than 5 % of the bore, beyond the friction law; check its unit");
}
template struct LineSpec<double>;

template <>
Regime Line<double>::regime(const PartState<double>& state) const {
  const double reynolds = reynolds_number(state.flow[0], bore_, viscosity_);
  if (reynolds < correlations::laminar_reynolds_limit) return Regime::laminar;
  return reynolds < correlations::turbulent_reynolds_limit ? Regime::transitional : Regime::turbulent;
}

}  // namespace flarenut::parts

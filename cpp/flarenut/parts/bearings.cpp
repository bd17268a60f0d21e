#include "flarenut/parts/bearings.hpp"

namespace flarenut::parts {

template <Number N>
void BearingsSpec<N>::check(std::string_view part) const {
  constexpr double most = 0.01;  // of the diameter: ten times what any running bearing has, where the slot is no film any more
  if (value_of(radial_clearance.value()) > most * value_of(diameter.value()))
    throw InputError(part, "radial_clearance",
                     "is more than a hundredth of the diameter; bearings run with about a thousandth: check its unit");
}
template struct BearingsSpec<double>;

}  // namespace flarenut::parts

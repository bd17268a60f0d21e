#include "flarenut/parts/short_tube_orifice.hpp"

#include <sstream>

namespace flarenut::parts {

template <Number N>
void ShortTubeOrificeSpec<N>::check(std::string_view part) const {
  require_hole_in_line(part, value_of(bore.value()), value_of(line_bore.value()));
  const double slenderness = value_of(length.value()) / value_of(bore.value());
  constexpr double round_off = 1e-9;
  if (slenderness >= 2.0 - round_off && slenderness <= 10.0 + round_off) return;
  std::ostringstream trouble;
  trouble << "is " << slenderness << " times the bore, but the law holds from 2 to 10; "
          << (slenderness < 2.0 ? "use an orifice for a thinner plate" : "use a line for a longer hole");
  throw InputError(part, "length", trouble.str());
}
template struct ShortTubeOrificeSpec<double>;

}  // namespace flarenut::parts

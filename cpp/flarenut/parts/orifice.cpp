#include "flarenut/parts/orifice.hpp"

#include <sstream>

namespace flarenut::parts {

void require_hole_in_line(std::string_view part, double bore, double line_bore) {
  if (line_bore == 0.0 || bore <= line_bore) return;
  std::ostringstream trouble;
  trouble << bore << " m is wider than the line, line_bore " << line_bore << " m; give the hole, or leave line_bore out";
  throw InputError(part, "bore", trouble.str());
}

template <Number N>
void OrificeSpec<N>::check(std::string_view part) const {
  require_hole_in_line(part, value_of(bore.value()), value_of(line_bore.value()));
  const double coefficient = value_of(discharge_coefficient.value());
  if (coefficient != 0.0 && coefficient < 0.2)
    throw InputError(part, "discharge_coefficient",
                     "is below 0.2, less than any hole passes; measured ones are 0.55 to 0.98, 0 means a sharp edge");
}
template struct OrificeSpec<double>;

}  // namespace flarenut::parts

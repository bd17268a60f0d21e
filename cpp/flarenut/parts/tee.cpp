#include "flarenut/parts/tee.hpp"

#include <algorithm>
#include <sstream>

namespace flarenut::parts {

template <Number N>
void TeeSpec<N>::check(std::string_view part) const {
  constexpr double least_ratio = 0.1;
  const double run1 = value_of(run1_bore.value()), run2 = value_of(run2_bore.value()),
               branch = value_of(branch_bore.value());
  const double widest = std::max({run1, run2, branch});
  const auto require = [&](std::string_view field, double bore) {
    if (bore >= least_ratio * widest) return;
    std::ostringstream trouble;
    trouble << bore << " m is less than a tenth of the widest leg, " << widest
            << " m, beyond the loss law; use the widest bores that meet, and a size step beyond them";
    throw InputError(part, field, trouble.str());
  };
  require("run1_bore", run1);
  require("run2_bore", run2);
  require("branch_bore", branch);
}
template struct TeeSpec<double>;

template <>
std::array<MassFlow<>, 2> Tee<double>::start_flow() const {
  const double middling = 1.5 * density_;  // 1.5 m/s
  const auto& area = shape_.area;
  const double entering = middling * std::min(area[0], area[1] + area[2]);
  const double straight_share = area[1] / (area[1] + area[2]);
  return {MassFlow<>::from_value(entering * straight_share), MassFlow<>::from_value(entering * (1.0 - straight_share))};
}

}  // namespace flarenut::parts

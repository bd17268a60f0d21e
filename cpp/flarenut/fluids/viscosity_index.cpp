#include "flarenut/fluids/viscosity_index.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "flarenut/base/error.hpp"

namespace flarenut::fluids {

namespace {

constexpr double least = 2.0, most_tabulated = 70.0;  // mm²/s at 100 °C

struct References {
  double low, high;
};

References references(const ViscosityIndexTable& table, double y) {
  if (y > most_tabulated) return {(0.8353 * y + 14.67) * y - 216.0, (0.1684 * y + 11.85) * y - 97.0};
  const auto& grid = table.viscosity_100;
  const auto upper = std::upper_bound(grid.begin(), grid.end(), y);
  const auto i = static_cast<std::size_t>(
      std::clamp<std::ptrdiff_t>(upper - grid.begin() - 1, 0, static_cast<std::ptrdiff_t>(grid.size()) - 2));
  const double share = (y - grid[i]) / (grid[i + 1] - grid[i]);
  return {table.low[i] + share * (table.low[i + 1] - table.low[i]),
          table.high[i] + share * (table.high[i + 1] - table.high[i])};
}

void check(const ViscosityIndexTable& table) {
  const std::size_t rows = table.viscosity_100.size();
  if (rows < 2 || table.low.size() != rows || table.high.size() != rows ||
      !std::is_sorted(table.viscosity_100.begin(), table.viscosity_100.end()) || table.viscosity_100.front() > least ||
      table.viscosity_100.back() < most_tabulated)
    throw InputError("viscosity index", "table",
                     "needs rising viscosities at 100 degC from 2 to 70 mm2/s with as many L and H");
}

void check_index(double index) {
  if (index >= 0.0 && index <= 400.0) return;
  std::ostringstream trouble;
  trouble << index << " is outside 0 to 400";
  throw InputError("viscosity index", "index", trouble.str());
}

}  // namespace

double viscosity_index(const ViscosityIndexTable& table, double u, double y) {
  check(table);
  if (!(y >= least) || !(u > y)) {
    std::ostringstream trouble;
    trouble << u << " mm2/s at 40 degC with " << y
            << " mm2/s at 100 degC is outside ASTM D2270: the second must be 2 mm2/s or more and below the first";
    throw InputError("viscosity index", "viscosities", trouble.str());
  }
  const References oil = references(table, y);
  if (u >= oil.high) return 100.0 * (oil.low - u) / (oil.low - oil.high);
  const double n = (std::log10(oil.high) - std::log10(u)) / std::log10(y);
  return 100.0 + (std::pow(10.0, n) - 1.0) / 0.00715;
}

double viscosity_100_from_index(const ViscosityIndexTable& table, double u, double index) {
  check_index(index);
  // The index rises with Y at fixed U: halve the interval between the thinnest oil of the standard and U itself.
  double low = least, high = u * (1.0 - 1e-9);
  if (!(high > low) || viscosity_index(table, u, low) > index) {
    std::ostringstream trouble;
    trouble << u << " mm2/s at 40 degC with an index of " << index << " would have less than 2 mm2/s at 100 degC, "
            << "where ASTM D2270 does not reach; give the viscosity at 100 degC instead";
    throw InputError("viscosity index", "viscosities", trouble.str());
  }
  for (int halving = 0; halving < 100; ++halving) {
    const double middle = 0.5 * (low + high);
    (viscosity_index(table, u, middle) < index ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

double viscosity_40_from_index(const ViscosityIndexTable& table, double y, double index) {
  check(table);
  check_index(index);
  if (!(y >= least)) {
    std::ostringstream trouble;
    trouble << y << " mm2/s at 100 degC is outside ASTM D2270: 2 mm2/s or more";
    throw InputError("viscosity index", "viscosities", trouble.str());
  }
  const References oil = references(table, y);
  if (index <= 100.0) return oil.low - 0.01 * index * (oil.low - oil.high);
  return oil.high * std::pow(y, -std::log10(1.0 + 0.00715 * (index - 100.0)));
}

}  // namespace flarenut::fluids

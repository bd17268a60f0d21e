#include "flarenut/lanes/laws.hpp"

#include "flarenut/lanes/circuit.hpp"

namespace flarenut::lanes {
namespace {

template <template <class> class... Part>
std::vector<std::string_view> names_of(LawList<Part...>) {
  return {Part<double>::kind...};
}

template <template <class> class... Part>
constexpr std::array<int, sizeof...(Part)> sizes_of(LawList<Part...>) {
  return {static_cast<int>(sizeof(Part<double>) / sizeof(double))...};
}

}  // namespace

std::vector<std::string_view> law_names() { return names_of(Laws{}); }
int numbers_of_law(int law) {
  static constexpr auto sizes = sizes_of(Laws{});
  return sizes[static_cast<std::size_t>(law)];
}

}  // namespace flarenut::lanes

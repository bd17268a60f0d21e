#include "flarenut/lanes/slopes.hpp"

#include <array>

#include "flarenut/lanes/laws.hpp"

namespace flarenut::lanes {
namespace {

template <template <class> class Part>
constexpr SlopeShape shape_of() {
  constexpr parts::Shape shape = Part<double>::shape;
  using Spec = typename Part<double>::template Spec<double>;
  return {static_cast<int>(std::tuple_size_v<decltype(Spec::fields())>) + 2, shape.ports + shape.senses + shape.flows};
}

template <template <class> class... Part>
constexpr std::array<SlopeShape, sizeof...(Part)> shapes_of(LawList<Part...>) {
  return {shape_of<Part>()...};
}

}  // namespace

SlopeShape slope_shape(int law) {
  static constexpr auto shapes = shapes_of(Laws{});
  return shapes[static_cast<std::size_t>(law)];
}

std::optional<SlopeKernel> slope_kernel() {
#if defined(FLARENUT_LANES_X86)
  __builtin_cpu_init();
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl"))
    return slope_kernel_avx512();
  if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) return slope_kernel_avx2();
#endif
  return std::nullopt;
}

}  // namespace flarenut::lanes

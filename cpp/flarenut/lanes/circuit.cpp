#include "flarenut/lanes/circuit.hpp"

#include <memory>

#include "flarenut/lanes/kernels.hpp"

namespace flarenut::lanes {

Outside::~Outside() = default;

Aligned::Aligned(std::size_t size) : memory_(size + 64 / sizeof(double) - 1, 0.0), size_(size) {
  void* begin = memory_.data();
  std::size_t space = memory_.size() * sizeof(double);
  begin_ = static_cast<double*>(std::align(64, size * sizeof(double), begin, space));
}

State::State(const Circuit& circuit) : width(circuit.width), pressure_scale(circuit.pressure_scale) {
  const auto branches = static_cast<int>(circuit.branches.size());
  const std::array sizes{circuit.junctions, circuit.flows, circuit.heads, circuit.numbers, circuit.points, branches,
                         circuit.equations + 1, 1, 1, circuit.gains, circuit.factors + 1, circuit.equations,
                         circuit.equations + 1, circuit.equations + 1, 1, 1};
  const std::array places{&pressure, &flow, &head, &number, &point, &limited, &demand, &flow_scale, &active, &gain, &factor,
                          &inverse_pivot, &right_side, &imbalance, &residual, &mass_error};
  static_assert(sizes.size() == places.size());
  constexpr std::size_t line = 64 / sizeof(double);  // packs are read whole: they start on boundaries of their size
  std::size_t total = 0;
  const auto room = [&](int size) { return (static_cast<std::size_t>(size * width) + line - 1) / line * line; };
  for (int size : sizes) total += room(size);
  memory_ = Aligned(total);
  double* next = memory_.data();
  for (std::size_t i = 0; i < sizes.size(); ++i) {
    *places[i] = next;
    next += room(sizes[i]);
  }
}

std::vector<Kernel> kernels() {
  std::vector<Kernel> found;
#if defined(FLARENUT_LANES_X86)
  __builtin_cpu_init();
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl"))
    found.push_back(kernel_avx512());
  if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) found.push_back(kernel_avx2());
#endif
  found.push_back(kernel_plain());
  return found;
}

}  // namespace flarenut::lanes

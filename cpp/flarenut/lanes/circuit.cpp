#include "flarenut/lanes/circuit.hpp"

#include "flarenut/lanes/kernels.hpp"

namespace flarenut::lanes {

Outside::~Outside() = default;

Regions regions_of(const Circuit& circuit) {
  Regions made;
  constexpr int line = 64 / sizeof(double);  // packs are read whole: they start on boundaries of their size
  const auto room = [&](int& begin, int numbers) {
    begin = made.total;
    made.total += (numbers * circuit.width + line - 1) / line * line;
  };
  room(made.pressure, circuit.junctions);
  room(made.flow, circuit.flows);
  room(made.head, circuit.heads);
  room(made.number, circuit.numbers);
  room(made.point, circuit.points);
  room(made.demand, circuit.equations + 1);
  room(made.flow_scale, 1);
  room(made.limited, 1);
  room(made.whole, 1);
  room(made.drop, circuit.drops);
  room(made.gain, circuit.gains);
  room(made.factor, circuit.factors + 1);
  room(made.inverse_pivot, circuit.equations);
  room(made.right_side, circuit.equations + 1);
  room(made.imbalance, circuit.equations + 1);
  room(made.residual, 1);
  room(made.mass_error, 1);
  return made;
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

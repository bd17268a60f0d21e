#include "flarenut/solver/block_kernel.hpp"

#include "flarenut/solver/block_kernels.hpp"

namespace flarenut::solver {

std::vector<BlockKernel> block_kernels() {
  std::vector<BlockKernel> found;
#if defined(FLARENUT_LANES_X86)
  __builtin_cpu_init();
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl"))
    found.push_back(block_kernel_avx512());
  if (__builtin_cpu_supports("avx2") && __builtin_cpu_supports("fma")) found.push_back(block_kernel_avx2());
#endif
  found.push_back(block_kernel_plain());
  return found;
}

const BlockKernel& block_kernel() {
  static const BlockKernel best = block_kernels().front();
  return best;
}

}  // namespace flarenut::solver

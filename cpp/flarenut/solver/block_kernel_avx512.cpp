#if defined(FLARENUT_BLOCKS_AVX512)  // the build asks for it where the compiler can

#include "flarenut/solver/block_kernel_of.hpp"
#include "flarenut/solver/block_kernels.hpp"

// Compiled with options of its own: see CMakeLists.txt.

namespace flarenut::solver {

BlockKernel block_kernel_avx512() {
  using Set = Registers<8, 3>;
  return {"avx512", &Blocks<Set>::product, &Blocks<Set>::factorise};
}

}  // namespace flarenut::solver

#endif

#if defined(FLARENUT_BLOCKS_AVX2)  // the build asks for it where the compiler can

#include "flarenut/solver/block_kernel_of.hpp"
#include "flarenut/solver/block_kernels.hpp"

// Compiled with options of its own: see CMakeLists.txt.

namespace flarenut::solver {

BlockKernel block_kernel_avx2() {
  using Set = Registers<4, 3>;
  return {"avx2", &Blocks<Set>::product, &Blocks<Set>::factorise};
}

}  // namespace flarenut::solver

#endif

#include "flarenut/solver/block_kernel_of.hpp"
#include "flarenut/solver/block_kernels.hpp"

// Compiled with options of its own: see CMakeLists.txt.

namespace flarenut::solver {

BlockKernel block_kernel_plain() {
  using Set = Registers<2, 2>;
  return {"plain", &Blocks<Set>::product, &Blocks<Set>::factorise};
}

}  // namespace flarenut::solver

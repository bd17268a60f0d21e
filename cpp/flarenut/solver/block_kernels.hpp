#pragma once
/// The kernels, each in a translation unit compiled for its processor.

#include "flarenut/solver/block_kernel.hpp"

namespace flarenut::solver {

BlockKernel block_kernel_plain();
BlockKernel block_kernel_avx2();
BlockKernel block_kernel_avx512();

}  // namespace flarenut::solver

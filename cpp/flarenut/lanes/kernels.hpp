#pragma once
/// The kernels, each in a translation unit compiled for its processor.

#include "flarenut/lanes/circuit.hpp"

namespace flarenut::lanes {

Kernel kernel_plain();
Kernel kernel_avx2();
Kernel kernel_avx512();

}  // namespace flarenut::lanes

#include "flarenut/lanes/approach.hpp"
#include "flarenut/lanes/drop_kernel.hpp"
#include "flarenut/lanes/kernel.hpp"
#include "flarenut/lanes/kernels.hpp"
#include "flarenut/lanes/moving.hpp"
#include "flarenut/lanes/preparing.hpp"

// The kernel for any processor. Compiled with options of its own: see CMakeLists.txt.

namespace flarenut::lanes {

Kernel kernel_plain() {
#if defined(__FP_FAST_FMA)
  constexpr bool fast = true;
#else
  constexpr bool fast = false;
#endif
  static constexpr RowKernel rows{&Preparing<PlainSet>::prepare, &Moving<PlainSet>::move};
  return {"plain", PlainSet::width, fast, &Iteration<PlainSet>::evaluate, &Iteration<PlainSet>::advance,
          &Drops<PlainSet>::evaluate, &rows, &Approach<PlainSet, PlainSingleSet>::kernel};
}

}  // namespace flarenut::lanes

#if defined(FLARENUT_LANES_AVX2)  // the build asks for it where the compiler can

#include "flarenut/lanes/approach.hpp"
#include "flarenut/lanes/drop_kernel.hpp"
#include "flarenut/lanes/kernel.hpp"
#include "flarenut/lanes/kernels.hpp"
#include "flarenut/lanes/moving.hpp"
#include "flarenut/lanes/preparing.hpp"

// The kernel for processors with AVX2 and FMA. Compiled with options of its own: see CMakeLists.txt.

namespace flarenut::lanes {

Kernel kernel_avx2() {
  static constexpr RowKernel rows{&Preparing<Avx2Set>::prepare, &Moving<Avx2Set>::move};
  return {"avx2", Avx2Set::width, true, &Iteration<Avx2Set>::evaluate, &Iteration<Avx2Set>::advance,
          &Drops<Avx2Set>::evaluate, &rows, &Approach<Avx2Set, Avx2SingleSet>::kernel};
}

}  // namespace flarenut::lanes

#endif

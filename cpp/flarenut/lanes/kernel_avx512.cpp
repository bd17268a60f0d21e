#if defined(FLARENUT_LANES_AVX512)  // the build asks for it where the compiler can

#include "flarenut/lanes/approach.hpp"
#include "flarenut/lanes/drop_kernel.hpp"
#include "flarenut/lanes/kernel.hpp"
#include "flarenut/lanes/kernels.hpp"
#include "flarenut/lanes/moving.hpp"
#include "flarenut/lanes/preparing.hpp"

// The kernel for processors with AVX-512. Compiled with options of its own: see CMakeLists.txt.

namespace flarenut::lanes {

Kernel kernel_avx512() {
  static constexpr RowKernel rows{&Preparing<Avx512Set>::prepare, &Moving<Avx512Set>::move};
  return {"avx512", Avx512Set::width, true, &Iteration<Avx512Set>::evaluate, &Iteration<Avx512Set>::advance,
          &Drops<Avx512Set>::evaluate, &rows, &Approach<Avx512Set, Avx512SingleSet>::kernel};
}

}  // namespace flarenut::lanes

#endif

#if defined(FLARENUT_LANES_AVX2)  // the build asks for it where the compiler can

#include "flarenut/lanes/slope_kernel.hpp"
#include "flarenut/lanes/slopes.hpp"

// Slopes for processors with AVX2 and FMA. Compiled with options of its own: see CMakeLists.txt. One register a pack: on the way back
// there is always something else to do, and more would have to be put aside.

namespace flarenut::lanes {

SlopeKernel slope_kernel_avx2() { return {"avx2", Avx2One::width, &Slopes<Avx2One>::evaluate}; }

}  // namespace flarenut::lanes

#endif

#if defined(FLARENUT_LANES_AVX512)  // the build asks for it where the compiler can

#include "flarenut/lanes/slope_kernel.hpp"
#include "flarenut/lanes/slopes.hpp"

// Slopes for processors with AVX-512. Compiled with options of its own: see CMakeLists.txt.

namespace flarenut::lanes {

SlopeKernel slope_kernel_avx512() { return {"avx512", Avx512Set::width, &Slopes<Avx512Set>::evaluate}; }

}  // namespace flarenut::lanes

#endif

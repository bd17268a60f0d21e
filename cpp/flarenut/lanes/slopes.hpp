#pragma once
/// Slopes of parts' laws with all of their numbers, many parts of a kind at once: for gradients. See `slope_kernel.hpp`.

#include <optional>
#include <string_view>

namespace flarenut::lanes {

/// Of a part in the lanes: its fields, then density and viscosity of its liquid; and pressures and flow of its point.
struct SlopeShape {
  int inputs, rows;
};
/// In the order of `law_names()`.
SlopeShape slope_shape(int law);

struct SlopeKernel {
  std::string_view name;
  int width;
  /// Slopes of weight · residual with each input, of `packs` times `width` parts of one law. Everything in `Aligned` memory, in rows
  /// of `width` numbers: of a pack `inputs` rows of numbers, `rows` rows of points, one row of weights, `inputs` rows of slopes. A law
  /// of flow alone looks at no pressures; one with an opening at their difference.
  void (*evaluate)(int law, int packs, const double* number, const double* point, const double* weight, double* slope);
};

/// The fastest that this processor can run; nothing where parts are better asked one by one.
std::optional<SlopeKernel> slope_kernel();

// Each in a translation unit compiled for its processor.
SlopeKernel slope_kernel_avx2();
SlopeKernel slope_kernel_avx512();

}  // namespace flarenut::lanes

#pragma once
/// The two dense operations inside a sparse Cholesky factorisation, on blocks stored by columns.
///
/// They are compiled once per instruction set and chosen when the program runs, as large factors spend nearly all their time here.

#include <cstddef>
#include <string_view>
#include <vector>

namespace flarenut::solver {

struct BlockKernel {
  std::string_view name;
  /// C = A Tᵀ, where T is the first `columns` rows of A: what a block of `depth` columns takes from blocks to its right. Only
  /// entries on and below the diagonal of C count. Up to `slack` numbers beyond the end of A are read and not used. `room` is
  /// scratch of `room_for(rows)` numbers.
  void (*product)(int rows, int columns, int depth, const double* a, std::ptrdiff_t stride_a, double* c, std::ptrdiff_t stride_c,
                  double* room);
  /// Factorises a block whose first `columns` rows are a symmetric matrix A (lower half) and whose rest is B: A = L Lᵀ, B := B L⁻ᵀ.
  /// False when A is not positive definite.
  bool (*factorise)(int rows, int columns, double* block, std::ptrdiff_t stride, double* room);

  static constexpr int slack = 32;
  static constexpr int longest = 256;  ///< depth that is worked through at once, so that what is read again stays near
  static constexpr std::size_t room_for(int rows) { return static_cast<std::size_t>(rows + slack) * longest; }
};

/// The one for this processor.
const BlockKernel& block_kernel();
/// All that this processor runs, best first: for tests.
std::vector<BlockKernel> block_kernels();

}  // namespace flarenut::solver

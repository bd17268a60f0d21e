#pragma once
/// What `block_kernel.hpp` promises, written once for registers of any width. Everything carries the width in its type, so that
/// nothing compiled for a newer processor can be found by the rest of the program.

#include <cstring>

#include "flarenut/solver/block_kernel.hpp"

namespace flarenut::solver {

/// A processor's registers: `width` numbers each; a tile of `tall` registers by `wide` columns is kept in them.
template <int Width, int Tall>
struct Registers {
  static constexpr int width = Width, tall = Tall, wide = 4, rows = Width * Tall;
  typedef double Numbers __attribute__((vector_size(Width * sizeof(double))));
};

template <class Set>
struct Blocks {
  using Numbers = typename Set::Numbers;
  using Stride = std::ptrdiff_t;
  enum class Into { set, add, subtract };
  static constexpr int longest = BlockKernel::longest;

  static int smaller_of(int a, int b) { return a < b ? a : b; }
  static Numbers load(const double* from) {
    Numbers numbers;
    std::memcpy(&numbers, from, sizeof numbers);
    return numbers;
  }

  /// One tile: sum over depth of a column of `a` times a row of `b`.
  template <int Wide>
  static void sum(int depth, const double* a, Stride stride_a, const double* b, Stride stride_b, Numbers (&total)[Set::tall][Wide]) {
    for (int p = 0; p < depth; ++p, a += stride_a, b += stride_b) {
      Numbers x[Set::tall];
      for (int r = 0; r < Set::tall; ++r) x[r] = load(a + r * Set::width);
      for (int j = 0; j < Wide; ++j)
        for (int r = 0; r < Set::tall; ++r) total[r][j] += x[r] * b[j];
    }
  }

  template <Into into, int Wide>
  static void tile(int rows, int depth, const double* a, Stride stride_a, const double* b, Stride stride_b, double* c, Stride stride_c) {
    Numbers total[Set::tall][Wide] = {};
    sum<Wide>(depth, a, stride_a, b, stride_b, total);
    if (rows >= Set::rows) {
      for (int j = 0; j < Wide; ++j)
        for (int r = 0; r < Set::tall; ++r) {
          double* const to = c + j * stride_c + r * Set::width;
          Numbers now = total[r][j];
          if constexpr (into == Into::add) now = load(to) + now;
          if constexpr (into == Into::subtract) now = load(to) - now;
          std::memcpy(to, &now, sizeof now);
        }
      return;
    }
    double spread[Wide][Set::rows];
    for (int j = 0; j < Wide; ++j)
      for (int r = 0; r < Set::tall; ++r) std::memcpy(&spread[j][r * Set::width], &total[r][j], sizeof(Numbers));
    for (int j = 0; j < Wide; ++j)
      for (int i = 0; i < rows; ++i) {
        double& to = c[j * stride_c + i];
        if constexpr (into == Into::set) to = spread[j][i];
        if constexpr (into == Into::add) to += spread[j][i];
        if constexpr (into == Into::subtract) to -= spread[j][i];
      }
  }

  template <Into into>
  static void tiles(int wide, int rows, int depth, const double* a, Stride stride_a, const double* b, Stride stride_b, double* c, Stride stride_c) {
    switch (wide) {
      case 1: return tile<into, 1>(rows, depth, a, stride_a, b, stride_b, c, stride_c);
      case 2: return tile<into, 2>(rows, depth, a, stride_a, b, stride_b, c, stride_c);
      case 3: return tile<into, 3>(rows, depth, a, stride_a, b, stride_b, c, stride_c);
      default: return tile<into, 4>(rows, depth, a, stride_a, b, stride_b, c, stride_c);
    }
  }

  template <Into into>
  static void trapezoid(int rows, int columns, int depth, const double* a, Stride stride_a, double* c, Stride stride_c,
                        double* room) {
    const bool packs = depth >= 16 && columns >= 2 * Set::wide && stride_a > 64;
    const double* left = a;
    Stride left_stride = stride_a, left_step = Set::rows;
    if (packs) {  // tiles of `a` one after the other, so that the walk through the depth is a walk through memory
      double* to = room;
      for (int i = 0; i < rows; i += Set::rows) {
        const int here = smaller_of(Set::rows, rows - i);
        for (int p = 0; p < depth; ++p, to += Set::rows) std::memcpy(to, a + i + p * stride_a, static_cast<std::size_t>(here) * sizeof(double));
      }
      left = room;
      left_stride = Set::rows;
      left_step = static_cast<Stride>(Set::rows) * depth;
    }
    double strip[Set::wide * longest];
    for (int j = 0; j < columns; j += Set::wide) {
      const int wide = smaller_of(Set::wide, columns - j);
      const double* b = a + j;
      Stride stride_b = stride_a;
      if (packs) {
        for (int p = 0; p < depth; ++p)
          for (int w = 0; w < wide; ++w) strip[p * Set::wide + w] = a[j + w + p * stride_a];
        b = strip;
        stride_b = Set::wide;
      }
      const int first = j / Set::rows * Set::rows;
      const double* at = left + (first / Set::rows) * left_step;
      for (int i = first; i < rows; i += Set::rows, at += left_step)
        tiles<into>(wide, rows - i, depth, at, left_stride, b, stride_b, c + i + j * stride_c, stride_c);
    }
  }

  static void product(int rows, int columns, int depth, const double* a, Stride stride_a, double* c, Stride stride_c, double* room) {
    trapezoid<Into::set>(rows, columns, smaller_of(depth, longest), a, stride_a, c, stride_c, room);
    for (int p = longest; p < depth; p += longest)
      trapezoid<Into::add>(rows, columns, smaller_of(depth - p, longest), a + p * stride_a, stride_a, c, stride_c, room);
  }

  /// A few columns, one after the other.
  static bool factorise_strip(int rows, int columns, double* block, Stride stride) {
    for (int j = 0; j < columns; ++j) {
      double* const column = block + j * stride;
      int p = 0;
      for (; p + 4 <= j; p += 4) {
        const double* const l = block + p * stride;
        const double w = l[j], x = l[j + stride], y = l[j + 2 * stride], z = l[j + 3 * stride];
        for (int i = j; i < rows; ++i)
          column[i] -= (w * l[i] + x * l[i + stride]) + (y * l[i + 2 * stride] + z * l[i + 3 * stride]);
      }
      for (; p < j; ++p) {
        const double* const l = block + p * stride;
        const double w = l[j];
        for (int i = j; i < rows; ++i) column[i] -= w * l[i];
      }
      if (!(column[j] > 0.0) || !__builtin_isfinite(column[j])) return false;
      const double root = __builtin_sqrt(column[j]), inverse = 1.0 / root;
      column[j] = root;
      for (int i = j + 1; i < rows; ++i) column[i] *= inverse;
    }
    return true;
  }

  static bool factorise(int rows, int columns, double* block, Stride stride, double* room) {
    constexpr int strip = 24;
    for (int j = 0; j < columns; j += strip) {
      const int wide = smaller_of(strip, columns - j);
      double* const corner = block + j + j * stride;
      if (!factorise_strip(rows - j, wide, corner, stride)) return false;
      const int left = columns - j - wide;
      if (left > 0)
        trapezoid<Into::subtract>(rows - j - wide, left, wide, corner + wide, stride, corner + wide + wide * stride, stride, room);
    }
    return true;
  }
};

}  // namespace flarenut::solver

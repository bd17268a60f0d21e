#pragma once
/// Fields that count only together, such as a bend's angle and its radius. Parts of a kind whose slopes are worked out side by side
/// (`lanes/slope_kernel.hpp`) otherwise go every way that any of them needs.

#include "flarenut/autodiff/traced.hpp"

namespace flarenut::parts {

/// So many fields, from the first, that count for nothing while the first of them is zero.
struct FieldsTogether {
  int first, count;
  constexpr bool holds(int field) const { return field >= first && field < first + count; }
};

/// Whether the first of such fields is zero; of numbers side by side, whether it is zero in all of them, for which they then
/// come without a trail.
constexpr bool left_out(double number) { return number <= 0.0; }
template <int N>
constexpr bool left_out(const Dual<N>& number) { return number.value <= 0.0; }
template <class T>
constexpr bool left_out(const Traced<T>& number) { return number.trail == nullptr; }

}  // namespace flarenut::parts

#pragma once
/// The chain rule for a formula whose slopes are known in closed form, for any mix of plain and dual inputs.
///
/// Some correlations are cheaper to differentiate by hand than through every operation (friction is the root of an
/// equation: its slope follows from the equation, not from the iteration). They compute value and partial
/// derivatives in plain numbers and hand them over with the inputs. An input given as a plain number contributes
/// no slope.

#include <type_traits>
#include <utility>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/autodiff/traced.hpp"

namespace flarenut::correlations {

/// The number type that holds a result of several inputs: plain only if all are plain.
template <class... Inputs>
using Combined = std::decay_t<decltype((std::declval<Inputs>() + ...))>;

namespace detail {
template <class T>
struct ScalarOf {
  using type = T;
};
template <int N, class T>
struct ScalarOf<Dual<N, T>> {
  using type = T;
};
template <class T>
struct ScalarOf<Traced<T>> {
  using type = T;
};

template <class Result, class Scalar, class Input>
constexpr void add_slopes(Result& result, const Scalar& partial, const Input& input) {
  if constexpr (IsDual<Result>::value && IsDual<Input>::value) {
    for (std::size_t i = 0; i < result.slope.size(); ++i) result.slope[i] = multiply_add(partial, input.slope[i], result.slope[i]);
  }
}
template <class T, class Scalar>
constexpr void add_slopes(Traced<T>& result, const Scalar& partial, const Traced<T>& input) {
  result = result.joined(result.value, T(1.0), input, partial);
}
}  // namespace detail

/// value, with slopes partial_x·x' + partial_y·y', and so on for a third.
template <class X, class Y, class Scalar = typename detail::ScalarOf<Combined<X, Y>>::type>
constexpr Combined<X, Y> chain(const std::type_identity_t<Scalar>& value, const std::type_identity_t<Scalar>& partial_x, const X& x,
                               const std::type_identity_t<Scalar>& partial_y, const Y& y) {
  Combined<X, Y> result(value);
  detail::add_slopes(result, partial_x, x);
  detail::add_slopes(result, partial_y, y);
  return result;
}
template <class X, class Y, class Z, class Scalar = typename detail::ScalarOf<Combined<X, Y, Z>>::type>
constexpr Combined<X, Y, Z> chain(const std::type_identity_t<Scalar>& value, const std::type_identity_t<Scalar>& partial_x, const X& x,
                                  const std::type_identity_t<Scalar>& partial_y, const Y& y,
                                  const std::type_identity_t<Scalar>& partial_z, const Z& z) {
  Combined<X, Y, Z> result(value);
  detail::add_slopes(result, partial_x, x);
  detail::add_slopes(result, partial_y, y);
  detail::add_slopes(result, partial_z, z);
  return result;
}

}  // namespace flarenut::correlations

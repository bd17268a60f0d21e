#pragma once
/// Quantities of traced numbers: what Boost must be told beyond `quantities.hpp`.

#include "flarenut/autodiff/traced.hpp"
#include "flarenut/units/quantities.hpp"

namespace boost::units {
template <class T>
struct root_typeof_helper<flarenut::Traced<T>, static_rational<2>> {
  using type = flarenut::Traced<T>;
  static type value(const flarenut::Traced<T>& x) { return flarenut::sqrt(x); }
};
template <class Unit, class T>
constexpr quantity<Unit, flarenut::Traced<T>> operator*(const flarenut::Traced<T>& factor, const quantity<Unit, T>& x) {
  return quantity<Unit, flarenut::Traced<T>>::from_value(factor * x.value());
}
template <class D, class S, class T>
constexpr auto operator/(double number, const quantity<unit<D, S>, flarenut::Traced<T>>& x) {
  using inverse = typename power_typeof_helper<unit<D, S>, static_rational<-1>>::type;
  return quantity<inverse, flarenut::Traced<T>>::from_value(number / x.value());
}
}  // namespace boost::units

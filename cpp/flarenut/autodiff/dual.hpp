#pragma once
/// A number that carries its slopes: value plus a fixed set of partial derivatives.
///
/// Every law in flarenut is written once as a template on its number type. Evaluated with `double` it gives
/// the value; evaluated with `Dual<N>` it gives the value and the slopes in N directions, exact to round-off,
/// without a second formula that could disagree with the first. A part has few inputs, so N is small and the
/// slopes live in a plain array: no heap, no expression templates.

#include <array>
#include <cmath>
#include <concepts>
#include <type_traits>
#include <utility>

namespace flarenut {

/// Does something for every direction 0 … N−1, written out flat: left as a loop, g++ 12 keeps the slopes in memory and
/// a law takes four times as long.
template <int N, class Action>
constexpr void for_each_direction(Action&& action) {
  [&]<int... I>(std::integer_sequence<int, I...>) { (action(I), ...); }(std::make_integer_sequence<int, N>{});
}

template <int N>
struct Dual {
  double value = 0.0;
  std::array<double, N> slope{};

  constexpr Dual() = default;
  constexpr Dual(double plain) : value(plain) {}  // NOLINT: a plain number is a dual with no slope
  constexpr Dual(double plain, int direction) : value(plain) { slope[direction] = 1.0; }

  constexpr Dual& operator+=(const Dual& other) { return *this = *this + other; }
  constexpr Dual& operator-=(const Dual& other) { return *this = *this - other; }
  constexpr Dual& operator*=(const Dual& other) { return *this = *this * other; }
  constexpr Dual& operator/=(const Dual& other) { return *this = *this / other; }

  /// The chain rule for a function of one number: new value, and the old slopes times `outer`.
  constexpr Dual chained(double new_value, double outer) const {
    Dual result;
    result.value = new_value;
    for_each_direction<N>([&](int i) { result.slope[i] = outer * slope[i]; });
    return result;
  }

  friend constexpr Dual operator+(const Dual& a) { return a; }
  friend constexpr Dual operator-(const Dual& a) { return a.chained(-a.value, -1.0); }
  friend constexpr Dual operator+(const Dual& a, const Dual& b) {
    Dual result;
    result.value = a.value + b.value;
    for_each_direction<N>([&](int i) { result.slope[i] = a.slope[i] + b.slope[i]; });
    return result;
  }
  friend constexpr Dual operator-(const Dual& a, const Dual& b) {
    Dual result;
    result.value = a.value - b.value;
    for_each_direction<N>([&](int i) { result.slope[i] = a.slope[i] - b.slope[i]; });
    return result;
  }
  friend constexpr Dual operator*(const Dual& a, const Dual& b) {
    Dual result;
    result.value = a.value * b.value;
    for_each_direction<N>([&](int i) { result.slope[i] = a.slope[i] * b.value + a.value * b.slope[i]; });
    return result;
  }
  friend constexpr Dual operator/(const Dual& a, const Dual& b) {
    const double inverse = 1.0 / b.value;
    Dual result;
    result.value = a.value * inverse;
    for_each_direction<N>([&](int i) { result.slope[i] = (a.slope[i] - result.value * b.slope[i]) * inverse; });
    return result;
  }

  friend constexpr Dual operator+(const Dual& a, double b) { return a.chained(a.value + b, 1.0); }
  friend constexpr Dual operator+(double a, const Dual& b) { return b.chained(a + b.value, 1.0); }
  friend constexpr Dual operator-(const Dual& a, double b) { return a.chained(a.value - b, 1.0); }
  friend constexpr Dual operator-(double a, const Dual& b) { return b.chained(a - b.value, -1.0); }
  friend constexpr Dual operator*(const Dual& a, double b) { return a.chained(a.value * b, b); }
  friend constexpr Dual operator*(double a, const Dual& b) { return b.chained(a * b.value, a); }
  friend constexpr Dual operator/(const Dual& a, double b) { return a.chained(a.value / b, 1.0 / b); }
  friend constexpr Dual operator/(double a, const Dual& b) {
    const double quotient = a / b.value;
    return b.chained(quotient, -quotient / b.value);
  }

  friend constexpr bool operator==(const Dual& a, const Dual& b) { return a.value == b.value; }
  friend constexpr auto operator<=>(const Dual& a, const Dual& b) { return a.value <=> b.value; }
  friend constexpr bool operator==(const Dual& a, double b) { return a.value == b; }
  friend constexpr auto operator<=>(const Dual& a, double b) { return a.value <=> b; }
};

template <class T>
struct IsDual : std::false_type {};
template <int N>
struct IsDual<Dual<N>> : std::true_type {};

/// Any number a law may be evaluated with.
template <class T>
concept Number = std::same_as<T, double> || IsDual<T>::value;

constexpr double value_of(double x) { return x; }
template <int N>
constexpr double value_of(const Dual<N>& x) { return x.value; }

// Functions of one number. Laws call them unqualified after `using std::sqrt;` and the like.
template <int N>
Dual<N> sqrt(const Dual<N>& x) {
  const double root = std::sqrt(x.value);
  return x.chained(root, 0.5 / root);
}
template <int N>
Dual<N> cbrt(const Dual<N>& x) {
  const double root = std::cbrt(x.value);
  return x.chained(root, 1.0 / (3.0 * root * root));
}
template <int N>
Dual<N> exp(const Dual<N>& x) {
  const double e = std::exp(x.value);
  return x.chained(e, e);
}
template <int N>
Dual<N> expm1(const Dual<N>& x) { return x.chained(std::expm1(x.value), std::exp(x.value)); }
template <int N>
Dual<N> log(const Dual<N>& x) { return x.chained(std::log(x.value), 1.0 / x.value); }
template <int N>
Dual<N> log1p(const Dual<N>& x) { return x.chained(std::log1p(x.value), 1.0 / (1.0 + x.value)); }
template <int N>
Dual<N> log10(const Dual<N>& x) { return x.chained(std::log10(x.value), 0.43429448190325182765 / x.value); }
template <int N>
Dual<N> sin(const Dual<N>& x) { return x.chained(std::sin(x.value), std::cos(x.value)); }
template <int N>
Dual<N> cos(const Dual<N>& x) { return x.chained(std::cos(x.value), -std::sin(x.value)); }
template <int N>
Dual<N> tanh(const Dual<N>& x) {
  const double t = std::tanh(x.value);
  return x.chained(t, 1.0 - t * t);
}
template <int N>
Dual<N> abs(const Dual<N>& x) { return x.value < 0.0 ? -x : x; }
template <int N>
Dual<N> fabs(const Dual<N>& x) { return abs(x); }
template <int N>
Dual<N> pow(const Dual<N>& x, double exponent) {
  const double p = std::pow(x.value, exponent);
  const double outer = x.value == 0.0 ? (exponent == 1.0 ? 1.0 : 0.0) : exponent * p / x.value;
  return x.chained(p, outer);
}
template <int N>
Dual<N> pow(const Dual<N>& x, const Dual<N>& exponent) { return exp(exponent * log(x)); }
template <int N>
Dual<N> pow(double x, const Dual<N>& exponent) { return exp(exponent * std::log(x)); }
template <int N>
bool isfinite(const Dual<N>& x) {
  bool finite = std::isfinite(x.value);
  for (double s : x.slope) finite = finite && std::isfinite(s);
  return finite;
}

}  // namespace flarenut

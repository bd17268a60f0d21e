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

/// a·b + c. A plain number rounds twice, as processors of every age do; a pack of lanes rounds once, on every kernel alike.
constexpr double multiply_add(double a, double b, double c) { return a * b + c; }

/// What `condition ? yes() : no()` is for one number, and a blend of both for a pack of lanes (`lanes/pack.hpp`).
template <class Yes, class No>
constexpr auto choose(bool condition, Yes&& yes, No&& no) { return condition ? yes() : no(); }

/// Whether it holds in every lane of a pack; one number has one.
constexpr bool all(bool condition) { return condition; }

/// The larger and the smaller of two numbers; the first where they are equal.
constexpr double larger(double a, double b) { return a < b ? b : a; }
constexpr double smaller(double a, double b) { return b < a ? b : a; }

/// The slopes are of the number type `T`: double, or a pack of lanes.
template <int N, class T = double>
struct Dual {
  using Scalar = T;
  static constexpr int directions = N;

  T value{};
  std::array<T, N> slope{};

  constexpr Dual() = default;
  constexpr Dual(const T& plain) : value(plain) {}  // NOLINT: a plain number is a dual with no slope
  constexpr Dual(const T& plain, int direction) : value(plain) { slope[direction] = 1.0; }

  constexpr Dual& operator+=(const Dual& other) { return *this = *this + other; }
  constexpr Dual& operator-=(const Dual& other) { return *this = *this - other; }
  constexpr Dual& operator*=(const Dual& other) { return *this = *this * other; }
  constexpr Dual& operator/=(const Dual& other) { return *this = *this / other; }

  /// The chain rule for a function of one number: new value, and the old slopes times `outer`.
  constexpr Dual chained(const T& new_value, const T& outer) const {
    Dual result;
    result.value = new_value;
    for_each_direction<N>([&](int i) { result.slope[i] = outer * slope[i]; });
    return result;
  }
  /// The same where `outer` is 1.
  constexpr Dual moved(const T& new_value) const {
    Dual result = *this;
    result.value = new_value;
    return result;
  }

  friend constexpr Dual operator+(const Dual& a) { return a; }
  friend constexpr Dual operator-(const Dual& a) {
    Dual result;
    result.value = -a.value;
    for_each_direction<N>([&](int i) { result.slope[i] = -a.slope[i]; });
    return result;
  }
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
    for_each_direction<N>([&](int i) { result.slope[i] = multiply_add(a.slope[i], b.value, a.value * b.slope[i]); });
    return result;
  }
  friend constexpr Dual operator/(const Dual& a, const Dual& b) {
    const T inverse = 1.0 / b.value;
    Dual result;
    result.value = a.value * inverse;
    for_each_direction<N>([&](int i) { result.slope[i] = (a.slope[i] - result.value * b.slope[i]) * inverse; });
    return result;
  }

  friend constexpr Dual operator+(const Dual& a, const T& b) { return a.moved(a.value + b); }
  friend constexpr Dual operator+(const T& a, const Dual& b) { return b.moved(a + b.value); }
  friend constexpr Dual operator-(const Dual& a, const T& b) { return a.moved(a.value - b); }
  friend constexpr Dual operator-(const T& a, const Dual& b) { return b.chained(a - b.value, -1.0); }
  friend constexpr Dual operator*(const Dual& a, const T& b) { return a.chained(a.value * b, b); }
  friend constexpr Dual operator*(const T& a, const Dual& b) { return b.chained(a * b.value, a); }
  friend constexpr Dual operator/(const Dual& a, const T& b) {
    const T inverse = 1.0 / b;
    return a.chained(a.value / b, inverse);
  }
  friend constexpr Dual operator/(const T& a, const Dual& b) {
    const T quotient = a / b.value;
    return b.chained(quotient, -quotient / b.value);
  }

  friend constexpr bool operator==(const Dual& a, const Dual& b) { return a.value == b.value; }
  friend constexpr auto operator<=>(const Dual& a, const Dual& b) { return a.value <=> b.value; }
  friend constexpr bool operator==(const Dual& a, const T& b) { return a.value == b; }
  friend constexpr auto operator<=>(const Dual& a, const T& b) { return a.value <=> b; }
};

template <class T>
struct IsDual : std::false_type {};
template <int N, class T>
struct IsDual<Dual<N, T>> : std::true_type {};

/// True for a pack: several numbers that go through a law side by side.
template <class T>
struct IsPack : std::false_type {};

/// Any number a law may be evaluated with.
template <class T>
concept Number = std::same_as<T, double> || IsDual<T>::value || IsPack<T>::value;

constexpr double value_of(double x) { return x; }
template <int N, class T>
constexpr T value_of(const Dual<N, T>& x) { return x.value; }

// Functions of one number. Laws call them unqualified after `using std::sqrt;` and the like.
template <int N, class T>
Dual<N, T> sqrt(const Dual<N, T>& x) {
  using std::sqrt;
  const T root = sqrt(x.value);
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
template <int N, class T>
Dual<N, T> abs(const Dual<N, T>& x) {
  return choose(x.value < 0.0, [&] { return -x; }, [&] { return x; });
}
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

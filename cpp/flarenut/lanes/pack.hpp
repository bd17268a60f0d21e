#pragma once
/// A pack: as many numbers as the processor works on at once, one per lane. Laws take it for their number type.
///
/// Every operation is rounded as IEEE 754 says, and multiply-adds are written where they are meant, so a lane holds the same
/// bits whatever stands in the other lanes and on whichever instruction set. A condition is a mask of lanes; `choose` works
/// out both branches and blends them, so a branch that does not count may divide by zero.

#include <array>
#include <limits>
#include <type_traits>

#include "flarenut/autodiff/dual.hpp"
#include "flarenut/autodiff/traced.hpp"
#include "flarenut/lanes/instruction_sets.hpp"
#include "flarenut/units/quantities.hpp"

namespace flarenut::lanes {

template <class Set>
struct Mask {
  typename Set::Bits bits;  ///< all ones where it holds, all zeros elsewhere

  friend Mask operator&&(const Mask& a, const Mask& b) { return {a.bits & b.bits}; }
  friend Mask operator||(const Mask& a, const Mask& b) { return {a.bits | b.bits}; }
  friend Mask operator!(const Mask& a) { return {~a.bits}; }

  bool holds(int lane) const { return Set::holds(bits, lane); }
};

/// Whether it holds in every lane.
template <class Set>
bool all(const Mask<Set>& mask) { return Set::all(mask.bits); }

template <class Set>
struct Pack {
  using Number = typename Set::Number;
  using Numbers = typename Set::Numbers;
  using Bits = typename Set::Bits;
  static constexpr int width = Set::width;
  /// No number of ours is as large; its square root stands far above any as well.
  static constexpr double huge = std::is_same_v<Number, double> ? 1e300 : 1e30;

  Numbers numbers{};

  Pack() = default;
  Pack(double same) : numbers(Set::same(static_cast<Number>(same))) {}  // NOLINT: a plain number is the same in every lane
  static Pack of(Numbers numbers) {
    Pack pack;
    pack.numbers = numbers;
    return pack;
  }
  static Pack of_bits(Bits bits) { return of(Set::numbers(bits)); }
  static Pack load(const Number* from) { return of(Set::load(from)); }
  void store(Number* to) const { Set::store(to, numbers); }
  Bits bits() const { return Set::bits(numbers); }

  Pack& operator+=(const Pack& b) { return *this = *this + b; }
  Pack& operator-=(const Pack& b) { return *this = *this - b; }
  Pack& operator*=(const Pack& b) { return *this = *this * b; }

  friend Pack operator-(const Pack& a) { return of(-a.numbers); }
  friend Pack operator+(const Pack& a, const Pack& b) { return of(a.numbers + b.numbers); }
  friend Pack operator-(const Pack& a, const Pack& b) { return of(a.numbers - b.numbers); }
  friend Pack operator*(const Pack& a, const Pack& b) { return of(a.numbers * b.numbers); }
  friend Pack operator/(const Pack& a, const Pack& b) { return of(a.numbers / b.numbers); }
  friend Mask<Set> operator<(const Pack& a, const Pack& b) { return {a.numbers < b.numbers}; }
  friend Mask<Set> operator>(const Pack& a, const Pack& b) { return {a.numbers > b.numbers}; }
  friend Mask<Set> operator<=(const Pack& a, const Pack& b) { return {a.numbers <= b.numbers}; }
  friend Mask<Set> operator>=(const Pack& a, const Pack& b) { return {a.numbers >= b.numbers}; }
  friend Mask<Set> operator==(const Pack& a, const Pack& b) { return {a.numbers == b.numbers}; }
  friend Mask<Set> operator!=(const Pack& a, const Pack& b) { return {a.numbers != b.numbers}; }
};

template <class Set>
Pack<Set> value_of(const Pack<Set>& x) { return x; }

template <class Set>
Pack<Set> blend(const Mask<Set>& mask, const Pack<Set>& yes, const Pack<Set>& no) {
  return Pack<Set>::of(Set::pick(mask.bits, yes.numbers, no.numbers));
}
template <class Set, int N>
Dual<N, Pack<Set>> blend(const Mask<Set>& mask, const Dual<N, Pack<Set>>& yes, const Dual<N, Pack<Set>>& no) {
  Dual<N, Pack<Set>> result;
  result.value = blend(mask, yes.value, no.value);
  for_each_direction<N>([&](int i) { result.slope[i] = blend(mask, yes.slope[i], no.slope[i]); });
  return result;
}
template <class Set>
Traced<Pack<Set>> blend(const Mask<Set>& mask, const Traced<Pack<Set>>& yes, const Traced<Pack<Set>>& no) {
  using P = Pack<Set>;
  const P one(1.0), none(0.0);
  return yes.joined(blend(mask, yes.value, no.value), blend(mask, one, none), no, blend(mask, none, one));
}
template <class Set, class Quantity>
  requires requires(const Quantity& x) { Quantity::from_value(x.value()); }
Quantity blend(const Mask<Set>& mask, const Quantity& yes, const Quantity& no) {
  return Quantity::from_value(blend(mask, yes.value(), no.value()));
}
template <class Set, class Yes, class No>
auto choose(const Mask<Set>& mask, Yes&& yes, No&& no) {
  return blend(mask, yes(), no());
}

template <class Set>
Pack<Set> multiply_add(const Pack<Set>& a, const Pack<Set>& b, const Pack<Set>& c) {
  return Pack<Set>::of(Set::multiply_add(a.numbers, b.numbers, c.numbers));
}
template <class Set>
Pack<Set> larger(const Pack<Set>& a, const Pack<Set>& b) { return Pack<Set>::of(Set::larger(b.numbers, a.numbers)); }
template <class Set>
Pack<Set> smaller(const Pack<Set>& a, const Pack<Set>& b) { return Pack<Set>::of(Set::smaller(b.numbers, a.numbers)); }
template <class Set>
Pack<Set> sqrt(const Pack<Set>& x) { return Pack<Set>::of(Set::root(x.numbers)); }
template <class Set>
inline constexpr typename Set::Whole all_but_sign = std::numeric_limits<typename Set::Whole>::max();
template <class Set>
Pack<Set> abs(const Pack<Set>& x) { return Pack<Set>::of_bits(x.bits() & all_but_sign<Set>); }
template <class Set>
Pack<Set> copysign(const Pack<Set>& size, const Pack<Set>& sign) {
  return Pack<Set>::of_bits((size.bits() & all_but_sign<Set>) | (sign.bits() & ~all_but_sign<Set>));
}

/// Bits of 1, and of the number whose last bit of mantissa counts as 1: that and e has e in its last bits, so whole numbers need no
/// conversion, which AVX2 lacks.
template <class Set, class F = Format<typename Set::Number>>
inline constexpr typename Set::Whole bits_of_one = typename Set::Whole{F::bias} << F::mantissa;
template <class Set, class F = Format<typename Set::Number>>
inline constexpr typename Set::Whole bits_of_grain = typename Set::Whole{F::bias + F::mantissa} << F::mantissa;
template <class Set, class F = Format<typename Set::Number>>
inline constexpr double grain = static_cast<double>(std::uint64_t{1} << F::mantissa);

/// Exponent (plus its bias) and mantissa of normal x > 0: x = mantissa · 2^exponent, mantissa from 1 to 2.
template <class Set>
Pack<Set> biased_exponent(const Pack<Set>& x) {
  return Pack<Set>::of_bits(Set::shifted_down(x.bits()) | bits_of_grain<Set>) - grain<Set>;
}
template <class Set>
Pack<Set> binary_mantissa(const Pack<Set>& x) {
  constexpr typename Set::Whole mantissa = (typename Set::Whole{1} << Format<typename Set::Number>::mantissa) - 1;
  return Pack<Set>::of_bits((x.bits() & mantissa) | bits_of_one<Set>);
}

/// ln(x/y) of normal x, y > 0 whose exponents are less than 1000 (single precision: 120) apart, to 1e-12 (1e-8) or round-off. The bits of
/// a number, read as an integer, are close to 2^52 times its binary logarithm, give or take 0.09: so the difference of two, rounded to the
/// nearest e, tells how many doublings bring y near x. Then s = (x − 2^e y)/(x + 2^e y) is 0.2 at most, and ln(x/y) = e ln 2 + 2 artanh s,
/// the series of artanh being cut where it falls below that.
template <class Set>
Pack<Set> log_of_ratio(const Pack<Set>& x, const Pack<Set>& y) {
  using P = Pack<Set>;
  using Whole = typename Set::Whole;
  using F = Format<typename Set::Number>;
  constexpr Whole one = Whole{1} << F::mantissa, biased = (F::bias + 1) * one, half = one / 2, whole = -one;
  constexpr double ln_2 = 0.693147180559945309;
  const auto doublings = Set::sum(Set::difference(x.bits(), y.bits()), biased + half) & whole;  // 2^52 (e + 1024)
  const P near = P::of_bits(Set::sum(y.bits(), Set::sum(doublings, -biased)));
  const P e = P::of_bits(Set::shifted_down(doublings) | bits_of_grain<Set>) - (grain<Set> + (F::bias + 1));
  const P s = (x - near) / (x + near);
  const P z = s * s, z2 = z * z;
  const auto pair = [&](double low, double high) { return multiply_add(z, P(high), P(low)); };
  P series = multiply_add(z2, pair(2.0 / 7.0, 2.0 / 9.0), pair(2.0 / 3.0, 2.0 / 5.0));
  if constexpr (std::is_same_v<typename Set::Number, double>) {
    constexpr double last = 2.0 / 13.0 + 2.0 / 15.0 * 0.036;  // z reaches 0.0402
    series = multiply_add(z2 * z2, pair(2.0 / 11.0, last), series);
  }
  return multiply_add(e, P(ln_2), s * multiply_add(z, series, P(2.0)));
}

/// A function of the C library, lane by lane: for what is seldom asked.
template <class Set, class Function>
Pack<Set> lane_by_lane(const Pack<Set>& x, Function&& function) {
  alignas(64) typename Set::Number numbers[Set::width];
  x.store(numbers);
  for (auto& number : numbers) number = static_cast<typename Set::Number>(function(number));
  return Pack<Set>::load(numbers);
}
template <class Set>
Pack<Set> exp(const Pack<Set>& x) { return lane_by_lane(x, [](double number) { return std::exp(number); }); }
template <class Set>
Pack<Set> sin(const Pack<Set>& x) { return lane_by_lane(x, [](double number) { return std::sin(number); }); }
template <class Set>
Pack<Set> cos(const Pack<Set>& x) { return lane_by_lane(x, [](double number) { return std::cos(number); }); }
template <class Set>
Pack<Set> log(const Pack<Set>& x) { return log_of_ratio(x, Pack<Set>(1.0)); }

}  // namespace flarenut::lanes

namespace flarenut {
template <class Set>
struct IsPack<lanes::Pack<Set>> : std::true_type {};
}  // namespace flarenut

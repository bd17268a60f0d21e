#pragma once
/// A number that remembers how it came about, for slopes with many numbers at once.
///
/// A `Dual` carries the slopes with every input through every step of a law, which is dear where there are many inputs and one
/// result. A `Traced` number writes each step down instead, on the `Trail` that its inputs were started on; afterwards the trail
/// is walked back once from the result, and gives the slopes with all inputs for about the price of three laws. Laws are
/// templates of their number type, so nothing is stated twice.
///
/// Meant for laws that are straight formulas, written with `choose` in place of branches, and for functions into which they are
/// flattened whole: then the compiler knows every place on the trail, and nothing but the arithmetic is left of it.

#include "flarenut/autodiff/dual.hpp"

namespace flarenut {

template <class T>
struct Traced;

template <class T>
class Trail {
 public:
  /// Of the longest law, with some to spare. Steps past it are lost, and `whole` says so.
  static constexpr int most_steps = 88;

  Trail() = default;
  Trail(const Trail&) = delete;  // its numbers point to it
  Trail& operator=(const Trail&) = delete;

  /// An input. Slopes come back in the order in which inputs were started; all of them before the first law.
  Traced<T> start(const T& value) { return {value, this, write({-1, -1}, {})}; }
  /// A step from one number, or from two, with the slopes of the result.
  Traced<T> step(const T& value, int from, const T& slope) { return {value, this, write({from, -1}, {slope, T{}})}; }
  Traced<T> step(const T& value, int from, const T& slope, int other, const T& other_slope) {
    return {value, this, write({from, other}, {slope, other_slope})};
  }

  bool whole() const { return count_ <= most_steps; }

  /// Slopes of `result` with the first `inputs` steps, each times `weight`.
  template <int inputs>
  std::array<T, inputs> slopes(const Traced<T>& result, const T& weight) const {
    std::array<T, most_steps> pull{};
    std::array<bool, most_steps> pulled{};
    if (result.trail != nullptr) {
      pull[index(result.place)] = weight;
      pulled[index(result.place)] = true;
    }
    for_each_direction<most_steps>([&](int k) {
      const int here = most_steps - 1 - k;
      if (here >= count_ || !pulled[index(here)]) return;
      for_each_direction<2>([&](int side) {
        const int from = from_[index(here)][index(side)];
        if (from < 0) return;
        const T& slope = slope_[index(here)][index(side)];
        T& to = pull[index(from)];
        to = pulled[index(from)] ? multiply_add(slope, pull[index(here)], to) : T(slope * pull[index(here)]);
        pulled[index(from)] = true;
      });
    });
    std::array<T, inputs> found;
    for_each_direction<inputs>([&](int i) { found[index(i)] = pull[index(i)]; });
    return found;
  }

 private:
  static constexpr std::size_t index(int i) { return static_cast<std::size_t>(i); }
  int write(const std::array<int, 2>& from, const std::array<T, 2>& slope) {
    const int place = count_++;
    if (place < most_steps) {
      from_[index(place)] = from;
      slope_[index(place)] = slope;
    }
    return place;
  }

  std::array<std::array<int, 2>, most_steps> from_;
  std::array<std::array<T, 2>, most_steps> slope_;
  int count_ = 0;
};

/// The number. Plain where it has no trail.
template <class T>
struct Traced {
  using Scalar = T;
  static constexpr int directions = 1;

  T value{};
  Trail<T>* trail = nullptr;
  int place = -1;

  constexpr Traced() = default;
  // Copied piece by piece: where it is copied as one block of memory, the compiler (g++ 12) loses sight of its place.
  constexpr Traced(const Traced& other) : value(other.value), trail(other.trail), place(other.place) {}
  // NOLINTNEXTLINE(bugprone-unhandled-self-assignment,cert-oop54-cpp): of itself it changes nothing
  constexpr Traced& operator=(const Traced& other) {
    value = other.value;
    trail = other.trail;
    place = other.place;
    return *this;
  }
  constexpr Traced(const T& plain) : value(plain) {}  // NOLINT: a plain number has no trail
  constexpr Traced(const T& new_value, Trail<T>* its_trail, int its_place) : value(new_value), trail(its_trail), place(its_place) {}

  /// The chain rule for a function of one number.
  Traced chained(const T& new_value, const T& outer) const {
    return trail == nullptr ? Traced(new_value) : trail->step(new_value, place, outer);
  }
  /// The same for a function of this number and another.
  Traced joined(const T& new_value, const T& outer, const Traced& other, const T& other_outer) const {
    if (trail == nullptr) return other.chained(new_value, other_outer);
    if (other.trail == nullptr) return chained(new_value, outer);
    return trail->step(new_value, place, outer, other.place, other_outer);
  }
  /// Where only a constant was added.
  Traced moved(const T& new_value) const { return {new_value, trail, place}; }

  Traced& operator+=(const Traced& b) { return *this = *this + b; }
  Traced& operator-=(const Traced& b) { return *this = *this - b; }
  Traced& operator*=(const Traced& b) { return *this = *this * b; }
  Traced& operator/=(const Traced& b) { return *this = *this / b; }

  friend Traced operator-(const Traced& a) { return a.chained(-a.value, T(-1.0)); }
  friend Traced operator+(const Traced& a, const Traced& b) {
    if (b.trail == nullptr) return a.moved(a.value + b.value);
    if (a.trail == nullptr) return b.moved(a.value + b.value);
    return a.joined(a.value + b.value, T(1.0), b, T(1.0));
  }
  friend Traced operator-(const Traced& a, const Traced& b) {
    if (b.trail == nullptr) return a.moved(a.value - b.value);
    return a.joined(a.value - b.value, T(1.0), b, T(-1.0));
  }
  friend Traced operator*(const Traced& a, const Traced& b) { return a.joined(a.value * b.value, b.value, b, a.value); }
  friend Traced operator/(const Traced& a, const Traced& b) {
    const T inverse = 1.0 / b.value;
    const T quotient = a.value * inverse;
    return a.joined(quotient, inverse, b, -quotient * inverse);
  }
  friend Traced operator+(const Traced& a, const T& b) { return a.moved(a.value + b); }
  friend Traced operator+(const T& a, const Traced& b) { return b.moved(a + b.value); }
  friend Traced operator-(const Traced& a, const T& b) { return a.moved(a.value - b); }
  friend Traced operator-(const T& a, const Traced& b) { return b.chained(a - b.value, T(-1.0)); }
  friend Traced operator*(const Traced& a, const T& b) { return a.chained(a.value * b, b); }
  friend Traced operator*(const T& a, const Traced& b) { return b.chained(a * b.value, a); }
  friend Traced operator/(const Traced& a, const T& b) {
    const T inverse = 1.0 / b;
    return a.chained(a.value * inverse, inverse);
  }
  friend Traced operator/(const T& a, const Traced& b) {
    const T inverse = 1.0 / b.value;
    const T quotient = a * inverse;
    return b.chained(quotient, -quotient * inverse);
  }
};

/// It carries slopes, as duals do.
template <class T>
struct IsDual<Traced<T>> : std::true_type {};

template <class T>
constexpr T value_of(const Traced<T>& x) { return x.value; }

template <class T>
Traced<T> sqrt(const Traced<T>& x) {
  using std::sqrt;
  const T root = sqrt(x.value);
  return x.chained(root, 0.5 / root);
}
template <class T>
Traced<T> exp(const Traced<T>& x) {
  using std::exp;
  const T e = exp(x.value);
  return x.chained(e, e);
}
template <class T>
Traced<T> log(const Traced<T>& x) {
  using std::log;
  return x.chained(log(x.value), 1.0 / x.value);
}
template <class T>
Traced<T> sin(const Traced<T>& x) {
  using std::cos;
  using std::sin;
  return x.chained(sin(x.value), cos(x.value));
}
template <class T>
Traced<T> pow(const Traced<T>& x, const Traced<T>& exponent) { return exp(exponent * log(x)); }

}  // namespace flarenut

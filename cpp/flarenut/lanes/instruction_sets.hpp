#pragma once
/// What a pack is made of on each kind of processor. A translation unit that is compiled for a processor defines which of
/// these it has (see `CMakeLists.txt`); everything built on one carries its name in its type, so that the linker can never take
/// a function compiled for a newer processor in place of one that must run everywhere.

#include <cmath>
#include <cstdint>

#if defined(FLARENUT_LANES_AVX2) || defined(FLARENUT_LANES_AVX512)
#include <immintrin.h>
#endif

namespace flarenut::lanes {

/// How a number is stored (IEEE 754): the whole numbers of its size, bits of its mantissa, what its exponent is written more than it is.
template <class Number>
struct Format;
template <>
struct Format<double> {
  using Whole = std::int64_t;
  using Positive = std::uint64_t;
  static constexpr int mantissa = 52, bias = 1023;
};
template <>
struct Format<float> {
  using Whole = std::int32_t;
  using Positive = std::uint32_t;
  static constexpr int mantissa = 23, bias = 127;
};

/// A register of so many bytes.
template <class Of, int bytes>
struct Wide {
  using Number = Of;
  typedef Of Numbers __attribute__((vector_size(bytes), may_alias));
  typedef typename Format<Of>::Whole Bits __attribute__((vector_size(bytes), may_alias));
  typedef typename Format<Of>::Positive Positive __attribute__((vector_size(bytes), may_alias));
};

/// One vector register: what `Own` adds is the multiply-add and the root.
template <class Own, class Wide>
struct OneRegister {
  using Number = typename Wide::Number;
  using Whole = typename Format<Number>::Whole;
  using Numbers = typename Wide::Numbers;
  using Bits = typename Wide::Bits;
  static constexpr int width = sizeof(Numbers) / sizeof(Number);

  static Numbers load(const Number* from) { return *reinterpret_cast<const Numbers*>(from); }
  static void store(Number* to, Numbers a) { *reinterpret_cast<Numbers*>(to) = a; }
  static Numbers same(Number a) { return a - Numbers{}; }
  static Bits bits(Numbers a) { return reinterpret_cast<Bits>(a); }
  static Numbers numbers(Bits a) { return reinterpret_cast<Numbers>(a); }
  static Bits shifted_down(Bits a) { return reinterpret_cast<Bits>(positive(a) >> Format<Number>::mantissa); }
  /// Whole numbers wrap around, which C++ allows to those without a sign alone.
  static Bits sum(Bits a, Bits b) { return reinterpret_cast<Bits>(positive(a) + positive(b)); }
  static Bits sum(Bits a, Whole b) { return reinterpret_cast<Bits>(positive(a) + static_cast<typename Format<Number>::Positive>(b)); }
  static Bits difference(Bits a, Bits b) { return reinterpret_cast<Bits>(positive(a) - positive(b)); }
  static Numbers pick(Bits mask, Numbers yes, Numbers no) { return mask ? yes : no; }
  static bool holds(Bits mask, int lane) { return mask[lane] != 0; }
  static bool all(Bits mask) {
    bool every = true;
    for (int lane = 0; lane < width; ++lane) every = every && mask[lane] != 0;
    return every;
  }
  /// b where a > b is not true, as the processors' own instructions have it.
  static Numbers larger(Numbers a, Numbers b) { return a > b ? a : b; }
  static Numbers smaller(Numbers a, Numbers b) { return a < b ? a : b; }

 private:
  friend Own;  // nobody else stands on it under that name
  OneRegister() = default;
  static typename Wide::Positive positive(Bits a) { return reinterpret_cast<typename Wide::Positive>(a); }
};

/// Two registers side by side: while the one waits for a result the processor works on the other, and finding where numbers
/// stand is done once for both. Laws and elimination are long chains of results that need each other.
template <class One>
struct TwoRegisters {
  using Number = typename One::Number;
  using Whole = typename One::Whole;
  static constexpr int width = 2 * One::width;

  struct Bits {
    typename One::Bits a, b;
    friend Bits operator&(const Bits& x, const Bits& y) { return {x.a & y.a, x.b & y.b}; }
    friend Bits operator|(const Bits& x, const Bits& y) { return {x.a | y.a, x.b | y.b}; }
    friend Bits operator&(const Bits& x, Whole y) { return {x.a & y, x.b & y}; }
    friend Bits operator|(const Bits& x, Whole y) { return {x.a | y, x.b | y}; }
    friend Bits operator~(const Bits& x) { return {~x.a, ~x.b}; }
  };
  struct Numbers {
    typename One::Numbers a, b;
    friend Numbers operator-(const Numbers& x) { return {-x.a, -x.b}; }
    friend Numbers operator+(const Numbers& x, const Numbers& y) { return {x.a + y.a, x.b + y.b}; }
    friend Numbers operator-(const Numbers& x, const Numbers& y) { return {x.a - y.a, x.b - y.b}; }
    friend Numbers operator*(const Numbers& x, const Numbers& y) { return {x.a * y.a, x.b * y.b}; }
    friend Numbers operator/(const Numbers& x, const Numbers& y) { return {x.a / y.a, x.b / y.b}; }
    friend Bits operator<(const Numbers& x, const Numbers& y) { return {x.a < y.a, x.b < y.b}; }
    friend Bits operator>(const Numbers& x, const Numbers& y) { return {x.a > y.a, x.b > y.b}; }
    friend Bits operator<=(const Numbers& x, const Numbers& y) { return {x.a <= y.a, x.b <= y.b}; }
    friend Bits operator>=(const Numbers& x, const Numbers& y) { return {x.a >= y.a, x.b >= y.b}; }
    friend Bits operator==(const Numbers& x, const Numbers& y) { return {x.a == y.a, x.b == y.b}; }
    friend Bits operator!=(const Numbers& x, const Numbers& y) { return {x.a != y.a, x.b != y.b}; }
  };

  static Numbers load(const Number* from) { return {One::load(from), One::load(from + One::width)}; }
  static void store(Number* to, const Numbers& x) {
    One::store(to, x.a);
    One::store(to + One::width, x.b);
  }
  static Numbers same(Number x) { return {One::same(x), One::same(x)}; }
  static Bits bits(const Numbers& x) { return {One::bits(x.a), One::bits(x.b)}; }
  static Numbers numbers(const Bits& x) { return {One::numbers(x.a), One::numbers(x.b)}; }
  static Bits shifted_down(const Bits& x) { return {One::shifted_down(x.a), One::shifted_down(x.b)}; }
  static Numbers pick(const Bits& mask, const Numbers& yes, const Numbers& no) {
    return {One::pick(mask.a, yes.a, no.a), One::pick(mask.b, yes.b, no.b)};
  }
  static bool holds(const Bits& mask, int lane) {
    return lane < One::width ? One::holds(mask.a, lane) : One::holds(mask.b, lane - One::width);
  }
  static bool all(const Bits& mask) { return One::all(mask.a & mask.b); }
  static Bits sum(const Bits& x, const Bits& y) { return {One::sum(x.a, y.a), One::sum(x.b, y.b)}; }
  static Bits sum(const Bits& x, Whole y) { return {One::sum(x.a, y), One::sum(x.b, y)}; }
  static Bits difference(const Bits& x, const Bits& y) { return {One::difference(x.a, y.a), One::difference(x.b, y.b)}; }
  static Numbers larger(const Numbers& x, const Numbers& y) { return {One::larger(x.a, y.a), One::larger(x.b, y.b)}; }
  static Numbers smaller(const Numbers& x, const Numbers& y) { return {One::smaller(x.a, y.a), One::smaller(x.b, y.b)}; }
  static Numbers multiply_add(const Numbers& x, const Numbers& y, const Numbers& z) {
    return {One::multiply_add(x.a, y.a, z.a), One::multiply_add(x.b, y.b, z.b)};
  }
  static Numbers root(const Numbers& x) { return {One::root(x.a), One::root(x.b)}; }
};

/// Any processor: two lanes, multiply-adds by the C library (a single instruction where the processor has one).
struct PlainSet : OneRegister<PlainSet, Wide<double, 16>> {
  static Numbers multiply_add(Numbers a, Numbers b, Numbers c) {
    return Numbers{__builtin_fma(a[0], b[0], c[0]), __builtin_fma(a[1], b[1], c[1])};
  }
  static Numbers root(Numbers a) { return Numbers{__builtin_sqrt(a[0]), __builtin_sqrt(a[1])}; }
};
/// Sets of single precision have twice as many lanes.
struct PlainSingleSet : OneRegister<PlainSingleSet, Wide<float, 16>> {
  static Numbers multiply_add(Numbers a, Numbers b, Numbers c) {
    return Numbers{__builtin_fmaf(a[0], b[0], c[0]), __builtin_fmaf(a[1], b[1], c[1]), __builtin_fmaf(a[2], b[2], c[2]),
                   __builtin_fmaf(a[3], b[3], c[3])};
  }
  static Numbers root(Numbers a) {
    return Numbers{__builtin_sqrtf(a[0]), __builtin_sqrtf(a[1]), __builtin_sqrtf(a[2]), __builtin_sqrtf(a[3])};
  }
};

#if defined(FLARENUT_LANES_AVX2)
struct Avx2One : OneRegister<Avx2One, Wide<double, 32>> {
  static Numbers multiply_add(Numbers a, Numbers b, Numbers c) { return _mm256_fmadd_pd(a, b, c); }
  static Numbers root(Numbers a) { return _mm256_sqrt_pd(a); }
  static Numbers larger(Numbers a, Numbers b) { return _mm256_max_pd(a, b); }
  static Numbers smaller(Numbers a, Numbers b) { return _mm256_min_pd(a, b); }
  static bool all(Bits mask) { return _mm256_movemask_pd(reinterpret_cast<Numbers>(mask)) == 0xF; }
};
struct Avx2SingleOne : OneRegister<Avx2SingleOne, Wide<float, 32>> {
  static Numbers multiply_add(Numbers a, Numbers b, Numbers c) { return _mm256_fmadd_ps(a, b, c); }
  static Numbers root(Numbers a) { return _mm256_sqrt_ps(a); }
  static Numbers larger(Numbers a, Numbers b) { return _mm256_max_ps(a, b); }
  static Numbers smaller(Numbers a, Numbers b) { return _mm256_min_ps(a, b); }
  static bool all(Bits mask) { return _mm256_movemask_ps(reinterpret_cast<Numbers>(mask)) == 0xFF; }
};
using Avx2Set = TwoRegisters<Avx2One>;
using Avx2SingleSet = TwoRegisters<Avx2SingleOne>;
#endif

#if defined(FLARENUT_LANES_AVX512)
struct Avx512Set : OneRegister<Avx512Set, Wide<double, 64>> {
  static Numbers multiply_add(Numbers a, Numbers b, Numbers c) { return _mm512_fmadd_pd(a, b, c); }
  static Numbers root(Numbers a) { return _mm512_maskz_sqrt_pd(0xFF, a); }  // the unmasked one raises a false alarm in g++ 12
  static Numbers larger(Numbers a, Numbers b) { return _mm512_maskz_max_pd(0xFF, a, b); }
  static Numbers smaller(Numbers a, Numbers b) { return _mm512_maskz_min_pd(0xFF, a, b); }
  static bool all(Bits mask) { return _mm512_cmplt_epi64_mask(reinterpret_cast<__m512i>(mask), _mm512_setzero_si512()) == 0xFF; }
};
struct Avx512SingleSet : OneRegister<Avx512SingleSet, Wide<float, 64>> {
  static Numbers multiply_add(Numbers a, Numbers b, Numbers c) { return _mm512_fmadd_ps(a, b, c); }
  static Numbers root(Numbers a) { return _mm512_maskz_sqrt_ps(0xFFFF, a); }
  static Numbers larger(Numbers a, Numbers b) { return _mm512_maskz_max_ps(0xFFFF, a, b); }
  static Numbers smaller(Numbers a, Numbers b) { return _mm512_maskz_min_ps(0xFFFF, a, b); }
  static bool all(Bits mask) { return _mm512_cmplt_epi32_mask(reinterpret_cast<__m512i>(mask), _mm512_setzero_si512()) == 0xFFFF; }
};
#endif

}  // namespace flarenut::lanes

// Numbers side by side in vector registers, over the vector types that g++ and clang share. One
// source serves 1 (plain scalars), 4, 8 and 16 lanes; lanes never mix, and only operations that
// IEEE 754 rounds exactly are used, so a lane's bits do not depend on how many there are.
//
// Files with instruction sets of their own include this: everything is forced inline, so that no
// copy compiled for a newer machine can be taken by the linker for the rest of the program.
#pragma once

#include <cstdint>
#if defined(__SSE2__)
#include <immintrin.h>
#elif defined(__wasm_simd128__)
#include <wasm_simd128.h>
#endif

#define LANES_INLINE inline __attribute__((always_inline))
/// The same for a lambda, after its parameters.
#define LANES_LAMBDA __attribute__((always_inline))

namespace base {

/// Element and vector types: Ints and masks are as wide as the reals.
template <class T, int N>
struct LaneTypes;
template <int N>
struct LaneTypes<float, N> {
  using Int = std::int32_t;
  typedef float Reals __attribute__((vector_size(4 * N)));
  typedef std::int32_t Words __attribute__((vector_size(4 * N)));
};
template <>
struct LaneTypes<float, 1> {
  using Int = std::int32_t;
  using Reals = float;
  using Words = std::int32_t;
};
template <>
struct LaneTypes<double, 1> {
  using Int = std::int64_t;
  using Reals = double;
  using Words = std::int64_t;
};

/// One value in all lanes, written out: g++ 12 makes an arithmetic operation of `one - Vector{}`.
template <class Vector, int N, class Element>
LANES_INLINE Vector in_all_lanes(Element a) {
  if constexpr (N == 1) {
    return a;
  } else if constexpr (N == 4) {
    return Vector{a, a, a, a};
  } else if constexpr (N == 8) {
    return Vector{a, a, a, a, a, a, a, a};
  } else {
    return Vector{a, a, a, a, a, a, a, a, a, a, a, a, a, a, a, a};
  }
}

/// Whole numbers, two's complement; sums wrap as the machine's do, so keep them small.
template <class T, int N>
struct Ints {
  using Int = typename LaneTypes<T, N>::Int;
  typename LaneTypes<T, N>::Words v;

  Ints() = default;
  LANES_INLINE Ints(typename LaneTypes<T, N>::Words words) : v(words) {}
  LANES_INLINE static Ints all(Int one) {
    return {in_all_lanes<typename LaneTypes<T, N>::Words, N>(one)};
  }
};

/// All bits set where true, none where false.
template <class T, int N>
struct Mask {
  typename LaneTypes<T, N>::Words v;
};

template <class T, int N>
struct Reals {
  using Vector = typename LaneTypes<T, N>::Reals;
  using Words = Ints<T, N>;
  using Truth = Mask<T, N>;
  using Scalar = T;
  static constexpr int count = N;
  Vector v;

  Reals() = default;
  LANES_INLINE Reals(T one) : v(in_all_lanes<Vector, N>(one)) {}
  LANES_INLINE static Reals of(Vector vector) {
    Reals made;
    made.v = vector;
    return made;
  }
  LANES_INLINE friend Reals operator+(Reals a, Reals b) { return of(a.v + b.v); }
  LANES_INLINE friend Reals operator-(Reals a, Reals b) { return of(a.v - b.v); }
  LANES_INLINE friend Reals operator*(Reals a, Reals b) { return of(a.v * b.v); }
  LANES_INLINE friend Reals operator/(Reals a, Reals b) { return of(a.v / b.v); }
  LANES_INLINE friend Reals operator-(Reals a) { return of(-a.v); }
  LANES_INLINE friend Truth operator<(Reals a, Reals b) { return truth(a.v < b.v); }
  LANES_INLINE friend Truth operator<=(Reals a, Reals b) { return truth(a.v <= b.v); }
  LANES_INLINE friend Truth operator>(Reals a, Reals b) { return truth(a.v > b.v); }
  LANES_INLINE friend Truth operator>=(Reals a, Reals b) { return truth(a.v >= b.v); }

 private:
  template <class Comparison>
  LANES_INLINE static Truth truth(Comparison c) {
    if constexpr (N == 1) {
      return {-static_cast<typename LaneTypes<T, N>::Int>(c)};
    } else {
      return {c};
    }
  }
};

template <class T, int N>
LANES_INLINE Mask<T, N> operator&(Mask<T, N> a, Mask<T, N> b) {
  return {a.v & b.v};
}
template <class T, int N>
LANES_INLINE Mask<T, N> operator|(Mask<T, N> a, Mask<T, N> b) {
  return {a.v | b.v};
}
template <class T, int N>
LANES_INLINE Mask<T, N> operator~(Mask<T, N> a) {
  return {~a.v};
}
template <class T, int N>
LANES_INLINE Ints<T, N> operator+(Ints<T, N> a, Ints<T, N> b) {
  return {a.v + b.v};
}
template <class T, int N>
LANES_INLINE Ints<T, N> operator^(Ints<T, N> a, Ints<T, N> b) {
  return {a.v ^ b.v};
}
/// The number where true, 0 where false.
template <class T, int N>
LANES_INLINE Ints<T, N> operator&(Ints<T, N> a, Mask<T, N> m) {
  return {a.v & m.v};
}
template <class T, int N>
LANES_INLINE Reals<T, N> select(Mask<T, N> m, Reals<T, N> yes, Reals<T, N> no) {
  return Reals<T, N>::of(m.v ? yes.v : no.v);
}
template <class T, int N>
LANES_INLINE Ints<T, N> select(Mask<T, N> m, Ints<T, N> yes, Ints<T, N> no) {
  return {m.v ? yes.v : no.v};
}

/// The same 32 or 64 bits read as the other kind.
template <class T, int N>
LANES_INLINE Ints<T, N> bits_of(Reals<T, N> a) {
  typename LaneTypes<T, N>::Words words;
  __builtin_memcpy(&words, &a.v, sizeof words);
  return {words};
}
template <class T, int N>
LANES_INLINE Reals<T, N> reals_of_bits(Ints<T, N> a) {
  Reals<T, N> made;
  __builtin_memcpy(&made.v, &a.v, sizeof made.v);
  return made;
}

template <class T, int N>
LANES_INLINE Reals<T, N> load(const T* from) {
  Reals<T, N> made;
  __builtin_memcpy(&made.v, from, sizeof made.v);
  return made;
}
template <class T, int N>
LANES_INLINE Ints<T, N> load(const typename LaneTypes<T, N>::Int* from) {
  typename LaneTypes<T, N>::Words words;
  __builtin_memcpy(&words, from, sizeof words);
  return {words};
}
template <class T, int N>
LANES_INLINE void store(T* to, Reals<T, N> a) {
  __builtin_memcpy(to, &a.v, sizeof a.v);
}
template <class T, int N>
LANES_INLINE void store(typename LaneTypes<T, N>::Int* to, Ints<T, N> a) {
  __builtin_memcpy(to, &a.v, sizeof a.v);
}

/// Toward zero. The values must lie within the whole numbers' range.
template <class T, int N>
LANES_INLINE Ints<T, N> truncated(Reals<T, N> a) {
  if constexpr (N == 1) {
    return {static_cast<typename LaneTypes<T, N>::Int>(a.v)};
  } else {
    return {__builtin_convertvector(a.v, typename LaneTypes<T, N>::Words)};
  }
}
template <class T, int N>
LANES_INLINE Reals<T, N> to_reals(Ints<T, N> a) {
  if constexpr (N == 1) {
    return Reals<T, N>(static_cast<T>(a.v));
  } else {
    return Reals<T, N>::of(__builtin_convertvector(a.v, typename LaneTypes<T, N>::Reals));
  }
}

/// The lanes in two halves, for widths the machine has no registers for.
template <int N>
struct Halves {
  Reals<float, N / 2> low, high;
  LANES_INLINE explicit Halves(Reals<float, N> a) { __builtin_memcpy(this, &a, sizeof a); }
  LANES_INLINE Halves(Reals<float, N / 2> first, Reals<float, N / 2> second)
      : low(first), high(second) {}
  LANES_INLINE Reals<float, N> joined() const {
    Reals<float, N> made;
    __builtin_memcpy(&made, this, sizeof made);
    return made;
  }
};

template <class T, int N>
LANES_INLINE Reals<T, N> sqrt(Reals<T, N> a) {
  if constexpr (N == 1 && sizeof(T) == 8) {
    return Reals<T, N>(__builtin_sqrt(a.v));
  } else if constexpr (N == 1) {
    return Reals<T, N>(__builtin_sqrtf(a.v));
  } else {
#if defined(__AVX512F__)
    if constexpr (N == 16) return Reals<T, N>::of(_mm512_maskz_sqrt_ps(0xffff, a.v));
#endif
#if defined(__AVX__)
    if constexpr (N == 8) return Reals<T, N>::of(_mm256_sqrt_ps(a.v));
#endif
#if defined(__SSE2__)
    if constexpr (N == 4) return Reals<T, N>::of(_mm_sqrt_ps(a.v));
#elif defined(__wasm_simd128__)
    if constexpr (N == 4)
      return Reals<T, N>::of((typename Reals<T, N>::Vector)wasm_f32x4_sqrt((v128_t)a.v));
#endif
    const Halves<N> half(a);
    return Halves<N>(sqrt(half.low), sqrt(half.high)).joined();
  }
}

/// a < b ? a : b, so the second where either is not a number.
template <class T, int N>
LANES_INLINE Reals<T, N> least(Reals<T, N> a, Reals<T, N> b) {
#if defined(__AVX512F__)
  if constexpr (N == 16) return Reals<T, N>::of(_mm512_maskz_min_ps(0xffff, a.v, b.v));
#endif
#if defined(__AVX__)
  if constexpr (N == 8) return Reals<T, N>::of(_mm256_min_ps(a.v, b.v));
#endif
#if defined(__SSE2__)
  if constexpr (N == 4) return Reals<T, N>::of(_mm_min_ps(a.v, b.v));
#elif defined(__wasm_simd128__)
  if constexpr (N == 4)
    return Reals<T, N>::of((typename Reals<T, N>::Vector)wasm_f32x4_pmin((v128_t)b.v, (v128_t)a.v));
#endif
  return select(a < b, a, b);
}
/// a > b ? a : b.
template <class T, int N>
LANES_INLINE Reals<T, N> greatest(Reals<T, N> a, Reals<T, N> b) {
#if defined(__AVX512F__)
  if constexpr (N == 16) return Reals<T, N>::of(_mm512_maskz_max_ps(0xffff, a.v, b.v));
#endif
#if defined(__AVX__)
  if constexpr (N == 8) return Reals<T, N>::of(_mm256_max_ps(a.v, b.v));
#endif
#if defined(__SSE2__)
  if constexpr (N == 4) return Reals<T, N>::of(_mm_max_ps(a.v, b.v));
#elif defined(__wasm_simd128__)
  if constexpr (N == 4)
    return Reals<T, N>::of((typename Reals<T, N>::Vector)wasm_f32x4_pmax((v128_t)b.v, (v128_t)a.v));
#endif
  return select(a > b, a, b);
}
template <class T, int N>
LANES_INLINE Reals<T, N> magnitude(Reals<T, N> a) {
  return greatest(a, -a);
}

template <class T, int N>
LANES_INLINE bool any(Mask<T, N> m) {
  if constexpr (N == 1) {
    return m.v != 0;
  } else {
#if defined(__AVX512F__)
    if constexpr (N == 16) return _mm512_test_epi32_mask((__m512i)m.v, (__m512i)m.v) != 0;
#endif
#if defined(__AVX__)
    if constexpr (N == 8) return _mm256_movemask_ps((__m256)m.v) != 0;
#endif
#if defined(__SSE2__)
    if constexpr (N == 4) return _mm_movemask_ps((__m128)m.v) != 0;
#elif defined(__wasm_simd128__)
    if constexpr (N == 4) return wasm_v128_any_true((v128_t)m.v);
#endif
    Mask<T, N / 2> half[2];
    __builtin_memcpy(&half, &m, sizeof m);
    return any(half[0] | half[1]);
  }
}

/// Adds up the lanes: whole numbers, so that the order does not matter.
template <class T, int N>
LANES_INLINE std::int64_t total(Ints<T, N> a) {
  typename LaneTypes<T, N>::Int lane[N];
  store<T, N>(lane, a);
  std::int64_t sum = 0;
  for (int k = 0; k < N; ++k) sum += lane[k];
  return sum;
}

}  // namespace base

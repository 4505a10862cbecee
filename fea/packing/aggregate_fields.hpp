#pragma once

#include <cstddef>
#include <tuple>
#include <type_traits>

namespace standfast {

// The fields of plain structs, for code that treats every field alike (to bytes and back).

/// How many fields a plain struct has: named for each (job_fields.hpp). A wrong count does not
/// compile in fields_of, so that a field added later cannot be left out.
template <typename T>
inline constexpr std::size_t field_count = 0;

/// References to all fields of an aggregate of 1 to 32 fields, in order.
template <typename T>
constexpr auto fields_of(T& object) {
    constexpr std::size_t count = field_count<std::remove_const_t<T>>;
    static_assert(count >= 1 && count <= 32,
                  "name the struct's count of fields, or add cases here");
    if constexpr (count == 1) {
        auto& [a] = object;
        return std::tie(a);
    } else if constexpr (count == 2) {
        auto& [a, b] = object;
        return std::tie(a, b);
    } else if constexpr (count == 3) {
        auto& [a, b, c] = object;
        return std::tie(a, b, c);
    } else if constexpr (count == 4) {
        auto& [a, b, c, d] = object;
        return std::tie(a, b, c, d);
    } else if constexpr (count == 5) {
        auto& [a, b, c, d, e] = object;
        return std::tie(a, b, c, d, e);
    } else if constexpr (count == 6) {
        auto& [a, b, c, d, e, f] = object;
        return std::tie(a, b, c, d, e, f);
    } else if constexpr (count == 7) {
        auto& [a, b, c, d, e, f, g] = object;
        return std::tie(a, b, c, d, e, f, g);
    } else if constexpr (count == 8) {
        auto& [a, b, c, d, e, f, g, h] = object;
        return std::tie(a, b, c, d, e, f, g, h);
    } else if constexpr (count == 9) {
        auto& [a, b, c, d, e, f, g, h, i] = object;
        return std::tie(a, b, c, d, e, f, g, h, i);
    } else if constexpr (count == 10) {
        auto& [a, b, c, d, e, f, g, h, i, j] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j);
    } else if constexpr (count == 11) {
        auto& [a, b, c, d, e, f, g, h, i, j, k] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k);
    } else if constexpr (count == 12) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l);
    } else if constexpr (count == 13) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m);
    } else if constexpr (count == 14) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n);
    } else if constexpr (count == 15) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o);
    } else if constexpr (count == 16) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p);
    } else if constexpr (count == 17) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q);
    } else if constexpr (count == 18) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r);
    } else if constexpr (count == 19) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s);
    } else if constexpr (count == 20) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t);
    } else if constexpr (count == 21) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u);
    } else if constexpr (count == 22) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v);
    } else if constexpr (count == 23) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w);
    } else if constexpr (count == 24) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x);
    } else if constexpr (count == 25) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y);
    } else if constexpr (count == 26) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y, z] =
            object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y,
                        z);
    } else if constexpr (count == 27) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y, z, aa] =
            object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y,
                        z, aa);
    } else if constexpr (count == 28) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y, z, aa,
               ab] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y,
                        z, aa, ab);
    } else if constexpr (count == 29) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y, z, aa, ab,
               ac] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y,
                        z, aa, ab, ac);
    } else if constexpr (count == 30) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y, z, aa, ab,
               ac, ad] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y,
                        z, aa, ab, ac, ad);
    } else if constexpr (count == 31) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y, z, aa, ab,
               ac, ad, ae] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y,
                        z, aa, ab, ac, ad, ae);
    } else if constexpr (count == 32) {
        auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y, z, aa, ab,
               ac, ad, ae, af] = object;
        return std::tie(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, x, y,
                        z, aa, ab, ac, ad, ae, af);
    }
}

}  // namespace standfast

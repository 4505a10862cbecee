#pragma once

#include <array>
#include <complex>
#include <cstdint>
#include <cstring>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "fea/packing/aggregate_fields.hpp"

namespace standfast {

// Plain data to bytes and back, exact to the last bit and the same on every machine: numbers are
// eight bytes, least significant first; lists, texts and maps follow their length; structs are
// their fields in order. No names and no versions: both sides must be built from the same sources.

// std::bit_cast, which the library of em++ lacks.
inline std::uint64_t bits_of(double value) {
    std::uint64_t bits = 0;
    static_assert(sizeof bits == sizeof value);
    std::memcpy(&bits, &value, sizeof bits);
    return bits;
}
inline double double_of(std::uint64_t bits) {
    double value = 0;
    std::memcpy(&value, &bits, sizeof value);
    return value;
}

/// Bytes being written.
class ByteWriter {
public:
    void number(std::uint64_t value) {
        for (int shift = 0; shift < 64; shift += 8) {
            bytes_ += static_cast<char>((value >> shift) & 0xFFU);
        }
    }
    void text(std::string_view value) {
        number(value.size());
        bytes_ += value;
    }
    std::string take() { return std::move(bytes_); }

private:
    std::string bytes_;
};

/// Bytes being read.
/// @throws std::domain_error where they end too early or cannot be what is asked for
class ByteReader {
public:
    explicit ByteReader(std::string_view bytes) : left_(bytes) {}

    std::uint64_t number() {
        const std::string_view eight = next(8);
        std::uint64_t value = 0;
        for (std::size_t i = 0; i < eight.size(); ++i) {
            value |= std::uint64_t{static_cast<unsigned char>(eight[i])} << (8 * i);
        }
        return value;
    }
    /// A length: of nothing that could not stand in the bytes that are left.
    std::size_t length() {
        const std::uint64_t value = number();
        if (value > left_.size()) throw std::domain_error("packed data: a list beyond its end");
        return static_cast<std::size_t>(value);
    }
    std::string_view text() { return next(length()); }
    std::size_t left() const { return left_.size(); }

private:
    std::string_view next(std::size_t count) {
        if (count > left_.size()) throw std::domain_error("packed data: ends too early");
        const std::string_view part = left_.substr(0, count);
        left_.remove_prefix(count);
        return part;
    }
    std::string_view left_;
};

template <typename T>
concept PlainNumber = std::is_arithmetic_v<T> || std::is_enum_v<T>;
template <typename T>
concept PlainMatrix = requires(T matrix) {
    typename T::Scalar;
    T::SizeAtCompileTime;
    matrix.resize(matrix.rows(), matrix.cols());
};
template <typename T>
concept PlainStruct = std::is_aggregate_v<T> && field_count<T>
!= 0;

struct Packer {
    ByteWriter& out;

    template <PlainNumber T>
    void operator()(const T& value) const {
        if constexpr (std::is_floating_point_v<T>) {
            out.number(bits_of(static_cast<double>(value)));
        } else {
            out.number(static_cast<std::uint64_t>(static_cast<std::int64_t>(value)));
        }
    }
    void operator()(const std::string& value) const { out.text(value); }
    template <typename T>
    void operator()(const std::complex<T>& value) const {
        (*this)(value.real());
        (*this)(value.imag());
    }
    template <typename T>
    void operator()(const std::optional<T>& value) const {
        (*this)(value.has_value());
        if (value) (*this)(*value);
    }
    template <typename T>
    void operator()(const std::vector<T>& list) const {
        out.number(list.size());
        for (const T& item : list) (*this)(item);
    }
    template <typename T, std::size_t N>
    void operator()(const std::array<T, N>& list) const {
        for (const T& item : list) (*this)(item);
    }
    template <typename Key, typename T>
    void operator()(const std::map<Key, T>& map) const {
        out.number(map.size());
        for (const auto& [key, item] : map) {
            (*this)(key);
            (*this)(item);
        }
    }
    template <typename... T>
    void operator()(const std::variant<T...>& value) const {
        out.number(value.index());
        std::visit(*this, value);
    }
    template <PlainMatrix T>
    void operator()(const T& matrix) const {
        out.number(static_cast<std::uint64_t>(matrix.rows()));
        out.number(static_cast<std::uint64_t>(matrix.cols()));
        for (decltype(matrix.size()) k = 0; k < matrix.size(); ++k) (*this)(matrix.data()[k]);
    }
    template <PlainStruct T>
    void operator()(const T& object) const {
        std::apply([this](const auto&... field) { ((*this)(field), ...); }, fields_of(object));
    }
};

struct Unpacker {
    ByteReader& in;

    template <PlainNumber T>
    void operator()(T& value) const {
        if constexpr (std::is_floating_point_v<T>) {
            value = static_cast<T>(double_of(in.number()));
        } else {
            value = static_cast<T>(static_cast<std::int64_t>(in.number()));
        }
    }
    void operator()(std::string& value) const { value = in.text(); }
    template <typename T>
    void operator()(std::complex<T>& value) const {
        T real{}, imaginary{};
        (*this)(real);
        (*this)(imaginary);
        value = {real, imaginary};
    }
    template <typename T>
    void operator()(std::optional<T>& value) const {
        bool there = false;
        (*this)(there);
        value.reset();
        if (there) (*this)(value.emplace());
    }
    template <typename T>
    void operator()(std::vector<T>& list) const {
        list.resize(in.length());
        for (T& item : list) (*this)(item);
    }
    template <typename T, std::size_t N>
    void operator()(std::array<T, N>& list) const {
        for (T& item : list) (*this)(item);
    }
    template <typename Key, typename T>
    void operator()(std::map<Key, T>& map) const {
        map.clear();
        for (std::size_t left = in.length(); left > 0; --left) {
            Key key{};
            (*this)(key);
            (*this)(map[std::move(key)]);
        }
    }
    template <typename... T>
    void operator()(std::variant<T...>& value) const {
        const std::uint64_t index = in.number();
        if (!choose<0>(value, index)) throw std::domain_error("packed data: no such alternative");
        std::visit(*this, value);
    }
    template <PlainMatrix T>
    void operator()(T& matrix) const {
        const std::size_t rows = in.length(), columns = in.length();
        using Index = decltype(matrix.rows());
        if (T::SizeAtCompileTime >= 0 && (static_cast<Index>(rows) != matrix.rows() ||
                                          static_cast<Index>(columns) != matrix.cols())) {
            throw std::domain_error("packed data: a matrix of another size");
        }
        if (rows != 0 && columns > in.left() / 8 / rows) {
            throw std::domain_error("packed data: a matrix beyond its end");
        }
        matrix.resize(static_cast<Index>(rows), static_cast<Index>(columns));
        for (Index k = 0; k < matrix.size(); ++k) (*this)(matrix.data()[k]);
    }
    template <PlainStruct T>
    void operator()(T& object) const {
        std::apply([this](auto&... field) { ((*this)(field), ...); }, fields_of(object));
    }

private:
    template <std::size_t I, typename... T>
    static bool choose(std::variant<T...>& value, std::uint64_t index) {
        if constexpr (I < sizeof...(T)) {
            if (index == I) {
                value.template emplace<I>();
                return true;
            }
            return choose<I + 1>(value, index);
        } else {
            return false;
        }
    }
};

/// All of a value as bytes.
template <typename T>
std::string packed(const T& value) {
    ByteWriter out;
    Packer{out}(value);
    return out.take();
}

/// The value whose bytes these are.
/// @throws std::domain_error where they are not those of such a value
template <typename T>
T unpacked(std::string_view bytes) {
    ByteReader in(bytes);
    T value{};
    Unpacker{in}(value);
    if (in.left() != 0) throw std::domain_error("packed data: more than was asked for");
    return value;
}

}  // namespace standfast

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>

#include "cli/uff/uff_values.hpp"

namespace standfast {
namespace {

template <class Number, class Bits>
double number_at(const char* bytes, bool swapped) {
    Bits bits = 0;
    std::memcpy(&bits, bytes, sizeof bits);
    if (swapped) {
        Bits turned = 0;
        for (std::size_t i = 0; i < sizeof bits; ++i) {
            turned = static_cast<Bits>((turned << 8U) | ((bits >> (8U * i)) & 0xFFU));
        }
        bits = turned;
    }
    return static_cast<double>(std::bit_cast<Number>(bits));
}

double number_at(const char* bytes, std::size_t size, bool swapped) {
    return size == 4 ? number_at<float, std::uint32_t>(bytes, swapped)
                     : number_at<double, std::uint64_t>(bytes, swapped);
}

/// Bytes of each number of one point, in order.
std::vector<std::size_t> sizes_of(const FunctionRecord& record, std::size_t count,
                                  const BinaryLayout& layout) {
    const ValueShape shape = value_shape(record);
    const std::size_t wide = shape.double_precision ? 8 : 4;
    std::vector<std::size_t> sizes(shape.numbers(), wide);
    if (shape.with_abscissa && layout.bytes != count * wide * shape.numbers()) {
        sizes.front() = 4;
    }
    return sizes;
}

std::vector<double> decode(std::string_view bytes, const std::vector<std::size_t>& sizes,
                           std::size_t count, bool swapped) {
    std::vector<double> numbers;
    numbers.reserve(count * sizes.size());
    const char* at = bytes.data();
    for (std::size_t point = 0; point < count; ++point) {
        for (const std::size_t size : sizes) {
            numbers.push_back(number_at(at, size, swapped));
            at += size;
        }
    }
    return numbers;
}

/// Share of the numbers other than 0 that nobody measures in any unit.
double absurd_share(const std::vector<double>& numbers) {
    std::size_t absurd = 0, counted = 0;
    for (const double number : numbers) {
        if (number == 0) {
            continue;
        }
        ++counted;
        const double size = std::abs(number);
        absurd += !(size > 1e-18 && size < 1e18) ? 1U : 0U;
    }
    return counted == 0 ? 0 : static_cast<double>(absurd) / static_cast<double>(counted);
}

bool is_text(std::string_view bytes) {
    const std::string_view start = bytes.substr(0, 400);
    return start.size() >= 16 && std::ranges::all_of(start, [](char letter) {
               return (letter >= ' ' && letter <= '~') || letter == '\r' || letter == '\n' ||
                      letter == '\t';
           });
}

void require_finite(const ByteCursor& cursor, const std::vector<double>& numbers,
                    const std::vector<std::size_t>& sizes) {
    std::size_t byte = cursor.position() + 1;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        if (!std::isfinite(numbers[i])) {
            cursor.fail_at(
                cursor.line(), byte,
                fmt::format("number {} of {} is not a finite number", i + 1, numbers.size()));
        }
        byte += sizes[i % sizes.size()];
    }
}

}  // namespace

void read_binary_values(ByteCursor& cursor, FunctionRecord& record, std::size_t count,
                        const BinaryLayout& layout) {
    const std::vector<std::size_t> sizes = sizes_of(record, count, layout);
    std::size_t point_bytes = 0;
    for (const std::size_t size : sizes) {
        point_bytes += size;
    }
    if (count > cursor.left() / point_bytes) {
        cursor.fail(fmt::format("{} points of {} bytes are claimed, but only {} bytes follow",
                                count, point_bytes, cursor.left()));
    }
    const std::size_t bytes = count * point_bytes;
    if (layout.bytes != 0 && layout.bytes != bytes) {
        cursor.fail(fmt::format(
            "the first line of this record says {} bytes of values, but {} points take {}",
            layout.bytes, count, bytes));
    }
    const std::string_view data = cursor.rest().substr(0, bytes);
    if (is_text(data)) {
        cursor.fail("the header promises binary values, but text follows");
    }
    const bool swapped = layout.little_endian != (std::endian::native == std::endian::little);
    const std::vector<double> numbers = decode(data, sizes, count, swapped);
    if (absurd_share(numbers) > 0.3 && absurd_share(decode(data, sizes, count, !swapped)) < 0.1) {
        cursor.fail(fmt::format(
            "the header says {} endian, but the values make sense only as {} endian",
            layout.little_endian ? "little" : "big", layout.little_endian ? "big" : "little"));
    }
    require_finite(cursor, numbers, sizes);
    place_values(record, numbers);
    cursor.skip(bytes, false);
}

}  // namespace standfast

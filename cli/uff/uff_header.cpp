#include "cli/uff/uff_header.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string>

#include "cli/uff/scan_number.hpp"

namespace standfast {
namespace {

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) {
        return {};
    }
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// Columns of a line of fixed format; what lies beyond its end is empty.
std::string_view field(std::string_view line, std::size_t start, std::size_t width) {
    return start < line.size() ? trimmed(line.substr(start, width)) : std::string_view();
}

int whole(const ByteCursor& cursor, std::string_view text, const char* what) {
    int value = 0;
    if (text.empty()) {
        return 0;
    }
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) {
        cursor.fail(fmt::format("{} is \"{}\", must be a whole number", what, text.substr(0, 20)));
    }
    return value;
}

double real(const ByteCursor& cursor, std::string_view text, const char* what) {
    std::string_view rest = text;
    const auto value = text.empty() ? 0.0 : scan_number(rest).value_or(std::nan(""));
    if (!std::isfinite(value) || (!text.empty() && !trimmed(rest).empty())) {
        cursor.fail(fmt::format("{} is \"{}\", must be a number", what, text.substr(0, 20)));
    }
    return value;
}

std::string_view header_line(ByteCursor& cursor, const char* what) {
    if (cursor.at_end()) {
        cursor.fail(fmt::format("the file ends before {}", what));
    }
    return cursor.peek_line();
}

void read_places(ByteCursor& cursor, FunctionRecord& record) {
    const std::string_view line = header_line(cursor, "the line of degrees of freedom");
    record.function_type = whole(cursor, field(line, 0, 5), "the function type");
    record.function_number = whole(cursor, field(line, 5, 10), "the function number");
    record.version = whole(cursor, field(line, 15, 5), "the version");
    record.load_case = whole(cursor, field(line, 20, 10), "the load case");
    record.response.name = std::string(field(line, 31, 10));
    record.response.node = whole(cursor, field(line, 41, 10), "the response node");
    record.response.direction = whole(cursor, field(line, 51, 4), "the response direction");
    record.reference.name = std::string(field(line, 56, 10));
    record.reference.node = whole(cursor, field(line, 66, 10), "the reference node");
    record.reference.direction = whole(cursor, field(line, 76, 4), "the reference direction");
    cursor.next_line();
}

StoredAs stored_as(const ByteCursor& cursor, int number) {
    for (const StoredAs kind : {StoredAs::real_single, StoredAs::real_double,
                                StoredAs::complex_single, StoredAs::complex_double}) {
        if (static_cast<int>(kind) == number) {
            return kind;
        }
    }
    cursor.fail(fmt::format("the ordinate type is {}, must be 2, 4, 5 or 6", number));
}

std::size_t read_size(ByteCursor& cursor, FunctionRecord& record) {
    const std::string_view line = header_line(cursor, "the line that says how many values follow");
    record.stored_as = stored_as(cursor, whole(cursor, field(line, 0, 10), "the ordinate type"));
    const std::string_view count_text = field(line, 10, 10);
    long long count = 0;
    const auto [end, error] =
        std::from_chars(count_text.data(), count_text.data() + count_text.size(), count);
    if (error != std::errc() || end != count_text.data() + count_text.size()) {
        cursor.fail(
            fmt::format("the number of values is \"{}\", must be a whole number", count_text));
    }
    if (count < 2) {
        cursor.fail(fmt::format("the number of values is {}; a record needs at least 2", count));
    }
    record.even = whole(cursor, field(line, 20, 10), "the abscissa spacing") == 1;
    record.start = real(cursor, field(line, 30, 13), "the first abscissa");
    record.step = real(cursor, field(line, 43, 13), "the abscissa step");
    record.z = real(cursor, field(line, 56, 13), "the z value");
    if (record.even && !(record.step > 0)) {
        cursor.fail(fmt::format("the abscissa step is {}, must be above 0", record.step));
    }
    cursor.next_line();
    return static_cast<std::size_t>(count);
}

RecordAxis read_axis(ByteCursor& cursor, const char* what) {
    const std::string_view line = header_line(cursor, what);
    RecordAxis axis;
    axis.kind = whole(cursor, field(line, 0, 10), what);
    for (std::size_t i = 0; i < 3; ++i) {
        axis.exponents.at(i) = whole(cursor, field(line, 10 + 5 * i, 5), what);
    }
    axis.label = std::string(field(line, 26, 20));
    axis.unit = std::string(field(line, 47, 20));
    cursor.next_line();
    return axis;
}

}  // namespace

BinaryLayout read_binary_layout(const ByteCursor& cursor, std::string_view line) {
    const int order = whole(cursor, field(line, 7, 6), "the byte order");
    const int format = whole(cursor, field(line, 13, 6), "the number format");
    if (order != 1 && order != 2) {
        cursor.fail(fmt::format("the byte order is {}, must be 1 (little endian) or 2 (big endian)",
                                order));
    }
    if (format != 2) {
        cursor.fail(fmt::format("the number format is {}; only 2 (IEEE 754) is read", format));
    }
    long long bytes = 0;
    const std::string_view text = field(line, 31, 12);
    std::from_chars(text.data(), text.data() + text.size(), bytes);
    return {.little_endian = order == 1, .bytes = static_cast<std::size_t>(std::max(bytes, 0LL))};
}

std::size_t read_record_header(ByteCursor& cursor, FunctionRecord& record) {
    for (std::string& note : record.notes) {
        note = std::string(trimmed(header_line(cursor, "the end of the five lines of notes")));
        cursor.next_line();
    }
    read_places(cursor, record);
    const std::size_t count = read_size(cursor, record);
    record.abscissa = read_axis(cursor, "the line of the abscissa");
    record.ordinate = read_axis(cursor, "the line of the ordinate");
    record.denominator = read_axis(cursor, "the line of the ordinate's denominator");
    record.z_axis = read_axis(cursor, "the line of the z axis");
    return count;
}

}  // namespace standfast

#include "cli/uff/write_uff.hpp"

#include <fmt/format.h>

#include <bit>
#include <cstdint>

#include "cli/uff/uff_values.hpp"

namespace standfast {
namespace {

std::string axis_line(const RecordAxis& axis) {
    const std::string label = axis.label.empty() ? "NONE" : axis.label.substr(0, 20);
    const std::string unit = axis.unit.empty() ? "NONE" : axis.unit.substr(0, 20);
    return fmt::format("{:10d}{:5d}{:5d}{:5d} {:<20} {:<20}\n", axis.kind, axis.exponents[0],
                       axis.exponents[1], axis.exponents[2], label, unit);
}

std::string place_text(const RecordPlace& place) {
    const std::string name = place.name.empty() ? "NONE" : place.name.substr(0, 10);
    return fmt::format(" {:<10}{:10d}{:4d}", name, place.node, place.direction);
}

std::string header(const FunctionRecord& record) {
    std::string text;
    for (const std::string& note : record.notes) {
        text += (note.empty() ? "NONE" : note.substr(0, 80)) + "\n";
    }
    text += fmt::format("{:5d}{:10d}{:5d}{:10d}", record.function_type, record.function_number,
                        record.version, record.load_case) +
            place_text(record.response) + place_text(record.reference) + "\n";
    text += fmt::format("{:10d}{:10d}{:10d}{:13.5e}{:13.5e}{:13.5e}\n",
                        static_cast<int>(record.stored_as), record.y.size(), record.even ? 1 : 0,
                        record.even ? record.start : 0, record.even ? record.step : 0, record.z);
    return text + axis_line(record.abscissa) + axis_line(record.ordinate) +
           axis_line(record.denominator) + axis_line(record.z_axis);
}

/// One point's numbers in file order.
std::vector<double> numbers_of(const FunctionRecord& record, std::size_t point) {
    const ValueShape shape = value_shape(record);
    std::vector<double> numbers;
    if (shape.with_abscissa) {
        numbers.push_back(record.x[point]);
    }
    numbers.push_back(record.y[point].real());
    if (shape.complex) {
        numbers.push_back(record.y[point].imag());
    }
    return numbers;
}

std::string text_values(const FunctionRecord& record) {
    const ValueShape shape = value_shape(record);
    // Whole points on a line where they have their own abscissa.
    const std::size_t per_line =
        shape.double_precision ? (shape.with_abscissa ? (shape.complex ? 3 : 4) : 4) : 6;
    std::string text;
    std::size_t on_line = 0;
    for (std::size_t point = 0; point < record.y.size(); ++point) {
        const std::vector<double> numbers = numbers_of(record, point);
        for (std::size_t i = 0; i < numbers.size(); ++i) {
            const bool abscissa = shape.with_abscissa && i == 0;
            text += shape.double_precision && !abscissa ? fmt::format("{:20.12e}", numbers[i])
                                                        : fmt::format("{:13.5e}", numbers[i]);
            if (++on_line == per_line) {
                text += "\n";
                on_line = 0;
            }
        }
    }
    return on_line > 0 ? text + "\n" : text;
}

template <class Bits>
void append_bytes(std::string& bytes, Bits bits, bool little_endian) {
    for (std::size_t i = 0; i < sizeof bits; ++i) {
        const std::size_t place = little_endian ? i : sizeof bits - 1 - i;
        bytes += static_cast<char>((bits >> (8U * place)) & 0xFFU);
    }
}

std::string binary_values(const FunctionRecord& record, bool little_endian) {
    const ValueShape shape = value_shape(record);
    std::string bytes;
    for (std::size_t point = 0; point < record.y.size(); ++point) {
        const std::vector<double> numbers = numbers_of(record, point);
        for (std::size_t i = 0; i < numbers.size(); ++i) {
            if (shape.double_precision && !(shape.with_abscissa && i == 0)) {
                append_bytes(bytes, std::bit_cast<std::uint64_t>(numbers[i]), little_endian);
            } else {
                append_bytes(bytes, std::bit_cast<std::uint32_t>(static_cast<float>(numbers[i])),
                             little_endian);
            }
        }
    }
    return bytes;
}

}  // namespace

std::string uff_bytes(const std::vector<FunctionRecord>& records, UffForm form) {
    std::string file;
    for (const FunctionRecord& record : records) {
        file += "    -1\n";
        if (form == UffForm::text) {
            file += "    58\n" + header(record) + text_values(record);
        } else {
            const bool little = form == UffForm::little_endian;
            const std::string values = binary_values(record, little);
            file += fmt::format("    58b{:6d}{:6d}{:12d}{:12d}{:6d}{:6d}{:12d}{:12d}\n",
                                little ? 1 : 2, 2, 11, values.size(), 0, 0, 0, 0);
            file += header(record) + values;
        }
        file += "    -1\n";
    }
    return file;
}

}  // namespace standfast

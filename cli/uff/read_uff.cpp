#include "cli/uff/read_uff.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <system_error>

#include "cli/uff/measurement_error.hpp"
#include "cli/uff/scan_number.hpp"
#include "cli/uff/uff_header.hpp"
#include "cli/uff/uff_values.hpp"

namespace standfast {
namespace {

constexpr std::uintmax_t kLargest = 1'000'000'000;  // bytes

std::string_view trimmed(std::string_view line) {
    const std::size_t first = line.find_first_not_of(" \t\r\n");
    return first == std::string_view::npos
               ? std::string_view()
               : line.substr(first, line.find_last_not_of(" \t\r\n") - first + 1);
}

bool is_delimiter(std::string_view line) { return trimmed(line) == "-1"; }

/// To the line after the one that closes the dataset.
void pass_to_end(ByteCursor& cursor, const std::string& dataset) {
    while (!cursor.at_end()) {
        if (is_delimiter(cursor.next_line())) {
            return;
        }
    }
    cursor.fail(fmt::format("the file ends inside dataset {}: its closing -1 is missing", dataset));
}

double factor_of(const ByteCursor& cursor, std::string_view& text, const char* what) {
    const auto value = scan_number(text);
    if (!value || !(*value > 0)) {
        cursor.fail(fmt::format("dataset 164: the factor of {} must be a number above 0", what));
    }
    return *value;
}

/// Dataset 164; "to convert to SI, divide by the factor".
FileUnits read_units(ByteCursor& cursor) {
    FileUnits units;
    const std::string_view head = cursor.next_line();
    units.name = head.size() > 10 ? std::string(trimmed(head.substr(10, 20))) : "";
    std::string_view factors = cursor.peek_line();
    units.length = factor_of(cursor, factors, "length");
    units.force = factor_of(cursor, factors, "force");
    return units;
}

FunctionRecord read_record(ByteCursor& cursor, std::string_view opening) {
    const bool binary = trimmed(opening).starts_with("58b");
    BinaryLayout layout;
    if (binary) {
        layout = read_binary_layout(cursor, opening);
    }
    cursor.next_line();
    FunctionRecord record;
    const std::size_t count = read_record_header(cursor, record);
    if (binary) {
        read_binary_values(cursor, record, count, layout);
    } else {
        read_text_values(cursor, record, count);
    }
    return record;
}

}  // namespace

UniversalFile parse_uff(std::string_view bytes, const std::string& name) {
    ByteCursor cursor(bytes, name);
    if (trimmed(bytes).empty()) {
        cursor.fail("the file is empty");
    }
    UniversalFile file;
    while (!cursor.at_end()) {
        const std::string_view line = cursor.peek_line();
        if (trimmed(line).empty()) {
            cursor.next_line();
            continue;
        }
        if (!is_delimiter(line)) {
            cursor.fail(
                "a dataset must begin with a line that holds -1; this is no universal "
                "file, or it is damaged here");
        }
        cursor.next_line();
        const std::string_view opening = cursor.peek_line();
        const std::string dataset(trimmed(opening.substr(0, 7)));
        if (dataset == "58" || dataset == "58b") {
            file.records.push_back(read_record(cursor, opening));
        } else {
            cursor.next_line();
            if (dataset == "164") {
                file.units = read_units(cursor);
            }
            file.passed_over.push_back(dataset);
        }
        pass_to_end(cursor, dataset);
    }
    if (file.records.empty()) {
        cursor.fail("the file has no record of measured values (dataset 58)");
    }
    return file;
}

std::string measurement_bytes(const std::string& path) {
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    if (status.type() == std::filesystem::file_type::not_found) {
        throw MeasurementError(fmt::format("{}: there is no such file", path));
    }
    if (error || !std::filesystem::is_regular_file(status)) {
        throw MeasurementError(fmt::format("{}: is not an ordinary file that can be read", path));
    }
    const std::uintmax_t size = std::filesystem::file_size(path, error);
    if (error || size > kLargest) {
        throw MeasurementError(fmt::format("{}: is above 1 GB, too large for a measurement", path));
    }
    std::ifstream stream(path, std::ios::binary);
    std::string bytes(static_cast<std::size_t>(size), '\0');
    stream.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    bytes.resize(static_cast<std::size_t>(stream.gcount()));
    if (!stream && bytes.size() < size) {
        throw MeasurementError(fmt::format("{}: cannot be read to its end", path));
    }
    return bytes;
}

UniversalFile read_uff(const std::string& path) { return parse_uff(measurement_bytes(path), path); }

}  // namespace standfast

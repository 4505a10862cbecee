#include <fmt/format.h>

#include <cmath>

#include "cli/uff/scan_number.hpp"
#include "cli/uff/uff_values.hpp"

namespace standfast {

ValueShape value_shape(const FunctionRecord& record) {
    const StoredAs kind = record.stored_as;
    return {.complex = kind == StoredAs::complex_single || kind == StoredAs::complex_double,
            .double_precision = kind == StoredAs::real_double || kind == StoredAs::complex_double,
            .with_abscissa = !record.even};
}

void place_values(FunctionRecord& record, const std::vector<double>& numbers) {
    const ValueShape shape = value_shape(record);
    const std::size_t count = numbers.size() / shape.numbers();
    record.x.resize(count);
    record.y.resize(count);
    for (std::size_t i = 0; i < count; ++i) {
        const double* value = &numbers[i * shape.numbers()];
        record.x[i] =
            shape.with_abscissa ? *value++ : record.start + static_cast<double>(i) * record.step;
        record.y[i] = {value[0], shape.complex ? value[1] : 0.0};
    }
}

void read_text_values(ByteCursor& cursor, FunctionRecord& record, std::size_t count) {
    const ValueShape shape = value_shape(record);
    // The shortest number takes a digit and a space: a claim beyond that is known to be false
    // before any memory is asked for.
    if (count > cursor.left() / (2 * shape.numbers()) + 1) {
        cursor.fail(
            fmt::format("{} values are claimed, but only {} bytes follow", count, cursor.left()));
    }
    const std::size_t wanted = count * shape.numbers();
    std::vector<double> numbers;
    numbers.reserve(wanted);
    while (numbers.size() < wanted) {
        const int line_number = cursor.line();
        const std::size_t line_start = cursor.position();
        const std::string_view line = cursor.peek_line();
        std::string_view rest = line;
        const auto fail_here = [&](const std::string& message) {
            cursor.fail_at(line_number, line_start + (line.size() - rest.size()) + 1, message);
        };
        if (cursor.at_end() || line == "    -1") {
            fail_here(fmt::format("{} numbers are claimed, but only {} are there", wanted,
                                  numbers.size()));
        }
        while (numbers.size() < wanted &&
               rest.find_first_not_of(" \t\r") != std::string_view::npos) {
            const auto value = scan_number(rest);
            if (!value) {
                fail_here(
                    fmt::format("number {} of {} cannot be read", numbers.size() + 1, wanted));
            }
            if (!std::isfinite(*value)) {
                fail_here(fmt::format("number {} of {} is not a finite number", numbers.size() + 1,
                                      wanted));
            }
            numbers.push_back(*value);
        }
        cursor.next_line();
    }
    place_values(record, numbers);
}

}  // namespace standfast

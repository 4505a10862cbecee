#include "cli/job/toml/value.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace standfast {

Value make_value(Position where, ValueKind kind) {
    Value value;
    value.where = std::move(where);
    value.kind = kind;
    return value;
}

const Entry* find_entry(const Value& table, std::string_view key) {
    const auto found =
        std::ranges::find_if(table.entries, [&](const Entry& entry) { return entry.key == key; });
    return found == table.entries.end() ? nullptr : &*found;
}

std::string in_words(const Value& value) {
    switch (value.kind) {
        case ValueKind::text:
            return value.text.size() > 60 ? fmt::format("a text of {} bytes", value.text.size())
                                          : fmt::format(R"("{}")", value.text);
        case ValueKind::whole:
        case ValueKind::real:
            return fmt::format("the bare number {:.10g}", value.number);
        case ValueKind::truth:
            return value.truth ? "true" : "false";
        case ValueKind::date:
            return "a date or time";
        case ValueKind::array:
            return fmt::format("a list of {}", value.items.size());
        case ValueKind::table:
            break;
    }
    return "a table";
}

}  // namespace standfast

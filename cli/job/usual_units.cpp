#include "cli/job/usual_units.hpp"

#include <filesystem>
#include <string_view>
#include <system_error>

#include "cli/job/merge_files.hpp"

namespace standfast {
namespace {

struct Count {
    int metric = 0, inch = 0;
};

bool in_inches(std::string_view text) {
    return text.ends_with("in") || text.ends_with("inch") || text.ends_with("thou") ||
           text.ends_with('"');
}

void count_lengths(const Value& value, Count& count) {
    if (value.kind == ValueKind::text && !value.text.empty() &&
        parse_quantity(value.text, Quantity::length).error.empty()) {
        ++(in_inches(value.text) ? count.inch : count.metric);
    }
    for (const Value& item : value.items) count_lengths(item, count);
    for (const Entry& entry : value.entries) count_lengths(entry.value, count);
}

}  // namespace

UnitSystem usual_units(const std::vector<std::string>& paths) {
    Count count;
    for (const std::string& path : paths) {
        // A pipe can be read once, by the reader of the job.
        std::error_code unknown;
        if (!std::filesystem::is_regular_file(path, unknown)) continue;
        std::vector<Diagnostic> left_to_the_reader;
        if (const auto tree = load_merged(path, left_to_the_reader)) count_lengths(*tree, count);
    }
    return count.inch > count.metric ? UnitSystem::inch : UnitSystem::metric;
}

}  // namespace standfast

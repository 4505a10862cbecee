#include "cli/job/toml/parse_toml.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cctype>
#include <string>
#include <string_view>

#include "cli/job/toml/load_file.hpp"

namespace standfast {
namespace {

constexpr int kMostFaultyLines = 20;
constexpr std::size_t kMostKeys = 1000;  // in one table; keeps every search over them short

using File = std::shared_ptr<const SourceFile>;

Position position_of(const toml::source_region& region, const File& file) {
    Position where{file, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column),
                   1};
    if (region.end.line == region.begin.line && region.end.column > region.begin.column) {
        where.length = static_cast<int>(region.end.column - region.begin.column);
    } else if (region.end.line > region.begin.line) {
        where.length = 1;
    }
    return where;
}

bool starts_earlier(const Position& a, const Position& b) {
    return std::pair(a.line, a.column) < std::pair(b.line, b.column);
}

Value value_of(const toml::node& node, const File& file);

Value table_of(const toml::table& table, const File& file) {
    Value value = make_value(position_of(table.source(), file), ValueKind::table);
    for (const auto& [key, child] : table) {
        value.entries.push_back({.key = std::string(key.str()),
                                 .where = position_of(key.source(), file),
                                 .value = value_of(child, file)});
    }
    std::ranges::stable_sort(value.entries, starts_earlier, &Entry::where);
    if (value.where.line == 0 && !value.entries.empty()) {
        value.where = value.entries.front().where;
    }
    const std::string_view line = line_of(*file, value.where.line);
    value.from_header = !table.is_inline() && line.starts_with('[');
    return value;
}

Value array_of(const toml::array& array, const File& file) {
    Value value = make_value(position_of(array.source(), file), ValueKind::array);
    for (const toml::node& item : array) {
        value.items.push_back(value_of(item, file));
    }
    if (array.is_array_of_tables() && !value.items.empty()) {
        value.where = value.items.front().where;
        value.from_header = value.items.front().from_header;
    }
    return value;
}

Value value_of(const toml::node& node, const File& file) {
    if (const toml::table* const table = node.as_table()) {
        return table_of(*table, file);
    }
    if (const toml::array* const array = node.as_array()) {
        return array_of(*array, file);
    }
    Value value = make_value(position_of(node.source(), file), ValueKind::date);
    if (const auto* const text = node.as_string()) {
        value.kind = ValueKind::text;
        value.text = text->get();
    } else if (const auto* const whole = node.as_integer()) {
        value.kind = ValueKind::whole;
        value.number = static_cast<double>(whole->get());
    } else if (const auto* const real = node.as_floating_point()) {
        value.kind = ValueKind::real;
        value.number = real->get();
    } else if (const auto* const truth = node.as_boolean()) {
        value.kind = ValueKind::truth;
        value.truth = truth->get();
    }
    return value;
}

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    return first == std::string_view::npos
               ? std::string_view()
               : text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// "150 mm" of a line `height = 150 mm`, or empty: a number with a unit, but no quotes.
std::string unquoted_quantity(std::string_view line) {
    const std::size_t equals = line.find('=');
    if (equals == std::string_view::npos) {
        return {};
    }
    const std::string_view value = trimmed(line.substr(equals + 1, line.find('#') - equals - 1));
    const bool number =
        !value.empty() && (std::isdigit(static_cast<unsigned char>(value[0])) != 0 ||
                           value[0] == '-' || value[0] == '.');
    const bool unit =
        value.find_first_of(R"(abcdefghijklmnopqrstuvwxyzNGMP%/")") != std::string_view::npos;
    const bool plain = value.find_first_of("[]{}=,") == std::string_view::npos;
    return number && unit && plain && value.size() < 40 ? std::string(value) : std::string();
}

/// A mistake at a line's end is reported at the start of the next; then it belongs to the line
/// before.
Position settle(Position where) {
    const std::string_view line = line_of(*where.file, where.line);
    if (where.column <= 1 && where.line > 1 && trimmed(line).empty()) {
        const std::string_view before = line_of(*where.file, where.line - 1);
        return {where.file, where.line - 1, static_cast<int>(before.size()) + 1, 1};
    }
    return where;
}

/// The last name in single quotes of a parser's reason.
std::string_view quoted_name(std::string_view reason) {
    const std::size_t end = reason.rfind('\'');
    const std::size_t start = end == std::string_view::npos || end == 0
                                  ? std::string_view::npos
                                  : reason.rfind('\'', end - 1);
    return start == std::string_view::npos ? std::string_view()
                                           : reason.substr(start + 1, end - start - 1);
}

/// Words a key or table that is given twice, with a note at the first one if it is in sight: the
/// same key further up in the same table.
void say_where_first(Diagnostic& fault, const std::string& name) {
    const SourceFile& file = *fault.where.file;
    const bool header = trimmed(line_of(file, fault.where.line)).starts_with('[');
    fault.message =
        fmt::format("{}{}{} is given twice", header ? '[' : '"', name, header ? ']' : '"');
    fault.accepted = header ? "one [table] of that name; [[tier]], [[tool]] and [[pass]], with "
                              "double brackets, may come several times"
                            : "each key once in its table";
    for (int number = fault.where.line - 1; number > 0 && !header; --number) {
        const std::string_view line = line_of(file, number);
        const std::string_view text = trimmed(line);
        if (text.starts_with('[')) {
            return;
        }
        if (!name.empty() && trimmed(text.substr(0, text.find('='))) == name) {
            fault.notes.push_back({{fault.where.file, number, static_cast<int>(line.find(name)) + 1,
                                    static_cast<int>(name.size())},
                                   "the first one"});
            return;
        }
    }
}

Diagnostic syntax_error(const toml::parse_error& error, const File& file) {
    Diagnostic fault{.where = settle(position_of(error.source(), file))};
    const std::string_view line = line_of(*file, fault.where.line);
    if (const std::string quantity = unquoted_quantity(line); !quantity.empty()) {
        const std::size_t at = line.find(quantity, line.find('='));
        fault.where.column = static_cast<int>(at) + 1;
        fault.where.length = static_cast<int>(quantity.size());
        fault.message = fmt::format("{} needs quotes around it", quantity);
        std::string bare = quantity;
        std::erase(bare, '"');
        fault.accepted = fmt::format(R"(a number with its unit in quotes: "{}")", bare);
        return fault;
    }
    const std::string_view reason = error.description();
    const bool at_end = fault.where.column > static_cast<int>(line.size());
    if (reason.find("string") != std::string_view::npos && at_end) {
        fault.message = "a text in quotes does not end on its line";
        fault.accepted = "a closing quote";
    } else if (reason.find("redefine") != std::string_view::npos) {
        say_where_first(fault, std::string(quoted_name(reason)));
    } else {
        fault.message = fmt::format("this is not valid TOML: {}", reason);
    }
    return fault;
}

/// Whether a line can be set aside without breaking what is around it.
bool stands_for_itself(std::string_view line) {
    const std::string_view text = trimmed(line);
    const std::size_t equals = text.find('=');
    return equals != std::string_view::npos && equals > 0 &&
           std::ranges::all_of(trimmed(text.substr(0, equals)),
                               [](char c) {
                                   return std::isalnum(static_cast<unsigned char>(c)) != 0 ||
                                          c == '_' || c == '-' || c == '.';
                               }) &&
           text.find(R"(""")") == std::string_view::npos &&
           std::ranges::count(text, '[') == std::ranges::count(text, ']');
}

/// Blanks one line, keeping its place in the file.
void set_aside(std::string& text, const SourceFile& file, int line) {
    const std::string_view old = line_of(file, line);
    const std::size_t start = file.line_starts[static_cast<std::size_t>(line) - 1];
    text.replace(start, old.size(), std::string(old.size(), ' '));
}

/// A table with more keys than any job has, or nullptr.
const Value* crowded_table(const Value& value) {
    if (value.entries.size() > kMostKeys) {
        return &value;
    }
    for (const Value& item : value.items) {
        if (const Value* const crowded = crowded_table(item)) {
            return crowded;
        }
    }
    for (const Entry& entry : value.entries) {
        if (const Value* const crowded = crowded_table(entry.value)) {
            return crowded;
        }
    }
    return nullptr;
}

/// The tree, unless faults were found or it is out of all proportion.
std::optional<Value> accepted_tree(const toml::table& table, const File& file,
                                   std::vector<Diagnostic>& errors, std::size_t before) {
    if (errors.size() > before) {
        return std::nullopt;
    }
    Value tree = table_of(table, file);
    if (const Value* const crowded = crowded_table(tree)) {
        errors.push_back({.where = crowded->where,
                          .message = fmt::format("a table with {} keys", crowded->entries.size()),
                          .accepted = fmt::format("at most {} keys", kMostKeys)});
        return std::nullopt;
    }
    return tree;
}

}  // namespace

std::optional<Value> parse_toml(const std::shared_ptr<const SourceFile>& file,
                                std::vector<Diagnostic>& errors) {
    if (std::optional<Diagnostic> unfit = unfit_text(file)) {
        errors.push_back(std::move(*unfit));
        return std::nullopt;
    }
    std::string text = file->text;
    const std::size_t before = errors.size();
    for (int attempt = 0; attempt < kMostFaultyLines; ++attempt) {
        try {
            const toml::table table = toml::parse(std::string_view(text), std::string_view());
            return accepted_tree(table, file, errors, before);
        } catch (const toml::parse_error& error) {
            errors.push_back(syntax_error(error, file));
        }
        const int line = errors.back().where.line;
        if (line < 1 || !stands_for_itself(line_of(*file, line))) {
            break;
        }
        set_aside(text, *file, line);
    }
    return std::nullopt;
}

}  // namespace standfast

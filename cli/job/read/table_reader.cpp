#include "cli/job/read/table_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/job/read/known_keys.hpp"
#include "cli/job/read/trade_words.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostTables = 200;

bool printable(std::string_view text) {
    return std::ranges::none_of(text, [](char c) {
        const auto code = static_cast<unsigned char>(c);
        return code < 0x20 || code == 0x7F;
    });
}

}  // namespace

TableReader::TableReader(Reading& reading, const Value& table, TableName name)
    : reading_(&reading), table_(&table), name_(std::move(name)) {
    reading_->places.insert_or_assign(name_.path, table.where);
}

const Value* TableReader::find(std::string_view key) {
    if (std::ranges::find(asked_, key) == asked_.end()) {
        asked_.emplace_back(key);
    }
    const Entry* const entry = find_entry(*table_, key);
    if (entry == nullptr) {
        return nullptr;
    }
    reading_->places.insert_or_assign(path(key), entry->value.where);
    return &entry->value;
}

const Value* TableReader::require(std::string_view key, std::string_view accepted) {
    const Value* const value = find(key);
    if (value == nullptr) {
        fail(table_->where, fmt::format("{} is missing", call(key)), std::string(accepted));
    }
    return value;
}

std::optional<std::string> TableReader::text(std::string_view key, std::string_view accepted) {
    const Value* const value = find(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    if (value->kind != ValueKind::text || value->text.empty() || value->text.size() > 200 ||
        !printable(value->text)) {
        const bool odd = value->kind == ValueKind::text && !printable(value->text);
        if (odd) {
            fail(value->where, fmt::format("{} holds a control character", call(key)),
                 std::string(accepted));
        } else {
            reject(key, *value, std::string(accepted));
        }
        return std::nullopt;
    }
    return value->text;
}

std::optional<bool> TableReader::truth(std::string_view key) {
    const Value* const value = find(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    if (value->kind != ValueKind::truth) {
        reject(key, *value, "true or false, without quotes");
        return std::nullopt;
    }
    return value->truth;
}

std::optional<TableReader> TableReader::table(std::string_view key, std::string_view accepted) {
    const Value* const value = find(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    if (value->kind != ValueKind::table) {
        reject(key, *value, std::string(accepted));
        return std::nullopt;
    }
    const std::string outer = name_.header.substr(0, name_.header.find_last_not_of(']') + 1);
    const std::string inner = outer.substr(std::min(outer.find_first_not_of('['), outer.size()));
    return TableReader(*reading_, *value,
                       {.subject = name_.subject,
                        .prefix = fmt::format("{}{}.", name_.prefix, key),
                        .path = path(key),
                        .header = value->from_header ? fmt::format("[{}{}{}]", inner,
                                                                   inner.empty() ? "" : ".", key)
                                                     : std::string()});
}

std::string TableReader::call(std::string_view key) const {
    return name_.subject.empty() ? fmt::format("{}{}", name_.prefix, key)
                                 : fmt::format("{}: {}{}", name_.subject, name_.prefix, key);
}

std::string TableReader::path(std::string_view key) const {
    return name_.path.empty() ? std::string(key) : fmt::format("{}.{}", name_.path, key);
}

Position TableReader::place(std::string_view key) const {
    const Entry* const entry = find_entry(*table_, key);
    return entry == nullptr ? table_->where : entry->value.where;
}

void TableReader::fail(const Position& where, std::string message, std::string accepted,
                       std::string hint) {
    standfast::fail(*reading_, {.where = where,
                                .message = std::move(message),
                                .accepted = std::move(accepted),
                                .hint = std::move(hint)});
}

void TableReader::reject(std::string_view key, const Value& value, std::string accepted,
                         std::string hint) {
    fail(value.where, fmt::format("{} is {}", call(key), in_words(value)), std::move(accepted),
         std::move(hint));
}

void TableReader::finish() {
    for (const Entry& entry : table_->entries) {
        if (std::ranges::find(asked_, entry.key) != asked_.end()) {
            continue;
        }
        const std::string subject = name_.subject.empty() ? "" : name_.subject + ": ";
        const std::string inside =
            name_.prefix.empty()
                ? ""
                : fmt::format(" in {}", name_.prefix.substr(0, name_.prefix.size() - 1));
        const std::string hint = hint_for(entry.key);
        const std::string accepted =
            hint.empty() ? fmt::format("{}", fmt::join(asked_, ", ")) : std::string();
        const std::string key = entry.key.size() > 60 ? entry.key.substr(0, 60) : entry.key;
        fail(entry.where,
             fmt::format(R"({}unknown key "{}"{})", subject, printable(key) ? key : "?", inside),
             accepted, hint);
    }
}

std::string TableReader::hint_for(const std::string& key) const {
    const std::string kind = table_kind(name_.path);
    std::string hint = trade_word_here(key, kind);
    if (hint.empty()) {
        hint = landed_hint(key, name_.header);
    }
    if (hint.empty()) {
        const std::optional<std::string> near = nearest_name(key, asked_);
        hint = near ? fmt::format(R"(did you mean "{}"?)", *near) : trade_word_elsewhere(key, kind);
    }
    return hint;
}

std::vector<const Value*> list_of_tables(TableReader& parent, std::string_view key) {
    const Value* const value = parent.find(key);
    std::vector<const Value*> tables;
    if (value == nullptr) {
        return tables;
    }
    const std::string brackets = fmt::format("[[{}{}]]", parent.name().prefix, key);
    if (value->kind == ValueKind::table) {
        const std::string single = fmt::format("[{}{}]", parent.name().prefix, key);
        parent.fail(value->where,
                    fmt::format("{} is one table, but there may be several",
                                value->from_header ? single : parent.call(key)),
                    brackets + ", with double brackets, once for each");
        return tables;
    }
    const bool all_tables =
        value->kind == ValueKind::array && std::ranges::all_of(value->items, [](const Value& item) {
            return item.kind == ValueKind::table;
        });
    if (!all_tables || value->items.size() > kMostTables) {
        parent.reject(key, *value, fmt::format("{} tables, at most {}", brackets, kMostTables));
        return tables;
    }
    for (const Value& item : value->items) {
        tables.push_back(&item);
    }
    return tables;
}

}  // namespace standfast

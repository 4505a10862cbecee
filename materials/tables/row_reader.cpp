#include "materials/tables/row_reader.hpp"

#include <toml++/toml.h>
#include <algorithm>
#include <cmath>
#include <set>
#include <sstream>
#include <utility>

#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

std::string quoted(std::string_view text) { return "\"" + std::string(text) + "\""; }

std::string shown(double value) {
    std::ostringstream text;
    text << value;
    return text.str();
}

std::string listed(const std::vector<std::string>& words) {
    std::string list;
    for (const std::string& word : words) list += (list.empty() ? "" : ", ") + quoted(word);
    return list;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string>& candidates) {
    const auto nearest = nearest_name(word, candidates);
    return nearest ? "; did you mean " + quoted(*nearest) + "?" : "";
}

std::string error_place(std::string_view file_name, const toml::source_position& place) {
    return std::string(file_name) + ":" + std::to_string(place.line) + ":" +
           std::to_string(place.column) + ": error: ";
}

}  // namespace

struct RowReader::State {
    std::shared_ptr<const toml::table> document;
    const toml::table* row = nullptr;
    std::string heading;  ///< name in [material."name"]; empty for rows of [[material]]
    std::string who;      ///< how messages speak of the row, as in `material "steel 1018"`
    std::string name_key;
    std::string file_name;
    std::vector<std::string>* errors = nullptr;
    std::set<std::string, std::less<>> asked;

    void refuse_at(const toml::source_region& place, const std::string& what) const {
        errors->push_back(error_place(file_name, place.begin) + who + ": " + what);
    }

    void refuse_value(const toml::node& node, std::string_view key, const std::string& what) const {
        refuse_at(node.source(), std::string(key) + " " + what);
    }

    void refuse(const std::string& what) const { refuse_at(row->source(), what); }

    const toml::node* find(std::string_view key) {
        asked.emplace(key);
        return row->get(key);
    }

    const toml::node* require(std::string_view key) {
        const toml::node* const node = find(key);
        if (node == nullptr) refuse(quoted(key) + " is missing");
        return node;
    }

    std::string text_of(const toml::node& node, std::string_view key) {
        const auto* const text = node.as_string();
        if (text == nullptr) {
            refuse_value(node, key, "must be a text in quotes");
            return {};
        }
        if (text->get().empty()) refuse_value(node, key, "must not be empty");
        return text->get();
    }

    double number_of(const toml::node& node, std::string_view key, Interval allowed) {
        const auto value = node.value<double>();
        if (!value) {
            refuse_value(node, key, "must be a number without quotes");
            return 0;
        }
        const bool inside = *value >= allowed.low && *value <= allowed.high;  // false for nan
        if (!inside) {
            refuse_value(node, key,
                         "is " + shown(*value) + ", must be between " + shown(allowed.low) +
                             " and " + shown(allowed.high));
        }
        return inside ? *value : 0;
    }

    double quantity_of(const toml::node& node, std::string_view key, Quantity quantity, Sign sign) {
        const auto* const text = node.as_string();
        if (text == nullptr) {
            refuse_value(node, key, "must be a text with its unit: " + accepted_example(quantity));
            return 0;
        }
        const ParsedQuantity parsed = parse_quantity(text->get(), quantity);
        if (!parsed.error.empty()) {
            refuse_value(node, key, "cannot be read: " + parsed.error);
            return 0;
        }
        if (parsed.value < 0 || (sign == Sign::positive && parsed.value == 0)) {
            refuse_value(node, key,
                         "is " + text->get() +
                             (sign == Sign::positive ? ", must be greater than 0"
                                                     : ", must not be negative"));
        }
        return parsed.value;
    }
};

RowReader::RowReader(std::unique_ptr<State> state) : state_(std::move(state)) {}
RowReader::RowReader(RowReader&&) noexcept = default;
RowReader& RowReader::operator=(RowReader&&) noexcept = default;
RowReader::~RowReader() = default;

std::string RowReader::name() {
    return state_->heading.empty() ? required_text(state_->name_key) : state_->heading;
}

bool RowReader::has(std::string_view key) const { return state_->row->get(key) != nullptr; }

void RowReader::refuse(const std::string& what) { state_->refuse(what); }

std::string RowReader::required_text(std::string_view key) {
    const toml::node* const node = state_->require(key);
    return node == nullptr ? std::string() : state_->text_of(*node, key);
}

std::string RowReader::text_or(std::string_view key, std::string_view fallback) {
    const toml::node* const node = state_->find(key);
    return node == nullptr ? std::string(fallback) : state_->text_of(*node, key);
}

std::vector<std::string> RowReader::texts(std::string_view key) {
    std::vector<std::string> result;
    const toml::node* const node = state_->find(key);
    if (node == nullptr) return result;
    const toml::array* const list = node->as_array();
    if (list == nullptr) {
        state_->refuse_value(*node, key, "must be a list of texts");
        return result;
    }
    for (const toml::node& entry : *list) result.push_back(state_->text_of(entry, key));
    return result;
}

bool RowReader::flag_or(std::string_view key, bool fallback) {
    const toml::node* const node = state_->find(key);
    if (node == nullptr) return fallback;
    if (!node->is_boolean()) state_->refuse_value(*node, key, "must be true or false");
    return node->value_or(fallback);
}

double RowReader::required_number(std::string_view key, Interval allowed) {
    const toml::node* const node = state_->require(key);
    return node == nullptr ? 0 : state_->number_of(*node, key, allowed);
}

double RowReader::number_or(std::string_view key, Interval allowed, double fallback) {
    const toml::node* const node = state_->find(key);
    return node == nullptr ? fallback : state_->number_of(*node, key, allowed);
}

double RowReader::required_quantity(std::string_view key, Quantity quantity, Sign sign) {
    const toml::node* const node = state_->require(key);
    return node == nullptr ? 0 : state_->quantity_of(*node, key, quantity, sign);
}

double RowReader::quantity_or(std::string_view key, Quantity quantity, double fallback, Sign sign) {
    const toml::node* const node = state_->find(key);
    return node == nullptr ? fallback : state_->quantity_of(*node, key, quantity, sign);
}

std::optional<double> RowReader::optional_quantity(std::string_view key, Quantity quantity) {
    const toml::node* const node = state_->find(key);
    if (node == nullptr) return std::nullopt;
    return state_->quantity_of(*node, key, quantity, Sign::positive);
}

std::optional<std::array<double, 2>> RowReader::optional_range(std::string_view key,
                                                               Quantity quantity) {
    const toml::node* const node = state_->find(key);
    if (node == nullptr) return std::nullopt;
    const toml::array* const list = node->as_array();
    if (list == nullptr || list->size() != 2) {
        state_->refuse_value(*node, key, "must be a list of two: lower and upper end");
        return std::nullopt;
    }
    const std::array range{state_->quantity_of((*list)[0], key, quantity, Sign::positive),
                           state_->quantity_of((*list)[1], key, quantity, Sign::positive)};
    if (range[0] > range[1]) state_->refuse_value(*node, key, "must name the lower end first");
    return range;
}

std::size_t RowReader::required_choice(std::string_view key,
                                       const std::vector<std::string>& words) {
    const toml::node* const node = state_->require(key);
    if (node == nullptr) return 0;
    const std::string word = state_->text_of(*node, key);
    const auto found = std::ranges::find(words, word);
    if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
    state_->refuse_value(
        *node, key,
        "is " + quoted(word) + did_you_mean(word, words) + "; accepted: " + listed(words));
    return 0;
}

std::vector<RowReader> RowReader::required_rows(std::string_view key) {
    std::vector<RowReader> rows;
    const toml::node* const node = state_->require(key);
    if (node == nullptr) return rows;
    const toml::array* const list = node->as_array();
    if (list == nullptr || list->empty() || !list->is_homogeneous<toml::table>()) {
        state_->refuse_value(*node, key, "must be a list of { ... }");
        return rows;
    }
    for (const toml::node& entry : *list) {
        auto inner = std::make_unique<State>(*state_);
        inner->row = entry.as_table();
        inner->who += ", " + std::string(key);
        inner->asked.clear();
        rows.emplace_back(std::move(inner));
    }
    return rows;
}

Source RowReader::source() {
    static const std::vector<std::string> words{"user",     "found", "memory", "common practice",
                                                "computed", "fitted"};
    static constexpr std::array kinds{Provenance::user,     Provenance::found,
                                      Provenance::memory,   Provenance::common_practice,
                                      Provenance::computed, Provenance::fitted};
    Source source{.text = text_or("source", "no source given")};
    if (state_->find("provenance") != nullptr) {
        source.provenance = kinds.at(required_choice("provenance", words));
    }
    return source;
}

void RowReader::refuse_unknown_keys() {
    const std::vector<std::string> known(state_->asked.begin(), state_->asked.end());
    for (const auto& [key, node] : *state_->row) {
        if (state_->asked.contains(key.str())) continue;
        if (node.is_table()) {
            state_->refuse_at(key.source(), quoted(key.str()) +
                                                " landed inside this row; use either [[...]] or "
                                                "[... .\"name\"] for all rows of a file");
            continue;
        }
        state_->refuse_at(key.source(),
                          "unknown key " + quoted(key.str()) + did_you_mean(key.str(), known));
    }
}

namespace {

/// What the rows of one file share.
struct File {
    std::shared_ptr<const toml::table> document;
    std::string_view name;
    std::vector<std::string>& errors;
};

RowReader reader_of(const File& file, const toml::table& row, const RowKind& kind,
                    const std::string& heading) {
    const std::string name = heading.empty() ? row[kind.name_key].value_or(std::string()) : heading;
    auto state = std::make_unique<RowReader::State>();
    state->document = file.document;
    state->row = &row;
    state->heading = heading;
    state->who = std::string(kind.table) + " " + quoted(name);
    state->name_key = kind.name_key;
    state->file_name = file.name;
    state->errors = &file.errors;
    return RowReader(std::move(state));
}

void find_rows_of(const File& file, const RowKind& kind, std::size_t index,
                  std::vector<FoundRow>& rows) {
    const toml::node* const node = file.document->get(kind.table);
    if (node == nullptr) return;
    const auto add = [&](const toml::node& entry, const std::string& heading) {
        if (const toml::table* const row = entry.as_table()) {
            rows.push_back({index, reader_of(file, *row, kind, heading)});
            return;
        }
        const std::string table(kind.table);
        file.errors.push_back(error_place(file.name, entry.source().begin) + quoted(table) +
                              " must be written as [[" + table + "]] or [" + table + ".\"name\"]");
    };
    if (const toml::array* const list = node->as_array()) {
        for (const toml::node& entry : *list) add(entry, "");
    } else if (const toml::table* const named = node->as_table()) {
        for (const auto& [key, entry] : *named) add(entry, std::string(key.str()));
    } else {
        add(*node, "");
    }
}

void refuse_unknown_tables(const File& file, std::span<const RowKind> kinds) {
    std::vector<std::string> known;
    for (const RowKind& kind : kinds) known.emplace_back(kind.table);
    for (const auto& [key, node] : *file.document) {
        if (std::ranges::find(known, key.str()) != known.end()) continue;
        file.errors.push_back(error_place(file.name, key.source().begin) + "unknown table " +
                              quoted(key.str()) + did_you_mean(key.str(), known));
    }
}

}  // namespace

std::vector<FoundRow> find_rows(std::string_view text, std::string_view file_name,
                                std::span<const RowKind> kinds, std::vector<std::string>& errors) {
    std::vector<FoundRow> rows;
    try {
        const File file{std::make_shared<const toml::table>(toml::parse(text, file_name)),
                        file_name, errors};
        refuse_unknown_tables(file, kinds);
        for (std::size_t kind = 0; kind < kinds.size(); ++kind) {
            find_rows_of(file, kinds[kind], kind, rows);
        }
    } catch (const toml::parse_error& fault) {
        errors.push_back(error_place(file_name, fault.source().begin) +
                         std::string(fault.description()));
    }
    return rows;
}

}  // namespace standfast

#include "materials/tables/row_reader.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

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

}  // namespace

std::string error_place(std::string_view file_name, const toml::source_position& place) {
    return std::string(file_name) + ":" + std::to_string(place.line) + ":" +
           std::to_string(place.column) + ": error: ";
}

void RowReader::refuse_at(const toml::source_region& place, const std::string& what) {
    errors_.push_back(error_place(file_name_, place.begin) + who_ + ": " + what);
}

void RowReader::refuse_value(const toml::node& node, std::string_view key,
                             const std::string& what) {
    refuse_at(node.source(), std::string(key) + " " + what);
}

void RowReader::refuse(const std::string& what) { refuse_at(row_.source(), what); }

const toml::node* RowReader::find(std::string_view key) {
    asked_.emplace(key);
    return row_.get(key);
}

const toml::node* RowReader::require(std::string_view key) {
    const toml::node* const node = find(key);
    if (node == nullptr) refuse(quoted(key) + " is missing");
    return node;
}

std::string RowReader::text_of(const toml::node& node, std::string_view key) {
    const auto* const text = node.as_string();
    if (text == nullptr) {
        refuse_value(node, key, "must be a text in quotes");
        return {};
    }
    if (text->get().empty()) refuse_value(node, key, "must not be empty");
    return text->get();
}

double RowReader::number_of(const toml::node& node, std::string_view key, Interval allowed) {
    const auto value = node.value<double>();
    if (!value) {
        refuse_value(node, key, "must be a number without quotes");
        return 0;
    }
    const bool inside = *value >= allowed.low && *value <= allowed.high;  // false for nan
    if (!inside) {
        refuse_value(node, key,
                     "is " + shown(*value) + ", must be between " + shown(allowed.low) + " and " +
                         shown(allowed.high));
    }
    return inside ? *value : 0;
}

double RowReader::quantity_of(const toml::node& node, std::string_view key, Quantity quantity,
                              Sign sign) {
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
        refuse_value(
            node, key,
            "is " + text->get() +
                (sign == Sign::positive ? ", must be greater than 0" : ", must not be negative"));
    }
    return parsed.value;
}

std::string RowReader::required_text(std::string_view key) {
    const toml::node* const node = require(key);
    return node == nullptr ? std::string() : text_of(*node, key);
}

std::string RowReader::text_or(std::string_view key, std::string_view fallback) {
    const toml::node* const node = find(key);
    return node == nullptr ? std::string(fallback) : text_of(*node, key);
}

std::vector<std::string> RowReader::texts(std::string_view key) {
    std::vector<std::string> result;
    const toml::node* const node = find(key);
    if (node == nullptr) return result;
    const toml::array* const list = node->as_array();
    if (list == nullptr) {
        refuse_value(*node, key, "must be a list of texts");
        return result;
    }
    for (const toml::node& entry : *list) result.push_back(text_of(entry, key));
    return result;
}

bool RowReader::flag_or(std::string_view key, bool fallback) {
    const toml::node* const node = find(key);
    if (node == nullptr) return fallback;
    if (!node->is_boolean()) refuse_value(*node, key, "must be true or false");
    return node->value_or(fallback);
}

double RowReader::required_number(std::string_view key, Interval allowed) {
    const toml::node* const node = require(key);
    return node == nullptr ? 0 : number_of(*node, key, allowed);
}

double RowReader::number_or(std::string_view key, Interval allowed, double fallback) {
    const toml::node* const node = find(key);
    return node == nullptr ? fallback : number_of(*node, key, allowed);
}

double RowReader::required_quantity(std::string_view key, Quantity quantity, Sign sign) {
    const toml::node* const node = require(key);
    return node == nullptr ? 0 : quantity_of(*node, key, quantity, sign);
}

double RowReader::quantity_or(std::string_view key, Quantity quantity, double fallback, Sign sign) {
    const toml::node* const node = find(key);
    return node == nullptr ? fallback : quantity_of(*node, key, quantity, sign);
}

std::optional<double> RowReader::optional_quantity(std::string_view key, Quantity quantity) {
    const toml::node* const node = find(key);
    if (node == nullptr) return std::nullopt;
    return quantity_of(*node, key, quantity, Sign::positive);
}

std::optional<std::array<double, 2>> RowReader::optional_range(std::string_view key,
                                                               Quantity quantity) {
    const toml::node* const node = find(key);
    if (node == nullptr) return std::nullopt;
    const toml::array* const list = node->as_array();
    if (list == nullptr || list->size() != 2) {
        refuse_value(*node, key, "must be a list of two: lower and upper end");
        return std::nullopt;
    }
    const std::array range{quantity_of((*list)[0], key, quantity, Sign::positive),
                           quantity_of((*list)[1], key, quantity, Sign::positive)};
    if (range[0] > range[1]) refuse_value(*node, key, "must name the lower end first");
    return range;
}

std::size_t RowReader::required_choice(std::string_view key,
                                       const std::vector<std::string>& words) {
    const toml::node* const node = require(key);
    if (node == nullptr) return 0;
    const std::string word = text_of(*node, key);
    const auto found = std::ranges::find(words, word);
    if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
    refuse_value(*node, key,
                 "is " + quoted(word) + did_you_mean(word, words) + "; accepted: " + listed(words));
    return 0;
}

std::vector<RowReader> RowReader::required_rows(std::string_view key) {
    std::vector<RowReader> rows;
    const toml::node* const node = require(key);
    if (node == nullptr) return rows;
    const toml::array* const list = node->as_array();
    if (list == nullptr || list->empty() || !list->is_homogeneous<toml::table>()) {
        refuse_value(*node, key, "must be a list of { ... }");
        return rows;
    }
    for (const toml::node& entry : *list) {
        rows.emplace_back(*entry.as_table(), who_ + ", " + std::string(key), file_name_, errors_);
    }
    return rows;
}

Source RowReader::source() {
    static const std::vector<std::string> words{"user", "found", "memory", "common practice",
                                                "computed"};
    static constexpr std::array kinds{Provenance::user, Provenance::found, Provenance::memory,
                                      Provenance::common_practice, Provenance::computed};
    Source source{.text = text_or("source", "no source given")};
    if (find("provenance") != nullptr) {
        source.provenance = kinds.at(required_choice("provenance", words));
    }
    return source;
}

void RowReader::refuse_unknown_keys() {
    const std::vector<std::string> known(asked_.begin(), asked_.end());
    for (const auto& [key, node] : row_) {
        if (asked_.contains(key.str())) continue;
        if (node.is_table()) {
            refuse_at(key.source(), quoted(key.str()) +
                                        " landed inside this row; use either [[...]] or "
                                        "[... .\"name\"] for all rows of a file");
            continue;
        }
        refuse_at(key.source(),
                  "unknown key " + quoted(key.str()) + did_you_mean(key.str(), known));
    }
}

}  // namespace standfast

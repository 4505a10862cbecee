#pragma once

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <stdexcept>
#include <string>

namespace standfast::tests {

/// Checks a document against a JSON Schema: those keywords of draft 2020-12 (json-schema.org,
/// "Validation", sections 6 and 8, from memory) that the schema of the job uses. Any other keyword
/// is an error, so that nothing passes unread.
class SchemaChecker {
public:
    using Json = nlohmann::json;

    explicit SchemaChecker(Json schema) : root_(std::move(schema)) {}

    /// Why the document is refused, with its place; empty where it is accepted.
    std::string fault_of(const Json& document) const { return fault(root_, document, "$"); }

private:
    std::string fault(const Json& schema, const Json& value, const std::string& place) const {
        for (const auto& [keyword, rule] : schema.items()) {
            const std::string why = fault_by(keyword, rule, schema, value, place);
            if (!why.empty()) return why;
        }
        return {};
    }

    std::string fault_by(const std::string& keyword, const Json& rule, const Json& schema,
                         const Json& value, const std::string& place) const {
        const auto is = [&](const char* name) { return keyword == name; };
        if (is("$schema") || is("$defs") || is("title") || is("description") || is("examples")) {
            return {};
        }
        const auto unless = [&](bool holds) {
            return holds ? std::string() : place + " breaks " + keyword + " " + rule.dump();
        };
        if (is("$ref")) return fault(resolved(rule), value, place);
        if (is("type")) return unless(has_type(value, rule));
        if (is("enum")) return unless(std::ranges::find(rule, value) != rule.end());
        if (is("anyOf")) return unless(accepted_by(rule, value, place) > 0);
        if (is("oneOf")) return unless(accepted_by(rule, value, place) == 1);
        if (is("minimum")) return unless(!value.is_number() || value >= rule);
        if (is("exclusiveMinimum")) return unless(!value.is_number() || value > rule);
        if (is("maximum")) return unless(!value.is_number() || value <= rule);
        if (is("minLength")) return unless(!value.is_string() || length(value) >= rule);
        if (is("pattern")) return unless(!value.is_string() || matches(value, rule));
        if (is("minItems")) return unless(!value.is_array() || value.size() >= rule);
        if (is("maxItems")) return unless(!value.is_array() || value.size() <= rule);
        if (is("items")) return fault_in_items(rule, value, place);
        if (is("properties")) return fault_in_properties(rule, value, place);
        if (is("additionalProperties")) return fault_in_others(rule, schema, value, place);
        if (is("required")) {
            return unless(!value.is_object() || std::ranges::all_of(rule, [&](const Json& key) {
                return value.contains(key);
            }));
        }
        throw std::logic_error("the schema uses a keyword that this test does not know: " +
                               keyword);
    }

    const Json& resolved(const Json& reference) const {
        const std::string pointer = reference.get<std::string>().substr(1);  // without the "#"
        return root_.at(Json::json_pointer(pointer));
    }

    static bool has_type(const Json& value, const std::string& type) {
        if (type == "integer") {
            return value.is_number() && std::floor(value.get<double>()) == value.get<double>();
        }
        return (type == "object" && value.is_object()) || (type == "array" && value.is_array()) ||
               (type == "string" && value.is_string()) || (type == "number" && value.is_number()) ||
               (type == "boolean" && value.is_boolean());
    }

    static std::size_t length(const Json& text) { return text.get<std::string>().size(); }

    bool matches(const Json& text, const std::string& pattern) const {
        auto [found, fresh] = patterns_.try_emplace(pattern);
        if (fresh) found->second = std::regex(pattern, std::regex::ECMAScript);
        return std::regex_search(text.get<std::string>(), found->second);
    }

    std::size_t accepted_by(const Json& schemas, const Json& value,
                            const std::string& place) const {
        return static_cast<std::size_t>(std::ranges::count_if(
            schemas, [&](const Json& one) { return fault(one, value, place).empty(); }));
    }

    std::string fault_in_items(const Json& rule, const Json& value,
                               const std::string& place) const {
        if (!value.is_array()) return {};
        for (std::size_t i = 0; i < value.size(); ++i) {
            const std::string why = fault(rule, value[i], place + "[" + std::to_string(i) + "]");
            if (!why.empty()) return why;
        }
        return {};
    }

    std::string fault_in_properties(const Json& rule, const Json& value,
                                    const std::string& place) const {
        if (!value.is_object()) return {};
        for (const auto& [key, schema] : rule.items()) {
            if (!value.contains(key)) continue;
            const std::string why = fault(schema, value[key], place + "." + key);
            if (!why.empty()) return why;
        }
        return {};
    }

    std::string fault_in_others(const Json& rule, const Json& schema, const Json& value,
                                const std::string& place) const {
        if (!value.is_object()) return {};
        for (const auto& [key, one] : value.items()) {
            if (schema.contains("properties") && schema["properties"].contains(key)) continue;
            const std::string why = rule == Json(false) ? place + ": unknown key " + key
                                                        : fault(rule, one, place + "." + key);
            if (!why.empty()) return why;
        }
        return {};
    }

    Json root_;
    mutable std::map<std::string, std::regex> patterns_;
};

}  // namespace standfast::tests

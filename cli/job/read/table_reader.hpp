#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/job/read/reading.hpp"
#include "cli/job/toml/value.hpp"

namespace standfast {

/// What a table is called: in words, in paths, and as the header that a job writes for it.
struct TableName {
    std::string subject{};  ///< "tier 2 (\"riser\")"; empty for the top of the file
    std::string prefix{};   ///< of its keys in messages: "joint."
    std::string path{};     ///< in Reading::places: "tier[1].joint"
    std::string header{};   ///< "[[tier]]"; empty for a table inside another
};

/// Reads one table key by key and remembers which keys were asked for: those are the keys that
/// exist, so a key nobody asked for is reported by finish(), with the nearest one that exists.
class TableReader {
public:
    TableReader(Reading& reading, const Value& table, TableName name);

    /// The value of a key, or nullptr. Its place is noted.
    const Value* find(std::string_view key);
    /// As find; reports a missing key, saying what is accepted.
    const Value* require(std::string_view key, std::string_view accepted);
    /// A text without control characters.
    std::optional<std::string> text(std::string_view key, std::string_view accepted);
    std::optional<bool> truth(std::string_view key);
    /// The table under a key; another kind of value is reported.
    std::optional<TableReader> table(std::string_view key, std::string_view accepted);

    /// "tier 2 (\"riser\"): joint.width" for messages.
    std::string call(std::string_view key) const;
    /// "tier[1].joint.width".
    std::string path(std::string_view key) const;
    /// Where a key is, or where the table begins.
    Position place(std::string_view key) const;
    void fail(const Position& where, std::string message, std::string accepted = "",
              std::string hint = "");
    /// "SUBJECT: KEY is VALUE" at the value.
    void reject(std::string_view key, const Value& value, std::string accepted,
                std::string hint = "");

    /// Reports every key that nobody asked for.
    void finish();

    Reading& reading() { return *reading_; }
    const Value& value() const { return *table_; }
    const TableName& name() const { return name_; }

private:
    /// What was meant by a key that nobody asked for; may be empty.
    std::string hint_for(const std::string& key) const;

    Reading* reading_;
    const Value* table_;
    TableName name_;
    std::vector<std::string> asked_;
};

/// The value as a list of tables, each with its place; [name] for [[name]] and a lone inline
/// table are reported. More than 200 are refused.
std::vector<const Value*> list_of_tables(TableReader& parent, std::string_view key);

}  // namespace standfast

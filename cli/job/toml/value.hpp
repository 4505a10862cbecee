#pragma once

#include <string>
#include <vector>

#include "cli/job/toml/source_file.hpp"

namespace standfast {

enum class ValueKind { text, whole, real, truth, date, array, table };

struct Entry;

/// A value of a job file with its place: the tree that the readers walk. Plain data; knows
/// nothing of the TOML library.
struct Value {
    Position where{};
    ValueKind kind = ValueKind::table;
    std::string text{};          ///< of a text
    double number = 0;           ///< of a whole or real number
    bool truth = false;          ///< of true or false
    std::vector<Value> items{};  ///< of an array
    std::vector<Entry> entries;  ///< of a table, in the order of the file
    bool from_header = false;    ///< a table that a [header] opened
};

struct Entry {
    std::string key;
    Position where;  ///< of the key
    Value value;
};

/// A value of one kind without content.
Value make_value(Position where, ValueKind kind);

/// The entry of a table, or nullptr.
const Entry* find_entry(const Value& table, std::string_view key);

/// A value as a reader would say it: "\"6 in\"", "the bare number 150", "a table".
std::string in_words(const Value& value);

}  // namespace standfast

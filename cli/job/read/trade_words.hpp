#pragma once

#include <string>
#include <string_view>

namespace standfast {

/// Kind of table that a path of TableReader means: "tool.cutter" of "tool[0].cutter", "material" of
/// `material."6061"`.
std::string table_kind(std::string_view path);

/// A word of the trade that is no key of a job ("doc", "ap", "stepover", "chipload", "rpm"), in
/// the table where it was found: one sentence with the key that it stands for there and an example;
/// empty where it stands for none of that table.
/// @param table  as table_kind() gives it: "pass"
std::string trade_word_here(std::string_view word, std::string_view table);

/// The same where another table has the key: the sentence names that table.
std::string trade_word_elsewhere(std::string_view word, std::string_view table);

}  // namespace standfast

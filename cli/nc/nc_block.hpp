#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace standfast {

// Room "nc": what an ISO 6983 program says in plain words. Nothing is guessed: what is not a plain
// word is handed back as such.

/// A word of a block: an address letter and its number.
struct NcWord {
    char letter = ' ';  ///< upper case
    double number = 0;
    bool has_point = false;  ///< written with a decimal point
};

/// One block (line) of a program.
struct NcBlock {
    std::vector<NcWord> words;
    std::string comment;           ///< the text of its comments; may be empty
    std::string not_plain;         ///< the first piece that is no word; empty where all are
    bool skipped_at_will = false;  ///< begins with "/": run or skipped at the operator's switch
};

/// Reads one line: words without regard to spaces and letter case, comments in brackets or after a
/// semicolon, "%" and what follows it as nothing. Never throws.
/// Source: ISO 6983-1:2009, word address format, from memory.
NcBlock read_nc_block(std::string_view line);

}  // namespace standfast

#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace standfast {

enum class NcSpindle { turns, surface };              ///< S: rev/min; m/min or ft/min
enum class NcFeed { per_minute, per_turn, inverse };  ///< F: mm or in a minute, a turn; 1/min

/// The cutting moves of one tool at one spindle speed and one feed, as the program writes them.
struct NcCut {
    std::optional<long> tool;  ///< none: no T before it
    bool inch = false;         ///< lengths and feeds; else mm
    NcSpindle spindle = NcSpindle::turns;
    std::optional<double> speed;  ///< S as written; none: no S before it
    NcFeed feed_kind = NcFeed::per_minute;
    std::optional<double> feed;   ///< F as written; none: no F before it
    std::vector<double> levels;   ///< Z at which it moves level, from the highest down
    bool levels_unknown = false;  ///< some of it where Z is not known
    std::optional<double> slope_low, slope_high;  ///< Z that moves which also go up or down reach
    std::size_t blocks = 0;
    std::size_t first_line = 0, last_line = 0;
};

/// Something that was not taken, with the first line where it stands.
struct NcRemark {
    std::size_t line = 0;
    std::string text;  ///< may hold bytes of the file
    std::size_t count = 1;
};

struct NcTool {
    std::optional<long> number;
    std::string comment;  ///< of its tool change or the line before; bytes of the file
};

struct NcProgram {
    std::vector<NcTool> tools;  ///< in the order in which they first cut
    std::vector<NcCut> cuts;    ///< likewise
    std::vector<NcRemark> remarks;
    bool units_said = false;  ///< G20 or G21 (G70, G71); else taken as mm
};

/// Reads tool changes (T, M6), spindle (S, M3, M4, M5, G96, G97), feed (F, G93 to G95), units (G20,
/// G21, G70, G71), G90 and G91, and the feed moves G1, G2 and G3 with the Z at which they cut. What
/// else the program says is either of no weight here (offsets, coolant, rapids, dwell) or becomes a
/// remark: expressions, variables, cycles, subprograms, rotary moves, codes that the standard does
/// not give. Never throws for anything that the text holds.
/// Source: ISO 6983-1:2009 and the code tables of its 1982 edition, from memory.
NcProgram read_nc_program(std::string_view text);

}  // namespace standfast

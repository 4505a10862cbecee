#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/options/terminal.hpp"
#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/quantities/quantities.hpp"
#include "materials/units.hpp"

namespace standfast {

// Room "cli": files, words, pictures. This header holds the command line as data: what the user
// chose, and the two tables (commands, options) that parsing, help, and whatever else wants to
// know the command line (a man page, completions) read.

enum class Command { none, check, materials, create, trade, explain, fit };

/// The share K of N of a run that is spread over several processes.
struct Shard {
    std::size_t index = 1, count = 1;  ///< 1 <= index <= count
};

/// What the user chose, with the defaults of the program.
struct Options {
    Command command = Command::none;
    bool help = false, version = false;
    bool help_all = false;               ///< every option, not only the daily ones
    std::vector<std::string> arguments;  ///< jobs, a material's name, or the file to write

    bool json = false, assumed = false, strict = false, quiet = false, force = false;
    std::optional<std::string> csv_directory;
    std::optional<std::string> report;   ///< file of the page
    std::optional<std::string> explore;  ///< file of the page that computes
    std::optional<std::string> pass;
    std::vector<SpindleSpeed> speeds;
    StabilityMethod method = StabilityMethod::periodic;
    std::optional<std::string> overlay, materials_file;
    bool other_machine = false;         ///< take an overlay that was measured elsewhere
    std::optional<std::string> save;    ///< fit: file of the overlay
    std::vector<std::string> without;   ///< fit: readings set aside by name
    bool plan = false;                  ///< fit: what to measure next
    std::optional<std::string> tap;     ///< fit: a recording of knocks by itself
    bool modes_only = false;            ///< fit: the modes of a measured receptance
    std::optional<std::string> column;  ///< fit --modes-only FILE: which of several
    std::uint64_t seed = 1;
    int draws = 128;
    bool seed_given = false, draws_given = false;  ///< else a job's [uncertainty] may choose
    bool march = false;
    int modes = 6;
    bool every_speed = false;
    std::optional<Shard> shard;
    bool merge = false;
    std::optional<std::string> out;  ///< file of a shard's lines
    UnitSystem units = UnitSystem::metric;
    bool units_given = false;  ///< else those of most of the jobs' lengths
    ColorChoice color = ColorChoice::automatic;

    std::optional<std::string> sound;            ///< recording to explain
    std::optional<std::string> background;       ///< the machine without the cut
    std::optional<double> heard;                 ///< Hz
    std::optional<double> marks, marks_axial;    ///< m
    std::optional<double> sound_from, sound_to;  ///< s
};

/// One command. `planned` ones are refused with a sentence and never listed.
struct CommandRow {
    Command command = Command::none;
    std::string_view name;
    std::string_view arguments;  ///< as shown in help: "JOB..."
    std::string_view summary;
    bool planned = false;
};

/// One option: all that is known of it.
struct OptionRow {
    std::string_view name;   ///< "--csv"
    std::string_view value;  ///< "DIR"; empty: a flag
    std::string_view help;   ///< empty: refused with a sentence and never listed
    unsigned commands = 0;   ///< bits, see bit_of
    /// Stores the value (empty for a flag); throws UsageError where it does not fit.
    void (*store)(Options& options, std::string_view value) = nullptr;
    bool repeats = false;  ///< may be given several times; otherwise the last counts
};

constexpr unsigned bit_of(Command command) { return 1U << static_cast<unsigned>(command); }

const std::vector<CommandRow>& command_table();
const std::vector<OptionRow>& option_table();

/// Row of a command that exists or is planned.
const CommandRow& row_of(Command command);

}  // namespace standfast

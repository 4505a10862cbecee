#include "cli/nc/nc_program.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "cli/nc/nc_block.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostCuts = 150;  // a job takes 200 passes
constexpr std::size_t kMostLevels = 2000;
constexpr std::size_t kMostRemarks = 200;

/// Codes that change nothing of what is told here: dwell, planes, offsets, compensation, exact
/// stop, returns of cycles; stops, coolant, clamps.
constexpr std::array kIdleG{4,  9,  17, 18, 19, 40, 41, 42, 43, 44, 49, 54,
                            55, 56, 57, 58, 59, 60, 61, 64, 80, 98, 99};
constexpr std::array kIdleM{0, 1, 7, 8, 9, 10, 11, 19, 48, 49, 60};

std::string code_text(char letter, double number) {
    std::string text = std::to_string(number);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return letter + text;
}

template <class List>
bool holds(const List& list, int number) {
    return std::ranges::find(list, number) != list.end();
}

/// What holds from block to block.
struct Modes {
    std::optional<int> motion;  ///< 0 to 3; 80 and up: a cycle
    bool inch = false, incremental = false;
    NcFeed feed_kind = NcFeed::per_minute;
    NcSpindle spindle = NcSpindle::turns;
    std::optional<double> speed, feed, z;
    std::optional<long> chosen, tool;  ///< T; T of the last M6
};

class Reader {
public:
    NcProgram read(std::string_view text) {
        // A program without M6 changes its tool where T stands.
        std::size_t line = 0;
        changes_by_m6_ = has_tool_change(text);
        while (!text.empty() && !ended_) {
            const std::size_t end = std::min(text.find('\n'), text.size());
            take(read_nc_block(text.substr(0, end)), ++line);
            text.remove_prefix(std::min(end + 1, text.size()));
        }
        if (text.find_first_not_of(" \t\r\n%") != std::string_view::npos) {
            remark(line + 1, "what comes after the program's end (M2 or M30)");
        }
        return finished();
    }

private:
    static bool has_tool_change(std::string_view text) {
        while (!text.empty()) {
            const std::size_t end = std::min(text.find('\n'), text.size());
            for (const NcWord& word : read_nc_block(text.substr(0, end)).words) {
                if (word.letter == 'M' && word.number == 6) return true;
            }
            text.remove_prefix(std::min(end + 1, text.size()));
        }
        return false;
    }

    void remark(std::size_t line, const std::string& text) {
        const auto [at, fresh] = remark_of_.emplace(text, program_.remarks.size());
        if (!fresh) {
            ++program_.remarks[at->second].count;
        } else if (program_.remarks.size() < kMostRemarks) {
            program_.remarks.push_back({line, text, 1});
        } else {
            remark_of_.erase(at);
            ++more_remarks_;
        }
    }

    void take(const NcBlock& block, std::size_t line) {
        if (!block.not_plain.empty()) {
            remark(line, "\"" + block.not_plain + "\" is no plain word: this block is left out");
            // Codes before it hold on all the same: a motion is not lost with its target.
            for (const NcWord& word : block.words) modal(word, line);
            changes_tool_ = false;
            forget_what_it_may_set(block);
            return;
        }
        if (block.skipped_at_will && !block.words.empty()) {
            remark(line, "blocks that begin with / are taken as run");
        }
        moved_ = Moved{};
        const std::optional<double> before = modes_.z;
        for (const NcWord& word : block.words) modal(word, line);
        for (const NcWord& word : block.words) address(word, line);
        if (!block.comment.empty()) {
            comment_ = block.comment;
            comment_line_ = line;
        }
        if (changes_tool_) change_tool(line);
        move(before, line);
    }

    /// A block that cannot be read may have set anything that it names.
    void forget_what_it_may_set(const NcBlock& block) {
        modes_.z.reset();
        const std::string& text = block.not_plain;
        const auto named = [&](char letter) {
            return text.find(letter) != std::string::npos ||
                   std::ranges::any_of(block.words,
                                       [&](const NcWord& word) { return word.letter == letter; });
        };
        if (named('F')) modes_.feed.reset();
        if (named('S')) modes_.speed.reset();
    }

    void modal(const NcWord& word, std::size_t line) {
        const int code = static_cast<int>(std::clamp(word.number, -1.0, 1e6));
        const bool whole = word.number == code;
        if (word.letter == 'G' && !(whole && general(code, line))) {
            remark(line, code_text('G', word.number) + " is not taken");
            modes_.z.reset();
        }
        if (word.letter == 'M' && !(whole && miscellaneous(code, line))) {
            remark(line, code_text('M', word.number) + " is not taken");
        }
    }

    /// @returns whether the code is one that is known
    bool general(int code, std::size_t line) {
        switch (code) {
            case 0:
            case 1:
            case 2:
            case 3:
                modes_.motion = code;
                return true;
            case 20:
            case 70:
            case 21:
            case 71:
                modes_.inch = code == 20 || code == 70;
                program_.units_said = true;
                return true;
            case 90:
            case 91:
                modes_.incremental = code == 91;
                return true;
            case 93:
                modes_.feed_kind = NcFeed::inverse;
                return true;
            case 94:
                modes_.feed_kind = NcFeed::per_minute;
                return true;
            case 95:
                modes_.feed_kind = NcFeed::per_turn;
                return true;
            case 96:
                modes_.spindle = NcSpindle::surface;
                return true;
            case 97:
                modes_.spindle = NcSpindle::turns;
                return true;
            case 28:
            case 30:
            case 53:
                moved_.elsewhere = true;  // in the machine's own coordinates
                return true;
            case 92:
                moved_.preset = true;
                return true;
            default:
                break;
        }
        if (code >= 81 && code <= 89) {
            modes_.motion = code;
            remark(line, "drilling, tapping and boring cycles (G81 to G89)");
            return true;
        }
        if (code == 80) modes_.motion.reset();
        return holds(kIdleG, code);
    }

    bool miscellaneous(int code, std::size_t line) {
        if (code == 2 || code == 30) ended_ = true;
        if (code == 6) changes_tool_ = true;
        if (code == 98) {
            remark(line, "a subprogram is called: its moves are not seen");
            modes_.z.reset();
            return true;
        }
        if (code == 99) return true;
        constexpr std::array kTaken{2, 3, 4, 5, 6, 13, 14, 30};
        return holds(kTaken, code) || holds(kIdleM, code);
    }

    void address(const NcWord& word, std::size_t line) {
        switch (word.letter) {
            case 'T':
                modes_.chosen = static_cast<long>(std::clamp(word.number, 0.0, 1e9));
                changes_tool_ = changes_tool_ || !changes_by_m6_;
                break;
            case 'S':
                modes_.speed = word.number;
                break;
            case 'F':
                modes_.feed = word.number;
                without_point(word, line);
                break;
            case 'X':
            case 'Y':
            case 'I':
            case 'J':
                moved_.sideways = true;
                break;
            case 'Z':
                moved_.z = word.number;
                without_point(word, line);
                break;
            case 'A':
            case 'B':
            case 'C':
                remark(line, "rotary axes: how far they turn is not taken (tilt, turn)");
                break;
            case 'U':
            case 'V':
            case 'W':
            case 'E':
                remark(line, std::string("the address ") + word.letter + " is not taken");
                break;
            default:
                break;  // N, O, G, M above; D, H, K, L, P, Q, R say nothing here
        }
    }

    /// Whole numbers may mean the smallest step of the control.
    void without_point(const NcWord& word, std::size_t line) {
        if (word.letter == 'Z' && !word.has_point && word.number != 0) {
            remark(line,
                   "Z without a decimal point is taken as whole mm or inch; some controls count "
                   "in their smallest step");
        }
    }

    void change_tool(std::size_t line) {
        constexpr std::size_t kNear = 3;
        changes_tool_ = false;
        modes_.tool = modes_.chosen;
        modes_.z.reset();
        if (!comment_.empty() && line - comment_line_ <= kNear) {
            comment_of_[modes_.tool] = comment_;
        }
        comment_.clear();
    }

    void move(const std::optional<double>& before, std::size_t line) {
        if (moved_.elsewhere) {
            modes_.z.reset();
            return;
        }
        if (moved_.preset) {
            if (moved_.z) modes_.z = moved_.z;
            return;
        }
        bool rises = false;
        if (moved_.z) {
            const std::optional<double> target =
                modes_.incremental ? (before ? std::optional(*before + *moved_.z) : std::nullopt)
                                   : moved_.z;
            rises = !before || !target || *target != *before;
            modes_.z = target;
        }
        const bool feeds = modes_.motion && *modes_.motion >= 1 && *modes_.motion <= 3;
        if (feeds && moved_.sideways) cut(before, rises, line);
    }

    void cut(const std::optional<double>& before, bool rises, std::size_t line) {
        NcCut* const run = cut_of(line);
        if (run == nullptr) return;
        ++run->blocks;
        run->last_line = line;
        if (!modes_.z || (rises && !before)) {
            run->levels_unknown = true;
        } else if (rises) {
            run->slope_low = std::min({run->slope_low.value_or(*before), *before, *modes_.z});
            run->slope_high = std::max({run->slope_high.value_or(*before), *before, *modes_.z});
        } else {
            std::set<double>& levels =
                levels_of_[static_cast<std::size_t>(run - program_.cuts.data())];
            if (levels.size() < kMostLevels) levels.insert(*modes_.z);
        }
    }

    /// The run that this move belongs to; none where there are too many.
    NcCut* cut_of(std::size_t line) {
        const auto key = std::make_tuple(modes_.tool, modes_.inch, modes_.spindle, modes_.speed,
                                         modes_.feed_kind, modes_.feed);
        const auto found = run_of_.find(key);
        if (found != run_of_.end()) return &program_.cuts[found->second];
        if (program_.cuts.size() >= kMostCuts) {
            remark(line, "more tools, speeds and feeds than a job takes: these are left out");
            return nullptr;
        }
        run_of_.emplace(key, program_.cuts.size());
        program_.cuts.push_back({.tool = modes_.tool,
                                 .inch = modes_.inch,
                                 .spindle = modes_.spindle,
                                 .speed = modes_.speed,
                                 .feed_kind = modes_.feed_kind,
                                 .feed = modes_.feed,
                                 .first_line = line});
        levels_of_.emplace_back();
        return &program_.cuts.back();
    }

    NcProgram finished() {
        for (std::size_t i = 0; i < program_.cuts.size(); ++i) {
            NcCut& run = program_.cuts[i];
            run.levels.assign(levels_of_[i].rbegin(), levels_of_[i].rend());
            const bool known = std::ranges::any_of(
                program_.tools, [&](const NcTool& tool) { return tool.number == run.tool; });
            if (!known) program_.tools.push_back({run.tool, comment_of_[run.tool]});
        }
        if (more_remarks_ > 0) {
            program_.remarks.push_back({0, "and more, which are not listed", more_remarks_});
        }
        return std::move(program_);
    }

    struct Moved {
        bool sideways = false, elsewhere = false, preset = false;
        std::optional<double> z;
    };
    using RunKey = std::tuple<std::optional<long>, bool, NcSpindle, std::optional<double>, NcFeed,
                              std::optional<double>>;

    NcProgram program_;
    Modes modes_;
    Moved moved_;
    std::map<RunKey, std::size_t> run_of_;
    std::vector<std::set<double>> levels_of_;
    std::map<std::string, std::size_t> remark_of_;
    std::map<std::optional<long>, std::string> comment_of_;
    std::string comment_;
    std::size_t more_remarks_ = 0, comment_line_ = 0;
    bool changes_by_m6_ = true, changes_tool_ = false, ended_ = false;
};

}  // namespace

NcProgram read_nc_program(std::string_view text) { return Reader().read(text); }

}  // namespace standfast

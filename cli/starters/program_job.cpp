#include "cli/starters/program_job.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

namespace standfast {
namespace {

constexpr std::size_t kLongestComment = 100;
constexpr std::size_t kShownLevels = 6;
constexpr std::size_t kShownRemarks = 40;

/// Text of a program in a comment of the job: printable ASCII, shortened.
std::string in_comment(std::string_view text) {
    std::string shown;
    for (const char c : text.substr(0, kLongestComment)) {
        shown += c >= 0x20 && c < 0x7F ? c : '?';
    }
    return text.size() > kLongestComment ? shown + "..." : shown;
}

std::string number(double value) {
    return std::abs(value) < 1e15 ? fmt::format("{}", value) : fmt::format("{:.6g}", value);
}

std::string tool_name(const std::optional<long>& tool) {
    return tool ? fmt::format("T{}", *tool) : "tool in the spindle";
}

std::string_view length_unit(const NcCut& cut) { return cut.inch ? "in" : "mm"; }

std::string fill_in(std::string_view key, std::string_view example, std::string_view why) {
    return fmt::format("{}{} = {}   # {}\n", kFillIn, key, example, why);
}

std::string speed_line(const NcCut& cut) {
    if (!cut.speed || !(*cut.speed > 0)) {
        return fill_in("speed", "\"6000 rpm\"", "the program says none before these moves");
    }
    const std::string_view unit = cut.spindle == NcSpindle::turns ? "rpm"
                                  : cut.inch                      ? "sfm"
                                                                  : "m/min";
    return fmt::format("speed = \"{} {}\"\n", number(*cut.speed), unit);
}

std::string feed_line(const NcCut& cut) {
    const std::string example = cut.inch ? "\"0.002 in\"" : "\"0.05 mm\"";
    if (!cut.feed || !(*cut.feed > 0)) {
        return fill_in("feed", example, "per tooth; the program says none before these moves");
    }
    if (cut.feed_kind == NcFeed::per_turn) {
        return fill_in("feed", example,
                       fmt::format("per tooth: the program feeds {} {} a turn (G95), so divide by "
                                   "the teeth",
                                   number(*cut.feed), length_unit(cut)));
    }
    if (cut.feed_kind == NcFeed::inverse) {
        return fill_in("feed", example, "per tooth; the program gives inverse time (G93)");
    }
    if (!cut.speed || !(*cut.speed > 0)) {
        return fill_in("feed", example,
                       fmt::format("per tooth: the program feeds {} {}/min", number(*cut.feed),
                                   length_unit(cut)));
    }
    return fmt::format("feed = \"{} {}\"\n", number(*cut.feed), cut.inch ? "ipm" : "mm/min");
}

/// "all steps 2 mm" where the levels go down evenly.
std::string steps_of(const NcCut& cut) {
    if (cut.levels.size() < 2) return {};
    const double first = cut.levels[0] - cut.levels[1];
    for (std::size_t i = 2; i < cut.levels.size(); ++i) {
        if (std::abs(cut.levels[i - 1] - cut.levels[i] - first) > 1e-3 * first) return {};
    }
    return fmt::format(", {:.6g} {} apart", first, length_unit(cut));
}

std::string depth_words(const NcCut& cut) {
    std::string words;
    if (!cut.levels.empty()) {
        words = cut.levels.size() == 1 ? "level" : fmt::format("{} levels", cut.levels.size());
        words += " Z ";
        for (std::size_t i = 0; i < std::min(cut.levels.size(), kShownLevels); ++i) {
            words += fmt::format("{}{:.6g}", i == 0 ? "" : ", ", cut.levels[i]);
        }
        if (cut.levels.size() > kShownLevels) {
            words += fmt::format(" ... {:.6g}", cut.levels.back());
        }
        words += fmt::format(" {}{}", length_unit(cut), steps_of(cut));
    }
    if (cut.slope_low) {
        words += fmt::format("{}moves that rise or fall, Z {:.6g} to {:.6g} {}",
                             words.empty() ? "" : "; ", *cut.slope_high, *cut.slope_low,
                             length_unit(cut));
    }
    if (cut.levels_unknown) {
        words += fmt::format("{}some of it at a Z that the program does not say plainly",
                             words.empty() ? "" : "; ");
    }
    return words;
}

std::string tool_text(const NcTool& tool, bool inch) {
    std::string text = fmt::format("\n[[tool]]\nname = \"{}\"", tool_name(tool.number));
    if (!tool.comment.empty()) {
        text += fmt::format("   # the program calls it: {}", in_comment(tool.comment));
    }
    text += "\n" + fill_in("grip", "\"shrink\"", "or \"collet\", \"hydraulic\", \"side-lock\"");
    text += fill_in("cutter",
                    inch ? R"({ diameter = "3/8 in", teeth = 3, stickout = "1-1/2 in" })"
                         : R"({ diameter = "10 mm", teeth = 3, stickout = "40 mm" })",
                    "stickout: holder face to tip");
    return text;
}

std::string pass_text(const NcCut& cut, const std::string& name) {
    std::string text =
        fmt::format("\n[[pass]]   # lines {} to {}, {} moves\nname = \"{}\"\ntool = \"{}\"\n",
                    cut.first_line, cut.last_line, cut.blocks, name, tool_name(cut.tool));
    text += speed_line(cut) + feed_line(cut);
    text += fill_in("radial", cut.inch ? "\"0.01 in\"" : "\"0.3 mm\"",
                    "how wide it cuts, which no program says");
    text += fmt::format("# {}: the first counts from the stock's top, which no program says.\n",
                        depth_words(cut));
    text += fill_in("axial", cut.inch ? "\"0.1 in\"" : "\"2 mm\"",
                    "how deep along the tool; left out: standfast tells how deep it may be");
    text += fill_in("milling", "\"down\"", "or \"up\", \"slot\"");
    return text;
}

std::string cut_name(const NcCut& cut, std::set<std::string>& taken) {
    std::string base = tool_name(cut.tool);
    if (cut.speed) base += fmt::format(" S{}", number(*cut.speed));
    if (cut.feed) base += fmt::format(" F{}", number(*cut.feed));
    std::string name = base;
    for (int n = 2; !taken.insert(name).second; ++n) name = fmt::format("{} ({})", base, n);
    return name;
}

std::string remarks_text(const NcProgram& program, std::string_view name) {
    std::string text;
    if (!program.units_said) {
        text += "#   neither G20 nor G21: its lengths and feeds are taken as mm\n";
    }
    std::size_t shown = 0;
    for (const NcRemark& remark : program.remarks) {
        if (++shown > kShownRemarks) break;
        text += remark.line > 0 ? fmt::format("#   line {}", remark.line) : std::string("#   ");
        text += remark.count > 1 && remark.line > 0 ? fmt::format(" and {} more", remark.count - 1)
                                                    : std::string();
        text += fmt::format("{}{}\n", remark.line > 0 ? ": " : "", in_comment(remark.text));
    }
    if (program.remarks.size() > kShownRemarks) {
        text += fmt::format("#   and {} kinds more\n", program.remarks.size() - kShownRemarks);
    }
    return text.empty() ? text : fmt::format("\n# Not taken from {}:\n{}", in_comment(name), text);
}

}  // namespace

std::string program_job(const NcProgram& program, std::string_view program_name,
                        std::string_view stand) {
    if (program.cuts.empty()) {
        throw std::domain_error("program: holds no cut");
    }
    std::string text = fmt::format(
        "# From {}: its tools, spindle speeds, feeds and depths, as its plain words say them\n"
        "# (ISO 6983). What it does not say stands as a line to fill in: take the mark\n"
        "# \"{}\" away and put your value. Then: standfast check THIS-FILE\n"
        "# Machine and stack are invented: put yours.\n\n",
        in_comment(program_name), kFillIn.substr(2, kFillIn.size() - 3));
    text += stand;
    const bool inch = program.cuts.front().inch;
    for (const NcTool& tool : program.tools) text += tool_text(tool, inch);
    std::set<std::string> taken;
    for (const NcCut& cut : program.cuts) text += pass_text(cut, cut_name(cut, taken));
    return text + remarks_text(program, program_name);
}

}  // namespace standfast

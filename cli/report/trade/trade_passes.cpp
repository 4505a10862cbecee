#include "cli/report/trade/trade_passes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "cli/report/trade/trade_words.hpp"

namespace standfast {
namespace {

constexpr std::size_t kIndent = 5, kGap = 2, kLeastName = 8;
constexpr int kNarrowest = 40, kWidest = 100;

enum Column : std::size_t { level, name, speed, feed, depth, wall, kColumns };
using Line = std::array<std::string, kColumns>;

Line line_of(const TradePass& pass, UnitSystem units) {
    Line line;
    line[level] = level_hatch(pass.best_verdict.level, pass.holding.judged);
    line[name] = printable(pass.name);
    if (!pass.best_speed || !depth_left(pass)) {
        line[speed] = "no depth stays free of flags";
        return line;
    }
    line[speed] = speed_text(*pass.best_speed);
    line[feed] = feed_text(pass.feed, units);
    line[depth] = depth_to_set(*pass.usable, units);
    if (pass.best_error) {
        line[wall] = error_text(std::abs(*pass.best_error), units) +
                     (*pass.best_error > 0 ? " too deep" : " left");
    }
    return line;
}

std::vector<std::string> tools_of(const TradeResult& result) {
    std::vector<std::string> tools;
    for (const TradePass& pass : result.passes) {
        if (std::ranges::find(tools, pass.tool) == tools.end()) tools.push_back(pass.tool);
    }
    return tools;
}

/// The pass of a tool that says most of what holds it.
const TradePass& held_most(const TradeResult& result, const std::string& tool) {
    const TradePass* most = nullptr;
    const auto rank = [](const TradePass& pass) {
        return pass.clear == false                ? 3
               : pass.held_by == LimitedBy::reach ? 2
               : pass.held_by == LimitedBy::list  ? 1
                                                  : 0;
    };
    for (const TradePass& pass : result.passes) {
        if (pass.tool != tool) continue;
        if (most == nullptr || rank(pass) > rank(*most)) most = &pass;
    }
    return *most;
}

std::array<std::size_t, kColumns> widths_of(const std::vector<Line>& lines, std::size_t page) {
    std::array<std::size_t, kColumns> widths{};
    for (const Line& line : lines) {
        const bool whole = !line[feed].empty();
        for (std::size_t c = 0; c < kColumns; ++c) {
            if (whole || c <= name) widths[c] = std::max(widths[c], columns(line[c]));
        }
    }
    std::size_t others = kIndent + kGap * (kColumns - 1);
    for (std::size_t c = 0; c < kColumns; ++c) others += c == name ? 0 : widths[c];
    const std::size_t room = page > others + kLeastName ? page - others : kLeastName;
    widths[name] = std::min(widths[name], room);
    return widths;
}

std::string set_line(const Line& line, const std::array<std::size_t, kColumns>& widths) {
    std::string text(kIndent, ' ');
    for (std::size_t c = 0; c < kColumns; ++c) {
        const std::string cell = c == name ? shortened(line[c], widths[c]) : line[c];
        text += padded(cell, widths[c]) + std::string(kGap, ' ');
    }
    text.erase(text.find_last_not_of(' ') + 1);
    return text;
}

}  // namespace

std::string sum_text(const TradeResult& result, UnitSystem units) {
    std::string text = result.removal > 0
                           ? fmt::format("together {}", removal_text(result.removal, units))
                           : std::string("together: no time, since a pass has no usable depth");
    double time = 0;
    for (const TradePass& pass : result.passes) time += pass.time.value_or(NAN);
    if (std::isfinite(time)) {
        text += fmt::format(", {} min of cutting", three_digits(time / 60));
    } else if (result.passes.size() > 1) {
        const double first = result.passes.front().share;
        const bool equal = std::ranges::all_of(result.passes, [&](const TradePass& pass) {
            return std::abs(pass.share - first) < 1e-9;
        });
        text += equal ? ", each pass counted as long as the others (no length or share given)"
                      : ", each pass counted by its share";
    }
    return text;
}

std::string trade_passes(const TradeResult& result, const ScreenOptions& options) {
    const auto page = static_cast<std::size_t>(std::clamp(options.page.width, kNarrowest, kWidest));
    std::vector<Line> lines;
    const Line heading{"", "pass", "speed", "feed", "depth", "wall"};
    for (const TradePass& pass : result.passes) lines.push_back(line_of(pass, options.units));
    std::vector<Line> all = lines;
    all.push_back(heading);
    const auto widths = widths_of(all, page);
    std::string text = set_line(heading, widths) + "\n";
    for (const std::string& tool : tools_of(result)) {
        const TradePass& held = held_most(result, tool);
        const std::string out =
            fmt::format(", {} out; held by {}", length_text(held.stickout, options.units),
                        held_by_text(held, options.units));
        const std::size_t least = std::min<std::size_t>(columns(tool), 20);
        const std::size_t room = page > columns(out) + 3 + least ? page - columns(out) - 3 : least;
        text += shortened("   " + shortened(printable(tool), room) + printable(out), page) + "\n";
        for (std::size_t p = 0; p < lines.size(); ++p) {
            if (result.passes[p].tool == tool) {
                text += shortened(set_line(lines[p], widths), page) + "\n";
            }
        }
    }
    return text + shortened("   " + sum_text(result, options.units), page) + "\n";
}

}  // namespace standfast

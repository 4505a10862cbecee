#include "cli/report/check/side_by_side.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <utility>

#include "cli/report/check/advice_text.hpp"
#include "cli/report/check/reason_text.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/given_words.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "cli/text/table.hpp"

namespace standfast {
namespace {

/// What two set-ups are compared by.
struct Compared {
    std::string what;
    std::function<std::string(const Job&, const PassReport&)> of;
};

std::vector<Compared> compared(UnitSystem units) {
    return {
        {"verdict",
         [](const Job&, const PassReport& pass) {
             return std::string(level_words(pass.verdict.level, pass.holding.judged));
         }},
        {"why",
         [](const Job&, const PassReport& pass) {
             return pass.verdict.reasons.empty() ? std::string("-") : reasons_text(pass);
         }},
        {"speed and feed",
         [=](const Job& job, const PassReport& pass) {
             return fmt::format("{}, {}", speed_text(pass.judged_speed),
                                feed_text(feed_of(job, pass, pass.judged_speed), units));
         }},
        {"depth, radial",
         [=](const Job& job, const PassReport& pass) {
             return fmt::format("{}, {}", length_text(pass.judged_depth, units),
                                length_text(job.passes[pass.pass].radial, units));
         }},
        {"edge of chatter there",
         [=](const Job&, const PassReport& pass) {
             return pass.at_programmed.limit ? depth_text(*pass.at_programmed.limit, units)
                                             : std::string("none found");
         }},
        {"tries that chatter",
         [](const Job&, const PassReport& pass) {
             return pass.odds ? percent_text(pass.odds->at_judged) : std::string("not drawn");
         }},
        {"best found",
         [=](const Job&, const PassReport& pass) {
             return pass.best ? fmt::format("{}, {} deep", speed_text(pass.best->speed),
                                            depth_to_set(pass.best->depth, units))
                              : std::string("nothing");
         }},
        {"push-off, slowly turning",
         [=](const Job&, const PassReport& pass) { return wall_text(pass.statics.error, units); }},
        {"wall, nine in ten tries",
         [=](const Job&, const PassReport& pass) {
             return pass.wall                  ? wall_of_tries_text(*pass.wall, units)
                    : pass.error_at_programmed ? wall_text(*pass.error_at_programmed, units)
                                               : std::string("chatters");
         }},
        {"holding, capacity over peak load",
         [](const Job&, const PassReport& pass) {
             return pass.holding.judged ? three_digits(pass.holding.factor)
                                        : std::string("not judged");
         }},
        {"stack rings first at",
         [](const Job&, const PassReport& pass) {
             return pass.work_modes.empty()
                        ? std::string("-")
                        : frequency_text(pass.work_modes.front().frequency_hertz);
         }},
        {"tool rings first at",
         [](const Job&, const PassReport& pass) {
             return pass.tool_modes.empty()
                        ? std::string("-")
                        : frequency_text(pass.tool_modes.front().frequency_hertz);
         }},
    };
}

/// Sizes of a set-up by name, for finding what differs.
std::vector<std::pair<std::string, std::string>> sizes_of(const Job& job, UnitSystem units) {
    std::vector<std::pair<std::string, std::string>> sizes;
    for (const Tier& tier : job.stack.tiers) {
        sizes.emplace_back(tier.name + ": shape", shape_words(tier.shape, units));
        sizes.emplace_back(tier.name + ": height", given_length(tier.height, units));
        sizes.emplace_back(tier.name + ": material", tier.material.name);
        sizes.emplace_back(tier.name + ": joint", joint_words(tier.joint, units));
    }
    for (const ToolChain& tool : job.tools) {
        sizes.emplace_back(tool.name + ": diameter", given_length(tool.cutter.diameter, units));
        sizes.emplace_back(tool.name + ": teeth", fmt::format("{}", tool.cutter.teeth));
        sizes.emplace_back(tool.name + ": out of the holder",
                           given_length(stickout_of(tool.cutter), units));
        sizes.emplace_back(tool.name + ": grip", joint_words(tool.grip, units));
    }
    for (const Pass& pass : job.passes) {
        sizes.emplace_back(pass.name + ": speed",
                           pass.speed ? speed_text(*pass.speed) : "not given");
        sizes.emplace_back(pass.name + ": depth",
                           pass.axial ? given_length(*pass.axial, units) : "not given");
        sizes.emplace_back(pass.name + ": radial", given_length(pass.radial, units));
        sizes.emplace_back(pass.name + ": feed per tooth",
                           given_length(pass.feed_per_tooth, units));
    }
    return sizes;
}

ComparedRow row_of(const std::string& what, const std::vector<ComparedJob>& jobs,
                   const std::function<std::string(const ComparedJob&)>& value) {
    ComparedRow row{.what = what, .values = {}};
    for (const ComparedJob& job : jobs) row.values.push_back(value(job));
    return row;
}

std::vector<ComparedRow> differences_of(const std::vector<ComparedJob>& jobs, UnitSystem units) {
    std::vector<std::vector<std::pair<std::string, std::string>>> sizes;
    std::vector<std::string> names;
    for (const ComparedJob& job : jobs) {
        sizes.push_back(sizes_of(*job.job, units));
        for (const auto& [name, value] : sizes.back()) {
            if (std::ranges::find(names, name) == names.end()) names.push_back(name);
        }
    }
    std::vector<ComparedRow> rows;
    for (const std::string& name : names) {
        ComparedRow row{.what = name, .values = {}};
        for (const auto& of_job : sizes) {
            const auto found =
                std::ranges::find(of_job, name, &std::pair<std::string, std::string>::first);
            row.values.push_back(found == of_job.end() ? "-" : found->second);
        }
        const bool same = std::ranges::all_of(
            row.values, [&](const std::string& value) { return value == row.values.front(); });
        if (!same) rows.push_back(std::move(row));
    }
    return rows;
}

const PassReport* same_pass(const JobReport& report, const std::string& name, std::size_t place) {
    for (const PassReport& pass : report.passes) {
        if (pass.name == name) return &pass;
    }
    return place < report.passes.size() ? &report.passes[place] : nullptr;
}

ComparedPass pass_of(const std::vector<ComparedJob>& jobs, std::size_t place, UnitSystem units) {
    ComparedPass pass{.name = jobs.front().report->passes[place].name, .rows = {}};
    for (const Compared& by : compared(units)) {
        pass.rows.push_back(row_of(by.what, jobs, [&](const ComparedJob& job) {
            const PassReport* same = same_pass(*job.report, pass.name, place);
            return same == nullptr ? std::string("-") : by.of(*job.job, *same);
        }));
    }
    return pass;
}

/// Columns of a table on the screen: what, then a set-up each.
struct Widths {
    int what = 0, value = 0;
};

std::string set_row(const ComparedRow& row, const Widths& widths) {
    std::vector<std::vector<std::string>> cells{
        broken_into_lines(printable(row.what), widths.what - 2)};
    for (const std::string& value : row.values) {
        cells.push_back(broken_into_lines(printable(value), widths.value - 2));
    }
    std::size_t lines = 0;
    for (const auto& cell : cells) lines = std::max(lines, cell.size());
    std::string text;
    for (std::size_t line = 0; line < lines; ++line) {
        std::string out;
        for (std::size_t c = 0; c < cells.size(); ++c) {
            const std::string piece = line < cells[c].size() ? cells[c][line] : "";
            out += padded(piece, static_cast<std::size_t>(c == 0 ? widths.what : widths.value));
        }
        out.erase(out.find_last_not_of(' ') + 1);
        text += out + "\n";
    }
    return text;
}

std::string title_of(const ComparedJob& job) {
    return job.report->title.empty() ? job.job->title : job.report->title;
}

}  // namespace

SideBySide side_by_side(const std::vector<ComparedJob>& jobs, UnitSystem units) {
    SideBySide both{.differences = differences_of(jobs, units), .passes = {}};
    for (std::size_t i = 0; i < jobs.front().report->passes.size(); ++i) {
        both.passes.push_back(pass_of(jobs, i, units));
    }
    return both;
}

std::string side_by_side_text(const std::vector<ComparedJob>& jobs, UnitSystem units, int width) {
    constexpr int kWhat = 24, kLeastValue = 16;
    const int usable = std::clamp(width, 40, 120);
    const Widths widths{
        .what = kWhat,
        .value = std::max(kLeastValue, (usable - kWhat) / static_cast<int>(jobs.size()))};
    const SideBySide both = side_by_side(jobs, units);
    std::string text = set_row(row_of("standfast", jobs, title_of), widths) + "\n";
    text += "What is different\n";
    for (const ComparedRow& row : both.differences) text += set_row(row, widths);
    if (both.differences.empty()) {
        text += "nothing among sizes, materials, joints, tools and passes\n";
    }
    for (const ComparedPass& pass : both.passes) {
        text += "\nWhat it does to " + printable(pass.name) + "\n";
        for (const ComparedRow& row : pass.rows) text += set_row(row, widths);
    }
    return text + "\n" +
           set_out({Paragraph{.label = "", .entries = {{.lead = "", .text = short_caution()}}}},
                   Page{.width = width, .gutter = 0});
}

}  // namespace standfast

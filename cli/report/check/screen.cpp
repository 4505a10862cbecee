#include "cli/report/check/screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "cli/report/check/ending_sections.hpp"
#include "cli/report/check/reason_text.hpp"
#include "cli/report/check/screen_pass.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"

namespace standfast {
namespace {

double depth_over_limit(const PassReport& pass) {
    return pass.at_programmed.limit ? pass.judged_depth / *pass.at_programmed.limit : 0;
}

int widest_name(const JobReport& report, int most) {
    int widest = 0;
    for (const PassReport& pass : report.passes) {
        widest = std::max(widest, static_cast<int>(columns(pass.name)));
    }
    return std::min(widest, most);
}

/// "chatter; edge 7.5 mm, takes 20 mm, stock left 0.004 mm"
std::string in_short(const PassReport& pass, UnitSystem units) {
    std::string text = reasons_text(pass);
    text += text.empty() ? "" : "; ";
    const std::optional<double> held = held_depth(pass);
    text +=
        held ? fmt::format("9 in 10 hold {}, takes {}",
                           depth_text_beside(*held, pass.judged_depth, units),
                           length_text(pass.judged_depth, units))
        : pass.at_programmed.limit && !pass.odds
            ? fmt::format("edge {}, takes {}",
                          depth_text_beside(*pass.at_programmed.limit, pass.judged_depth, units),
                          length_text(pass.judged_depth, units))
            : "no edge found";
    if (pass.wall) {
        text += ", " + wall_of_tries_text(*pass.wall, units);
    } else if (pass.error_at_programmed) {
        text += ", " + wall_text(*pass.error_at_programmed, units);
    }
    return text;
}

/// "## avoid   finish the tall wall  chatter; edge 7.5 mm, takes 20 mm"
Paragraph pass_lines(const JobReport& report, const ScreenOptions& options) {
    const int name_width = widest_name(report, std::max(12, options.page.width / 4));
    Paragraph section;
    for (const std::size_t index : worst_first(report)) {
        const PassReport& pass = report.passes[index];
        const bool held = pass.holding.judged;
        section.entries.push_back(
            {.lead = fmt::format("{} {}", level_hatch(pass.verdict.level, held),
                                 level_words(pass.verdict.level, held)),
             .text = padded(shortened(printable(pass.name), name_width), name_width) + "  " +
                     in_short(pass, options.units),
             .lead_ink = level_ink(pass.verdict.level, held)});
    }
    return section;
}

Paragraph passes_line(const JobReport& report) {
    return {.label = "",
            .entries = {{.lead = "",
                         .text = fmt::format(
                             "{} passes, the worst first; --pass NAME shows another in detail",
                             report.passes.size())}}};
}

/// What the pass could have had judged by saying more; why the hold was not stands among the
/// reasons already.
std::vector<std::string> for_want_of_a_key(const PassReport& pass) {
    std::vector<std::string> items = pass.not_judged;
    std::erase_if(items, [](const std::string& item) { return item.starts_with("holding:"); });
    return items;
}

std::string title_line(const Job& job, const JobReport& report, const ScreenOptions& options) {
    const std::string title = printable(report.title.empty() ? job.title : report.title);
    const std::string name = inked("standfast", Ink::faint, options.page.color);
    return title.empty() ? name + "\n"
                         : fmt::format("{}  {}\n", name,
                                       shortened(title, std::max(8, options.page.width - 11)));
}

}  // namespace

std::vector<std::size_t> worst_first(const JobReport& report) {
    std::vector<std::size_t> order(report.passes.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const PassReport& first = report.passes[a];
        const PassReport& second = report.passes[b];
        if (first.verdict.level != second.verdict.level) {
            return first.verdict.level > second.verdict.level;
        }
        return depth_over_limit(first) > depth_over_limit(second);
    });
    return order;
}

std::string screen_text(const Job& job, const JobReport& report, const ScreenOptions& options) {
    std::string text = title_line(job, report, options);
    const PassReport* worst = nullptr;
    if (!report.passes.empty()) {
        worst = &report.passes[worst_first(report).front()];
        if (report.passes.size() > 1) {
            text += set_out({passes_line(report)}, Page{.width = options.page.width, .gutter = 0});
            Page list = options.page;
            list.gutter = 2;
            text += set_out({pass_lines(report, options)}, list) + "\n";
        }
        text += headline(*worst, options.page.width, options.page.color) + "\n";
        text += set_out(pass_sections(job, *worst, options.units), options.page);
    }
    const Ending ending{
        .not_judged = worst == nullptr ? std::vector<std::string>{} : for_want_of_a_key(*worst),
        .never_judged = report.not_judged,
        .assumed = report.assumed,
        .verdict = worst == nullptr ? Verdict{} : worst->verdict};
    return text + set_out(ending_sections(ending, options), options.page);
}

std::string quiet_text(const JobReport& report, const ScreenOptions& options) {
    std::string text;
    for (const std::size_t index : worst_first(report)) {
        const PassReport& pass = report.passes[index];
        const std::string reasons = reasons_text(pass);
        text += headline(pass, options.page.width, options.page.color);
        text += reasons.empty() ? "\n" : "  (" + reasons + ")\n";
    }
    return text +
           set_out({Paragraph{.label = "", .entries = {{.lead = "", .text = short_caution()}}}},
                   Page{.width = options.page.width, .gutter = 0, .color = options.page.color});
}

}  // namespace standfast

#include "cli/explore/answers/explore_words.hpp"

#include <algorithm>
#include <cctype>

#include "cli/page/level_markup.hpp"
#include "cli/report/check/odds_text.hpp"
#include "cli/report/check/reason_text.hpp"
#include "cli/report/check/verdict_text.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/words.hpp"

namespace standfast {
namespace {

std::string as_sentence(std::string clause) {
    if (clause.empty()) return clause;
    clause.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(clause.front())));
    return clause + ".";
}

}  // namespace

PassReport drawn_pass(const Job& job, const ExploreSetting& setting, const Headings& headings) {
    PassReport report;
    const Pass& pass = job.passes.at(setting.pass);
    report.name = pass.name;
    report.tool = job.tools.at(pass.tool).name;
    report.pass = setting.pass;
    report.judged_depth = setting.depth;
    report.judged_speed = setting.speed;
    report.programmed_speed = pass.speed;
    report.feed_heading = headings.stability;
    report.error_heading = headings.error;
    return report;
}

PassReport quick_report(const ExploredCut& cut, const Headings& headings, const QuickLook& look) {
    PassReport report = drawn_pass(*cut.job, cut.setting, headings);
    report.stability = look.limits;
    report.statics = look.statics;
    const auto at =
        std::find_if(look.limits.speeds.begin(), look.limits.speeds.end(),
                     [&](const SpeedLimit& limit) { return limit.speed == cut.setting.speed; });
    if (at != look.limits.speeds.end()) report.at_programmed = *at;
    return report;
}

std::string edge_sentence(const Job& job, const PassReport& report, UnitSystem units) {
    return as_sentence(reason_text(job, report, Reason::chatter, units)) + " " +
           as_sentence(reason_text(job, report, Reason::deflection, units));
}

JudgedWords judged_words(const Job& job, const PassReport& report, UnitSystem units) {
    JudgedWords words{.level = std::string(level_name(report.verdict.level)),
                      .level_html = level_html(report.verdict.level, report.holding.judged),
                      .sentence = verdict_text(job, report, units),
                      .dots_html = report.odds ? dots_html(report.odds->at_judged) : "",
                      .caution = caution_about(report.verdict),
                      .more = {}};
    for (std::string sentence : odds_sentences(report, units)) {
        words.more.push_back(as_sentence(std::move(sentence)));
    }
    return words;
}

SpeedWords speed_words(const SpeedLevel& speed) {
    std::string reasons;
    for (const Reason reason : speed.reasons) {
        reasons += (reasons.empty() ? "" : ", ") + std::string(reason_name(reason));
    }
    return {std::string(level_name(speed.level)), reasons};
}

}  // namespace standfast

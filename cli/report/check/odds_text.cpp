#include "cli/report/check/odds_text.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/report/common/number.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostInfluences = 3;
constexpr double kLeastInfluence = 0.1;
constexpr double kWorthMeasuring = 0.15;  // of the first; less would hardly change the answer
constexpr double kDecided = 0.05;
constexpr double kRubbingTells = 0.15;

std::string tries_sentence(const ChatterOdds& odds) {
    const auto count = static_cast<int>(std::lround(odds.at_judged * odds.draws));
    const std::string tries = fmt::format("{} tries of what is not known", odds.draws);
    if (count == 0) {
        return fmt::format("of {}, none chattered: fewer than 1 in {}", tries, odds.draws);
    }
    if (count == odds.draws) {
        return fmt::format("of {}, all chattered", tries);
    }
    return fmt::format("of {} tries, {} chattered ({}, give or take {})", odds.draws, count,
                       percent_text(odds.at_judged), percent_text(odds.sampling_error));
}

std::string range_sentence(const PassReport& pass, const ChatterOdds& odds, UnitSystem units) {
    std::string text = "eight in ten: ";
    if (odds.limit) {
        const bool open = odds.limit->high >= pass.stability.searched_to;
        text += fmt::format("edge of chatter {} to {}{}, ",
                            depth_text_beside(odds.limit->low, pass.judged_depth, units),
                            open ? "more than " : "",
                            depth_text_beside(odds.limit->high, pass.judged_depth, units));
    }
    return text + fmt::format("push-off {} to {}", error_text(odds.push_off.low, units),
                              error_text(odds.push_off.high, units));
}

/// Why the edge computed for the stack as described is not among those that the tries give; empty
/// where it is.
std::string outside_sentence(const PassReport& pass, const ChatterOdds& odds, UnitSystem units) {
    if (!odds.limit) {
        return "";
    }
    const double edge = pass.at_programmed.limit.value_or(pass.stability.searched_to);
    if (edge >= odds.limit->low && edge <= odds.limit->high) {
        return "";
    }
    const bool shallow = edge < odds.limit->low;
    const std::string told = pass.at_programmed.limit
                                 ? fmt::format("the computed edge, {}, lies outside that",
                                               depth_text_beside(edge, pass.judged_depth, units))
                                 : "that no edge was computed lies outside that";
    return fmt::format(
        "{}: at this speed the stack as described sits {} that hardly any try "
        "shares, since what is not known shifts its frequencies; count on the tries",
        told, shallow ? "in a narrow dip of the edge" : "on a narrow peak of the edge");
}

std::string influence_sentence(const ChatterOdds& odds) {
    std::string text;
    if (odds.influences.empty() || odds.influences.front().share < kWorthMeasuring) return text;
    for (std::size_t i = 0; i < odds.influences.size() && i < kMostInfluences; ++i) {
        if (odds.influences[i].share < kLeastInfluence) {
            break;
        }
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", odds.influences[i].group,
                            percent_text(odds.influences[i].share));
    }
    return text.empty() ? text : "what matters most, so worth measuring: " + text;
}

// What a fresh edge would do, where it is much worse.
std::string fresh_edge_sentence(const PassReport& pass, const ChatterOdds& odds, UnitSystem units) {
    if (!odds.fresh_edge || *odds.fresh_edge < odds.at_judged + kRubbingTells) return "";
    const std::string edge =
        odds.fresh_limit
            ? "edge of chatter " + depth_text_beside(*odds.fresh_limit, pass.judged_depth, units)
            : std::string("no edge of chatter as deep as was searched");
    return fmt::format(
        "a fresh edge, which does not rub yet: {}, {} of the tries chatter; marginal at best until "
        "rubbing is measured",
        edge, percent_text(*odds.fresh_edge));
}

}  // namespace

std::vector<std::string> odds_sentences(const PassReport& pass, UnitSystem units) {
    if (!pass.odds) {
        return {};
    }
    const ChatterOdds& odds = *pass.odds;
    std::string first = tries_sentence(odds) + "; " + range_sentence(pass, odds, units);
    // Where nearly all tries say the same, nothing worth measuring would change it.
    const bool decided = odds.at_judged < kDecided || odds.at_judged > 1 - kDecided;
    const std::string influence = decided ? "" : influence_sentence(odds);
    std::vector<std::string> sentences{first};
    for (const std::string& more :
         {outside_sentence(pass, odds, units), fresh_edge_sentence(pass, odds, units), influence}) {
        if (!more.empty()) sentences.push_back(more);
    }
    return sentences;
}

}  // namespace standfast

#include "cli/page/level_markup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

#include "cli/report/common/words.hpp"

namespace standfast {
namespace {

std::string upper(std::string_view text) {
    std::string out(text);
    for (char& c : out) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    return out;
}

}  // namespace

std::string level_html(Level level, bool holding_judged) {
    const std::string_view css = level == Level::avoid                         ? "avoid"
                                 : level == Level::marginal || !holding_judged ? "marginal"
                                                                               : "unflagged";
    return fmt::format("<span class=\"level {}\">{}</span>", css,
                       upper(level_words(level, holding_judged)));
}

std::string dots_html(double share) {
    const int full = std::clamp(static_cast<int>(std::lround(share * 10)), 0, 10);
    std::string dots;
    for (int i = 0; i < 10; ++i) dots += i < full ? "&#9679;" : "&#9675;";
    const std::string words = full == 0 && share > 0 ? "fewer than 1 of 20 tries chatter"
                              : full == 10 && share < 1
                                  ? "nearly all of 10 tries chatter"
                                  : fmt::format("{} of 10 tries chatter", full);
    return fmt::format("<p><span class=dots aria-hidden=true>{}</span> {}</p>\n", dots, words);
}

}  // namespace standfast

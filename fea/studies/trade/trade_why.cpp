#include "fea/studies/trade/trade_why.hpp"

#include <algorithm>
#include <cmath>
#include <complex>

#include "fea/judgement/cut/sides.hpp"

namespace standfast {
namespace {

constexpr int kModes = 60;

/// What a mode gives at a frequency, at the point of the line that moves most, m/N.
double gives(const LineMode& mode, double w) {
    const double wn = mode.frequency.radians_per_second;
    const std::complex<double> stiff(wn * wn - w * w, 2 * mode.damping_ratio * wn * w);
    return mode.shape.colwise().squaredNorm().maxCoeff() / std::abs(stiff);
}

const LineMode* leading(const SolvedSide& side, double w) {
    const auto& modes = side.line.modes;
    const auto most =
        std::max_element(modes.begin(), modes.end(),
                         [&](const auto& a, const auto& b) { return gives(a, w) < gives(b, w); });
    return most == modes.end() ? nullptr : &*most;
}

/// The member whose strain the side's mode nearest to a frequency is most.
std::string member_at(const SolvedSide& side, double hertz) {
    const std::vector<ReportedMode> modes = reported_modes(side, kModes);
    const auto nearest =
        std::min_element(modes.begin(), modes.end(), [&](const auto& a, const auto& b) {
            return std::abs(a.frequency_hertz - hertz) < std::abs(b.frequency_hertz - hertz);
        });
    const bool known = nearest != modes.end() && !nearest->strain_share.empty();
    return known ? nearest->strain_share.front().first : std::string();
}

void add_singing(TradeWhy& why, const SolvedSide& tool, const SolvedSide& work) {
    const double w = AngularFrequency::from_hertz(*why.sings_hertz).radians_per_second;
    const LineMode *const of_tool = leading(tool, w), *const of_work = leading(work, w);
    if (of_tool == nullptr && of_work == nullptr) return;
    why.sings_on_tool =
        of_work == nullptr || (of_tool != nullptr && gives(*of_tool, w) >= gives(*of_work, w));
    why.mode_hertz = (why.sings_on_tool ? of_tool : of_work)->frequency.hertz();
    why.sings = member_at(why.sings_on_tool ? tool : work, why.mode_hertz);
}

}  // namespace

TradeWhy why_of(const TradeOptionCase& option, std::size_t pass, const TradedTool& tool) {
    const CellAnswer& cell = option.answer(pass);
    const StaticResult& statics = cell.answer.statics;
    TradeWhy why;
    why.tool_give = statics.tool_compliance;
    why.work_give = statics.work_compliance;
    for (const GiveShare& give : statics.give) {
        if (give.share <= why.softest_share) continue;
        why.softest_share = give.share;
        why.softest = give.member;
    }
    why.sings_hertz = cell.best ? cell.sings_hertz : cell.limit.chatter_hertz;
    if (why.sings_hertz) add_singing(why, *tool.side, *option.cases[pass].work);
    return why;
}

}  // namespace standfast

#include "fea/cutting/chip_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double full_turn = 2 * std::numbers::pi;

/// A chip, and how far behind the tooth is whose surface it is taken from.
struct Candidate : RadialChip {
    double behind = 0;
};

double thickness(const RadialChip& chip, double angle) {
    return chip.feed * std::sin(angle) + chip.offset;
}

/// What is left to cut by the surfaces of the tooth m before, m = 1 .. N.
std::vector<Candidate> candidates(const CutterGeometry& cutter, double feed_per_tooth, int tooth) {
    const int teeth = cutter.teeth();
    const double feed_per_radian = feed_per_tooth * teeth / full_turn;
    const auto angle = [&](int index) {
        return cutter.tooth_angle[static_cast<std::size_t>(index)];
    };
    const auto offset = [&](int index) {
        return cutter.runout.empty() ? 0.0 : cutter.runout[static_cast<std::size_t>(index)];
    };
    std::vector<Candidate> chips;
    for (int before = 1; before <= teeth; ++before) {
        const int other = (tooth - before + teeth) % teeth;
        const double behind =
            before <= tooth ? angle(tooth) - angle(other) : angle(tooth) - angle(other) + full_turn;
        chips.push_back({{feed_per_radian * behind, offset(tooth) - offset(other)}, behind});
    }
    return chips;
}

/// Angles at which two candidates cross, or one falls to nothing.
std::vector<double> breaks(const std::vector<Candidate>& chips, const Engagement& engagement) {
    std::vector<double> angles = {engagement.entry, engagement.exit};
    const auto add_crossing = [&](const RadialChip& a, const RadialChip& b) {
        const double sine = (b.offset - a.offset) / (a.feed - b.feed);
        if (!(std::abs(sine) <= 1)) return;  // also where the feeds are equal
        for (const double angle : {std::asin(sine), std::numbers::pi - std::asin(sine)}) {
            if (angle > engagement.entry && angle < engagement.exit) angles.push_back(angle);
        }
    };
    for (std::size_t i = 0; i < chips.size(); ++i) {
        add_crossing(chips[i], {});
        for (std::size_t j = i + 1; j < chips.size(); ++j) add_crossing(chips[i], chips[j]);
    }
    std::sort(angles.begin(), angles.end());
    return angles;
}

}  // namespace

std::vector<ChipPiece> chip_pieces(const CutterGeometry& cutter, const Engagement& engagement,
                                   double feed_per_tooth, int tooth) {
    require_not_negative(feed_per_tooth, "chip_pieces", "feed per tooth");
    const std::vector<Candidate> chips = candidates(cutter, feed_per_tooth, tooth);
    if (!cutter.runs_out()) {
        return {{engagement.entry, engagement.exit, chips.front(), chips.front().behind}};
    }

    std::vector<ChipPiece> pieces;
    const std::vector<double> angles = breaks(chips, engagement);
    for (std::size_t i = 0; i + 1 < angles.size(); ++i) {
        const double middle = (angles[i] + angles[i + 1]) / 2;
        const auto least = std::min_element(chips.begin(), chips.end(),
                                            [&](const Candidate& a, const Candidate& b) {
                                                return thickness(a, middle) < thickness(b, middle);
                                            });
        if (angles[i + 1] > angles[i] && thickness(*least, middle) > 0) {
            pieces.push_back({angles[i], angles[i + 1], *least, least->behind});
        }
    }
    return pieces;
}

}  // namespace standfast

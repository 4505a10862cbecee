#include "fea/studies/sound/wall_marks.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kSame = 1e-6;
constexpr double kFeedMarks = 0.12, kRevolution = 0.05, kTwoTeeth = 0.03;
constexpr double kLowestHertz = 30;
constexpr double kReadingError = 0.01;  // display and phone together

bool within(double value, double target, double fraction) {
    return std::abs(value - target) <= fraction * target;
}

std::vector<double> around_multiples(double tooth_passing, double away, double highest) {
    std::vector<double> list;
    for (double k = 0; k * tooth_passing - away <= highest; ++k) {
        for (const double hertz : {k * tooth_passing - away, k * tooth_passing + away}) {
            if (hertz >= kLowestHertz && hertz <= highest) list.push_back(hertz);
        }
    }
    std::sort(list.begin(), list.end());
    list.erase(std::unique(list.begin(), list.end(),
                           [](double a, double b) { return std::abs(a - b) < 1e-6 * b; }),
               list.end());
    return list;
}

}  // namespace

std::optional<double> mark_spacing(double hertz, const MarkedCut& cut) {
    const double tooth_passing = cut.tooth_passing_hertz();
    const double away = folded(hertz, tooth_passing);
    if (away < kSame * tooth_passing) return std::nullopt;
    return cut.feed_per_tooth * tooth_passing / away;
}

std::optional<double> axial_mark_pitch(double hertz, const MarkedCut& cut) {
    if (cut.helix == 0) return std::nullopt;
    return std::numbers::pi * cut.diameter * cut.revolutions_per_second /
           (hertz * std::tan(std::abs(cut.helix)));
}

WavesBetweenTeeth waves_between_teeth(double hertz, double tooth_passing_hertz) {
    const double waves = hertz / tooth_passing_hertz;
    const double whole = std::floor(waves);
    return {static_cast<int>(whole), 2 * std::numbers::pi * (waves - whole)};
}

MarksFinding read_marks(double spacing, std::optional<double> axial, const MarkedCut& cut,
                        double highest_hertz) {
    require_positive(spacing, "marks", "spacing");
    if (axial) require_positive(*axial, "marks", "axial pitch");
    require_positive(cut.feed_per_tooth, "marks", "feed per tooth");
    require_positive(cut.revolutions_per_second, "marks", "spindle speed");
    const double tooth_passing = cut.tooth_passing_hertz();
    const double teeth_apart = spacing / cut.feed_per_tooth;
    MarksFinding found;
    if (within(teeth_apart, 1, kFeedMarks)) {
        found.cause = SoundCause::forced;
        found.confidence = 0.7;
        return found;
    }
    if (teeth_apart < 2 * (1 - kTwoTeeth)) {
        found.confidence = 0.2;
        return found;
    }
    const bool two = within(teeth_apart, 2, kTwoTeeth);
    const bool revolution = within(teeth_apart, cut.teeth, kRevolution);
    const double away = std::min(tooth_passing / teeth_apart, tooth_passing / 2);
    found.candidates =
        around_multiples(tooth_passing, two ? tooth_passing / 2 : away, highest_hertz);
    if (two && revolution) {
        found.confidence = 0.4;
    } else if (revolution) {
        found.cause = SoundCause::runout;
        found.confidence = 0.6;
        found.candidates.clear();
    } else {
        found.cause = two ? SoundCause::period_doubling : SoundCause::chatter;
        found.confidence = 0.6;
    }
    if (axial && cut.helix != 0 && !found.candidates.empty()) {
        const double told = std::numbers::pi * cut.diameter * cut.revolutions_per_second /
                            (*axial * std::tan(std::abs(cut.helix)));
        found.by_axial = *std::min_element(
            found.candidates.begin(), found.candidates.end(),
            [&](double a, double b) { return std::abs(a - told) < std::abs(b - told); });
        if (!two || !revolution) found.confidence = 0.75;
    }
    return found;
}

ToneFinding place_tone(double hertz, const HeardCut& cut) {
    require_positive(hertz, "tone", "frequency");
    require_positive(cut.revolutions_per_second, "tone", "spindle speed");
    const double spindle = cut.revolutions_per_second;
    const double tooth_passing = spindle * (cut.even_pitch ? cut.teeth : 1);
    ToneFinding found;
    found.nearest_order = std::round(hertz / tooth_passing);
    found.away_hertz = folded(hertz, tooth_passing);
    found.guard_hertz = kReadingError * hertz;
    // Of the places between two harmonics the share that no guard covers.
    const double open = std::max(0.0, 1 - 2 * found.guard_hertz / tooth_passing);
    const bool halfway = std::abs(found.away_hertz - tooth_passing / 2) <= found.guard_hertz;
    const double runout_order = std::round(hertz / spindle);
    const bool on_spindle = runout_order >= 1 && found.guard_hertz < spindle / 4 &&
                            std::abs(hertz - runout_order * spindle) <= found.guard_hertz;
    if (found.guard_hertz > tooth_passing / 4) {
        found.confidence = 0.2;
    } else if (found.nearest_order >= 1 && found.away_hertz <= found.guard_hertz) {
        found.cause = SoundCause::forced;
        found.confidence = 0.7 * open;
    } else if (halfway) {
        // With an even number of teeth runout may stand there too.
        found.cause = cut.teeth % 2 == 1 ? SoundCause::period_doubling : SoundCause::unclear;
        found.confidence = cut.teeth % 2 == 1 ? 0.7 * open : 0.4;
    } else if (on_spindle) {
        found.cause = SoundCause::runout;
        found.confidence = 0.6 * open;
    } else {
        found.cause = SoundCause::chatter;
        // Where the guard covers the spindle's multiples, runout explains any tone as well.
        found.confidence = (found.guard_hertz < spindle / 4 ? 0.75 : 0.5) * open;
    }
    return found;
}

}  // namespace standfast

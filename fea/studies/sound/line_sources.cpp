#include "fea/studies/sound/line_sources.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace standfast {
namespace {

constexpr std::size_t kSeeds = 12;
/// A family with neighbours may be this much weaker than a single tone and still be preferred.
constexpr double kNeighboursCount = 30;

/// How far the teeth's own pattern repeats, Hz.
double pattern_hertz(const HeardCut& cut, const RefinedSpeed& speed) {
    return speed.revolutions_per_second * (cut.even_pitch ? cut.teeth : 1);
}

/// The spindle's multiple that a line is; none where it misses or nothing can be told there.
std::optional<double> spindle_order(double hertz, const RefinedSpeed& speed, double resolution) {
    const double order = std::round(hertz / speed.revolutions_per_second);
    const double guard = guard_hertz(speed, order, resolution);
    if (order < 1 || guard > 0.25 * speed.revolutions_per_second) return std::nullopt;
    if (std::abs(hertz - order * speed.revolutions_per_second) > guard) return std::nullopt;
    return order;
}

bool is_multiple(double order, int teeth) { return std::fmod(order, teeth) == 0; }

HeardLine with_source(const SpectralLine& line, const HeardCut& cut, const RefinedSpeed& speed,
                      double resolution) {
    HeardLine heard{.line = line, .source = LineSource::unknown, .order = std::nullopt};
    const std::optional<double> order = spindle_order(line.frequency, speed, resolution);
    const double pattern = pattern_hertz(cut, speed);
    const double tooth = std::round(line.frequency / pattern);
    const double guard =
        guard_hertz(speed, tooth * pattern / speed.revolutions_per_second, resolution);
    if (order && (!cut.even_pitch || is_multiple(*order, cut.teeth))) {
        heard.source = LineSource::tooth_passing;
        heard.order = cut.even_pitch ? *order / cut.teeth : *order;
    } else if (!order && tooth >= 1 && guard < 0.25 * pattern &&
               std::abs(line.frequency - tooth * pattern) <= guard) {
        // Too high to tell the spindle's multiples apart, not those of the teeth.
        heard.source = LineSource::tooth_passing;
        heard.order = tooth;
    } else if (order) {
        heard.source = LineSource::spindle;
        heard.order = *order;
    } else if (may_be_hum(line.frequency, resolution, cut.mains_hertz)) {
        heard.source = LineSource::hum;
    }
    return heard;
}

}  // namespace

double folded(double hertz, double tooth_passing) {
    return std::abs(hertz - tooth_passing * std::round(hertz / tooth_passing));
}

std::vector<HeardLine> lines_with_sources(const std::vector<SpectralLine>& lines,
                                          const HeardCut& cut, const RefinedSpeed& speed,
                                          double resolution) {
    std::vector<HeardLine> heard;
    heard.reserve(lines.size());
    for (const SpectralLine& line : lines) {
        heard.push_back(with_source(line, cut, speed, resolution));
    }
    return heard;
}

ChatterFamily chatter_family(const std::vector<HeardLine>& lines, const HeardCut& cut,
                             const RefinedSpeed& speed, double resolution) {
    const double pattern = pattern_hertz(cut, speed);
    const auto guard = [&](double hertz) {
        return guard_hertz(speed, hertz / speed.revolutions_per_second, resolution);
    };
    std::vector<std::size_t> rest;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const bool told = guard(lines[i].line.frequency) < 0.25 * pattern;
        if (told &&
            (lines[i].source == LineSource::unknown || lines[i].source == LineSource::hum)) {
            rest.push_back(i);
        }
    }
    std::stable_sort(rest.begin(), rest.end(), [&](std::size_t a, std::size_t b) {
        return lines[a].line.power > lines[b].line.power;
    });
    ChatterFamily best;
    double best_score = 0;
    for (std::size_t seed = 0; seed < std::min(kSeeds, rest.size()); ++seed) {
        const double at = lines[rest[seed]].line.frequency;
        ChatterFamily family;
        std::vector<std::size_t> hum;
        for (const std::size_t i : rest) {
            const double other = lines[i].line.frequency;
            if (std::abs(folded(at, pattern) - folded(other, pattern)) > guard(at) + guard(other)) {
                continue;
            }
            (lines[i].source == LineSource::hum ? hum : family.members).push_back(i);
        }
        if (family.members.empty()) continue;
        // What looks like hum is chatter only where others of the family vouch for it.
        if (family.members.size() > 1) {
            family.members.insert(family.members.end(), hum.begin(), hum.end());
        }
        std::stable_sort(family.members.begin(), family.members.end(),
                         [&](std::size_t a, std::size_t b) {
                             return lines[a].line.power > lines[b].line.power;
                         });
        for (const std::size_t i : family.members) family.power += lines[i].line.power;
        family.halfway = std::abs(folded(at, pattern) - pattern / 2) <= guard(at);
        // Without a spacing that fits many lines, lines meet by chance.
        family.neighbours = speed.refined ? static_cast<int>(family.members.size()) - 1 : 0;
        const double score = family.power * (family.neighbours > 0 ? kNeighboursCount : 1);
        if (score <= best_score) continue;
        best_score = score;
        best = family;
    }
    return best;
}

}  // namespace standfast

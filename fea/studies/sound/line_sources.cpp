#include "fea/studies/sound/line_sources.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace standfast {
namespace {

constexpr std::size_t kSeeds = 12;
/// A family with neighbours may be this much weaker than a single tone and still be preferred.
constexpr double kNeighboursCount = 1000;
/// A family that accident makes less often than this is one.
constexpr double kNoAccident = 5e-3;

/// How far the teeth's own pattern repeats, Hz.
double pattern_hertz(const HeardCut& cut, const RefinedSpeed& speed) {
    return speed.revolutions_per_second * (cut.even_pitch ? cut.teeth : 1);
}

/// The spindle's multiple that a line is; none where it misses or nothing can be told there.
std::optional<double> spindle_order(double hertz, const RefinedSpeed& speed, double placing) {
    const double order = std::round(hertz / speed.revolutions_per_second);
    const double guard = guard_hertz(speed, order, placing);
    if (order < 1 || guard > 0.25 * speed.revolutions_per_second) return std::nullopt;
    if (std::abs(hertz - order * speed.revolutions_per_second) > guard) return std::nullopt;
    return order;
}

bool is_multiple(double order, int teeth) { return std::fmod(order, teeth) == 0; }

HeardLine with_source(const SpectralLine& line, const HeardCut& cut, const RefinedSpeed& speed,
                      double placing) {
    HeardLine heard{.line = line, .source = LineSource::unknown, .order = std::nullopt};
    const std::optional<double> order = spindle_order(line.frequency, speed, placing);
    const double pattern = pattern_hertz(cut, speed);
    const double tooth = std::round(line.frequency / pattern);
    const double guard =
        guard_hertz(speed, tooth * pattern / speed.revolutions_per_second, placing);
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
    } else if (may_be_hum(line.frequency, placing, cut.mains_hertz)) {
        heard.source = LineSource::hum;
    }
    return heard;
}

/// Places that repeat at even distances, as far as they can be told apart.
struct Lattice {
    double spacing = 0;  ///< Hz
    const RefinedSpeed* speed = nullptr;
    double placing = 0;

    double guard(double hertz) const {
        return guard_hertz(*speed, hertz / speed->revolutions_per_second, placing);
    }
    bool same(double a, double b) const {
        return std::abs(folded(a, spacing) - folded(b, spacing)) <= guard(a) + guard(b);
    }
    /// Probability that a line at `b` meets the family of one at `a` by accident.
    double by_chance(double a, double b) const {
        return std::min(1.0, 4 * (guard(a) + guard(b)) / spacing);
    }
};

/// What no multiple of the spindle explains and can be told apart there, the strongest first.
std::vector<std::size_t> unexplained(const std::vector<HeardLine>& lines, const Lattice& teeth) {
    std::vector<std::size_t> rest;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const bool told = teeth.guard(lines[i].line.frequency) < 0.25 * teeth.spacing;
        if (told &&
            (lines[i].source == LineSource::unknown || lines[i].source == LineSource::hum)) {
            rest.push_back(i);
        }
    }
    std::stable_sort(rest.begin(), rest.end(), [&](std::size_t a, std::size_t b) {
        return lines[a].line.power > lines[b].line.power;
    });
    return rest;
}

/// Probability of at least `count` where `mean` are expected (Poisson).
double at_least(int count, double mean) {
    double term = std::exp(-mean), below = 0;
    for (int i = 0; i < count; ++i) {
        below += term;
        term *= mean / (i + 1);
    }
    // The tail itself where the sum below leaves nothing of it.
    return below < 1 - 1e-9 ? 1 - below : term;
}

ChatterFamily family_of(std::size_t seed, const std::vector<std::size_t>& rest,
                        const std::vector<HeardLine>& lines, const Lattice& lattice) {
    const double at = lines[seed].line.frequency;
    ChatterFamily family;
    std::vector<std::size_t> hum;
    double expected = 0;
    for (const std::size_t i : rest) {
        const double other = lines[i].line.frequency;
        const bool is_hum = lines[i].source == LineSource::hum;
        if (i != seed && !is_hum) expected += lattice.by_chance(at, other);
        if (lattice.same(at, other)) (is_hum ? hum : family.members).push_back(i);
    }
    if (family.members.empty()) return family;
    family.neighbours = static_cast<int>(family.members.size()) - 1;
    family.chance = at_least(family.neighbours, expected);
    // What looks like hum is chatter only where others of the family vouch for it.
    if (family.members.size() > 1) {
        family.members.insert(family.members.end(), hum.begin(), hum.end());
    }
    std::stable_sort(
        family.members.begin(), family.members.end(),
        [&](std::size_t a, std::size_t b) { return lines[a].line.power > lines[b].line.power; });
    for (const std::size_t i : family.members) family.power += lines[i].line.power;
    family.halfway =
        std::abs(folded(at, lattice.spacing) - lattice.spacing / 2) <= lattice.guard(at);
    return family;
}

}  // namespace

double folded(double hertz, double tooth_passing) {
    return std::abs(hertz - tooth_passing * std::round(hertz / tooth_passing));
}

std::vector<HeardLine> lines_with_sources(const std::vector<SpectralLine>& lines,
                                          const HeardCut& cut, const RefinedSpeed& speed,
                                          double placing) {
    std::vector<HeardLine> heard;
    heard.reserve(lines.size());
    for (const SpectralLine& line : lines) {
        heard.push_back(with_source(line, cut, speed, placing));
    }
    return heard;
}

bool ChatterFamily::vouched() const { return neighbours > 0 && chance < kNoAccident; }

ChatterFamily chatter_family(const std::vector<HeardLine>& lines, const HeardCut& cut,
                             const RefinedSpeed& speed, double placing) {
    const Lattice teeth{pattern_hertz(cut, speed), &speed, placing};
    const Lattice turns{speed.revolutions_per_second, &speed, placing};
    const std::vector<std::size_t> rest = unexplained(lines, teeth);
    const std::size_t seeds = std::min(kSeeds, rest.size());
    ChatterFamily best;
    double best_score = 0;
    for (std::size_t seed = 0; seed < seeds; ++seed) {
        ChatterFamily family = family_of(rest[seed], rest, lines, teeth);
        if (family.members.empty()) continue;
        if (!speed.refined) {
            // Without a spacing that fits many lines, lines meet by chance.
            family.neighbours = 0;
        } else {
            family.chance = std::min(1.0, static_cast<double>(seeds) * family.chance);
            const ChatterFamily split = family_of(rest[seed], rest, lines, turns);
            const double chance = static_cast<double>(seeds) * split.chance;
            if (split.neighbours > family.neighbours && chance < family.chance) {
                family.neighbours = split.neighbours;
                family.chance = chance;
            }
        }
        const double score = family.power * (family.vouched() ? kNeighboursCount : 1);
        if (score <= best_score) continue;
        best_score = score;
        best = family;
    }
    return best;
}

}  // namespace standfast

#include "fea/studies/sound/spindle_comb.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace standfast {
namespace {

constexpr double kDisplayError = 0.01;  // of a spindle's display (common practice, no source)
constexpr double kLeastError = 5e-5;    // of a refined speed: clocks, and the speed's own wander
constexpr double kTouch = 1.5;          // of the placing: within which a line may meet its place
constexpr double kWander = 3e-4;        // of a line's frequency: a spindle does not turn evenly
constexpr double kStandsOut = 4;        // standard deviations of what accidents reach
constexpr double kSpindleWeight = 0.3;  // beside a tooth-passing harmonic's 1
constexpr double kNeighbourWeight = 0.8;
constexpr int kFewestLines = 2;
constexpr double kBeside = 1.5e-3;  // of the speed: as near as that, sums are of the same agreement
constexpr double kHighestHum = 650, kHumDrift = 0.003;

/// A line with how much it counts.
struct Voter {
    double frequency = 0, weight = 0;
};

std::vector<Voter> voters(const std::vector<SpectralLine>& lines, const HeardCut& cut,
                          double resolution, double to_hertz) {
    std::vector<Voter> list;
    for (const SpectralLine& line : lines) {
        if (line.frequency <= to_hertz &&
            !may_be_hum(line.frequency, resolution, cut.mains_hertz)) {
            list.push_back({line.frequency, std::min(std::log10(line.prominence), 4.0)});
        }
    }
    return list;
}

/// Where the voters of one candidate speed should stand.
struct Comb {
    double spindle = 0;  ///< Hz
    int teeth = 1;
    double anchor = 0;   ///< Hz, strongest line
    double placing = 0;  ///< Hz

    double touch(double frequency) const { return kTouch * placing + kWander * frequency; }
};

/// 1 on the nearest multiple of `spacing`, 0 from `touch` on.
double closeness(double frequency, double spacing, double touch) {
    const double miss = std::abs(frequency - spacing * std::round(frequency / spacing)) / touch;
    return miss < 1 ? 1 - miss * miss : 0;
}

double agreement(const std::vector<Voter>& list, const Comb& comb) {
    const double tooth_passing = comb.spindle * comb.teeth;
    double sum = 0;
    for (const Voter& voter : list) {
        const double touch = comb.touch(voter.frequency);
        // A place that repeats so closely that any line meets one tells nothing.
        const auto told = [&](double spacing) { return std::max(0.0, 1 - 3 * touch / spacing); };
        const double tooth =
            voter.frequency < 0.6 * tooth_passing
                ? 0
                : told(tooth_passing) * closeness(voter.frequency, tooth_passing, touch);
        const double spindle = voter.frequency < 0.6 * comb.spindle
                                   ? 0
                                   : told(comb.spindle) * kSpindleWeight *
                                         closeness(voter.frequency, comb.spindle, touch);
        const double away = std::abs(voter.frequency - comb.anchor);
        const double neighbour =
            away < 0.6 * tooth_passing
                ? 0
                : told(tooth_passing) * kNeighbourWeight * closeness(away, tooth_passing, touch);
        sum += voter.weight * std::max({tooth, spindle, neighbour});
    }
    return sum;
}

/// Of all sums but those next to the best: how many standard deviations the best is above them.
double contrast_of(const std::vector<double>& sums, std::size_t best, std::size_t beside) {
    double sum = 0, squares = 0;
    int count = 0;
    for (std::size_t i = 0; i < sums.size(); ++i) {
        if (i + beside >= best && i <= best + beside) continue;
        sum += sums[i];
        squares += sums[i] * sums[i];
        ++count;
    }
    if (count < 2) return 0;
    const double mean = sum / count;
    const double deviation = std::sqrt(std::max(0.0, squares / count - mean * mean));
    return (sums[best] - mean) / std::max(deviation, 1e-3 * sums[best] + 1e-12);
}

/// Sums of a fit f = order x spindle through the origin, order 0 at 0 Hz or at the anchor.
struct Fit {
    double order_frequency = 0, order_order = 0;
    int lines = 0;
    std::vector<std::pair<double, double>> points;

    void add(double order, double frequency) {
        order_frequency += order * frequency;
        order_order += order * order;
        ++lines;
        points.emplace_back(order, frequency);
    }
    double slope() const { return order_frequency / order_order; }
    /// Standard error of the slope; a line cannot be placed better than `least` Hz.
    double error(double least) const {
        double sum = 0;
        for (const auto& [order, frequency] : points) {
            sum += std::pow(frequency - slope() * order, 2);
        }
        const double scatter = std::sqrt(sum / std::max(1, lines - 1));
        return std::max(scatter, least) / std::sqrt(order_order);
    }
};

Fit fit_to(const std::vector<Voter>& list, const Comb& comb, bool even_pitch) {
    const double step = even_pitch ? comb.spindle * comb.teeth : comb.spindle;
    Fit fit;
    for (const Voter& voter : list) {
        const double touch = comb.touch(voter.frequency);
        const double order = std::round(voter.frequency / comb.spindle);
        const double away = voter.frequency - comb.anchor;
        const double steps = std::round(away / step);
        if (order >= 1 && std::abs(voter.frequency - order * comb.spindle) < touch) {
            fit.add(order, voter.frequency);
        } else if (steps != 0 && std::abs(away - steps * step) < touch) {
            fit.add(steps * step / comb.spindle, away);
        }
    }
    return fit;
}

}  // namespace

RefinedSpeed refine_speed(const std::vector<SpectralLine>& lines, const HeardCut& cut,
                          double placing, const CombSearch& search) {
    const double displayed = cut.revolutions_per_second;
    const RefinedSpeed unrefined{.revolutions_per_second = displayed,
                                 .relative_error = kDisplayError,
                                 .refined = false,
                                 .lines = 0,
                                 .contrast = 0};
    const std::vector<Voter> list = voters(lines, cut, placing, search.to_hertz);
    if (list.empty()) return unrefined;
    Comb comb{.spindle = displayed,
              .teeth = cut.even_pitch ? cut.teeth : 1,
              .anchor = 0,
              .placing = placing};
    double strongest = 0;
    for (const SpectralLine& line : lines) {
        if (line.power > strongest && line.frequency <= search.to_hertz &&
            !may_be_hum(line.frequency, placing, cut.mains_hertz)) {
            strongest = line.power;
            comb.anchor = line.frequency;
        }
    }

    const double step = std::max(2e-5, placing / (2 * search.to_hertz));
    const int steps = static_cast<int>(std::ceil(search.widest / step));
    std::vector<double> sums;
    for (int i = -steps; i <= steps; ++i) {
        comb.spindle = displayed * (1 + step * i);
        // Of equally good speeds the one nearest the display.
        sums.push_back(agreement(list, comb) * (1 - 0.02 * std::abs(i) / steps));
    }
    const auto best = static_cast<std::size_t>(
        std::distance(sums.begin(), std::max_element(sums.begin(), sums.end())));
    const double contrast =
        contrast_of(sums, best, static_cast<std::size_t>(std::ceil(kBeside / step)));
    comb.spindle = displayed * (1 + step * (static_cast<double>(best) - steps));
    Fit fit = fit_to(list, comb, cut.even_pitch);
    if (fit.lines < kFewestLines || contrast < kStandsOut) return unrefined;
    comb.spindle = fit.slope();
    fit = fit_to(list, comb, cut.even_pitch);
    if (fit.lines < kFewestLines) return unrefined;
    const double speed = fit.slope();
    return {.revolutions_per_second = speed,
            .relative_error = std::max(kLeastError, fit.error(0.3 * placing) / speed),
            .refined = true,
            .lines = fit.lines,
            .contrast = contrast};
}

double guard_hertz(const RefinedSpeed& speed, double order, double placing) {
    return placing + 2 * order * speed.relative_error * speed.revolutions_per_second;
}

bool may_be_hum(double hertz, double resolution, double mains_hertz) {
    if (hertz > kHighestHum) return false;
    const auto of = [&](double mains) {
        const double nearest = mains * std::max(1.0, std::round(hertz / mains));
        return std::abs(hertz - nearest) < 0.3 * resolution + kHumDrift * nearest;
    };
    if (mains_hertz > 0) return of(mains_hertz);
    return of(50) || of(60);
}

}  // namespace standfast

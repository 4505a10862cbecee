#include "fea/judgement/uncertainty/chatter_odds.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "fea/chatter/limits/depth_stability.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr double kWidestGap = 1.15;
constexpr double kFineInterval = 0.02;
constexpr std::size_t kWorthMeasuring = 200;  // growths, before their doubt is measured

std::vector<PreparedDepth> prepared(const std::vector<DelaySystem>& draws, double depth) {
    std::vector<PreparedDepth> cuts(draws.size());
    CourseShelf shelf;
    for_each_index(draws.size(), [&](std::size_t draw) {
        cuts[draw] = prepare_depth(draws[draw], depth, &shelf);
    });
    return cuts;
}

/// Which of the tries, first and then so many on.
struct Some {
    std::size_t first = 0, step = 1, count = 0;
    std::size_t operator[](std::size_t k) const { return first + k * step; }
};

std::vector<double> unstable_among(const std::vector<PreparedDepth>& active, const Some& some,
                                   const std::vector<SpindleSpeed>& speeds, double doubt) {
    std::vector<char> unstable(some.count * speeds.size(), 0);
    for_each_index(unstable.size(), [&](std::size_t index) {
        const SpindleSpeed speed = speeds[index / some.count];
        const PreparedDepth& cut = active[some[index % some.count]];
        unstable[index] = growth(cut, speed, doubt) > 1 ? 1 : 0;
    });
    std::vector<double> number;
    for (std::size_t speed = 0; speed < speeds.size(); ++speed) {
        const auto from = unstable.begin() + static_cast<std::ptrdiff_t>(speed * some.count);
        const auto sum = std::count(from, from + static_cast<std::ptrdiff_t>(some.count), 1);
        number.push_back(static_cast<double>(sum));
    }
    return number;
}

double doubt_for(const std::vector<PreparedDepth>& active,
                 const std::vector<SpindleSpeed>& speeds) {
    return speeds.size() * active.size() >= kWorthMeasuring ? doubt_of_the_middle(active, speeds)
                                                            : usual_doubt;
}

std::vector<double> share_unstable(const std::vector<PreparedDepth>& active,
                                   const std::vector<SpindleSpeed>& speeds) {
    std::vector<double> share =
        unstable_among(active, {.count = active.size()}, speeds, doubt_for(active, speeds));
    for (double& one : share) one /= static_cast<double>(active.size());
    return share;
}

/// The share at speeds of a map: of half of the tries, and where a quarter agrees, of that: of
/// 32 none chatters though a fifth of all would, or seven eighths do though only three fifths of
/// all would, about once in a thousand (binomial).
std::vector<double> mapped_share(const std::vector<PreparedDepth>& active,
                                 const std::vector<SpindleSpeed>& speeds) {
    constexpr std::size_t kParts = 4, kOther = 2, kLeastPart = 24;
    constexpr double kNone = 0.02, kNearlyAll = 0.87;
    const std::size_t count = active.size(), part = (count + kParts - 1) / kParts;
    if (part < kLeastPart) return share_unstable(active, speeds);
    const double doubt = doubt_for(active, speeds);
    std::vector<double> share =
        unstable_among(active, {.step = kParts, .count = part}, speeds, doubt);
    std::vector<SpindleSpeed> open;
    std::vector<std::size_t> place;
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        const double found = share[i] / static_cast<double>(part);
        if (found > kNone && found < kNearlyAll) {
            open.push_back(speeds[i]);
            place.push_back(i);
        } else {
            share[i] = found;
        }
    }
    const std::size_t rest = (count - kOther + kParts - 1) / kParts;
    const std::vector<double> more =
        unstable_among(active, {.first = kOther, .step = kParts, .count = rest}, open, doubt);
    for (std::size_t k = 0; k < open.size(); ++k) {
        share[place[k]] = (share[place[k]] + more[k]) / static_cast<double>(part + rest);
    }
    return share;
}

SpindleSpeed midway(SpindleSpeed a, SpindleSpeed b) {
    return {2 / (1 / a.radians_per_second + 1 / b.radians_per_second)};
}

bool apart(double a, double b, const std::vector<double>& thresholds) {
    return std::any_of(thresholds.begin(), thresholds.end(),
                       [&](double threshold) { return (a >= threshold) != (b >= threshold); });
}

/// Midpoints worth computing next: of intervals across a threshold and wider than 2 %, the widest
/// first; while speeds are few, of the widest of all others too.
std::vector<SpindleSpeed> next_speeds(const ChatterOdds& odds,
                                      const std::vector<double>& thresholds, std::size_t wanted,
                                      std::size_t most) {
    struct Gap {
        bool crosses = false;
        double width = 0;
        SpindleSpeed middle;
    };
    std::vector<Gap> gaps;
    for (std::size_t i = 0; i + 1 < odds.speed.size(); ++i) {
        const double width =
            odds.speed[i + 1].radians_per_second / odds.speed[i].radians_per_second - 1;
        if (width < kFineInterval / 2) continue;
        const bool crosses = apart(odds.unstable[i], odds.unstable[i + 1], thresholds);
        if (crosses && width < kFineInterval) continue;
        gaps.push_back({crosses, width, midway(odds.speed[i], odds.speed[i + 1])});
    }
    std::stable_sort(gaps.begin(), gaps.end(), [](const Gap& a, const Gap& b) {
        return a.crosses != b.crosses ? a.crosses : a.width > b.width;
    });
    std::vector<SpindleSpeed> next;
    for (const Gap& gap : gaps) {
        const std::size_t total = odds.speed.size() + next.size();
        if (total >= most || (!gap.crosses && total >= wanted)) break;
        next.push_back(gap.middle);
    }
    return next;
}

/// Between speeds i - 1 and i, linear in 1/rpm.
double between(const ChatterOdds& odds, std::size_t i, SpindleSpeed speed) {
    const double low = 1 / odds.speed[i - 1].radians_per_second;
    const double high = 1 / odds.speed[i].radians_per_second;
    const double at = (1 / speed.radians_per_second - low) / (high - low);
    return odds.unstable[i - 1] + at * (odds.unstable[i] - odds.unstable[i - 1]);
}

void insert(ChatterOdds& odds, const std::vector<SpindleSpeed>& speeds,
            const std::vector<double>& shares) {
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        const auto place = std::lower_bound(odds.speed.begin(), odds.speed.end(), speeds[i]);
        odds.unstable.insert(odds.unstable.begin() + (place - odds.speed.begin()), shares[i]);
        odds.speed.insert(place, speeds[i]);
    }
}

void refine(ChatterOdds& odds, const std::vector<PreparedDepth>& active,
            const std::vector<double>& thresholds, int least_speeds) {
    const auto wanted = static_cast<std::size_t>(least_speeds);
    double squares = 0, count = 0;
    for (;;) {
        const auto next = next_speeds(odds, thresholds, wanted, wanted + wanted / 2);
        if (next.empty()) break;
        const std::vector<double> shares = mapped_share(active, next);
        for (std::size_t i = 0; i < next.size(); ++i) {
            const auto above = std::lower_bound(odds.speed.begin(), odds.speed.end(), next[i]);
            const double off = std::abs(
                shares[i] -
                between(odds, static_cast<std::size_t>(above - odds.speed.begin()), next[i]));
            odds.interpolation_worst = std::max(odds.interpolation_worst, off);
            squares += off * off;
            count += 1;
        }
        insert(odds, next, shares);
    }
    if (count > 0) odds.interpolation_rms = std::sqrt(squares / count);
}

}  // namespace

std::vector<double> unstable_share(const std::vector<DelaySystem>& draws,
                                   const std::vector<SpindleSpeed>& speeds, double depth) {
    return share_unstable(prepared(draws, depth), speeds);
}

std::optional<double> unstable_share_below(const std::vector<DelaySystem>& draws,
                                           SpindleSpeed speed, double depth, double most) {
    const auto count = static_cast<double>(draws.size());
    double unstable = 0;
    CourseShelf shelf;
    for (const DelaySystem& draw : draws) {
        if (growth(prepare_depth(draw, depth, &shelf), speed) > 1) {
            unstable += 1;
        }
        if (unstable >= most * count) {
            return std::nullopt;
        }
    }
    return unstable / count;
}

ChatterOdds chatter_odds(const std::vector<DelaySystem>& draws, std::vector<SpindleSpeed> start,
                         SpindleSpeed judged, double depth, const std::vector<double>& thresholds,
                         const OddsOptions& options) {
    ChatterOdds odds;
    odds.draws = options.draws;
    odds.seed = options.seed;
    odds.judged = judged;
    start.push_back(judged);
    std::sort(start.begin(), start.end());
    start.erase(std::unique(start.begin(), start.end()), start.end());
    const std::vector<PreparedDepth> active = prepared(draws, depth);
    std::erase(start, judged);
    insert(odds, start, mapped_share(active, start));
    insert(odds, {judged}, share_unstable(active, {judged}));
    refine(odds, active, thresholds, options.least_speeds);
    odds.at_judged = unstable_at(odds, judged).value_or(0);
    const double count = static_cast<double>(draws.size());
    // Half a draw either way keeps the error of "none in n" from being 0.
    const double share = std::clamp(odds.at_judged, 0.5 / count, 1 - 0.5 / count);
    odds.sampling_error = std::sqrt(share * (1 - share) / count);
    return odds;
}

std::optional<double> unstable_at(const ChatterOdds& odds, SpindleSpeed speed) {
    const auto above = std::lower_bound(odds.speed.begin(), odds.speed.end(), speed);
    if (above == odds.speed.end()) return std::nullopt;
    const auto i = static_cast<std::size_t>(above - odds.speed.begin());
    if (*above == speed) return odds.unstable[i];
    if (i == 0 || above->radians_per_second > kWidestGap * odds.speed[i - 1].radians_per_second) {
        return std::nullopt;
    }
    return between(odds, i, speed);
}

std::vector<Influence> influences_on(const Eigen::VectorXd& value, const Draws& draws) {
    const Eigen::Index count = draws.count(), groups = draws.factor.cols();
    Eigen::MatrixXd logs = draws.factor.array().log();
    logs.rowwise() -= logs.colwise().mean();
    const Eigen::VectorXd centred = value.array() - value.mean();
    const double total = centred.squaredNorm();
    std::vector<Influence> influences;
    if (total <= 0 || groups == 0 || count <= groups + 1) return influences;
    const Eigen::VectorXd slope = logs.colPivHouseholderQr().solve(centred);
    double explained = 0;
    for (Eigen::Index group = 0; group < groups; ++group) {
        const double share = std::pow(slope[group], 2) * logs.col(group).squaredNorm() / total;
        explained += share;
        influences.push_back({draws.group[static_cast<std::size_t>(group)], share});
    }
    std::stable_sort(influences.begin(), influences.end(),
                     [](const Influence& a, const Influence& b) { return a.share > b.share; });
    influences.push_back({"together and bends", std::max(0.0, 1 - explained)});
    return influences;
}

DrawnRange ten_to_ninety(std::vector<double> values) {
    if (values.empty()) return {};
    std::sort(values.begin(), values.end());
    const auto quantile = [&](double share) {
        const double place = share * static_cast<double>(values.size() - 1);
        const auto below = static_cast<std::size_t>(place);
        const std::size_t above = std::min(below + 1, values.size() - 1);
        return values[below] + (place - std::floor(place)) * (values[above] - values[below]);
    };
    return {quantile(0.1), quantile(0.9)};
}

}  // namespace standfast

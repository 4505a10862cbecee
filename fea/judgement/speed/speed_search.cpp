#include "fea/judgement/speed/speed_search.hpp"

#include <algorithm>
#include <cmath>

#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/speed/depth_search.hpp"

namespace standfast {
namespace {

constexpr std::size_t kPeaks = 4, kSpread = 3;
constexpr double kApart = 1.03;       // between two peaks
constexpr double kHopeless = 0.5;     // of the best, hoped: not asked
constexpr double kBetter = 1.005;     // so much better is better
constexpr double kFirstStep = 0.04;   // of the speed
constexpr double kLeastGuess = 1e-4;  // m

/// Peaks of what is hoped, the most hopeful first.
std::vector<HopedSpeed> peaks_of(const std::vector<HopedSpeed>& hopes) {
    std::vector<HopedSpeed> sorted = hopes, peaks;
    std::stable_sort(sorted.begin(), sorted.end(), [](const HopedSpeed& a, const HopedSpeed& b) {
        return a.worth() > b.worth();
    });
    const auto is_peak = [&](const HopedSpeed& one) {
        return std::none_of(hopes.begin(), hopes.end(), [&](const HopedSpeed& other) {
            const double ratio = other.speed.radians_per_second / one.speed.radians_per_second;
            return std::max(ratio, 1 / ratio) < kApart && other.worth() > one.worth();
        });
    };
    for (const HopedSpeed& one : sorted) {
        if (peaks.size() < kPeaks && one.worth() > 0 && is_peak(one)) peaks.push_back(one);
    }
    return peaks;
}

/// Some of the others, evenly over the range, in case the peaks are ruled out.
std::vector<HopedSpeed> spread_of(const std::vector<HopedSpeed>& hopes) {
    std::vector<HopedSpeed> some;
    for (std::size_t i = 0; i < kSpread && !hopes.empty(); ++i) {
        some.push_back(hopes[(2 * i + 1) * hopes.size() / (2 * kSpread)]);
    }
    return some;
}

/// The search over the speeds of one pass.
class SpeedSearch {
public:
    SpeedSearch(const CutProblem& problem, const Headings& headings, const SpeedHopes& from,
                const CutTries& tries, double caution)
        : problem_(problem),
          headings_(headings),
          from_(from),
          tries_(tries),
          caution_(caution),
          offered_(offered_window(*problem.job, problem.pass())) {}

    void ask_hopeful(const std::vector<HopedSpeed>& hopes) {
        for (const HopedSpeed& one : hopes) {
            if (one.worth() > kHopeless * wanted()) ask(one);
        }
    }

    void climb() {
        const double finest = problem_.job->limits.least_band / 4;
        for (double step = kFirstStep; step > finest && !found_.empty();) {
            const bool better = step_to(1 + step) || step_to(1 - step);
            if (!better) step /= 2;
        }
    }

    bool none() const { return found_.empty(); }

    std::vector<HeldSpeed> found() const { return {found_.rbegin(), found_.rend()}; }

private:
    double wanted() const { return found_.empty() ? from_.least : found_.back().worth(); }

    /// Whether the speed is worth more than all before it; then it is the best.
    bool ask(const HopedSpeed& hoped) {
        DepthSearch search(problem_, headings_, unknown_limit(hoped.speed), tries_, caution_);
        const double least = kBetter * wanted() / hoped.speed.radians_per_second;
        const auto held = search.deepest(
            {.guess = std::max(hoped.depth, kLeastGuess), .most = hoped.most, .least = least});
        if (held) found_.push_back({hoped.speed, held->depth});
        return held.has_value();
    }

    bool step_to(double factor) {
        const HeldSpeed best = found_.back();
        const SpindleSpeed wanted{best.speed.radians_per_second * factor};
        const HopedSpeed& near = nearest(wanted);
        const SpindleSpeed speed = from_.between ? wanted : near.speed;
        if (speed == best.speed || !offered_.contains(speed)) return false;
        return ask({.speed = speed, .depth = best.depth, .most = near.most});
    }

    const HopedSpeed& nearest(SpindleSpeed wanted) const {
        const auto away = [&](const HopedSpeed& one) {
            return std::abs(one.speed.radians_per_second - wanted.radians_per_second);
        };
        return *std::min_element(
            from_.hopes.begin(), from_.hopes.end(),
            [&](const HopedSpeed& a, const HopedSpeed& b) { return away(a) < away(b); });
    }

    const CutProblem& problem_;
    const Headings& headings_;
    const SpeedHopes& from_;
    const CutTries& tries_;
    double caution_ = 0;
    SpeedWindow offered_;
    std::vector<HeldSpeed> found_;
};

std::vector<HopedSpeed> own_of(const std::vector<HopedSpeed>& hopes, const Pass& pass) {
    std::vector<HopedSpeed> own = hopes;
    std::erase_if(own, [&](const HopedSpeed& one) { return !(one.speed == pass.speed); });
    return own;
}

}  // namespace

std::vector<HeldSpeed> search_speeds(const CutProblem& problem, const Headings& headings,
                                     const SpeedHopes& from, const CutTries& tries,
                                     double caution) {
    SpeedSearch search(problem, headings, from, tries, caution);
    search.ask_hopeful(peaks_of(from.hopes));
    search.ask_hopeful(own_of(from.hopes, problem.pass()));
    if (search.none() && from.least <= 0) search.ask_hopeful(spread_of(from.hopes));
    search.climb();
    return search.found();
}

}  // namespace standfast

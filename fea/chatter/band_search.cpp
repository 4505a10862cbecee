#include "fea/chatter/band_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "fea/chatter/describe_limit.hpp"
#include "fea/chatter/krylov.hpp"
#include "fea/chatter/limit_search.hpp"

namespace standfast {
namespace {

constexpr double kStart = 0.4;           // of the averaged limit
constexpr double kMayBeLower = 0.7;      // a limit than a band's least averaged one
constexpr double kBeyond = 1.02;         // bands may miss a limit just beyond the searched depth
constexpr double kBandTolerance = 1e-3;  // of the depth, on the bands
constexpr double kSettled = 1e-3;        // miss that one Newton step makes good
constexpr double kLargestMiss = 0.25;    // beyond it the bands are no guide
constexpr int kMostSteps = 4;
constexpr double kFineTolerance = 1e-5;               // residual of the multiplier that is followed
constexpr double kStrideStart = 0.6;                  // of the averaged limit
constexpr double kUsualSlope = 1, kLeastSlope = 0.2;  // of the growth by ln depth
constexpr double kLongestStride = 0.47;               // in ln depth
constexpr double kStrideTolerance = 3e-3;
constexpr int kMostStrides = 40;
constexpr double kCoarseMargin = 1, kStrideMargin = 3, kLargestCorrection = 0.1;
constexpr double kSmallCorner = 0.7;  // of where the walk starts

// The crossing found on bands, followed to that of `system`; false: not settled.
bool follow(const DelaySystem& system, const DepthScan& scan, Crossing at, double searched_to,
            SpeedLimit& limit) {
    double margin = scan.margin + 1, before = 0, change = 0;
    for (int step = 0; step < kMostSteps; ++step) {
        const PeriodMap map(system, scan.speed, at.depth, margin);
        const MapEigenpair motion = dominant_eigenpair(map, kFineTolerance);
        const double growth = std::log(std::max(std::abs(motion.value), 1e-12));
        if (std::abs(change) > kSettled) {
            const double slope = (growth - before) / change;
            if (slope * at.slope > 0) at.slope = slope;
        }
        const double miss = growth / at.slope;
        if (!(std::abs(miss) < kLargestMiss)) return false;
        if (std::abs(miss) <= kSettled) {
            describe_limit(map, motion, limit);
            const double depth = at.depth * std::exp(-miss);
            if (depth <= searched_to) limit.limit = depth;
            return true;
        }
        margin = scan.margin + 3;
        before = growth;
        change = -miss;
        at.depth *= std::exp(change);
    }
    return false;
}

// Depths at which the band of the limit is stable again, and all others too.
std::vector<std::pair<double, double>> islands_of(const std::vector<const DelaySystem*>& bands,
                                                  const DepthScan& scan, const ScanPoint& unstable,
                                                  double end) {
    auto islands = stable_islands(scan, unstable, end, kBandTolerance);
    std::erase_if(islands, [&](const std::pair<double, double>& island) {
        const double middle = std::sqrt(island.first * island.second);
        return std::any_of(bands.begin(), bands.end(), [&](const DelaySystem* band) {
            return DepthScan{band, scan.speed, scan.margin}.at(middle).growth > 0;
        });
    });
    return islands;
}

struct Edge {
    double depth = 0, slope = 0;  // m; of the growth by ln depth
    AngularFrequency leading;     // mode
};

// The edge on one band, by strides as long as the growth's slope says; none up to `end`.
std::optional<Edge> strode_to(const DepthScan& scan, double start, double end) {
    ScanPoint from = stable_from(scan, start);
    double slope = kUsualSlope;
    for (int step = 0; step < kMostStrides && from.depth < end; ++step) {
        const double ahead = std::min(-from.growth / slope, kLongestStride);
        if (ahead < kStrideTolerance) {
            return Edge{from.depth * std::exp(ahead), slope, from.leading};
        }
        const double further = std::min(from.depth * std::exp(ahead), end);
        const ScanPoint next = scan.at(further);
        const double found = (next.growth - from.growth) / std::log(further / from.depth);
        if (next.growth >= 0) {
            const Crossing at = crossing(scan, {from, next}, kStrideTolerance);
            return Edge{at.depth, at.slope, next.leading};
        }
        slope = std::max(found, kLeastSlope);
        from = next;
    }
    return std::nullopt;
}

double planar_strength(const DelaySystem& system, double depth) {
    return mean_directional_matrix(system, depth).topLeftCorner<2, 2>().norm();
}

}  // namespace

BandSearch::BandSearch(const DelaySystem& system, std::vector<SpindleSpeed> speeds,
                       double searched_to, double coarser)
    : speeds_(std::move(speeds)), searched_to_(searched_to) {
    Parts parts{system, mode_bands(system, kModesOfBand), {}, {}};
    parts.samples = sample_bands(system, parts.bands, coarser);
    if (system.cutter.corner_radius > 0) {
        for (const ModeBand& band : parts.bands) {
            parts.square.push_back(band.system);
            parts.square.back().cutter.corner_radius = 0;
        }
    }
    averaged_ = averaged_limits_of_bands(parts.samples, speeds_, end());
    parts_ = std::make_shared<const Parts>(std::move(parts));
}

BandSearch::BandSearch(std::shared_ptr<const Parts> parts, std::vector<SpindleSpeed> speeds,
                       double searched_to)
    : parts_(std::move(parts)),
      speeds_(std::move(speeds)),
      searched_to_(searched_to),
      averaged_(averaged_limits_of_bands(parts_->samples, speeds_, end())) {}

BandSearch BandSearch::at(std::vector<SpindleSpeed> speeds) const {
    return {parts_, std::move(speeds), searched_to_};
}

double BandSearch::end() const { return searched_to_ * kBeyond; }

std::size_t BandSearch::averaged_band(std::size_t speed) const {
    const auto depth = [&](const StabilityLimits& of_band) {
        return of_band.speeds[speed].limit.value_or(std::numeric_limits<double>::infinity());
    };
    const auto least =
        std::min_element(averaged_.begin(), averaged_.end(),
                         [&](const auto& a, const auto& b) { return depth(a) < depth(b); });
    return static_cast<std::size_t>(least - averaged_.begin());
}

const SpeedLimit& BandSearch::averaged(std::size_t speed) const {
    return averaged_[averaged_band(speed)].speeds[speed];
}

// All bands, that with the least averaged limit at the speed first.
std::vector<BandSearch::Candidate> BandSearch::candidates(std::size_t speed, double share,
                                                          bool square) const {
    const double start = share * averaged(speed).limit.value_or(end());
    std::vector<std::pair<double, Candidate>> found;
    for (std::size_t k = 0; k < parts_->bands.size(); ++k) {
        const double here =
            averaged_[k].speeds[speed].limit.value_or(std::numeric_limits<double>::infinity());
        const double least = parts_->samples.least[k];
        found.emplace_back(
            here, Candidate{k, square ? &parts_->square[k] : &parts_->bands[k].system, least,
                            std::min(start, least)});
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Candidate> list;
    for (const auto& [here, candidate] : found) list.push_back(candidate);
    return list;
}

bool BandSearch::is_shaken(const Candidate& band, const ScanPoint& point) const {
    return point.growth > 0 && band_of(parts_->bands, point.leading) == band.band;
}

bool BandSearch::leaves_corner_out(double start) const {
    return !parts_->square.empty() && parts_->whole.cutter.corner_radius < kSmallCorner * start;
}

std::optional<BandSearch::Found> BandSearch::first_crossing(std::size_t speed) const {
    const bool square = leaves_corner_out(kStart * averaged(speed).limit.value_or(end()));
    std::optional<Found> first, of_another;
    for (const Candidate& band : candidates(speed, kStart, square)) {
        DepthScan scan{band.system, speeds_[speed]};
        const double before = first ? first->at.depth : end();
        if (first && (kMayBeLower * band.least > before || !is_shaken(band, scan.at(before)))) {
            continue;
        }
        const auto bracket =
            next_change(scan, stable_from(scan, std::min(band.start, before)), before);
        if (!bracket) continue;
        const Crossing at = crossing(scan, *bracket, kBandTolerance);
        const bool own = is_shaken(band, bracket->high);
        std::optional<Found>& found = own ? first : of_another;
        if (own || !found || at.depth > found->at.depth) {
            found = {std::move(scan), *bracket, at, square};
        }
    }
    if (!first) return of_another;
    return first;
}

// The depth whose mean matrix per revolution is that of the square edge's depth.
double BandSearch::with_corner(double square_depth) const {
    const double square = planar_strength(parts_->square.front(), square_depth);
    double depth = square_depth;
    for (int step = 0; step < 2; ++step) {
        const double real = planar_strength(parts_->whole, depth);
        if (!(real > 0)) return square_depth;
        depth = square_depth * square / real;
    }
    return depth;
}

std::optional<double> BandSearch::depth_on_bands(std::size_t speed) const {
    const bool square = leaves_corner_out(kStrideStart * averaged(speed).limit.value_or(end()));
    std::optional<double> least, of_another;
    for (const Candidate& band : candidates(speed, kStrideStart, square)) {
        const DepthScan scan{band.system, speeds_[speed], kCoarseMargin};
        const double before = least.value_or(end());
        if (least && (kMayBeLower * band.least > before || !is_shaken(band, scan.at(before)))) {
            continue;
        }
        const auto edge = strode_to(scan, std::min(band.start, before), before);
        if (!edge) continue;
        const DepthScan finer{band.system, speeds_[speed], kStrideMargin};
        const double miss = finer.at(edge->depth).growth / edge->slope;
        const double depth =
            edge->depth * std::exp(-std::clamp(miss, -kLargestCorrection, kLargestCorrection));
        if (band_of(parts_->bands, edge->leading) == band.band) {
            least = depth;
        } else {
            of_another = std::max(of_another.value_or(0), depth);
        }
    }
    if (!least) least = of_another;
    if (!least) return std::nullopt;
    const double depth = square ? with_corner(*least) : *least;
    return depth <= searched_to_ ? std::optional(depth) : std::nullopt;
}

SpeedLimit BandSearch::on_bands(std::size_t speed) const {
    SpeedLimit limit{speeds_[speed], {}, {}, {}, {}, SolvedOn::bands};
    const auto first = first_crossing(speed);
    if (!first) return limit;
    const DelaySystem& band = *first->scan.system;
    if (!follow(band, first->scan, first->at, searched_to_, limit)) {
        return periodic_limit(parts_->whole, speeds_[speed], searched_to_, 1);
    }
    if (limit.limit && first->square) *limit.limit = with_corner(*limit.limit);
    return limit;
}

BandSearch::OnWhole BandSearch::on_whole(std::size_t speed, double islands_to) const {
    OnWhole found{{speeds_[speed], {}, {}, {}, {}, SolvedOn::whole}, {}};
    const auto first = first_crossing(speed);
    if (!first) return found;
    Crossing at = first->at;
    if (first->square) at.depth = with_corner(at.depth);
    found.on_bands = at.depth;
    if (!follow(parts_->whole, first->scan, at, searched_to_, found.limit)) {
        found.limit = periodic_limit(parts_->whole, speeds_[speed], searched_to_, islands_to);
    } else if (islands_to > 1 && found.limit.limit) {
        const double to = std::min(searched_to_, islands_to * *found.limit.limit);
        std::vector<const DelaySystem*> bands;
        for (const Candidate& band : candidates(speed, kStart, first->square)) {
            if (kMayBeLower * band.least < to) bands.push_back(band.system);
        }
        found.limit.islands = islands_of(bands, first->scan, first->bracket.high, to);
        for (auto& [from, up_to] : found.limit.islands) {
            if (first->square) from = with_corner(from);
            if (first->square) up_to = std::min(to, with_corner(up_to));
        }
    }
    return found;
}

}  // namespace standfast

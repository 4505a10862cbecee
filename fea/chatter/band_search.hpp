#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/depth_crossing.hpp"
#include "fea/chatter/mode_bands.hpp"
#include "fea/chatter/stability_limits.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// A limit of the delay equation looked for on the mode bands of its system (mode_bands.hpp), asked
/// speed by speed. The band with the least averaged limit at the speed is walked upward, from a
/// share of that limit or from the least that the band has at any speed, whichever is less; of the
/// others, those whose least at any speed may lie below what was found are asked whether they are
/// stable there, since an averaged limit does not see period doubling. A band answers for motion
/// that its own modes lead; what those of another do is left to that one, and counts only where no
/// band has found a limit of its own.
///
/// A corner radius below an eighth of where the walk starts is left out of it, since it costs three
/// sensed directions and many slices; a limit that stays on bands is then moved to the depth at
/// which the real edge has the same mean directional matrix in the plane.
class BandSearch {
public:
    /// Prepares the bands and their averaged limits at the speeds.
    /// @param speeds       any order, each > 0
    /// @param searched_to  m
    /// @param coarser      factor on the frequency steps of the averaged limits
    /// @throws std::domain_error as averaged_limits
    BandSearch(const DelaySystem& system, std::vector<SpindleSpeed> speeds, double searched_to,
               double coarser = 1);

    /// The same system at other speeds; nothing is prepared anew.
    BandSearch at(std::vector<SpindleSpeed> speeds) const;

    const DelaySystem& whole() const { return parts_->whole; }
    const std::vector<SpindleSpeed>& speeds() const { return speeds_; }
    double searched_to() const { return searched_to_; }
    const std::vector<ModeBand>& bands() const { return parts_->bands; }
    /// Zero-order limits of a band, over the speeds.
    const StabilityLimits& averaged_of_band(std::size_t band) const { return averaged_[band]; }
    /// The least of them at a speed, and whose it is; `limit` empty where there is none.
    const SpeedLimit& averaged(std::size_t speed) const;
    std::size_t averaged_band(std::size_t speed) const;

    /// The limit on bands, with its kind and chatter frequency.
    SpeedLimit on_bands(std::size_t speed) const;
    /// A quicker one, m, for choosing among many: the walk goes in strides of up to 60 %, each
    /// as far as the last two growths say that the edge is, so that a narrow band of instability
    /// may be stepped over. None: stable as deep as searched.
    std::optional<double> depth_on_bands(std::size_t speed) const;

    struct OnWhole {
        SpeedLimit limit;
        std::optional<double> on_bands;  ///< m, before it was put right
    };
    /// Put right on all modes: Newton steps on the largest multiplier until one misses by less than
    /// 1e-3, which is made good; where that does not settle, periodic_limit.
    /// @param islands_to  stable depths above the limit are looked for up to so many times it; 1:
    ///                    none are
    OnWhole on_whole(std::size_t speed, double islands_to) const;

private:
    struct Parts {
        DelaySystem whole;
        std::vector<ModeBand> bands;
        std::vector<DelaySystem> square;  ///< the bands without the corner; none: it has none
        BandSamples samples;
    };
    /// A crossing on one band.
    struct Found {
        DepthScan scan;
        Bracket bracket;
        Crossing at;
        bool square = false;  ///< the corner was left out
    };
    BandSearch(std::shared_ptr<const Parts> parts, std::vector<SpindleSpeed> speeds,
               double searched_to);
    /// A band, and where a walk on it begins.
    struct Candidate {
        std::size_t band;
        const DelaySystem* system;
        double least, start;  ///< m; `least`: of the band at any speed
    };
    std::vector<Candidate> candidates(std::size_t speed, double share, bool square) const;
    bool leaves_corner_out(double start) const;
    /// Whether it grows by motion that this band answers for.
    bool is_shaken(const Candidate& band, const ScanPoint& point) const;
    std::optional<Found> first_crossing(std::size_t speed) const;
    double with_corner(double square_depth) const;
    double end() const;

    std::shared_ptr<const Parts> parts_;
    std::vector<SpindleSpeed> speeds_;
    double searched_to_ = 0;
    std::vector<StabilityLimits> averaged_;  ///< by band
};

}  // namespace standfast

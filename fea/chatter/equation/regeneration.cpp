#include "fea/chatter/equation/regeneration.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/cutting/chip_pieces.hpp"
#include "fea/cutting/edge_law.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kSmallestPiece = 1e-9;  // rad; shorter is rounding, not geometry

double wrapped(double angle) { return angle - kTurn * std::floor(angle / kTurn); }

// Tip angles over which something is in the cut: from `from`, for `length`.
struct Window {
    double from, length;
    bool holds(double angle) const { return wrapped(angle - from) < length; }
};

// Lags of the ends of the edge and of its corner, rad.
std::vector<double> edge_lags(const DelaySystem& system, double depth) {
    const double lag = lag_per_height(system.cutter), corner = system.cutter.corner_radius;
    std::vector<double> lags{0.0, lag * depth};
    if (corner > 0 && corner < depth) lags.push_back(lag * corner);
    return lags;
}

Window window(double from, double to, double whole_lag) {
    return {from + std::min(0.0, whole_lag), to - from + std::abs(whole_lag)};
}

struct Span {
    double from, to;  // tip angles of tooth 0 at which the tip of the tooth enters and leaves
};

// Different spans of a part; its slices share them.
std::vector<Span> spans_of(const EdgeSum<Eigen::Matrix3d>& sum) {
    std::vector<Span> spans;
    for (const auto& term : sum.terms) {
        const Span span{term.from + term.tooth_angle, term.to + term.tooth_angle};
        const bool known = std::any_of(spans.begin(), spans.end(), [&](const Span& other) {
            return other.from == span.from && other.to == span.to;
        });
        if (!known) spans.push_back(span);
    }
    return spans;
}

}  // namespace

std::vector<Regeneration> regenerations(const DelaySystem& system, double depth) {
    std::vector<Regeneration> parts;
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        parts.push_back({directional_sum(system, depth, tooth), tooth_pitch(system.cutter, tooth)});
    }
    return parts;
}

std::vector<Regeneration> chip_regenerations(const RigidCut& cut) {
    std::vector<Regeneration> parts;
    const std::vector<EdgeSlice> slices = edge_slices(cut.cutter, cut.depth);
    for (int tooth = 0; tooth < cut.cutter.teeth(); ++tooth) {
        const double angle = cut.cutter.tooth_angle[static_cast<std::size_t>(tooth)];
        for (const ChipPiece& piece :
             chip_pieces(cut.cutter, cut.engagement, cut.feed_per_tooth, tooth)) {
            Regeneration part{{.lag = lag_per_height(cut.cutter),
                               .wall_at_exit = cut.engagement.milling != Milling::up,
                               .terms = {}},
                              piece.behind};
            for (const EdgeSlice& slice : slices) {
                part.directional.terms.push_back(
                    {angle, piece.from, piece.to, slice,
                     force_derivative_per_height(cut.cutter, cut.law, slice)});
            }
            parts.push_back(std::move(part));
        }
    }
    return parts;
}

std::vector<CutPiece> revolution_pieces(const DelaySystem& system, double depth,
                                        const std::vector<Regeneration>& parts) {
    require_positive(depth, "revolution_pieces", "axial depth");
    const std::vector<double> lags = edge_lags(system, depth);
    const double whole_lag = lags[1];
    const Engagement& arc = system.engagement;

    std::vector<double> kinks;
    std::vector<Window> teeth;
    const auto add_span = [&](const Span& span) {
        for (const double lag : lags) kinks.insert(kinks.end(), {span.from + lag, span.to + lag});
    };
    for (const double angle : system.cutter.tooth_angle) {
        add_span({arc.entry + angle, arc.exit + angle});
        teeth.push_back(window(arc.entry + angle, arc.exit + angle, whole_lag));
    }
    for (const Regeneration& part : parts) {
        for (const Span& span : spans_of(part.directional)) add_span(span);
    }
    std::vector<double> cuts = kinks;
    for (const Regeneration& part : parts) {
        for (const Span& span : spans_of(part.directional)) {
            const Window cutting = window(span.from, span.to, whole_lag);
            for (const double kink : kinks) {
                if (cutting.holds(kink + part.delay)) cuts.push_back(kink + part.delay);
            }
        }
    }
    for (double& cut : cuts) cut = wrapped(cut - arc.entry);
    cuts.insert(cuts.end(), {0.0, kTurn});
    std::sort(cuts.begin(), cuts.end());

    std::vector<CutPiece> pieces;
    double start = 0;
    for (const double cut : cuts) {
        const bool last = cut == kTurn;
        if (cut - start < kSmallestPiece && !(last && cut > start)) continue;
        const double middle = arc.entry + (start + cut) / 2;
        const bool cutting = std::any_of(teeth.begin(), teeth.end(),
                                         [&](const Window& tooth) { return tooth.holds(middle); });
        pieces.push_back({arc.entry + start, cut - start, cutting});
        start = cut;
    }
    return pieces;
}

}  // namespace standfast

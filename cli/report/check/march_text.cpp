#include "cli/report/check/march_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "cli/report/common/number.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostRows = 200'000;

std::string ending(const MarchResult& march) {
    switch (march.outcome) {
        case MarchOutcome::dies_away:
            return "the start-up shudder dies away";
        case MarchOutcome::period_doubling:
            return "every second tooth cuts alike (period doubling): chatter that does not die "
                   "away";
        case MarchOutcome::grows:
            return "the vibration grows until teeth leave the cut: chatter";
        case MarchOutcome::undecided:
            break;
    }
    return "still changing at the end: too close to the edge of chatter to tell";
}

std::string small_knock(const MarchResult& march) {
    if (!march.growth_per_tooth) {
        return "";
    }
    return fmt::format("; from tooth to tooth a small knock {} to {}",
                       *march.growth_per_tooth < 1 ? "shrinks" : "grows",
                       percent_text(*march.growth_per_tooth));
}

}  // namespace

std::string_view outcome_name(MarchOutcome outcome) {
    switch (outcome) {
        case MarchOutcome::dies_away:
            return "dies away";
        case MarchOutcome::period_doubling:
            return "period doubling";
        case MarchOutcome::grows:
            return "grows";
        case MarchOutcome::undecided:
            break;
    }
    return "undecided";
}

std::vector<std::string> march_sentences(const PassReport& pass, UnitSystem units) {
    if (!pass.march) {
        return {};
    }
    const MarchResult& march = *pass.march;
    std::vector<std::string> sentences{
        fmt::format("{}, {} deep, {} turns from rest: {}{}", speed_text(march.speed),
                    length_text(march.depth, units), march.revolutions, ending(march),
                    small_knock(march)),
        fmt::format(
            "at the end it vibrates {} peak to peak square to the wall, {} along the feed; "
            "forces up to {} across, {} along",
            error_text(march.peak_to_peak.y(), units), error_text(march.peak_to_peak.x(), units),
            force_text(march.peak_force.y(), units), force_text(march.peak_force.x(), units))};
    if (march.error) {
        sentences.push_back(fmt::format("the wall it leaves: {}; ridges {} high",
                                        wall_text(*march.error, units),
                                        error_text(march.waviness.value_or(0), units)));
    }
    return sentences;
}

std::string march_csv(const MarchResult& result) {
    std::string text =
        "time_s,revolution,displacement_x_m,displacement_y_m,displacement_z_m,force_x_n,force_y_n,"
        "force_z_n\n";
    const March& march = *result.march;
    const std::size_t steps = march.displacement.size();
    const std::size_t stride = std::max<std::size_t>(1, (steps + kMostRows - 1) / kMostRows);
    auto out = std::back_inserter(text);
    for (std::size_t k = stride - 1; k < steps; k += stride) {
        const Eigen::Vector3d &d = march.displacement[k], &f = march.force[k];
        const auto step = static_cast<double>(k + 1);
        fmt::format_to(out, "{:.9g},{:.7g},{:.7g},{:.7g},{:.7g},{:.7g},{:.7g},{:.7g}\n",
                       step * march.step, step / march.steps_per_revolution, d.x(), d.y(), d.z(),
                       f.x(), f.y(), f.z());
    }
    return text;
}

}  // namespace standfast

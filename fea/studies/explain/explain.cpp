#include "fea/studies/explain/explain.hpp"

#include <algorithm>
#include <cstddef>
#include <stdexcept>
#include <string>

#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/cut/speed_grid.hpp"

namespace standfast {
namespace {

// The periodic method takes a hundred times as long.
constexpr int kSpeeds = 60, kSpeedsPeriodic = 20;
constexpr double kBetterWall = 0.97;
constexpr int kListedModes = 12;
/// Either side of a harmonic speed, where the top of a lobe may lie.
constexpr double kLobeTop[] = {0.985, 1.0, 1.015};

bool self_excited(SoundCause cause) {
    return cause == SoundCause::chatter || cause == SoundCause::period_doubling;
}

/// The speed it ran, a grid over what may be offered, and the tops of the lobes that the line
/// promises.
std::vector<SpindleSpeed> speeds_to_try(const Job& job, const Pass& pass, SpindleSpeed ran,
                                        const std::optional<double>& hertz, int count) {
    const SpeedWindow offered = offered_window(job, pass);
    std::vector<SpindleSpeed> speeds{ran};
    if (!(offered.from < offered.to)) return speeds;
    speeds = merge_speeds(speeds, default_speeds(offered.from, offered.to, count));
    if (!hertz) return speeds;
    std::vector<SpindleSpeed> tops;
    const int teeth = job.tools[pass.tool].cutter.teeth;
    for (const HarmonicSpeed& at : harmonic_speeds(*hertz, teeth, offered.from, offered.to)) {
        for (const double factor : kLobeTop) {
            if (offered.contains({factor * at.speed.radians_per_second})) {
                tops.push_back({factor * at.speed.radians_per_second});
            }
        }
    }
    std::sort(tops.begin(), tops.end());
    return merge_speeds(speeds, tops);
}

/// What `check` advises, as far as it makes the wall better: nothing sings, so the wall is what is
/// left to gain.
std::vector<Cure> for_the_wall(const PassReport& report) {
    std::vector<Cure> list;
    for (const Advice& advice : report.advice) {
        if (advice.error_ratio && *advice.error_ratio < kBetterWall) {
            list.push_back({.kind = CureKind::advised,
                            .change = advice,
                            .harmonic = 0,
                            .member = "",
                            .gain = 1 / *advice.error_ratio});
        }
    }
    std::stable_sort(list.begin(), list.end(),
                     [](const Cure& a, const Cure& b) { return *a.gain > *b.gain; });
    return list;
}

/// Depth over the edge of chatter up to which joints that are softer than assumed are no way out.
constexpr double kFarBelow = 0.5;

ModelEvidence model_evidence(const Explanation& explained, const Evidence& evidence,
                             const std::optional<double>& depth) {
    if (evidence.cause != SoundCause::unclear || !explained.model_chatters || !depth) {
        return ModelEvidence::nothing;
    }
    if (*explained.model_chatters) return ModelEvidence::chatter;
    const std::optional<double>& limit = explained.report.at_programmed.limit;
    return !limit || *depth < kFarBelow * *limit ? ModelEvidence::no_chatter
                                                 : ModelEvidence::nothing;
}

CutProblem solved_problem(const Job& job, std::size_t pass, StabilityMethod method) {
    return cut_problem(job, pass, tool_side_of(job, job.passes[pass]),
                       work_side_of(job, job.passes[pass]), method);
}

/// The line that was heard, or the likeliest of those that marks leave.
std::optional<double> line_to_explain(const Evidence& evidence,
                                      const std::vector<RankedFrequency>& ranked) {
    if (evidence.hertz) return evidence.hertz;
    if (evidence.told_candidate) return evidence.told_candidate;
    if (!ranked.empty()) return ranked.front().hertz;
    return std::nullopt;
}

void promote(std::vector<RankedFrequency>& ranked, const std::optional<double>& told) {
    if (!told) return;
    std::stable_partition(ranked.begin(), ranked.end(),
                          [&](const RankedFrequency& one) { return one.hertz == *told; });
}

}  // namespace

Explanation explain_pass(const Job& job, std::size_t pass_index, const Evidence& evidence,
                         const ExplainOptions& options) {
    if (pass_index >= job.passes.size()) {
        throw std::domain_error("explain: there is no pass " + std::to_string(pass_index + 1));
    }
    Job ran = job;
    Pass& pass = ran.passes[pass_index];
    pass.speed = evidence.ran();

    // The averaged cut knows nothing of period doubling.
    const StabilityMethod method =
        evidence.cause == SoundCause::period_doubling || evidence.doubt == Doubt::doubled_or_runout
            ? StabilityMethod::periodic
            : options.method;
    const CutProblem problem = solved_problem(ran, pass_index, method);
    const double depth = pass.axial.value_or(ran.tools[pass.tool].cutter.diameter / 2);
    const double heading = judged_headings(problem, {*pass.speed}, depth).stability;

    Explanation explained;
    explained.self_excited = self_excited(evidence.cause);
    explained.candidates = ranked_by_gain(problem, heading, evidence.candidates);
    promote(explained.candidates, evidence.told_candidate);
    explained.hertz = line_to_explain(evidence, explained.candidates);

    CheckOptions check;
    check.method = method;
    check.speeds = speeds_to_try(ran, pass, *pass.speed,
                                 explained.self_excited ? explained.hertz : std::nullopt,
                                 method == StabilityMethod::periodic ? kSpeedsPeriodic : kSpeeds);
    check.distance = options.distance;
    check.only_pass = pass_index;
    check.odds = OddsOptions{};  // what is promised is tried
    check.listed_modes = kListedModes;
    explained.report = check_job(ran, check).passes.front();
    if (pass.axial && explained.report.at_programmed.limit) {
        explained.model_chatters = *pass.axial > *explained.report.at_programmed.limit;
    } else if (pass.axial) {
        explained.model_chatters = false;
    }
    explained.speaks = model_evidence(explained, evidence, pass.axial);

    if (explained.hertz) {
        explained.modes = cause_modes(problem, heading, *explained.hertz);
        const double gain = regenerative_gain(problem, heading, *explained.hertz);
        if (gain > 0) explained.keeps_up_from = 1 / gain;
    }
    const SpeedWindow offered = offered_window(ran, pass);
    if (explained.self_excited && explained.hertz) {
        explained.cures = cures({.problem = &problem,
                                 .report = &explained.report,
                                 .hertz = *explained.hertz,
                                 .modes = explained.modes,
                                 .from = offered.from,
                                 .to = offered.to});
    } else {
        explained.cures = for_the_wall(explained.report);
    }
    return explained;
}

}  // namespace standfast

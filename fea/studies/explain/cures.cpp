#include "fea/studies/explain/cures.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <stdexcept>
#include <string>

#include "fea/job/edits/apply_edits.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kLeastGain = 1.03;
constexpr std::size_t kMostHarmonics = 2;
constexpr double kMoreFeed = 1.3, kLessFeed = 0.7;
constexpr double kMoreDamping = 2;
/// Unevenness that cutters are had with, as a fraction of the pitch (common practice, no source).
constexpr double kMostUneven = 0.15;

std::optional<double> ratio_of(const std::optional<double>& after,
                               const std::optional<double>& before) {
    if (!after || !before || *before <= 0) return std::nullopt;
    return *after / *before;
}

/// Edge of chatter at a speed after some edits.
std::optional<double> edge_after(const CureCase& given, const std::vector<Edit>& edits) {
    const CutProblem& before = *given.problem;
    const Job job = edited(*before.job, edits);
    const Pass& pass = job.passes[before.pass_index];
    const bool tool = changes_tool(edits), work = changes_work(edits);
    CutProblem problem = before;
    problem.job = &job;
    if (tool || work) {
        problem = cut_problem(job, before.pass_index, tool ? tool_side_of(job, pass) : before.tool,
                              work ? work_side_of(job, pass) : before.work, before.method);
    } else {
        problem.cut = rigid_cut(job, pass, 0);
    }
    const SpindleSpeed speed = pass.speed.value_or(given.report->judged_speed);
    return limits_at_heading(problem, given.report->feed_heading.value_or(0), {speed})
        .speeds.front()
        .limit;
}

Cure cure(const CureCase& given, CureKind kind, std::vector<Edit> edits) {
    Cure made{.kind = kind, .change = {}, .harmonic = 0, .member = "", .gain = std::nullopt};
    const std::optional<double> after = edge_after(given, edits);
    made.change.set = std::move(edits);
    made.change.limit_ratio = ratio_of(after, given.report->at_programmed.limit);
    made.gain = made.change.limit_ratio;
    return made;
}

/// Margin that an advised change gains; a lesser depth moves the depth, not the edge.
std::optional<double> gain_of(const CureCase& given, const Advice& advice) {
    std::optional<double> gain = advice.limit_ratio;
    for (const Edit& edit : advice.set) {
        const auto* const depth = std::get_if<AxialDepth>(&edit);
        if (depth != nullptr && depth->axial > 0) {
            gain = gain.value_or(1) * given.report->judged_depth / depth->axial;
        }
    }
    return gain;
}

std::vector<Cure> advised(const CureCase& given) {
    std::vector<Cure> list;
    for (const Advice& advice : given.report->advice) {
        list.push_back({.kind = CureKind::advised,
                        .change = advice,
                        .harmonic = 0,
                        .member = "",
                        .gain = gain_of(given, advice)});
    }
    return list;
}

std::vector<Cure> at_harmonics(const CureCase& given) {
    const CutProblem& problem = *given.problem;
    const int teeth = problem.tool_chain().cutter.teeth;
    const std::vector<HarmonicSpeed> speeds =
        harmonic_speeds(given.hertz, teeth, given.from, given.to);
    std::vector<Cure> list;
    for (const HarmonicSpeed& at : speeds) {
        const double change = std::abs(
            at.speed.radians_per_second / given.report->judged_speed.radians_per_second - 1);
        if (change < 0.005) continue;
        Cure made =
            cure(given, CureKind::harmonic_speed, {PassSpeed{problem.pass().name, at.speed}});
        made.harmonic = at.harmonic;
        list.push_back(std::move(made));
    }
    std::stable_sort(list.begin(), list.end(), [](const Cure& a, const Cure& b) {
        return a.gain.value_or(0) > b.gain.value_or(0);
    });
    if (list.size() > kMostHarmonics) list.resize(kMostHarmonics);
    return list;
}

/// Teeth that follow each other by half a wave more and half a wave less than even, so that what
/// one tooth writes the next wipes out (own derivation); with an odd number in even steps.
std::vector<double> uneven_pitch(int teeth, SpindleSpeed speed, double hertz) {
    const double even = 2 * std::numbers::pi / teeth;
    const double half_wave = speed.radians_per_second / (2 * hertz);
    std::vector<double> pitch;
    for (int i = 0; i < teeth; ++i) {
        if (teeth % 2 == 0) {
            const double step = std::min(half_wave / 2, kMostUneven * even);
            pitch.push_back(i % 2 == 0 ? even - step : even + step);
        } else {
            const double middle = 0.5 * (teeth - 1);
            const double step = std::min(half_wave, kMostUneven * even / middle);
            pitch.push_back(even + step * (i - middle));
        }
    }
    return pitch;
}

void add_uneven_pitch(std::vector<Cure>& list, const CureCase& given) {
    const ToolChain& tool = given.problem->tool_chain();
    if (tool.cutter.teeth < 2 || !tool.cutter.pitch.empty() || tool.cutter.runout > 0) return;
    const std::vector<double> pitch =
        uneven_pitch(tool.cutter.teeth, given.report->judged_speed, given.hertz);
    list.push_back(cure(given, CureKind::unequal_pitch, {ToothPitch{tool.name, pitch}}));
}

void add_feed(std::vector<Cure>& list, const CureCase& given) {
    const Pass& pass = given.problem->pass();
    for (const double factor : {kMoreFeed, kLessFeed}) {
        list.push_back(cure(given, CureKind::other_feed,
                            {FeedPerTooth{pass.name, factor * pass.feed_per_tooth}}));
    }
}

/// The joint of the strongest mode that holds most of its strain and that a shop can damp.
void add_damping(std::vector<Cure>& list, const CureCase& given) {
    if (given.modes.empty()) return;
    const CauseMode& mode = given.modes.front();
    const ToolChain& tool = given.problem->tool_chain();
    const auto doubled = [](const Joint& joint) {
        return kMoreDamping * joint.given.loss.value_or(joint.kind.loss_factor);
    };
    for (const auto& [member, share] : mode.mode.strain_share) {
        std::vector<Edit> edits;
        if (mode.tool_side && member == "grip" && !tool.grip.solid && doubled(tool.grip) > 0) {
            edits = {GripLoss{tool.name, doubled(tool.grip)}};
        }
        for (const Tier& tier : given.problem->job->stack.tiers) {
            if (!mode.tool_side && member == tier.name + " joint" && !tier.joint.solid &&
                doubled(tier.joint) > 0) {
                edits = {JointLoss{tier.name, doubled(tier.joint)}};
            }
        }
        if (edits.empty()) continue;
        Cure made = cure(given, CureKind::more_damping, std::move(edits));
        made.member = member;
        list.push_back(std::move(made));
        return;
    }
}

/// The speed that a cure sets and nothing else.
std::optional<PassSpeed> speed_alone(const Cure& cure) {
    if (cure.change.set.size() != 1) return std::nullopt;
    const auto* const speed = std::get_if<PassSpeed>(&cure.change.set.front());
    return speed != nullptr ? std::optional(*speed) : std::nullopt;
}

bool same_speed(const Cure& a, const Cure& b) {
    const auto one = speed_alone(a), other = speed_alone(b);
    if (!one || !other || one->pass != other->pass) return false;
    const double of = one->speed.radians_per_second;
    return std::abs(of - other->speed.radians_per_second) <= 2e-3 * of;
}

}  // namespace

std::vector<HarmonicSpeed> harmonic_speeds(double hertz, int teeth, SpindleSpeed from,
                                           SpindleSpeed to) {
    require_positive(hertz, "harmonic speeds", "frequency");
    if (teeth < 1) throw std::domain_error("harmonic speeds: the cutter has no teeth");
    std::vector<HarmonicSpeed> list;
    if (!(from.radians_per_second > 0)) return list;
    const double first = 2 * std::numbers::pi * hertz / teeth;
    for (int k = 1; first / k >= from.radians_per_second; ++k) {
        if (first / k <= to.radians_per_second) list.push_back({{first / k}, k});
    }
    return list;
}

std::vector<Cure> cures(const CureCase& given) {
    std::vector<Cure> list = at_harmonics(given);
    for (Cure& one : advised(given)) {
        if (std::none_of(list.begin(), list.end(),
                         [&](const Cure& other) { return same_speed(one, other); })) {
            list.push_back(std::move(one));
        }
    }
    add_uneven_pitch(list, given);
    add_feed(list, given);
    add_damping(list, given);
    std::erase_if(list, [](const Cure& one) {
        if (one.gain) return *one.gain < kLeastGain;
        return one.kind != CureKind::harmonic_speed && one.kind != CureKind::advised;
    });
    std::stable_sort(list.begin(), list.end(), [](const Cure& a, const Cure& b) {
        return a.gain.value_or(0) > b.gain.value_or(0);
    });
    return list;
}

}  // namespace standfast

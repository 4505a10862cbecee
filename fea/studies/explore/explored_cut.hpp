#pragma once

#include <map>
#include <memory>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/uncertainty/chatter_odds.hpp"
#include "fea/studies/explore/setting.hpp"

namespace standfast {

/// A pass at a setting, solved; the problem's job is held by it.
struct ExploredCut {
    std::shared_ptr<const Job> job;
    CutProblem problem;
    ExploreSetting setting;
};

/// A job whose passes are looked at under many settings, one after the other: of both sides only
/// the one that a setting changes is solved again.
class ExploredJob {
public:
    explicit ExploredJob(Job job) : job_(std::move(job)) {}

    const Job& job() const { return job_; }
    /// @throws std::domain_error as with_setting, and where the set-up is not physical
    ExploredCut cut(const ExploreSetting& setting, StabilityMethod method);

private:
    using Key = std::vector<double>;
    using Sides = std::map<Key, std::shared_ptr<const SolvedSide>>;

    Job job_;
    Sides tools_, works_;
};

/// What is told while something is being dragged: no tries, no level.
struct QuickLook {
    StabilityLimits limits;  ///< averaged (zero-order), at the speeds asked
    StaticResult statics;    ///< of a slow cut
};

/// The quick predictor: the averaged edge of chatter with directional matrix and receptance in the
/// middle of the setting's own depth (ranking_limits), and the push-off of a slow cut.
QuickLook quick_look(const ExploredCut& cut, const Headings& headings,
                     const std::vector<SpindleSpeed>& speeds);

/// Speeds over the machine's range at which a strip shows the edge; the setting's own is one.
std::vector<SpindleSpeed> strip_speeds(const Job& job, const ExploreSetting& setting);

}  // namespace standfast

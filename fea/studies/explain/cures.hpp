#pragma once

#include <optional>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/studies/explain/cause_modes.hpp"

namespace standfast {

enum class CureKind {
    advised,         ///< one of the changes that `check` proposes too
    harmonic_speed,  ///< a tooth-passing harmonic on the line
    unequal_pitch,
    other_feed,
    more_damping
};

/// A change and what the model says it gains.
struct Cure {
    CureKind kind = CureKind::advised;
    Advice change;
    int harmonic = 0;  ///< of the tooth passing that comes to stand on the line (harmonic_speed)
    /// What `set` is about where it is no path of the job: the damped member (more_damping).
    std::string member;
    /// Margin after over margin before, margin = edge of chatter over depth; sorts the list. None
    /// where one of the edges was not found.
    std::optional<double> gain;
};

/// Where cures start: a pass as it ran.
struct CureCase {
    const CutProblem* problem = nullptr;
    const PassReport* report = nullptr;  ///< at the speed it ran, with advice
    double hertz = 0;                    ///< the line
    std::vector<CauseMode> modes;        ///< that sit there
    SpindleSpeed from, to;               ///< speeds that may be offered
};

/// Speeds n = f / (N k) that put the k-th tooth-passing harmonic on the line, within a window,
/// fastest first: the tooth then meets the same phase of the vibration each time (Smith and Tlusty
/// 1992, from memory), near the high side of a lobe.
struct HarmonicSpeed {
    SpindleSpeed speed;
    int harmonic = 1;
};
std::vector<HarmonicSpeed> harmonic_speeds(double hertz, int teeth, SpindleSpeed from,
                                           SpindleSpeed to);

/// Everything that would help, each computed anew by the model, the greatest gain first: what
/// `check` advises, harmonic speeds, unequal pitch, feed, damping of the member that holds most of
/// the mode's strain. Changes that gain less than 3 % are left out; of harmonic speeds the best two
/// are kept, and where the model finds no edge they are kept without a gain.
std::vector<Cure> cures(const CureCase& given);

}  // namespace standfast

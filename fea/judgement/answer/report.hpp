#pragma once

#include <Eigen/Core>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "fea/chatter/limits/stability_limits.hpp"
#include "fea/cutting/cutting_law.hpp"
#include "fea/cutting/engagement.hpp"
#include "fea/job/edits/edit.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/march_result.hpp"
#include "fea/judgement/uncertainty/chatter_odds.hpp"
#include "fea/judgement/uncertainty/wall_tries.hpp"
#include "fea/solution/modes.hpp"

namespace standfast {

// Room "judgement": what the numbers mean for the shop. Plain data of the answers; words and
// units belong to the cli.

enum class Level { unflagged, marginal, avoid };
enum class Reason {
    chatter,
    resonance,
    deflection,
    surface_error,
    holding,
    reach,
    tool_stress,
    whirl,
    overspeed,
    cutting_speed,
    power,
    weight
};

struct Verdict {
    Level level = Level::unflagged;
    std::vector<Reason> reasons;  ///< those at the verdict's level first, gravest first
};

/// One mode in words: frequency, damping, whose strain it is.
struct ReportedMode {
    double frequency_hertz = 0;
    double damping_ratio = 0;
    std::vector<std::pair<std::string, double>> strain_share;  ///< member, fraction; largest first
    /// kg^-1/2, own axes (spindle, stack), at the heights of the pass's edge; one row for modes
    /// that were measured at a point; none where nothing is cut.
    std::vector<Eigen::Vector3d> shape;
};

/// How the cut lies along the edge.
struct EdgeReport {
    bool from_top = false;       ///< the top stays and the tip goes down as the cut grows deeper
    std::vector<double> height;  ///< m above the tip, at which the displacement is known
    bool one_point = false;      ///< a side is known at one point only, which serves for the edge
    /// Of a path, where the part is softest and so judged: 0 its start, 1 its end; none: one place.
    std::optional<double> place;
};

struct GiveShare {
    std::string member;
    bool tool_side = true;
    double share = 0;
};

struct StaticResult {
    double error = 0;   ///< m, of largest magnitude along the height; > 0: cut too deep
    double height = 0;  ///< m above the tip, where that is
    std::array<double, 3> profile{};                 ///< m, at the tip, in the middle, at the top
    Eigen::Vector3d tool = Eigen::Vector3d::Zero();  ///< m, under the mean force, tool axes, there
    Eigen::Vector3d work = Eigen::Vector3d::Zero();  ///< m, of the part, tool axes
    std::vector<GiveShare> give;                     ///< of the wall-normal error; sum 1
    /// m/N along the wall's normal, for the indicator proof.
    double tool_compliance = 0, work_compliance = 0;
    double work_at_tip = 0, work_at_top = 0;  ///< of the part alone, at both ends of the cut
};

struct SurfaceErrorMap {
    std::vector<SpindleSpeed> speed;
    std::vector<double> height;                ///< m, 0 = tip
    std::vector<std::optional<double>> error;  ///< m, per speed; none where unstable
    std::vector<std::vector<double>> profile;  ///< m, speed x height; empty row where unstable
    std::vector<std::optional<double>> peak_to_peak;  ///< m, wall-normal
    /// m, of largest magnitude, with push-off fed back into the radial depth; none where unstable
    std::vector<std::optional<double>> fed_back;
    /// m, peak to valley of the wall along the feed: marks of feed, runout and unequal teeth
    std::vector<std::optional<double>> waviness;
};

/// Judgement of one spindle speed.
struct SpeedLevel {
    SpindleSpeed speed;
    Level level = Level::unflagged;
    std::vector<Reason> reasons;
    bool offered = false;  ///< inside every limit and window: may be recommended
};

struct SpeedBand {
    SpindleSpeed from, to;
    std::optional<double> limit;      ///< m, smallest limit within
    Reason reason = Reason::chatter;  ///< of a stay-off range
};

enum class AdviceKind {
    other_speed,
    less_depth,
    shorter_stickout,
    longer_stickout,
    lower_riser,
    taller_riser,
    stiffer_riser,
    bigger_dovetail,
    fewer_teeth,
    more_teeth,
    solid_joint,
    less_radial,
    several
};
struct AdvicePart {
    AdviceKind kind = AdviceKind::other_speed;
    std::vector<Edit> set;
};
/// A change that would help, recomputed on the edited job.
struct Advice {
    AdviceKind kind = AdviceKind::other_speed;
    std::vector<Edit> set;
    std::vector<AdvicePart> parts;        ///< of `several`: two or three changes made together
    std::optional<double> removal_ratio;  ///< metal removed per minute, after / before
    std::optional<double> limit_ratio;    ///< limit after / before at the speed
    std::optional<double> error_ratio;    ///< |surface error| after / before
    /// Verdict with the change, judged with the same tries, their shares taken a standard
    /// deviation of counting larger.
    Level level = Level::unflagged;
    /// Nothing is flagged then but what no change mends, such as a hold that is not judged.
    bool clears = false;
    bool reach_unchecked = false;  ///< "if it still clears: not checked"
};

enum class HoldingMode { lift_off, slip, pull_out, tip, neck_stress, frees_part };
struct JointHolding {
    std::string joint;  ///< member name, as in "part joint"
    bool judged = false;
    double factor = 0;  ///< capacity over peak load with wear; smallest of its modes
    HoldingMode mode = HoldingMode::slip;
    /// The same by less careful figures, see HoldingCare; never less than `factor`.
    double less_careful = 0;
    double friction = 0, usual_friction = 0;  ///< counted in `factor`; in `less_careful`
    bool seat_counted = false;                ///< the job says that the part bears on its seat
    std::string why_not;                      ///< where not judged: "no clamp force given"
};
/// Where the figure of a hold is careful. The less careful one takes a sharp edge (wear factor 1),
/// the moments of one instant with their signs, friction as clean faces usually have it, and the
/// seat of a part between jaws. It stands behind the careful one and decides no level.
struct HoldingCare {
    double wear_factor = 1;     ///< on the peak force of a sharp edge
    bool moments_added = true;  ///< moments of the force's components, without regard to sign
    int supports_left_out = 0;  ///< jacks, tailstocks ... that the job has
};
/// Factors end at kHoldingCap: a joint of one piece, or one that hardly feels the cut.
constexpr double kHoldingCap = 100;

struct HoldingResult {
    bool judged = false;      ///< every joint down to the table was judged
    double factor = 0;        ///< smallest of the judged joints
    double less_careful = 0;  ///< smallest of theirs
    HoldingCare care;
    std::string joint;  ///< the one that lets go first
    HoldingMode mode = HoldingMode::slip;
    std::vector<JointHolding> joints;  ///< from the cut tier's down to the table
    std::string why_not;               ///< where not judged
};

/// What keeps a tool from getting to its cut.
enum class ReachFault { none, too_near, hits, tilt, travel, tool_change, swing };

/// Plain and small: a study keeps thousands of them.
struct ReachResult {
    bool judged = false;
    std::string why_not;  ///< where not judged: "a typical holder stands in for yours"
    bool clear = false;   ///< everything keeps its clearance and the machine gets there
    ReachFault fault = ReachFault::none;  ///< the gravest; `too_near` is marginal, the rest avoid
    double clearance = 0;                 ///< m, wanted between the two that come nearest
    double distance = 0;                  ///< m, between those two; 0: they touch or overlap
    std::string tool_solid;  ///< of the tool side: "holder", "spindle nose", "shank", "cutter"
    std::string work_solid;  ///< of the work side: "riser", "table", "part (side mass)"
    /// Neck or shank that stands flush with the finished wall above the flutes; else empty.
    /// Marginal, and not counted in `clear`: no stickout cures it.
    std::string rubs;
    /// For tilt (rad), travel, tool change and swing (m): what the pass needs, and what there is.
    double needed = 0, available_from = 0, available_to = 0;
    double tilt_needed = 0;                    ///< rad, of the pass
    std::optional<double> tilt_available;      ///< rad; none: no limit known
    std::optional<double> least_stickout;      ///< m, that clears; none: none does, or not sought
    std::optional<double> most_stickout;       ///< m, overall length less the least grip
    std::string riser;                         ///< tier that least_riser_height is about
    std::optional<double> least_riser_height;  ///< m, that clears at this stickout
    std::vector<std::string> left_out;         ///< what has no size or no figure, in plain words
};

struct ToolStressResult {
    bool judged = false;
    double stress = 0;   ///< Pa, bending at the holder face or the flute's top, peak load with wear
    double allowed = 0;  ///< Pa
    double at_height = 0;  ///< m from the tip
    std::string where;     ///< "holder face", "neck", "top of the flutes", "segment 2"
    std::string why_not;   ///< where not judged
};

/// What a pass asks of the spindle at one speed, mean over a revolution, of sharp edges.
struct SpindlePower {
    bool judged = false;           ///< power or torque of the spindle is known
    double power = 0, torque = 0;  ///< W, N m, asked at the cutter
    std::optional<double> available_power, available_torque;  ///< W, N m, at this speed
    double ratio = 0;  ///< the larger of asked over available; 0 where nothing is known
};

struct WeightResult {
    double mass = 0;                ///< kg on the table
    std::optional<double> allowed;  ///< kg
    double tilt_moment = 0;         ///< N m, m g x horizontal arm at the pass's tilt
    std::optional<double> tilt_moment_allowed;
};

/// Best speed and depth within everything that may be recommended.
struct Recommendation {
    SpindleSpeed speed;
    double depth = 0;                ///< m, with margin to chatter and to the tolerance
    Level level = Level::unflagged;  ///< of the pass at that speed and depth, as in Advice
    std::optional<double> limit;     ///< m, edge of chatter there
};

struct PassReport {
    std::string name, tool;
    std::size_t pass = 0;  ///< index into Job::passes
    Verdict verdict;
    std::vector<Advice> advice;
    /// Something is flagged, and no change that was tried, alone or together, leaves nothing so.
    bool nothing_reaches = false;
    EdgeReport edge;
    std::vector<ReportedMode> tool_modes, work_modes;
    double gauge_length = 0, stickout = 0;  ///< m
    std::optional<double> feed_heading;     ///< rad, that was used (smallest limit)
    std::optional<double> error_heading;    ///< rad, that of the surface error (largest error)
    bool worst_heading = false;             ///< they were looked for, as none was given
    Engagement engagement;
    CuttingLaw law;
    std::optional<SpindleSpeed> programmed_speed;
    SpindleSpeed judged_speed;  ///< programmed, or the best offered
    double judged_depth = 0;    ///< m, programmed, or the largest advised
    double tooth_passing_hertz = 0;
    Eigen::Vector3d mean_force = Eigen::Vector3d::Zero(),
                    peak_force = Eigen::Vector3d::Zero();  ///< N
    StaticResult statics;
    StabilityLimits stability;
    std::optional<ChatterOdds> odds;  ///< none: nothing was drawn
    std::optional<WallTries> wall;    ///< at the judged speed and depth; none: not to be told
    SpeedLimit at_programmed;         ///< limit at the judged speed
    /// Edge of chatter in the path's inside corner at the judged speed; none: no corner_radius.
    std::optional<SpeedLimit> in_corner;
    SurfaceErrorMap surface;
    std::optional<double> error_at_programmed, vibration_at_programmed;    ///< m
    std::optional<double> fed_back_at_programmed, waviness_at_programmed;  ///< m
    std::optional<MarchResult> march;                                      ///< none: not asked for
    std::vector<SpeedLevel> speeds;
    std::vector<SpeedBand> quiet_bands, stay_off;
    HoldingResult holding;
    ReachResult reach;
    ToolStressResult tool_stress;
    WeightResult weight;
    SpindlePower power;
    double whirl_ratio = 0;               ///< spindle frequency over first tool frequency
    double cutting_speed = 0;             ///< m/s at the judged speed
    double low_speed_vibration = 0;       ///< m, peak to peak, wall-normal, of a very slow cut
    std::optional<Recommendation> best;   ///< none: nothing may be recommended
    std::vector<std::string> not_judged;  ///< plain words without quantities
};

struct JobReport {
    std::string title;
    std::vector<Assumption> assumed;
    std::vector<std::string> not_judged;
    double mass = 0;                                           ///< kg
    Eigen::Vector3d centre_of_mass = Eigen::Vector3d::Zero();  ///< m
    std::vector<ReportedMode> stack_modes;
    std::vector<PassReport> passes;
};

}  // namespace standfast

#include "cli/page/pass_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "fea/judgement/cut/sides.hpp"

namespace standfast {
namespace {

/// Depths and errors are lengths of very different size, but of one unit.
struct LengthUnit {
    double metres = 1e-3;
    const char* name = "mm";
    int depth_decimals = 2, error_decimals = 4;
};

LengthUnit unit_of(UnitSystem units) {
    return units == UnitSystem::metric ? LengthUnit{} : LengthUnit{0.0254, "in", 4, 6};
}

std::string number_at(double value, int decimals) {
    return fmt::format("{:.{}f}", value, decimals);
}

/// Highest depth worth showing: what is programmed, and what may be had, with room above.
double top_of(const PassReport& pass) {
    double top = 2.5 * pass.judged_depth;
    if (pass.odds && pass.odds->limit) top = std::max(top, 1.15 * pass.odds->limit->high);
    if (pass.best) top = std::max(top, 1.5 * pass.best->depth);
    std::vector<double> limits;
    for (const SpeedLimit& limit : pass.stability.speeds) {
        if (limit.limit) limits.push_back(*limit.limit);
    }
    if (!limits.empty()) {
        const auto high = limits.begin() + static_cast<std::ptrdiff_t>(limits.size() * 9 / 10);
        std::nth_element(limits.begin(), high, limits.end());
        top = std::max(top, 1.2 * std::min(*high, 4 * pass.judged_depth));
    }
    return std::min(top, std::max(pass.stability.searched_to, 1.1 * pass.judged_depth));
}

void add_bands(Chart& chart, const PassReport& pass) {
    for (const SpeedBand& band : pass.quiet_bands) {
        chart.bands.push_back({band.from.rpm(), band.to.rpm(), false, "quiet band"});
    }
    for (const SpeedBand& band : pass.stay_off) {
        chart.bands.push_back({band.from.rpm(), band.to.rpm(), true,
                               fmt::format("stay off ({})", reason_name(band.reason))});
    }
}

std::string reasons_words(const std::vector<Reason>& reasons) {
    std::string text;
    for (const Reason reason : reasons) {
        text += (text.empty() ? "" : ", ") + std::string(reason_name(reason));
    }
    return text;
}

/// rpm round enough for a table, to the speed's own width.
void fit_axis(Chart& chart) {
    double least = 1e300, most = 0;
    for (const std::optional<double>& rpm : chart.columns.front().values) {
        least = std::min(least, *rpm);
        most = std::max(most, *rpm);
    }
    chart.x.least = std::floor(least / 100) * 100;
    chart.x.most = std::ceil(most / 100) * 100;
}

}  // namespace

Chart speed_chart(const PassReport& pass, UnitSystem units) {
    const LengthUnit unit = unit_of(units);
    const double top = top_of(pass);
    Chart chart;
    chart.title = "How deep at which speed";
    chart.note =
        "Above the line it chatters. The share of tries is for the depth of this pass; grey "
        "hatching: quiet band, the dense strip at the foot: stay off.";
    chart.x.name = "spindle speed, rpm";
    chart.left = {
        .name = fmt::format("depth, {}", unit.name), .least = 0, .most = top / unit.metres};
    ChartColumn rpm{.name = "rpm"}, limit{.name = fmt::format("edge of chatter, {}", unit.name),
                                          .decimals = unit.depth_decimals};
    ChartColumn share{.name = "share of tries that chatter, %", .decimals = 1};
    ChartColumn level{.name = "level"}, reasons{.name = "because of"};
    for (std::size_t i = 0; i < pass.stability.speeds.size(); ++i) {
        const SpeedLimit& at = pass.stability.speeds[i];
        rpm.values.emplace_back(at.speed.rpm());
        limit.values.push_back(at.limit ? std::optional(*at.limit / unit.metres) : std::nullopt);
        limit.words.push_back(
            fmt::format("over {}", number_at(pass.stability.searched_to / unit.metres, 1)));
        const std::optional<double> odds =
            pass.odds ? unstable_at(*pass.odds, at.speed) : std::nullopt;
        share.values.push_back(odds ? std::optional(*odds * 100) : std::nullopt);
        const bool known = i < pass.speeds.size();
        level.words.emplace_back(known ? std::string(level_name(pass.speeds[i].level)) : "");
        reasons.words.push_back(known ? reasons_words(pass.speeds[i].reasons) : "");
    }
    chart.columns = {rpm, limit};
    chart.series = {{.column = 1,
                     .label = "edge of chatter",
                     .where_none = pass.stability.searched_to / unit.metres}};
    if (pass.odds) {
        chart.right = {.name = "share of tries that chatter, %", .least = 0, .most = 100};
        chart.columns.push_back(share);
        chart.series.push_back(
            {.column = 2, .label = "share of tries that chatter", .right = true});
    }
    chart.columns.insert(chart.columns.end(), {level, reasons});
    const double judged = pass.judged_speed.rpm(), depth = pass.judged_depth / unit.metres;
    const bool programmed = pass.programmed_speed.has_value();
    chart.marks.push_back({judged, depth, std::nullopt, programmed ? "programmed" : "judged"});
    if (pass.best) {
        chart.marks.push_back(
            {pass.best->speed.rpm(), pass.best->depth / unit.metres, std::nullopt, "best found"});
    }
    if (pass.odds && pass.odds->limit) {
        chart.marks.push_back({judged, pass.odds->limit->low / unit.metres,
                               pass.odds->limit->high / unit.metres,
                               "edge in 8 tries of 10, at that speed"});
        chart.note +=
            fmt::format(" At {} the edge of chatter lies between {} and {} in eight tries of ten.",
                        speed_text(pass.judged_speed), depth_text(pass.odds->limit->low, units),
                        depth_text(pass.odds->limit->high, units));
    }
    chart.levels.push_back({depth, "depth of this pass"});
    add_bands(chart, pass);
    fit_axis(chart);
    return chart;
}

Chart wall_over_speed_chart(const Job& job, const PassReport& pass, UnitSystem units) {
    const LengthUnit unit = unit_of(units);
    Chart chart;
    chart.title = "What is left on the wall, over the speed";
    chart.note = "Above nought: cut too deep; below: stock left. No line where the pass chatters.";
    chart.x.name = "spindle speed, rpm";
    chart.left.name = fmt::format("wall error, {}", unit.name);
    ChartColumn rpm{.name = "rpm"};
    ChartColumn error{.name = fmt::format("wall error, {}", unit.name),
                      .decimals = unit.error_decimals};
    ChartColumn fed{.name = fmt::format("with the push-off fed back, {}", unit.name),
                    .decimals = unit.error_decimals};
    ChartColumn vibration{.name = fmt::format("vibration, peak to peak, {}", unit.name),
                          .decimals = unit.error_decimals};
    const auto value = [&](const std::vector<std::optional<double>>& of, std::size_t i) {
        return i < of.size() && of[i] ? std::optional(*of[i] / unit.metres) : std::nullopt;
    };
    for (std::size_t i = 0; i < pass.surface.speed.size(); ++i) {
        rpm.values.emplace_back(pass.surface.speed[i].rpm());
        error.values.push_back(value(pass.surface.error, i));
        error.words.emplace_back("chatters");
        fed.values.push_back(value(pass.surface.fed_back, i));
        vibration.values.push_back(value(pass.surface.peak_to_peak, i));
    }
    chart.columns = {rpm, error, fed, vibration};
    chart.series = {{.column = 1, .label = "wall error"},
                    {.column = 2, .label = "with the push-off fed back"},
                    {.column = 3, .label = "vibration, peak to peak"}};
    chart.levels.push_back({0, "on size"});
    const Pass& cut = job.passes.at(pass.pass);
    if (cut.tolerance) {
        const double half = *cut.tolerance / 2 / unit.metres;
        chart.levels.push_back({half, "tolerance"});
        chart.levels.push_back({-half, "tolerance"});
    }
    fit_axis(chart);
    return chart;
}

Chart wall_over_height_chart(const PassReport& pass, UnitSystem units) {
    const LengthUnit unit = unit_of(units);
    Chart chart;
    chart.title = "What is left on the wall, along its height";
    chart.note =
        "To the right of nought: cut too deep; to the left: stock left. Slowly turning: by the "
        "mean "
        "force alone.";
    chart.x.name = fmt::format("wall error, {}", unit.name);
    chart.left = {.name = fmt::format("height above the tip, {}", unit.name), .least = 0};
    std::vector<double> heights = pass.surface.height;
    if (heights.size() < 3) heights = {0, pass.judged_depth / 2, pass.judged_depth};
    ChartColumn height{.name = chart.left.name, .decimals = unit.depth_decimals};
    ChartColumn slow{.name = fmt::format("slowly turning, {}", unit.name),
                     .decimals = unit.error_decimals};
    for (const double at : heights) height.values.emplace_back(at / unit.metres);
    slow.values.resize(heights.size());
    slow.values.front() = pass.statics.profile[0] / unit.metres;
    slow.values[heights.size() / 2] = pass.statics.profile[1] / unit.metres;
    slow.values.back() = pass.statics.profile[2] / unit.metres;
    chart.columns = {height, slow};
    chart.series = {{.column = 0, .over = 1, .label = "slowly turning"}};
    for (std::size_t i = 0; i < pass.surface.speed.size(); ++i) {
        const bool judged = std::abs(pass.surface.speed[i].rpm() - pass.judged_speed.rpm()) < 0.5;
        if (!judged || pass.surface.profile[i].size() != heights.size()) continue;
        ChartColumn turning{
            .name = fmt::format("at {}, {}", speed_text(pass.judged_speed), unit.name),
            .decimals = unit.error_decimals};
        for (const double error : pass.surface.profile[i]) {
            turning.values.emplace_back(error / unit.metres);
        }
        chart.columns.push_back(turning);
        chart.series.push_back({.column = 0, .over = 2, .label = "at the judged speed"});
        return chart;
    }
    chart.note += " At the judged speed it chatters, or was not looked at.";
    return chart;
}

std::optional<Chart> unknowns_chart(const PassReport& pass) {
    if (!pass.odds || pass.odds->influences.empty()) return std::nullopt;
    Chart chart;
    chart.title = "Which unknown the answer hangs on";
    chart.note = "The longest bar is worth measuring first.";
    chart.lying = true;
    chart.x = {.name = "share, %", .least = 0, .most = 100};
    ChartColumn name{.name = "unknown"}, share{.name = "share, %", .decimals = 1};
    for (const Influence& influence : pass.odds->influences) {
        if (name.words.size() == 8 || influence.share < 0.005) break;
        name.words.push_back(influence.group);
        share.values.emplace_back(influence.share * 100);
    }
    if (name.words.empty()) return std::nullopt;
    chart.columns = {name, share};
    chart.series = {{.column = 1, .label = "share of what is not known", .kind = SeriesKind::bars}};
    return chart;
}

Chart give_chart(const PassReport& pass) {
    Chart chart;
    chart.title = "Whose give it is";
    chart.note = "Share of each member in the push-off across the wall.";
    chart.lying = true;
    chart.x = {.name = "share of the push-off, %"};
    ChartColumn name{.name = "member"}, side{.name = "side"},
        share{.name = "share, %", .decimals = 1};
    std::vector<GiveShare> give = pass.statics.give;
    std::stable_sort(give.begin(), give.end(), [](const GiveShare& a, const GiveShare& b) {
        return std::abs(a.share) > std::abs(b.share);
    });
    for (const GiveShare& of : give) {
        name.words.push_back(of.member);
        share.values.emplace_back(of.share * 100);
        side.words.emplace_back(of.tool_side ? "tool" : "stack");
    }
    chart.columns = {name, share, side};
    chart.series = {{.column = 1, .label = "share of the push-off", .kind = SeriesKind::bars}};
    return chart;
}

namespace {

/// Frequencies that show every peak: evenly in the logarithm, and closely about the modes.
std::vector<double> shown_frequencies(const std::vector<const SolvedSide*>& sides, double fastest) {
    constexpr int kEven = 140;
    const double low = 20, high = std::max(5000.0, fastest);
    std::vector<double> hertz;
    for (int i = 0; i <= kEven; ++i) hertz.push_back(low * std::pow(high / low, i / double{kEven}));
    for (const SolvedSide* side : sides) {
        for (const ModalTerm& term : side->modal.terms) {
            const double peak = term.frequency.hertz();
            const double width = std::max(term.damping_ratio, 1e-4) * peak;
            for (const double away : {-3.0, -1.5, -0.7, 0.0, 0.7, 1.5, 3.0}) {
                const double at = peak + away * width;
                if (at > low && at < high) hertz.push_back(at);
            }
        }
    }
    std::sort(hertz.begin(), hertz.end());
    // Closer than a pixel tells nothing.
    std::vector<double> kept;
    for (const double at : hertz) {
        if (kept.empty() || at > kept.back() * 1.001) kept.push_back(at);
    }
    return kept;
}

}  // namespace

Chart receptance_chart(const Job& job, const PassReport& pass, UnitSystem units) {
    const Pass& cut = job.passes.at(pass.pass);
    const auto tool = tool_side_of(job, cut), work = work_side_of(job, cut);
    const CutReceptance axes =
        cut_receptance(*tool, *work, cut.tilt, cut.turn, pass.feed_heading.value_or(0));
    const double unit = units == UnitSystem::metric ? 1e-6 : 0.0254 / 4.4482216152605 * 1e-3;
    const char* name = units == UnitSystem::metric ? "um/N" : "0.001 in/lbf";
    Chart chart;
    chart.title = "Receptance across the wall";
    chart.note = fmt::format(
        "How far tip and part move for each unit of a force that swings at that frequency. The "
        "teeth pass at {} at the judged speed.",
        frequency_text(pass.tooth_passing_hertz));
    chart.x = {.name = "frequency, Hz", .logarithmic = true};
    chart.left = {.name = fmt::format("receptance, {}", name), .logarithmic = true};
    ChartColumn frequency{.name = "Hz", .decimals = 1},
        both{.name = fmt::format("both, {}", name), .decimals = 6};
    ChartColumn of_tool{.name = fmt::format("tool, {}", name), .decimals = 6};
    ChartColumn of_work{.name = fmt::format("part, {}", name), .decimals = 6};
    const double fastest =
        job.machine.fastest.revolutions_per_second() * job.tools[cut.tool].cutter.teeth;
    const auto add = [&](ChartColumn& column, std::complex<double> value) {
        const double size = std::abs(value) / unit;
        column.values.push_back(size > 1e-6 ? std::optional(size) : std::nullopt);
    };
    for (const double hertz : shown_frequencies({tool.get(), work.get()}, fastest)) {
        const auto at = AngularFrequency::from_hertz(hertz);
        const Eigen::Matrix3cd a = axes.axes_from_spindle.transpose() *
                                   receptance_by_poles(*tool, at) * axes.axes_from_spindle;
        const Eigen::Matrix3cd b = axes.axes_from_stack.transpose() *
                                   receptance_by_poles(*work, at) * axes.axes_from_stack;
        frequency.values.emplace_back(hertz);
        add(both, a(1, 1) + b(1, 1));
        add(of_tool, a(1, 1));
        add(of_work, b(1, 1));
    }
    chart.columns = {frequency, both, of_tool, of_work};
    chart.series = {{.column = 1, .label = "both"},
                    {.column = 2, .label = "tool"},
                    {.column = 3, .label = "part"}};
    return chart;
}

}  // namespace standfast

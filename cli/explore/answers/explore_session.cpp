#include "cli/explore/answers/explore_session.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <utility>

#include "cli/explore/answers/explore_drawing.hpp"
#include "cli/explore/answers/explore_words.hpp"
#include "cli/text/visible_text.hpp"
#include "fea/judgement/cut/sides.hpp"

namespace standfast {
namespace {

using Json = nlohmann::json;

Json optional_number(const std::optional<double>& value) { return value ? Json(*value) : Json(); }

ExploreSetting setting_of(const Json& json) {
    ExploreSetting setting{.pass = json.at("pass").get<std::size_t>(),
                           .riser_height = {},
                           .stickout = {},
                           .depth = json.at("depth_m").get<double>(),
                           .speed = SpindleSpeed::from_rpm(json.at("speed_rpm").get<double>())};
    const auto size = [&](const char* key) {
        const auto found = json.find(key);
        return found == json.end() || found->is_null() ? std::optional<double>()
                                                       : std::optional(found->get<double>());
    };
    setting.riser_height = size("riser_height_m");
    setting.stickout = size("stickout_m");
    return setting;
}

Json range_json(double value, const ExploreRange& range) {
    return {{"value_m", value}, {"least_m", range.least}, {"most_m", range.most}};
}

Json point_json(const Eigen::Vector2d& point) { return Json::array({point.x(), point.y()}); }

Eigen::Vector2d point_of(const Json& json) {
    return {json.at(0).get<double>(), json.at(1).get<double>()};
}

Json statics_json(const StaticResult& statics) { return {{"push_off_m", statics.error}}; }

Json limits_json(const std::vector<SpeedLimit>& limits) {
    Json speeds = Json::array(), edges = Json::array();
    for (const SpeedLimit& limit : limits) {
        speeds.push_back(limit.speed.rpm());
        edges.push_back(optional_number(limit.limit));
    }
    return {{"speed_rpm", speeds}, {"edge_m", edges}};
}

const char* step_name(ExploredAnswer::Step step) {
    switch (step) {
        case ExploredAnswer::Step::edge:
            return "edge";
        case ExploredAnswer::Step::level:
            return "level";
        case ExploredAnswer::Step::speeds:
            return "speeds";
        case ExploredAnswer::Step::done:
            break;
    }
    return "done";
}

Json modes_json(const std::vector<ReportedMode>& modes) {
    Json list = Json::array();
    for (const ReportedMode& mode : modes) {
        list.push_back(
            {{"frequency_hz", mode.frequency_hertz}, {"damping_ratio", mode.damping_ratio}});
    }
    return list;
}

Json receptances_json(const SolvedSide& side, const Json& hertz) {
    Json list = Json::array();
    for (const Json& one : hertz) {
        const Eigen::Matrix3cd value =
            receptance_of(side, AngularFrequency::from_hertz(one.get<double>()));
        Json entries = Json::array();
        for (const std::complex<double>& entry : value.reshaped()) {
            entries.push_back(entry.real());
            entries.push_back(entry.imag());
        }
        list.push_back(entries);
    }
    return list;
}

}  // namespace

/// The answers, one function a question.
class ExploreAnswers {
public:
    explicit ExploreAnswers(ExploreSession& session) : s_(session) {}

    Json to(const Json& question) {
        const std::string ask = question.at("ask").get<std::string>();
        if (ask == "start") return start();
        if (ask == "next") return next();
        const ExploreSetting setting = setting_of(question.at("setting"));
        if (ask == "drawing") return drawing(setting, question);
        if (ask == "quick") return quick(setting, question);
        if (ask == "judge") return judge(setting);
        if (ask == "job") return {{"toml", job_text(s_.input_, setting)}};
        if (ask == "numbers") return numbers(setting, question);
        throw std::domain_error("explore: \"" + ask + "\" is no question");
    }

private:
    const Job& job() const { return s_.explored_.job(); }

    Json start() {
        Json passes = Json::array();
        for (std::size_t i = 0; i < job().passes.size(); ++i) passes.push_back(pass_start(i));
        return {{"title", visible_text(job().title)},
                {"inch", s_.input_.units == UnitSystem::inch},
                {"draws", s_.input_.draws},
                {"passes", passes}};
    }

    Json pass_start(std::size_t index) {
        const Pass& pass = job().passes[index];
        const ExploreRanges ranges = explore_ranges(job(), pass);
        const ExploreSetting& begin = s_.input_.start.at(index).setting;
        Json json{{"name", visible_text(pass.name)},
                  {"tool", pass.tool},
                  {"riser", nullptr},
                  {"stickout", nullptr},
                  {"why_no_riser", ranges.why_no_riser},
                  {"why_no_stickout", ranges.why_no_stickout},
                  {"depth_m", begin.depth},
                  {"speed_rpm", begin.speed.rpm()},
                  {"slowest_rpm", job().machine.slowest.rpm()},
                  {"fastest_rpm", job().machine.fastest.rpm()}};
        if (ranges.riser_height) {
            const std::size_t riser = *riser_of(job(), pass);
            json["riser"] = range_json(job().stack.tiers[riser].height, *ranges.riser_height);
            json["riser"]["name"] = visible_text(job().stack.tiers[riser].name);
            json["riser"]["tier"] = riser;
        }
        if (ranges.stickout) {
            json["stickout"] =
                range_json(stickout_of(job().tools[pass.tool].cutter), *ranges.stickout);
        }
        return json;
    }

    Json drawing(const ExploreSetting& setting, const Json& question) {
        const Job changed = with_setting(job(), setting);
        std::optional<HeldView> held;
        if (const auto hold = question.find("hold"); hold != question.end() && !hold->is_null()) {
            held = HeldView{.box = {point_of(hold->at("low")), point_of(hold->at("high"))},
                            .gauge_line = point_of(hold->at("gauge_line")),
                            .tool_still = hold->value("still", "") == "tool"};
        }
        const ExploreDrawing drawn =
            explore_drawing(changed, drawn_pass(changed, setting, headings(setting, question)),
                            s_.input_.units, held);
        Json handles = Json::array();
        for (const ExploreHandle& handle : drawn.handles) {
            handles.push_back({{"turns", handle.turns},
                               {"at", point_json(handle.at)},
                               {"along", point_json(handle.along)}});
        }
        return {{"svg", drawn.svg},
                {"handles", handles},
                {"view",
                 {{"low", point_json(drawn.view.box.low)},
                  {"high", point_json(drawn.view.box.high)},
                  {"gauge_line", point_json(drawn.view.gauge_line)}}}};
    }

    Headings headings(const ExploreSetting& setting, const Json& question) {
        const auto said = question.find("headings");
        if (said == question.end() || said->is_null()) {
            return s_.input_.start.at(setting.pass).headings;
        }
        return {said->at(0).get<double>(), said->at(1).get<double>(), true};
    }

    Json quick(const ExploreSetting& setting, const Json& question) {
        const ExploredCut cut = s_.explored_.cut(setting, s_.input_.method);
        const Headings at = headings(setting, question);
        const QuickLook look = quick_look(cut, at, strip_speeds(*cut.job, setting));
        const PassReport report = quick_report(cut, at, look);
        Json json = limits_json(look.limits.speeds);
        json.update(statics_json(look.statics));
        json["searched_to_m"] = cut.problem.searched_to;
        json["deepest_m"] = deepest_setting(*cut.job, cut.problem.pass(), cut.problem.work->reach);
        json["sentence"] = edge_sentence(*cut.job, report, s_.input_.units);
        return json;
    }

    Json judge(const ExploreSetting& setting) {
        s_.judged_ = std::make_unique<ExploredAnswer>(
            s_.explored_.cut(setting, s_.input_.method),
            OddsOptions{.draws = s_.input_.draws, .seed = s_.input_.seed});
        return {{"begun", true}};
    }

    Json next() {
        if (!s_.judged_) throw std::domain_error("explore: nothing is being judged");
        const ExploredAnswer::Step step = s_.judged_->next();
        const PassReport& report = s_.judged_->report();
        const UnitSystem units = s_.input_.units;
        Json json{{"step", step_name(step)}, {"speeds_left", s_.judged_->speeds_left()}};
        if (step == ExploredAnswer::Step::edge) {
            json["headings"] = Json::array({*report.feed_heading, *report.error_heading});
            json["sentence"] = edge_sentence(s_.judged_->job(), report, units);
            json["edge_m"] = optional_number(report.at_programmed.limit);
            json["tool_modes"] = modes_json(report.tool_modes);
            json["work_modes"] = modes_json(report.work_modes);
            json.update(statics_json(report.statics));
        } else if (step == ExploredAnswer::Step::level) {
            json.update(level_json(s_.judged_->job(), report, units));
        } else if (step == ExploredAnswer::Step::speeds) {
            json.update(limits_json(report.stability.speeds));
            json.update(speeds_json(report));
        }
        return json;
    }

    static Json level_json(const Job& job, const PassReport& report, UnitSystem units) {
        const JudgedWords words = judged_words(job, report, units);
        Json json{
            {"level", words.level},       {"level_html", words.level_html},
            {"sentence", words.sentence}, {"more", words.more},
            {"caution", words.caution},   {"edge_m", optional_number(report.at_programmed.limit)}};
        json["share"] = report.odds ? Json(report.odds->at_judged) : Json();
        json["dots_html"] = words.dots_html;
        return json;
    }

    static Json speeds_json(const PassReport& report) {
        Json levels = Json::array(), reasons = Json::array(), shares = Json::array(),
             offered = Json::array();
        for (const SpeedLevel& speed : report.speeds) {
            const SpeedWords words = speed_words(speed);
            levels.push_back(words.level);
            reasons.push_back(words.reasons);
            offered.push_back(speed.offered);
            shares.push_back(report.odds ? optional_number(unstable_at(*report.odds, speed.speed))
                                         : Json());
        }
        return {{"level", levels}, {"reasons", reasons}, {"share", shares}, {"offered", offered}};
    }

    Json numbers(const ExploreSetting& setting, const Json& question) {
        const ExploredCut cut = s_.explored_.cut(setting, s_.input_.method);
        const Headings headings = headings_of(cut.problem);
        std::vector<SpindleSpeed> speeds;
        for (const Json& rpm : question.at("speeds_rpm")) {
            speeds.push_back(SpindleSpeed::from_rpm(rpm.get<double>()));
        }
        Json json = limits_json(limits_at_heading(cut.problem, headings.stability, speeds).speeds);
        json["tool_modes"] = modes_json(reported_modes(*cut.problem.tool, 12));
        json["work_modes"] = modes_json(reported_modes(*cut.problem.work, 12));
        json["tool_receptance"] = receptances_json(*cut.problem.tool, question.at("hertz"));
        json["work_receptance"] = receptances_json(*cut.problem.work, question.at("hertz"));
        return json;
    }

    ExploreSession& s_;
};

ExploreSession::ExploreSession(ExploreInput input)
    : input_(std::move(input)), explored_(input_.job) {}

std::string ExploreSession::answer(std::string_view question) {
    constexpr auto kReplaced = Json::error_handler_t::replace;
    try {
        return ExploreAnswers(*this).to(Json::parse(question)).dump(-1, ' ', false, kReplaced);
    } catch (const std::exception& error) {
        return Json{{"error", visible_text(error.what())}}.dump(-1, ' ', false, kReplaced);
    }
}

}  // namespace standfast

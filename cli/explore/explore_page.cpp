#include "cli/explore/explore_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/explore/explore_assets.hpp"
#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/page/assets.hpp"
#include "cli/page/level_markup.hpp"
#include "cli/page/markup.hpp"
#include "cli/page/page_file.hpp"
#include "cli/report/check/verdict_text.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/given_words.hpp"

namespace standfast {
namespace {

std::string hex(std::string_view bytes) {
    std::string out;
    out.reserve(2 * bytes.size());
    for (const char byte : bytes) {
        out += fmt::format("{:02x}", static_cast<unsigned char>(byte));
    }
    return out;
}

std::string as_it_stands(const ExploreInput& input, const JobReport& report) {
    std::string out;
    for (const PassReport& pass : report.passes) {
        out += fmt::format("<p>{} {}{}</p>\n", level_html(pass.verdict.level, pass.holding.judged),
                           report.passes.size() > 1 ? html(pass.name + ": ") : "",
                           html(verdict_text(input.job, pass, input.units)));
    }
    return out;
}

std::string pass_field(const Job& job) {
    if (job.passes.size() < 2) return "";
    std::string out = "<label class=field>Pass <select id=field-pass>";
    for (std::size_t i = 0; i < job.passes.size(); ++i) {
        out += fmt::format("<option value={}>{}</option>", i, html(job.passes[i].name));
    }
    return out + "</select></label>\n";
}

std::string size_field(std::string_view id, std::string_view name, std::string_view unit) {
    return fmt::format(
        "<label class=field><span id=name-{0}>{1}</span> <span class=entry><input id=field-{0} "
        "type=number step=any inputmode=decimal aria-describedby=why-{0}> {2}</span><small "
        "id=why-{0}></small></label>\n",
        id, name, unit);
}

std::string fields(const ExploreInput& input) {
    const std::string_view unit = input.units == UnitSystem::inch ? "in" : "mm";
    return "<form class=fields onsubmit=\"return false\">\n" + pass_field(input.job) +
           size_field("riser", "Riser", unit) + size_field("stickout", "Stickout", unit) +
           size_field("depth", "Depth of cut", unit) + size_field("speed", "Speed", "rpm") +
           "<p class=buttons><button type=button id=reset>As in the job</button> <button "
           "type=button id=copy>Copy as job</button> <span id=copied role=status></span></p>\n"
           "</form>\n";
}

constexpr std::string_view kPatterns =
    "<svg class=store aria-hidden=true><defs><pattern id=flutes width=6 height=6 "
    "patternUnits=userSpaceOnUse><path d=\"M0 6L6 0\"/></pattern>"
    "<pattern id=beyond class=lines width=7 height=7 patternUnits=userSpaceOnUse><path d=\"M0 7L7 "
    "0\"/></pattern>"
    "<pattern id=dense class=lines width=4 height=4 patternUnits=userSpaceOnUse><path d=\"M0 4L4 "
    "0M0 0L4 4\"/></pattern>"
    "<pattern id=light class=lines width=7 height=7 patternUnits=userSpaceOnUse><path d=\"M0 0L7 "
    "7\"/></pattern></defs></svg>\n";

constexpr std::string_view kStrip =
    "<figure class=chart><figcaption>How deep at which speed</figcaption>\n"
    "<svg id=strip tabindex=0 role=slider aria-label=\"Edge of chatter over the spindle "
    "speed\"></svg>\n"
    "<p id=readout class=note></p>\n"
    "<p class=key><svg class=swatch aria-hidden=true><rect class=beyond width=26 "
    "height=14></rect></svg> deeper than the edge of chatter "
    "<svg class=swatch aria-hidden=true><path class=\"edge averaged\" d=\"M0 7H26\"/></svg> edge, "
    "averaged <svg class=swatch aria-hidden=true><path class=edge d=\"M0 7H26\"/></svg> edge "
    "<svg class=swatch aria-hidden=true><line class=taken x1=0 x2=26 y1=7 y2=7></line></svg> this "
    "cut; by the tries: <svg class=swatch aria-hidden=true><rect class=\"cell avoid\" width=26 "
    "height=14></rect></svg> avoid <svg class=swatch aria-hidden=true><rect class=\"cell "
    "marginal\" width=26 height=14></rect></svg> marginal <svg class=swatch aria-hidden=true><rect "
    "class=\"cell unflagged\" width=26 height=14></rect></svg> nothing flagged of what depends on "
    "the speed; only at speeds that may be run</p>\n";

std::string strip_table(std::string_view unit) {
    return fmt::format(
        "<details><summary>The same numbers</summary><div class=\"wide same\"><table "
        "class=numbers><thead><tr><th scope=col>Speed, rpm</th><th scope=col>Edge of chatter, "
        "{}</th><th scope=col>By</th><th scope=col>Tries that chatter, %</th><th "
        "scope=col>Level</th><th scope=col>Reasons</th></tr></thead><tbody "
        "id=strip-rows></tbody></table></div></details></figure>\n",
        unit);
}

std::string ending() {
    std::string out =
        "<h2>Not looked at here</h2>\n<ul><li>Whether tool, holder and spindle still clear at "
        "another height or stickout: copy the job and run check.</li>"
        "<li>What would help, best speed, the wall over the speeds: the same.</li></ul>\n"
        "<h2>Cautions</h2>\n<ul>\n";
    for (const std::string& caution : cautions()) {
        out += fmt::format("<li>{}</li>\n", html(caution));
    }
    return out + "</ul>\n<details><summary>About this page</summary><p>Written by standfast " +
           STANDFAST_VERSION +
           ". It carries the program's own computing core and asks nothing of any other computer. "
           "While something is dragged the edge of chatter is the averaged one, in the middle of "
           "the cut's depth and without the rubbing of the flank; at rest it is that of the delay "
           "equation itself, and the level is "
           "judged by the same tries as in check. The address keeps what is set: it can be sent "
           "together with this file.</p></details>\n";
}

std::string body(const ExploreInput& input, const JobReport& report) {
    const std::string_view unit = input.units == UnitSystem::inch ? "in" : "mm";
    return fmt::format("<h1>{}</h1>\n<div class=bench>\n", html(report.title)) +
           "<figure class=\"drawing stage\"><div id=stage><div id=picture></div><svg "
           "id=handles></svg></div><figcaption>To scale. Drag the bar at the riser's top, the "
           "triangle at the cutter's tip, the diamond at the end of the cut; or give them the "
           "focus and use the arrow keys.</figcaption></figure>\n"
           "<div class=\"verdict answer\"><p id=level></p><p id=sentence role=status></p><div "
           "id=more></div><p id=caution class=note></p><p id=state class=note>Starting to "
           "compute.</p><noscript><p>This page computes "
           "by a script, which is switched off here.</p></noscript></div>\n<div class=over>" +
           std::string(kStrip) + strip_table(unit) + "</div>\n" + fields(input) + "</div>\n" +
           "<details id=job-box><summary>The job with these sizes</summary><textarea id=job-text "
           "rows=16 readonly spellcheck=false aria-label=\"The job with these "
           "sizes\"></textarea></details>\n<h2>The job as it stands</h2>\n"
           "<p class=note>As check judges it, reach included.</p>\n" +
           as_it_stands(input, report) + ending();
}

}  // namespace

std::string explore_page(const ExploreInput& input, const JobReport& report, std::size_t first) {
    const ExploreAssets& own = explore_assets();
    const nlohmann::json payload{
        {"schema", "standfast.explore/1"}, {"pass", first}, {"input", hex(packed_input(input))}};
    std::string page = fmt::format(
        "<html lang=en><head><meta charset=utf-8><meta name=viewport "
        "content=\"width=device-width, initial-scale=1\">\n<meta name=color-scheme content=\"light "
        "dark\"><meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
        "script-src 'unsafe-inline' 'wasm-unsafe-eval'; worker-src blob:; style-src "
        "'unsafe-inline'; img-src data:\">\n<title>{}</title>\n<style>\n",
        html(report.title));
    page += page_assets().style;
    page += own.style;
    page += "</style></head><body class=explore>\n";
    page += kPatterns;
    page += "<main>\n" + body(input, report) + "</main>\n";
    page += "<script type=\"application/json\" id=payload>" + json_in_script(payload.dump()) +
            "</script>\n<script type=\"text/plain\" id=core>";
    page += explore_core();
    page += "</script>\n<script id=core-script>\n";
    page += own.core_script;
    page += "</script>\n<script type=\"text/plain\" id=worker-script>\n";
    page += own.worker_script;
    page += "</script>\n<script>\n";
    page += own.script;
    page += "</script></body></html>\n";
    return page_file(page);
}

void require_explore_page_can_be_written(const std::string& path, bool force) {
    if (explore_core().empty()) {
        throw UsageError(
            "--explore: this program was built without the core that computes in a page; it needs "
            "emscripten and -DSTANDFAST_EXPLORE=ON (the Debian package made by package_deb has it "
            "where emscripten is installed)");
    }
    require_page_file_can_be_written("--explore", path, force);
}

void write_explore_page(const std::string& path, const std::string& page, bool force) {
    require_explore_page_can_be_written(path, force);
    write_file(path, page);
}

}  // namespace standfast

#include "cli/page/page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/page/assets.hpp"
#include "cli/page/markup.hpp"
#include "cli/page/page_file.hpp"
#include "cli/text/visible_text.hpp"

namespace standfast {
namespace {

std::string payload(const std::string& title, const std::vector<std::string>& charts) {
    const std::string name = nlohmann::json(visible_text(title)).dump();
    std::string json = fmt::format(R"({{"schema":"standfast.page/1","title":{},"charts":[)", name);
    for (std::size_t i = 0; i < charts.size(); ++i) json += (i == 0 ? "\n" : ",\n") + charts[i];
    return json_in_script(json + "]}");
}

}  // namespace

void ReportPage::add(const Chart& chart) {
    const std::string id = fmt::format("chart-{}", charts_.size() + 1);
    body_ += chart_html(chart, id);
    charts_.push_back(chart_json(chart, id));
}

void ReportPage::heading(int rank, const std::string& text) {
    body_ += fmt::format("<h{0}>{1}</h{0}>\n", rank, html(text));
}

void ReportPage::paragraph(const std::string& text) {
    body_ += fmt::format("<p>{}</p>\n", html(text));
}

void ReportPage::list(const std::vector<std::string>& items) {
    body_ += "<ul>\n";
    for (const std::string& item : items) body_ += fmt::format("<li>{}</li>\n", html(item));
    body_ += "</ul>\n";
}

void ReportPage::folded(const std::string& summary, const std::vector<std::string>& items) {
    body_ += fmt::format("<details><summary>{}</summary>\n", html(summary));
    list(items);
    body_ += "</details>\n";
}

std::string ReportPage::text() const {
    const PageAssets& assets = page_assets();
    std::string rest = fmt::format(
        "<html lang=en><head><meta charset=utf-8><meta name=viewport "
        "content=\"width=device-width, initial-scale=1\">\n<meta name=color-scheme content=\"light "
        "dark\"><meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
        "script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:\">\n"
        "<title>{}</title>\n<style>\n",
        html(title_));
    rest += assets.style;
    rest +=
        "</style></head><body>\n<svg class=store aria-hidden=true><defs><pattern id=flutes width=6 "
        "height=6 patternUnits=userSpaceOnUse><path d=\"M0 6L6 "
        "0\"/></pattern></defs></svg>\n<main>\n" +
        body_;
    rest += fmt::format(
        "<details><summary>About this page</summary><p>Written by standfast " STANDFAST_VERSION
        ". It asks nothing of any other computer. Its charts are drawn by Chart.js, whose licence "
        "is this:</p>\n<pre>{}</pre></details>\n</main>\n",
        [&] {
            std::string lines;
            for (std::string_view left = assets.chart_licence; !left.empty();) {
                const std::size_t end = std::min(left.find('\n'), left.size());
                lines += html(left.substr(0, end)) + "\n";
                left.remove_prefix(std::min(end + 1, left.size()));
            }
            return lines;
        }());
    rest += "<script type=\"application/json\" id=payload>" + payload(title_, charts_) +
            "</script>\n<script>";
    rest += assets.chart_script;
    rest += "</script>\n<script>\n";
    rest += assets.script;
    rest += "</script></body></html>\n";
    return page_file(rest);
}

void require_page_can_be_written(const std::string& path, bool force) {
    if (page_assets().chart_script.empty()) {
        throw UsageError(
            "--report: this program was built without Chart.js, which draws the charts; install "
            "libjs-chart.js and build again");
    }
    require_page_file_can_be_written("--report", path, force);
}

void write_page(const std::string& path, const ReportPage& page, bool force) {
    require_page_can_be_written(path, force);
    write_file(path, page.text());
}

}  // namespace standfast

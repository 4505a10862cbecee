#pragma once

#include <nlohmann/json.hpp>
#include <regex>
#include <string>
#include <vector>

namespace standfast::tests {

// What a browser would see of a page, as far as the tests ask.

inline std::string between(const std::string& text, const std::string& from, const std::string& to,
                           std::size_t start = 0) {
    const std::size_t begin = text.find(from, start);
    if (begin == std::string::npos) return {};
    const std::size_t end = text.find(to, begin + from.size());
    return text.substr(begin + from.size(), end - begin - from.size());
}

/// Everything but Chart.js and its licence: what we wrote.
inline std::string own_part(std::string page) {
    const std::size_t licence = page.find("<pre>");
    page.erase(licence, page.find("</pre>", licence) + 6 - licence);
    const std::size_t payload = page.find("id=payload>");
    const std::size_t chart = page.find("<script>", payload);
    page.erase(chart, page.find("</script>", chart) + 9 - chart);
    return page;
}

inline nlohmann::json payload_of(const std::string& page) {
    return nlohmann::json::parse(between(page, "id=payload>", "</script>"));
}

/// The cells of a chart's table, row by row; no row where there is no such table.
inline std::vector<std::vector<std::string>> table_of(const std::string& page,
                                                      const std::string& id) {
    std::vector<std::vector<std::string>> rows;
    const std::size_t figure = page.find("<figure class=chart id=" + id + ">");
    if (figure == std::string::npos) return rows;
    const std::string whole = page.substr(figure, page.find("</figure>", figure) - figure);
    std::string body = between(whole, "<tbody>\n", "</tbody>");
    while (!body.empty()) {
        const std::string row = body.substr(0, body.find('\n'));
        body.erase(0, row.size() + 1);
        std::vector<std::string> cells;
        for (std::size_t at = row.find("<td>"); at != std::string::npos;) {
            const std::size_t next = row.find("<td>", at + 4);
            cells.push_back(row.substr(at + 4, next == std::string::npos ? next : next - at - 4));
            at = next;
        }
        rows.push_back(cells);
    }
    return rows;
}

/// Tags that must be closed and are not, or the other way round; empty: none.
inline std::string unbalanced(const std::string& page) {
    std::string found;
    for (const std::string tag :
         {"main", "figure", "details", "summary", "table", "div", "ul", "ol", "svg", "span",
          "thead", "tbody", "script", "style", "h2", "h3"}) {
        const auto count = [&](const std::string& pattern) {
            const std::regex expression(pattern);
            return std::distance(std::sregex_iterator(page.begin(), page.end(), expression),
                                 std::sregex_iterator());
        };
        if (count("<" + tag + "[ >]") != count("</" + tag + ">")) found += tag + " ";
    }
    return found;
}

}  // namespace standfast::tests

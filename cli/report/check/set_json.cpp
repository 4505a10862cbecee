#include "cli/report/check/set_json.hpp"

#include <nlohmann/json.hpp>

#include "cli/report/common/edit_lines.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;

Json value_json(const EditLine& line, UnitSystem units) {
    if (line.value.size() > 1) {
        Json list = Json::array();
        for (const double value : line.value) {
            list.push_back(exact_text(value, line.quantity, units));
        }
        return list;
    }
    const bool bare = line.text.empty() && line.quantity == Quantity::number;
    return bare ? Json(line.value.front()) : Json(line_value(line, units));
}

}  // namespace

Json set_json(const Job& job, const std::vector<Edit>& edits, UnitSystem units) {
    Json set = Json::object();
    for (const EditLine& line : edit_lines(job, edits)) set[line.path] = value_json(line, units);
    return set;
}

}  // namespace standfast

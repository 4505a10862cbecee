#include "cli/job/keys/job_keys.hpp"

#include <algorithm>
#include <iterator>
#include <stdexcept>
#include <string>

namespace standfast {

const std::vector<TableKeys>& job_tables() {
    static const std::vector<TableKeys> tables = [] {
        std::vector<TableKeys> all;
        for (const auto& part : {root_tables, machine_tables, stack_tables, tool_tables,
                                 pass_tables, data_tables, study_tables, measured_tables}) {
            std::ranges::move(part(), std::back_inserter(all));
        }
        return all;
    }();
    return tables;
}

const TableKeys& job_table(std::string_view name) {
    const auto found = std::ranges::find(job_tables(), name, &TableKeys::name);
    if (found == job_tables().end()) {
        throw std::domain_error("job keys: there is no table \"" + std::string(name) + "\"");
    }
    return *found;
}

std::vector<Key> joined(std::vector<Key> keys, const std::vector<Key>& more) {
    keys.insert(keys.end(), more.begin(), more.end());
    return keys;
}

std::vector<Key> section_keys() {
    return {{"round", form::length(), "diameter of a round section"},
            {"tube", form::list(form::length(), 2, 2), "outside diameter, bore"},
            {"block", form::list(form::length(), 2, 2), "x, y of a solid section"},
            {"box", form::list(form::length(), 3, 3), "x, y, wall of a hollow section"},
            {"section", form::table("section"), "any other section by its constants"}};
}

std::vector<Key> spring_keys(bool tool_side) {
    std::vector<Key> keys{
        {"lateral", form::one_or_two(Quantity::stiffness), "sideways, one value or x and y"},
        {"vertical", form::quantity({Quantity::stiffness}), "along the axis"},
        {"tilting", form::one_or_two(Quantity::angular_stiffness),
         "against tilting, one value or about x and about y"},
        {"twisting", form::quantity({Quantity::angular_stiffness}), "about the axis"},
        {"loss", form::fraction(0, 2), "loss factor: its damping"}};
    if (tool_side) {
        keys.push_back({"axial", form::quantity({Quantity::stiffness}), "the same as vertical"});
    }
    return keys;
}

std::vector<TableKeys> root_tables() {
    return {{"",
             "",
             "A job for standfast: the stack from the table up, the tools, the passes",
             {{"title", form::text(), "what the job is called"},
              {"use", form::either({form::text(), form::list(form::text(), 0, 64)}),
               "shop-wide files to read first, from the folder of this one"},
              {"machine", form::table("machine"), ""},
              {"tier", form::tables("tier"), "the stack, from the table up"},
              {"tool", form::tables("tool"), ""},
              {"pass", form::tables("pass"), "the cuts to check"},
              {"stack", form::table("stack"), ""},
              {"support", form::tables("support"), "tailstocks, jacks and other props"},
              {"material", form::named(form::table("material")), "materials of the job's own"},
              {"cutting", form::named(form::table("cutting")), "cutting data of the job's own"},
              {"limits", form::table("limits"), ""},
              {"uncertainty", form::table("uncertainty"), ""},
              {"riser", form::tables("riser"), "the shelf that a trade picks from"},
              {"holder", form::tables("holder"), "holders on the shelf that a trade picks from"},
              {"trade", form::table("trade"), ""},
              {"measured", form::tables("measured"), "what was measured at the machine, for fit"},
              {"adjust", form::named(form::table("adjust")),
               "what fit found: factors on joints, by tier, tool, support or machine"},
              {"measured_on", form::table("measured_on"), ""},
              {"together", form::table("together"), ""}}},
            {"section",
             "",
             "A section by its constants",
             {{"area", form::quantity({Quantity::area}), "", true},
              {"ix", form::quantity({Quantity::second_moment}), "about x", true},
              {"iy", form::quantity({Quantity::second_moment}), "about y", true},
              {"torsion", form::quantity({Quantity::second_moment}), "torsion constant", true}}},
            {"mode",
             "",
             "A vibration mode as tapped",
             {{"direction", form::direction(), "along which it moves", true},
              {"frequency", form::quantity({Quantity::frequency}), "", true},
              {"damping", form::fraction(0, 0.99, true), "damping ratio", true},
              {"mass", form::quantity({Quantity::mass}), "modal mass; or stiffness"},
              {"stiffness", form::quantity({Quantity::stiffness}), "modal stiffness; or mass"}},
             {{"mass"}, {"stiffness"}}}};
}

}  // namespace standfast

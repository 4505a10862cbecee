#include "cli/job/measured_receptance.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <filesystem>
#include <stdexcept>

#include "cli/job/measured_place.hpp"
#include "cli/job/read_quantity.hpp"
#include "cli/uff/measurement_error.hpp"
#include "cli/uff/read_receptance.hpp"
#include "fea/studies/measured_tip.hpp"

namespace standfast {

ReceptanceTest read_receptance_test(TableReader& table) {
    ReceptanceTest test;
    test.place = read_place(table, read_where(table), {});
    test.direction = required_direction(table);
    table.require("file", "a file name");
    const std::string column =
        table.text("column", "a column's name or a record's number").value_or("");
    const auto name = table.text("file", "a file name");
    if (!name) {
        return test;
    }
    test.file = *name;
    const Position where = table.place("file");
    const std::filesystem::path folder =
        where.file ? std::filesystem::path(where.file->name).parent_path() : "";
    try {
        MeasuredReceptance read = read_receptance((folder / *name).string(), column);
        test.frequency = std::move(read.frequency);
        test.receptance = std::move(read.receptance);
    } catch (const MeasurementError& error) {
        table.fail(where, fmt::format("{}: {}", table.call("file"), error.what()),
                   "a universal file (dataset 58) or CSV with frequency, real and imaginary part");
    }
    return test;
}

std::optional<Replacement> read_replacement(TableReader& table, const ReceptanceTest& test) {
    const std::string accepted = R"("adjust" (the joints; unless said) or "replace" (the tool))";
    const std::string use = table.text("use", accepted).value_or("adjust");
    const auto stickout = quantity(table, "stickout", Quantity::length, kToolSize);
    if (use != "adjust" && use != "replace") {
        table.reject("use", *table.find("use"), accepted);
    }
    if (use != "replace") {
        if (stickout) {
            table.fail(
                table.place("stickout"),
                fmt::format("{} is given, but the tool is not replaced", table.call("stickout")),
                R"(a stickout beside use = "replace")");
        }
        return std::nullopt;
    }
    if (!test.place.tool || test.place.at.norm() > 1e-6) {
        table.fail(table.place("use"),
                   fmt::format("{} is \"replace\" away from a tool's tip", table.call("use")),
                   "where = the name of a tool, and its tip as the place");
        return std::nullopt;
    }
    return Replacement{*test.place.tool, test, stickout, table.place("file")};
}

void replace_tools(Reading& reading, const std::vector<Replacement>& replacements) {
    for (const Replacement& one : replacements) {
        ToolChain& tool = reading.job.tools[one.tool];
        const bool alone = std::ranges::count(replacements, one.tool, &Replacement::tool) == 1;
        try {
            // Earlier directions stand as modes already; the chain itself is what carries over.
            ToolChain chain = tool;
            chain.modes.clear();
            std::vector<MeasuredMode> modes =
                tip_modes(reading.job.machine, chain, one.test, one.stickout);
            if (alone) {
                const std::vector<MeasuredMode> along = modes;
                for (MeasuredMode mode : along) {
                    mode.direction = Eigen::Vector3d::UnitZ().cross(mode.direction).normalized();
                    modes.push_back(mode);
                }
                assume_text(reading, named_path("tool", tool.name),
                            "measured along one direction: taken across it as well", one.test.file);
            }
            tool.modes.insert(tool.modes.end(), modes.begin(), modes.end());
        } catch (const std::domain_error& error) {
            fail(reading, {.where = one.where, .message = error.what()});
        }
    }
}

}  // namespace standfast

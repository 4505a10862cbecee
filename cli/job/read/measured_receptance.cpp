#include "cli/job/read/measured_receptance.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>

#include "cli/job/read/measured_place.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "cli/uff/measurement_error.hpp"
#include "cli/uff/read_receptance.hpp"
#include "fea/studies/fit/measured_tip.hpp"

namespace standfast {

namespace {

constexpr std::array<std::string_view, 4> kAxes{"none", "x", "y", "z"};

std::string axis_words(int direction) {
    return fmt::format("{}{}", direction < 0 ? "-" : "+",
                       kAxes.at(static_cast<std::size_t>(std::abs(direction))));
}

/// What a universal file says of where it was felt and struck, against what the job says: opposite
/// senses are turned and said; another line than the job's, or a cross measurement, is a fault.
void compare_directions(TableReader& table, MeasuredReceptance& read, ReceptanceTest& test) {
    const int response = read.response_direction, reference = read.reference_direction;
    if (response == 0 && reference == 0) {
        return;
    }
    const Position where = table.place("file");
    const int felt = response != 0 ? response : reference;
    const int struck = reference != 0 ? reference : response;
    if (std::abs(felt) > 3 || std::abs(struck) > 3) {
        table.fail(
            where,
            fmt::format("{}: felt or struck about an axis, not along one", table.call("file")),
            "a displacement per force");
        return;
    }
    if (std::abs(felt) != std::abs(struck)) {
        table.fail(where,
                   fmt::format("{}: felt along {}, struck along {}", table.call("file"),
                               axis_words(felt), axis_words(struck)),
                   "felt where and along the line that it was struck");
        return;
    }
    const double sense = felt == struck ? 1 : -1;
    if (sense < 0) {
        test.remarks.push_back(
            fmt::format("its file says felt along {}, struck along {}: its sign is turned",
                        axis_words(felt), axis_words(struck)));
        for (std::complex<double>& value : read.receptance) value = -value;
    }
    const Eigen::Vector3d axis = Eigen::Vector3d::Unit(std::abs(felt) - 1);
    constexpr double kAlong = 0.9;
    if (std::abs(axis.dot(test.direction.normalized())) < kAlong) {
        test.remarks.push_back(fmt::format(
            "its file says it was measured along {}, the job along another line: the job is taken; "
            "if the file used the same axes, one of them is wrong",
            axis_words(felt)));
    }
}

}  // namespace

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
    const std::string path = (folder / *name).string();
    table.reading().measurements.push_back(path);
    try {
        MeasuredReceptance read = read_receptance(path, column);
        test.frequency = std::move(read.frequency);
        compare_directions(table, read, test);
        test.receptance = std::move(read.receptance);
        test.coherence = std::move(read.coherence);
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

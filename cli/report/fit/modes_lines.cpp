#include "cli/report/fit/modes_lines.hpp"

#include <fmt/format.h>

#include <array>

namespace standfast {

std::string direction_text(const Eigen::Vector3d& direction) {
    constexpr std::array<const char*, 3> kAxes{"x", "y", "z"};
    for (Eigen::Index axis = 0; axis < 3; ++axis) {
        const Eigen::Vector3d unit = Eigen::Vector3d::Unit(axis);
        for (const double sign : {1.0, -1.0}) {
            if ((direction - sign * unit).norm() < 1e-9) {
                return fmt::format("\"{}{}\"", sign < 0 ? "-" : "",
                                   kAxes.at(static_cast<std::size_t>(axis)));
            }
        }
    }
    return fmt::format("[{:.6g}, {:.6g}, {:.6g}]", direction.x(), direction.y(), direction.z());
}

std::string modes_lines(const std::vector<FittedDirection>& directions) {
    std::string text;
    for (const FittedDirection& one : directions) {
        text += fmt::format("# {}: {} mode{}, {:.2g} % of the receptance is not in them\n",
                            one.source, one.fit.terms.size(), one.fit.terms.size() == 1 ? "" : "s",
                            one.fit.misfit * 100);
        for (const std::string& warning : one.fit.warnings) {
            text += fmt::format("# {}\n", warning);
        }
    }
    text += "modes = [\n";
    for (const FittedDirection& one : directions) {
        for (const FittedMode& mode : one.fit.terms) {
            text += fmt::format(
                "  {{ direction = {}, frequency = \"{:.6g} Hz\", damping = {:.4g}, mass = "
                "\"{:.6g} kg\" }},\n",
                one.direction, mode.frequency.hertz(), mode.damping_ratio, 1 / mode.residue);
        }
    }
    return text + "]\n";
}

}  // namespace standfast

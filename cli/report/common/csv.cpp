#include "cli/report/common/csv.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <map>

#include "cli/report/common/words.hpp"

namespace standfast {
namespace {

struct Component {
    std::string_view name;
    int row, column;
};
constexpr std::array<Component, 6> kComponents = {
    {{"xx", 0, 0}, {"yy", 1, 1}, {"zz", 2, 2}, {"xy", 0, 1}, {"xz", 0, 2}, {"yz", 1, 2}}};

/// Shortest text that reads back to the same number; none where it is not finite.
std::string field(double value) { return std::isfinite(value) ? fmt::format("{}", value) : ""; }

std::string field(const std::optional<double>& value) { return value ? field(*value) : ""; }

void append_matrix(std::string& line, const Eigen::Matrix3cd& matrix) {
    for (const Component& component : kComponents) {
        const std::complex<double> value = matrix(component.row, component.column);
        line += "," + field(value.real()) + "," + field(value.imag());
    }
}

std::string receptance_header() {
    std::string header = "frequency_hz";
    for (const std::string_view side : {"tool", "work", "relative"}) {
        for (const Component& component : kComponents) {
            header += fmt::format(",{0}_{1}_re,{0}_{1}_im", side, component.name);
        }
    }
    return header;
}

std::string joined(const std::vector<Reason>& reasons) {
    std::string text;
    for (const Reason reason : reasons) {
        text += fmt::format("{}{}", text.empty() ? "" : "; ", reason_name(reason));
    }
    return text;
}

/// Rounded in the 12th digit: 9000 rpm kept in rad/s comes back a hair off.
std::string rpm_field(SpindleSpeed speed) { return fmt::format("{:.12g}", speed.rpm()); }

/// Position by speed, since judged, stability and error columns each carry their own speeds.
template <typename Range, typename Speed>
std::map<double, std::size_t> by_speed(const Range& range, const Speed& speed) {
    std::map<double, std::size_t> index;
    for (std::size_t i = 0; i < range.size(); ++i) {
        index[speed(range[i])] = i;
    }
    return index;
}

template <typename Index>
std::optional<std::size_t> position(const Index& index, SpindleSpeed speed) {
    const auto found = index.find(speed.radians_per_second);
    return found == index.end() ? std::nullopt : std::optional<std::size_t>(found->second);
}

}  // namespace

std::string receptance_csv(const ReceptanceTable& table) {
    std::string text = receptance_header() + "\n";
    for (std::size_t i = 0; i < table.frequency_hertz.size(); ++i) {
        text += field(table.frequency_hertz[i]);
        append_matrix(text, table.tool[i]);
        append_matrix(text, table.work[i]);
        append_matrix(text, table.relative(i));
        text += "\n";
    }
    return text;
}

std::string speeds_csv(const PassReport& pass) {
    const auto limits = by_speed(pass.stability.speeds, [](const SpeedLimit& limit) {
        return limit.speed.radians_per_second;
    });
    const auto errors =
        by_speed(pass.surface.speed, [](SpindleSpeed speed) { return speed.radians_per_second; });
    std::string text = "rpm,level,reasons,offered,limit_m,kind,chatter_hz,error_m,peak_to_peak_m\n";
    for (const SpeedLevel& speed : pass.speeds) {
        const auto at_limit = position(limits, speed.speed);
        const SpeedLimit limit = at_limit ? pass.stability.speeds[*at_limit] : SpeedLimit{};
        const auto at_error = position(errors, speed.speed);
        text += fmt::format(
            "{},{},{},{},{},{},{},{},{}\n", rpm_field(speed.speed), level_name(speed.level),
            joined(speed.reasons), speed.offered ? "true" : "false", field(limit.limit),
            limit.kind ? chatter_kind_name(*limit.kind) : "", field(limit.chatter_hertz),
            at_error ? field(pass.surface.error.at(*at_error)) : "",
            at_error ? field(pass.surface.peak_to_peak.at(*at_error)) : "");
    }
    return text;
}

}  // namespace standfast

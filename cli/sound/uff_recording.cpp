#include "cli/sound/uff_recording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "cli/uff/measurement_error.hpp"
#include "cli/uff/read_uff.hpp"

namespace standfast {
namespace {

constexpr double kLongestStep = 1.0 / 500;

bool is_over_time(const FunctionRecord& record) {
    return record.abscissa.kind == kAxisTime ||
           (record.abscissa.kind == kAxisUnknown && record.function_type == kTimeResponse);
}

bool same_grid(const FunctionRecord& a, const FunctionRecord& b) {
    return is_over_time(b) && b.even && b.y.size() == a.y.size() &&
           std::abs(a.step - b.step) <= 1e-9 * a.step;
}

const FunctionRecord& first_over_time(const UniversalFile& file, const std::string& path) {
    for (const FunctionRecord& record : file.records) {
        if (!is_over_time(record)) continue;
        if (!record.even || !(record.step > 0)) {
            throw MeasurementError(
                fmt::format("{}: the record over time is not in even steps", path));
        }
        if (record.step > kLongestStep) {
            throw MeasurementError(
                fmt::format("{}: a sampling rate of {:.4g} Hz; accepted: 500 Hz to 1 MHz", path,
                            1 / record.step));
        }
        return record;
    }
    throw MeasurementError(fmt::format("{}: none of its {} records of dataset 58 is over time",
                                       path, file.records.size()));
}

}  // namespace

bool looks_universal(std::string_view head) {
    const std::string_view line = head.substr(0, head.find_first_of("\r\n"));
    const std::size_t first = line.find_first_not_of(' ');
    if (first == std::string_view::npos) return false;
    const std::size_t last = line.find_last_not_of(' ');
    return line.substr(first, last - first + 1) == "-1";
}

SoundFile read_universal_recording(const std::string& path, const Stretch& stretch) {
    const UniversalFile file = read_uff(path);
    const FunctionRecord& first = first_over_time(file, path);
    const double count = static_cast<double>(first.y.size());
    const auto entry = [&](double seconds) {
        return static_cast<std::size_t>(std::clamp(std::round(seconds / first.step), 0.0, count));
    };
    const std::size_t from = entry(stretch.from.value_or(0));
    const std::size_t to = std::min(
        {stretch.to ? entry(*stretch.to) : first.y.size(), first.y.size(), from + kMostSamples});
    SoundFile sound;
    sound.format = "universal file 58";
    sound.recording.rate = 1 / first.step;
    sound.from = static_cast<double>(from) * first.step;
    for (const FunctionRecord& record : file.records) {
        if (!same_grid(first, record)) continue;
        if (sound.recording.channels.size() == static_cast<std::size_t>(kMostChannels)) {
            sound.warnings.push_back(
                fmt::format("the first {} records over time are used", kMostChannels));
            break;
        }
        std::vector<float>& channel = sound.recording.channels.emplace_back();
        for (std::size_t i = from; i < to; ++i) {
            channel.push_back(static_cast<float>(record.y[i].real()));
        }
    }
    return sound;
}

}  // namespace standfast

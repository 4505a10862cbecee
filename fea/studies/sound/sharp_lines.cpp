#include "fea/studies/sound/sharp_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace standfast {
namespace {

constexpr double kReach = 2;       // short resolutions to either side
constexpr double kSecond = 0.01;   // of the first one's power
constexpr double kOverNoise = 30;  // of the noise there
constexpr double kApart = 3.5;     // resolutions of the whole
constexpr double kWander = 5e-4;   // of the frequency: a spindle's, closer is one line
constexpr double kSmeared = 0.05;  // of a line's power that the whole's highest entry must hold
constexpr std::size_t kParts = 4;
constexpr double kLeastPart = 0.1, kShortestPart = 0.25;

/// An entry that is higher than those beside it.
struct Peak {
    double frequency = 0, power = 0;
};

/// Peaks of the whole spectrum about a line, the highest first.
std::vector<Peak> peaks_about(const PowerSpectrum& whole, double hertz, double reach) {
    const auto entry = [&](double f) {
        return static_cast<std::size_t>(std::max(1.0, std::round(f / whole.step)));
    };
    const std::vector<double>& power = whole.power;
    const std::size_t last = std::min(entry(hertz + reach), power.size() - 2);
    std::vector<Peak> peaks;
    for (std::size_t i = entry(hertz - reach); i <= last; ++i) {
        if (!(power[i] > power[i - 1] && power[i] >= power[i + 1])) continue;
        const double left = std::log(power[i - 1] + 1e-300),
                     right = std::log(power[i + 1] + 1e-300);
        const double bend = left - 2 * std::log(power[i]) + right;
        const double offset = bend < 0 ? std::clamp(0.5 * (left - right) / bend, -0.5, 0.5) : 0;
        peaks.push_back({(static_cast<double>(i) + offset) * whole.step, power[i]});
    }
    std::sort(peaks.begin(), peaks.end(),
              [](const Peak& a, const Peak& b) { return a.power > b.power; });
    return peaks;
}

void add_sharpened(std::vector<SpectralLine>& sharp, const SpectralLine& line,
                   const PowerSpectrum& whole, double resolution) {
    const std::vector<Peak> peaks = peaks_about(whole, line.frequency, kReach * resolution);
    if (peaks.empty() || peaks.front().power < kSmeared * line.power) {
        sharp.push_back(line);
        return;
    }
    const Peak& first = peaks.front();
    const double apart = std::max(kApart * whole.resolution, kWander * first.frequency);
    const double noise = line.power / line.prominence * whole.resolution / resolution;
    const auto second = std::find_if(peaks.begin(), peaks.end(), [&](const Peak& peak) {
        return peak.power > std::max(kSecond * first.power, kOverNoise * noise) &&
               std::abs(peak.frequency - first.frequency) > apart;
    });
    const bool two = second != peaks.end();
    const double share = two ? first.power / (first.power + second->power) : 1;
    sharp.push_back({first.frequency, share * line.power, share * line.prominence});
    if (two) {
        sharp.push_back(
            {second->frequency, (1 - share) * line.power, (1 - share) * line.prominence});
    }
}

Recording part_of(const Recording& recording, std::size_t part) {
    const std::size_t length = recording.samples() / kParts;
    Recording cut{.rate = recording.rate, .channels = {}};
    for (const std::vector<float>& channel : recording.channels) {
        const auto from = channel.begin() + static_cast<std::ptrdiff_t>(part * length);
        cut.channels.emplace_back(from, from + static_cast<std::ptrdiff_t>(length));
    }
    return cut;
}

double power_near(const PowerSpectrum& spectrum, double hertz) {
    const auto nearest = static_cast<std::size_t>(std::lround(hertz / spectrum.step));
    double most = 0;
    for (std::size_t i = nearest > 1 ? nearest - 1 : 1;
         i <= std::min(nearest + 1, spectrum.power.size() - 1); ++i) {
        most = std::max(most, spectrum.power[i]);
    }
    return most;
}

}  // namespace

std::vector<SpectralLine> sharpened(const std::vector<SpectralLine>& lines,
                                    const PowerSpectrum& whole, double resolution) {
    std::vector<SpectralLine> sharp;
    for (const SpectralLine& line : lines) add_sharpened(sharp, line, whole, resolution);
    std::sort(sharp.begin(), sharp.end(), [](const SpectralLine& a, const SpectralLine& b) {
        return a.frequency < b.frequency;
    });
    // Neighbours may have found the same entry.
    const auto same = [&](const SpectralLine& a, const SpectralLine& b) {
        return b.frequency - a.frequency < whole.resolution;
    };
    sharp.erase(std::unique(sharp.begin(), sharp.end(), same), sharp.end());
    return sharp;
}

std::vector<SpectralLine> lasting(const std::vector<SpectralLine>& lines,
                                  const Recording& recording) {
    if (lines.empty() || recording.seconds() < kParts * kShortestPart) return lines;
    std::array<PowerSpectrum, kParts> parts;
    for (std::size_t i = 0; i < kParts; ++i) {
        parts[i] = averaged_spectrum(part_of(recording, i), recording.seconds());
    }
    std::vector<SpectralLine> kept = lines;
    std::erase_if(kept, [&](const SpectralLine& line) {
        std::array<double, kParts> power{};
        double mean = 0;
        for (std::size_t i = 0; i < kParts; ++i) {
            power[i] = power_near(parts[i], line.frequency);
            mean += power[i] / kParts;
        }
        std::sort(power.begin(), power.end());
        return power[1] < kLeastPart * mean;
    });
    return kept;
}

}  // namespace standfast

#include "fea/studies/sound/knocks.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kFrame = 0.010, kHop = 0.002;  // s
constexpr double kApart = 0.15;                 // s, least between two knocks
constexpr double kContact = 0.004;              // s, until a soft hammer has left
constexpr double kLongest = 0.6, kShortest = 0.12, kGuard = 0.015;  // s
constexpr double kRise = 4, kOfLoudest = 0.1, kOverFloor = 3;       // power

std::vector<double> mixed(const Recording& recording) {
    std::vector<double> sum(recording.samples(), 0.0);
    for (const std::vector<float>& channel : recording.channels) {
        for (std::size_t i = 0; i < sum.size(); ++i) sum[i] += static_cast<double>(channel[i]);
    }
    const double mean =
        std::accumulate(sum.begin(), sum.end(), 0.0) / static_cast<double>(sum.size());
    for (double& value : sum) value -= mean;
    return sum;
}

/// Mean square of frames; entry k begins at sample k * hop.
std::vector<double> frame_power(const std::vector<double>& samples, std::size_t frame,
                                std::size_t hop) {
    std::vector<double> power;
    for (std::size_t start = 0; start + frame <= samples.size(); start += hop) {
        double sum = 0;
        for (std::size_t i = start; i < start + frame; ++i) sum += samples[i] * samples[i];
        power.push_back(sum / static_cast<double>(frame));
    }
    return power;
}

double quantile(std::vector<double> values, double share) {
    const auto place = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), values.begin() + place, values.end());
    return values[static_cast<std::size_t>(place)];
}

/// Frames in which a knock begins.
std::vector<std::size_t> onsets(const std::vector<double>& power) {
    const auto per = [](double seconds) { return static_cast<std::size_t>(seconds / kHop + 0.5); };
    const double floor = quantile(power, 0.2);
    const double loudest = *std::max_element(power.begin(), power.end());
    const double least = std::max(kOverFloor * floor, kOfLoudest * loudest);
    const std::size_t frame = per(kFrame), look = per(0.03), apart = per(kApart);
    std::vector<std::size_t> found;
    for (std::size_t k = 0; k < power.size(); ++k) {
        if (power[k] < least || (!found.empty() && k < found.back() + apart)) continue;
        double before = floor;
        if (k > frame) {
            const std::size_t from = k - frame > look ? k - frame - look : 0;
            for (std::size_t i = from; i < k - frame + 1; ++i) before = std::max(before, power[i]);
        }
        if (power[k] > kRise * before || (k <= frame && power[k] > kRise * floor)) {
            found.push_back(k);
        }
    }
    return found;
}

/// The level at which a recording is cut off, in absolute value; infinity where it is not. Clipped
/// samples are neighbours of one and the same value at the very top, more than once; the top of a
/// tone bends.
double clip_level(const Recording& recording) {
    constexpr double kSame = 1 - 1e-6;
    constexpr int kRun = 3, kTimes = 2;
    double level = HUGE_VAL;
    for (const std::vector<float>& channel : recording.channels) {
        float top = 0;
        for (const float value : channel) top = std::max(top, std::abs(value));
        const double cut = kSame * static_cast<double>(top);
        int run = 0, times = 0;
        for (const float value : channel) {
            run = top > 0 && static_cast<double>(std::abs(value)) >= cut ? run + 1 : 0;
            times += run == kRun ? 1 : 0;
        }
        if (times >= kTimes) level = std::min(level, cut);
    }
    return level;
}

bool is_clipped(const Recording& recording, std::size_t sample, double level) {
    return std::any_of(recording.channels.begin(), recording.channels.end(), [&](const auto& one) {
        return std::abs(static_cast<double>(one[sample])) >= level;
    });
}

/// A length whose Fourier transform is quick.
std::size_t quick_length(std::size_t samples) {
    const std::size_t step = samples >= 4096 ? 1024 : 64;
    return samples / step * step;
}

}  // namespace

Knocks find_knocks(const Recording& recording) {
    require_positive(recording.rate, "recording", "samples a second");
    require_between(static_cast<double>(recording.samples()), 64, 1e12, "recording", "samples");
    Knocks knocks{.rate = recording.rate, .ringing = {}, .remarks = {}};
    const auto in_samples = [&](double seconds) {
        return static_cast<std::size_t>(seconds * recording.rate + 0.5);
    };
    const std::vector<double> samples = mixed(recording);
    const std::size_t hop = std::max<std::size_t>(1, in_samples(kHop));
    const std::size_t frame = std::max<std::size_t>(4, in_samples(kFrame));
    const std::vector<double> power = frame_power(samples, frame, hop);
    if (power.empty()) return knocks;
    const double level = clip_level(recording);
    struct Stretch {
        std::size_t start, end;
    };
    std::vector<Stretch> stretches;
    const std::vector<std::size_t> begins = onsets(power);
    std::size_t clipped = 0, close = 0;
    for (std::size_t i = 0; i < begins.size(); ++i) {
        std::size_t start = begins[i] * hop + frame + in_samples(kContact);
        std::size_t end =
            i + 1 < begins.size() ? begins[i + 1] * hop - in_samples(kGuard) : samples.size();
        end = std::min(end, samples.size());
        bool cut_off = false;
        for (std::size_t at = begins[i] * hop; at < end; ++at) {
            if (!is_clipped(recording, at, level)) continue;
            cut_off = true;
            start = std::max(start, at + 1);
        }
        clipped += cut_off ? 1 : 0;
        if (start + in_samples(kShortest) > end) {
            ++close;
            continue;
        }
        stretches.push_back({start, end});
    }
    if (clipped > 0) {
        knocks.remarks.push_back("clipped at " + std::to_string(clipped) +
                                 " of the knocks: used from where it no longer is");
    }
    if (close > 0) {
        knocks.remarks.push_back(std::to_string(close) +
                                 " knocks left out: too short a ring before the next or the end");
    }
    if (stretches.empty()) return knocks;
    std::vector<double> lengths;
    for (const Stretch& one : stretches)
        lengths.push_back(static_cast<double>(one.end - one.start));
    const auto usual = static_cast<std::size_t>(quantile(lengths, 0.25));
    const std::size_t length = quick_length(std::min(usual, in_samples(kLongest)));
    for (const Stretch& one : stretches) {
        if (one.end - one.start < length) continue;
        const auto from = samples.begin() + static_cast<std::ptrdiff_t>(one.start);
        knocks.ringing.emplace_back(from, from + static_cast<std::ptrdiff_t>(length));
    }
    return knocks;
}

}  // namespace standfast

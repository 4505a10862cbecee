#include "fea/studies/sound/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <stdexcept>
#include <unsupported/Eigen/FFT>

#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr std::size_t kLeastSamples = 64;
/// Windows are shared out so that the sum does not depend on the number of threads.
constexpr std::size_t kShares = 16;

/// The largest even number of factors 2, 3 and 5 up to `most`, which the transform is quick at.
std::size_t quick_length(std::size_t most) {
    for (std::size_t length = most - most % 2; length > 2; length -= 2) {
        std::size_t rest = length;
        for (const std::size_t factor : {2U, 3U, 5U}) {
            while (rest % factor == 0) rest /= factor;
        }
        if (rest == 1) return length;
    }
    return 2;
}

std::vector<double> blackman(std::size_t length) {
    std::vector<double> window(length);
    for (std::size_t i = 0; i < length; ++i) {
        const double phase =
            2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(length);
        window[i] = 0.42 - 0.5 * std::cos(phase) + 0.08 * std::cos(2 * phase);
    }
    return window;
}

/// What every window needs.
struct Plan {
    std::size_t length = 0, hop = 0, count = 0;  ///< samples, samples, windows a channel
    std::vector<double> window;
};

void add_window(const Plan& plan, const float* samples, Eigen::FFT<double>& transform,
                std::vector<double>& power) {
    double mean = 0;
    for (std::size_t i = 0; i < plan.length; ++i) mean += static_cast<double>(samples[i]);
    mean /= static_cast<double>(plan.length);
    std::vector<double> tapered(plan.length);
    for (std::size_t i = 0; i < plan.length; ++i) {
        tapered[i] = (static_cast<double>(samples[i]) - mean) * plan.window[i];
    }
    std::vector<std::complex<double>> lines;
    transform.fwd(lines, tapered);
    for (std::size_t i = 0; i < power.size(); ++i) power[i] += std::norm(lines[i]);
}

std::vector<double> summed_windows(const Recording& recording, const Plan& plan) {
    const std::size_t entries = plan.length / 2 + 1;
    const std::size_t all = plan.count * recording.channels.size();
    std::vector<std::vector<double>> shares(std::min(kShares, all));
    for_each_index(shares.size(), [&](std::size_t share) {
        shares[share].assign(entries, 0.0);
        Eigen::FFT<double> transform;
        transform.SetFlag(Eigen::FFT<double>::HalfSpectrum);
        for (std::size_t i = share; i < all; i += shares.size()) {
            const std::vector<float>& channel = recording.channels[i / plan.count];
            add_window(plan, channel.data() + (i % plan.count) * plan.hop, transform,
                       shares[share]);
        }
    });
    std::vector<double> power(entries, 0.0);
    for (const std::vector<double>& share : shares) {
        for (std::size_t i = 0; i < entries; ++i) power[i] += share[i];
    }
    return power;
}

}  // namespace

PowerSpectrum averaged_spectrum(const Recording& recording, double window_seconds) {
    require_positive(recording.rate, "spectrum", "sampling rate");
    require_positive(window_seconds, "spectrum", "window");
    const std::size_t samples = recording.samples();
    if (samples < kLeastSamples) {
        throw std::domain_error("spectrum: the recording has " + std::to_string(samples) +
                                " samples, must be at least " + std::to_string(kLeastSamples));
    }
    Plan plan;
    plan.length = quick_length(static_cast<std::size_t>(
        std::min(static_cast<double>(samples), recording.rate * window_seconds)));
    if (plan.length < kLeastSamples) {
        throw std::domain_error("spectrum: the window is shorter than " +
                                std::to_string(kLeastSamples) + " samples");
    }
    plan.hop = plan.length / 2;
    plan.count = (samples - plan.length) / plan.hop + 1;
    plan.window = blackman(plan.length);

    PowerSpectrum spectrum;
    spectrum.resolution = recording.rate / static_cast<double>(plan.length);
    spectrum.step = spectrum.resolution;
    spectrum.windows = static_cast<int>(plan.count);
    spectrum.power = summed_windows(recording, plan);
    // One line of amplitude A gives A/2 sum(window) at its entry; sum(window) = 0.42 length.
    const double gain = 0.42 * static_cast<double>(plan.length);
    const double scale = 2 / (gain * gain * static_cast<double>(plan.count));
    for (double& power : spectrum.power) power *= scale;
    return spectrum;
}

}  // namespace standfast

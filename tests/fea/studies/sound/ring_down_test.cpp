#include "fea/studies/sound/ring_down.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

namespace standfast {
namespace {

struct Planted {
    double hertz, damping, amplitude;
};

/// Knocks on damped oscillators at rest, struck by a half sine of a millisecond: the ringing by the
/// textbook's formula, not by anything of the program.
struct Scene {
    std::vector<Planted> modes;
    double rate = 44100;
    int knocks = 6;
    double apart = 0.8;  ///< s
    double noise = 0;    ///< dB under the first 50 ms of ringing; 0: none
    double clip = 0;     ///< share of the peak at which the recorder cuts off; 0: none
    double hum = 0;      ///< amplitude at 50 and 150 Hz, of the loudest mode
    double tone = 0;     ///< amplitude of a fan at 443 Hz
    unsigned seed = 1;
};

Recording recorded(const Scene& scene) {
    std::mt19937 stream(scene.seed);
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> uniform(0.6, 1.4);
    const auto count = static_cast<std::size_t>((0.5 + scene.knocks * scene.apart) * scene.rate);
    std::vector<double> sum(count, 0.0);
    double early = 0;
    std::size_t early_count = 0;
    for (int knock = 0; knock < scene.knocks; ++knock) {
        const double begins = 0.4 + (knock + 0.1 * (uniform(stream) - 1)) * scene.apart;
        for (const Planted& mode : scene.modes) {
            const double force = mode.amplitude * uniform(stream);
            const double natural = 2 * std::numbers::pi * mode.hertz;
            const double damped = natural * std::sqrt(1 - mode.damping * mode.damping);
            for (auto i = static_cast<std::size_t>(std::ceil(begins * scene.rate)); i < count;
                 ++i) {
                const double t = static_cast<double>(i) / scene.rate - begins;
                if (t > 2) break;
                const double struck = std::min(1.0, t / 1e-3);
                sum[i] +=
                    struck * force * std::exp(-mode.damping * natural * t) * std::sin(damped * t);
            }
        }
        const auto from = static_cast<std::size_t>(begins * scene.rate);
        for (std::size_t i = from; i < from + static_cast<std::size_t>(0.05 * scene.rate); ++i) {
            early += sum[i] * sum[i];
            ++early_count;
        }
    }
    const double level = std::sqrt(early / static_cast<double>(early_count));
    double peak = 0;
    for (std::size_t i = 0; i < count; ++i) {
        const double t = 2 * std::numbers::pi * static_cast<double>(i) / scene.rate;
        if (scene.noise > 0) sum[i] += level * std::pow(10, -scene.noise / 20) * normal(stream);
        sum[i] += scene.hum * (std::sin(50 * t) + 0.5 * std::sin(150 * t)) +
                  scene.tone * std::sin(443 * t + 1);
        peak = std::max(peak, std::abs(sum[i]));
    }
    Recording recording{.rate = scene.rate, .channels = {{}}};
    const double top = scene.clip > 0 ? scene.clip * peak : peak;
    for (const double value : sum) {
        const double kept = std::clamp(value, -top, top) / peak;
        recording.channels[0].push_back(static_cast<float>(std::round(kept * 32767) / 32768));
    }
    return recording;
}

/// Every planted mode is there within 0.5 % and 25 %, and nothing else that is as loud.
void expect_found(const Scene& scene) {
    const RingDown found = ring_down(recorded(scene));
    EXPECT_EQ(found.knocks, scene.knocks);
    for (const Planted& mode : scene.modes) {
        const auto nearest = std::min_element(
            found.modes.begin(), found.modes.end(), [&](const auto& a, const auto& b) {
                return std::abs(a.frequency - mode.hertz) < std::abs(b.frequency - mode.hertz);
            });
        ASSERT_NE(nearest, found.modes.end());
        EXPECT_NEAR(nearest->frequency, mode.hertz, 0.005 * mode.hertz) << scene.seed;
        EXPECT_NEAR(nearest->damping, mode.damping, 0.25 * mode.damping)
            << mode.hertz << " Hz, seed " << scene.seed;
        EXPECT_LT(nearest->damping_deviation, 0.25);
    }
    EXPECT_EQ(found.modes.size(), scene.modes.size()) << scene.seed;
}

const std::vector<Planted> kTwo{{310, 0.02, 1}, {1240, 0.015, 0.5}};
const std::vector<Planted> kPair{{400, 0.015, 1}, {420, 0.012, 0.8}};
const std::vector<Planted> kClose{{400, 0.015, 1}, {420, 0.012, 0.8}, {1300, 0.02, 0.4}};

TEST(RingDown, AQuietRoomTellsAlmostExactly) {
    const RingDown found = ring_down(recorded({.modes = kTwo}));
    ASSERT_EQ(found.modes.size(), 2U);
    EXPECT_NEAR(found.modes[0].frequency, 310, 0.1);
    EXPECT_NEAR(found.modes[0].damping, 0.02, 0.0004);
    EXPECT_NEAR(found.modes[1].frequency, 1240, 0.4);
    EXPECT_NEAR(found.modes[1].damping, 0.015, 0.0004);
}

TEST(RingDown, TwoModesFivePercentApartAreTold) {
    for (unsigned seed = 1; seed <= 4; ++seed) {
        expect_found({.modes = kClose, .noise = 25, .seed = seed});
    }
}

TEST(RingDown, NoiseTenDecibelsUnderTheRinging) {
    for (unsigned seed = 1; seed <= 6; ++seed) {
        expect_found({.modes = kTwo, .noise = 10, .seed = seed});
        expect_found({.modes = kPair, .noise = 10, .seed = seed});
    }
}

TEST(RingDown, AClippedBeginning) {
    for (unsigned seed = 1; seed <= 3; ++seed) {
        const Scene scene{.modes = kClose, .noise = 30, .clip = 0.4, .seed = seed};
        expect_found(scene);
        const RingDown found = ring_down(recorded(scene));
        EXPECT_NE(found.remarks.at(0).find("clipped"), std::string::npos);
    }
}

TEST(RingDown, ATelephoneAtEightKilohertz) {
    for (unsigned seed = 1; seed <= 3; ++seed) {
        expect_found({.modes = kPair, .rate = 8000, .noise = 15, .seed = seed});
        expect_found({.modes = kClose, .rate = 8000, .noise = 25, .seed = seed});
    }
}

TEST(RingDown, HumAndAFanAreLeftOut) {
    for (unsigned seed = 1; seed <= 3; ++seed) {
        const Scene scene{.modes = kTwo, .noise = 20, .hum = 0.1, .tone = 0.05, .seed = seed};
        expect_found(scene);
        const RingDown found = ring_down(recorded(scene));
        ASSERT_EQ(found.steady.size(), 3U) << testing::PrintToString(found.steady);
        EXPECT_NEAR(found.steady[0], 50, 0.3);
        EXPECT_NEAR(found.steady[1], 150, 0.3);
        EXPECT_NEAR(found.steady[2], 443, 0.3);
    }
}

TEST(RingDown, TheSpreadCoversTheTruth) {
    int inside = 0, all = 0;
    for (unsigned seed = 1; seed <= 20; ++seed) {
        const RingDown found = ring_down(recorded({.modes = kTwo, .noise = 12, .seed = seed}));
        ASSERT_EQ(found.modes.size(), 2U) << seed;
        for (std::size_t i = 0; i < 2; ++i) {
            const double off = std::log(found.modes[i].damping / kTwo[i].damping);
            inside += std::abs(off) < 1.2816 * found.modes[i].damping_deviation ? 1 : 0;
            ++all;
        }
    }
    // 80 % of 40, give or take three deviations of a binomial.
    EXPECT_GE(inside, 24) << "of " << all;
}

TEST(RingDown, SilenceAndNoiseAloneHaveNoModes) {
    Recording silent{.rate = 8000, .channels = {std::vector<float>(16000, 0.0F)}};
    EXPECT_TRUE(ring_down(silent).modes.empty());
    std::mt19937 stream(3);
    std::normal_distribution<float> normal;
    for (float& value : silent.channels[0]) value = 0.1F * normal(stream);
    EXPECT_TRUE(ring_down(silent).modes.empty());
    EXPECT_THROW(ring_down({.rate = 0, .channels = {std::vector<float>(100, 0.0F)}}),
                 std::domain_error);
    EXPECT_THROW(ring_down({.rate = 8000, .channels = {std::vector<float>(10, 0.0F)}}),
                 std::domain_error);
}

}  // namespace
}  // namespace standfast

#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <optional>
#include <random>
#include <utility>
#include <vector>

#include "fea/studies/sound/recording.hpp"

// Invented milling cuts followed in time by a small simulation of its own (straight edges, the wall
// itself as the memory of the cut, teeth that leave it, runout), and what a microphone would hear
// of them. Shares no code with the program.
namespace standfast::test {

struct SoundingMode {
    double hertz = 0, damping = 0, stiffness = 0;  ///< N/m
    double ux = 1, uy = 0;
};

struct SoundingCut {
    double rpm = 0;
    int teeth = 0;
    double diameter = 0.012;
    double immersion = 0.1;                       ///< radial depth over diameter, down milling
    double feed = 5e-5;                           ///< m a tooth
    double depth = 0.001;                         ///< m
    double tangential = 6e8, radial_force = 2e8;  ///< Pa
    std::vector<double> runout;                   ///< m, of each tooth; empty: none
    std::vector<SoundingMode> modes;
};

struct SoundingMotion {
    double rate = 0;  ///< samples a second
    int steps_per_tooth = 0;
    std::vector<double> x, y;   ///< m, tool minus part
    std::vector<double> sound;  ///< sum of modal velocities, m/s
};

/// Modes exact under a force held through a step; chips are measured against the deepest of the
/// walls that the teeth before left at that angle.
inline SoundingMotion follow_cut(const SoundingCut& cut, double seconds, double left_out = 0.6) {
    const double tooth_period = 60 / (cut.rpm * cut.teeth);
    const int steps = std::max(48, static_cast<int>(std::ceil(tooth_period * 36'000)));
    const double dt = tooth_period / steps;
    const int turn = steps * cut.teeth;
    constexpr double pi = std::numbers::pi;
    const double entry = pi - std::acos(1 - 2 * cut.immersion);
    struct State {
        double a11, a12, a21, a22, b1, b2, q = 0, v = 0;
    };
    std::vector<State> states;
    for (const SoundingMode& mode : cut.modes) {
        const double w = 2 * pi * mode.hertz, d = mode.damping * w;
        const double wd = w * std::sqrt(1 - mode.damping * mode.damping);
        const double e = std::exp(-d * dt), c = std::cos(wd * dt), s = std::sin(wd * dt);
        State one{};
        one.a11 = e * (c + d / wd * s);
        one.a12 = e * s / wd;
        one.a21 = -e * w * w / wd * s;
        one.a22 = e * (c - d / wd * s);
        one.b1 = (1 - one.a11) / mode.stiffness;
        one.b2 = -one.a21 / mode.stiffness;
        states.push_back(one);
    }
    // For each angle of a tooth: how far out (along the radius) the wall stands, in the frame that
    // moves with the feed; it recedes by the feed between teeth.
    std::vector<double> wall(static_cast<std::size_t>(turn), 0.0);
    const long total = static_cast<long>((seconds + left_out) / dt);
    const long first = static_cast<long>(left_out / dt);
    SoundingMotion motion{.rate = 1 / dt, .steps_per_tooth = steps, .x = {}, .y = {}, .sound = {}};
    double x = 0, y = 0;
    std::vector<long> last(static_cast<std::size_t>(turn), -steps);
    for (long i = 0; i < total; ++i) {
        double fx = 0, fy = 0;
        for (int tooth = 0; tooth < cut.teeth; ++tooth) {
            const long place = (i + static_cast<long>(tooth) * steps) % turn;
            const double phi = 2 * pi * static_cast<double>(place) / turn;
            if (phi < entry || phi > pi) continue;
            const auto at = static_cast<std::size_t>(place);
            const double out = cut.runout.empty() ? 0 : cut.runout[static_cast<std::size_t>(tooth)];
            const double edge = x * std::sin(phi) + y * std::cos(phi) + out;
            const double recede =
                cut.feed * std::sin(phi) * static_cast<double>(i - last[at]) / steps;
            const double before = wall[at] - recede;  // the path has moved on since
            const double chip = edge - before;
            wall[at] = std::max(edge, before);
            last[at] = i;
            if (chip <= 0) continue;
            const double ft = cut.tangential * cut.depth * chip;
            const double fr = cut.radial_force * cut.depth * chip;
            fx += -ft * std::cos(phi) - fr * std::sin(phi);
            fy += ft * std::sin(phi) - fr * std::cos(phi);
        }
        x = y = 0;
        double sound = 0;
        for (std::size_t m = 0; m < states.size(); ++m) {
            State& s = states[m];
            const double f = cut.modes[m].ux * fx + cut.modes[m].uy * fy;
            const double q = s.a11 * s.q + s.a12 * s.v + s.b1 * f;
            const double v = s.a21 * s.q + s.a22 * s.v + s.b2 * f;
            s.q = q;
            s.v = v;
            x += cut.modes[m].ux * q;
            y += cut.modes[m].uy * q;
            sound += (cut.modes[m].ux + cut.modes[m].uy) * v;
        }
        if (i < first) continue;
        motion.x.push_back(x);
        motion.y.push_back(y);
        motion.sound.push_back(sound);
    }
    return motion;
}

enum class CutTruth { steady, chatter, doubled, on_the_edge };

/// From positions once a tooth: steady ones repeat, doubled ones repeat every other tooth. Only for
/// cuts without runout.
inline CutTruth truth_of(const SoundingMotion& motion) {
    double all = 0, once = 0, twice = 0;
    const std::size_t p = static_cast<std::size_t>(motion.steps_per_tooth);
    const double mean_x = motion.x.empty() ? 0 : motion.x.back(), mean_y = motion.y.back();
    for (std::size_t i = motion.x.size() / 2; i + 2 * p < motion.x.size(); ++i) {
        const auto square = [&](std::size_t j) {
            return std::pow(motion.x[i] - motion.x[j], 2) + std::pow(motion.y[i] - motion.y[j], 2);
        };
        once += square(i + p);
        twice += square(i + 2 * p);
        all += std::pow(motion.x[i] - mean_x, 2) + std::pow(motion.y[i] - mean_y, 2);
    }
    const double ratio_once = std::sqrt(once / all), ratio_twice = std::sqrt(twice / all);
    if (ratio_once < 1e-4) return CutTruth::steady;
    if (ratio_once > 0.05 && ratio_twice < 0.02 * ratio_once) return CutTruth::doubled;
    if (ratio_once > 0.2 && ratio_twice > 0.2 * ratio_once) return CutTruth::chatter;
    return CutTruth::on_the_edge;
}

/// How unlike the motion is after so many tooth periods, over its own size; second half.
inline double change_after(const SoundingMotion& motion, int teeth) {
    const std::size_t later =
        static_cast<std::size_t>(motion.steps_per_tooth) * static_cast<std::size_t>(teeth);
    double change = 0, all = 0;
    for (std::size_t i = motion.x.size() / 2; i + later < motion.x.size(); ++i) {
        change += std::pow(motion.x[i] - motion.x[i + later], 2) +
                  std::pow(motion.y[i] - motion.y[i + later], 2);
        all +=
            std::pow(motion.x[i] - motion.x.back(), 2) + std::pow(motion.y[i] - motion.y.back(), 2);
    }
    return all > 0 ? std::sqrt(change / all) : 0;
}

/// Farthest from the middle, m.
inline double largest(const SoundingMotion& motion) {
    double most = 0;
    for (std::size_t i = 0; i < motion.x.size(); ++i)
        most = std::max({most, std::abs(motion.x[i]), std::abs(motion.y[i])});
    return most;
}

struct Microphone {
    double noise = 0.05;  ///< rms over the sound's rms
    double coolant = 0;   ///< likewise, noise through a broad resonance near 2.5 kHz
    double hum = 0.02;    ///< amplitude of 2 x mains over the sound's rms, half of it at mains
    double mains = 50;
    double pump_hertz = 0, pump = 0;  ///< a tone, amplitude over the sound's rms
    double gain = 1;
    double clip = 0;  ///< over the rms; 0: never
};

/// What stands on the recorder afterwards.
inline Recording recorded(const SoundingMotion& motion, const Microphone& microphone,
                          unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal;
    double rms = 0;
    for (const double s : motion.sound) rms += s * s;
    rms = std::sqrt(rms / static_cast<double>(motion.sound.size()));
    const double w = 2 * std::numbers::pi / motion.rate;
    const double r = 0.9, turn = 2 * r * std::cos(w * 2500);
    double c1 = 0, c2 = 0;
    Recording recording{.rate = motion.rate, .channels = {{}}};
    for (std::size_t i = 0; i < motion.sound.size(); ++i) {
        const double c = (1 - r) * normal(random) + turn * c1 - r * r * c2;
        c2 = std::exchange(c1, c);
        const double t = w * static_cast<double>(i);
        double s =
            motion.sound[i] / rms + microphone.noise * normal(random) + 3 * microphone.coolant * c +
            microphone.hum *
                (std::sin(2 * microphone.mains * t) + 0.5 * std::sin(microphone.mains * t + 1)) +
            microphone.pump * std::sin(microphone.pump_hertz * t);
        if (microphone.clip > 0) s = std::clamp(s, -microphone.clip, microphone.clip);
        recording.channels[0].push_back(static_cast<float>(0.1 * microphone.gain * s));
    }
    return recording;
}

}  // namespace standfast::test

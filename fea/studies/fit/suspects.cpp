#include "fea/studies/fit/suspects.hpp"

#include <array>
#include <cmath>

#include "fea/studies/sound/ring_down.hpp"

namespace standfast {
namespace {

constexpr double kHumWithin = 0.4;  // Hz
constexpr int kHumMultiples = 4;
constexpr double kHumNear = 0.1;  // of a frequency: a mode may sound there
constexpr double kGross = 30, kGrossDamping = 20;

struct Slip {
    double ratio = 1;  ///< written over meant
    double within = 1;
    const char* words = "";
};

template <std::size_t size>
std::string slip_of(const std::array<Slip, size>& slips, double ratio) {
    for (const Slip& slip : slips) {
        if (std::abs(std::log(ratio / slip.ratio)) < std::log(slip.within)) return slip.words;
    }
    return {};
}

std::string motion_slip(const Measured& measured, double ratio) {
    static constexpr std::array<Slip, 6> kSlips{
        {{1000, 3, "a factor of a thousand: um written as mm?"},
         {1e-3, 3, "a factor of a thousand: mm written as um, or kN as N?"},
         {25.4, 1.4, "a factor of 25: mm written as inch?"},
         {1 / 25.4, 1.4, "a factor of 25: inch written as mm?"},
         {10, 1.3, "a factor of ten: a digit, or kgf written as N?"},
         {0.1, 1.3, "a factor of ten: a digit, or N written as kgf?"}}};
    std::string words = slip_of(kSlips, ratio);
    static constexpr std::array<Slip, 4> kForce{
        {{4.45, 1.2, "a factor of 4.4: lbf written as N?"},
         {1 / 4.45, 1.2, "a factor of 4.4: N written as lbf?"},
         {2, 1.15, "twice as much: a revolution of the dial, or two directions added?"},
         {0.5, 1.15, "half as much: is the dial in diameter?"}}};
    if (words.empty() && measured.push) words = slip_of(kForce, ratio);
    return words;
}

}  // namespace

std::string suspect_of(const Measured& measured, Observed what, double value, double others) {
    const double ratio = value / others;
    if (!std::isfinite(ratio) || ratio == 0) return {};
    if (ratio < 0) return "sign reversed?";
    switch (what) {
        case Observed::moved:
        case Observed::wall_top:
        case Observed::wall_foot:
            return motion_slip(measured, ratio);
        case Observed::frequency: {
            if (is_mains_hum(value, kHumMultiples, kHumWithin)) {
                return std::to_string(std::lround(value)) + " Hz is mains hum";
            }
            static constexpr std::array<Slip, 4> kSlips{
                {{6.2832, 1.1, "6.3 times: rad/s written as Hz?"},
                 {1 / 6.2832, 1.1, "6.3 times: Hz divided by 2 pi?"},
                 {2, 1.04, "twice as much: an overtone?"},
                 {1000, 2, "a factor of a thousand: Hz written as kHz?"}}};
            return slip_of(kSlips, ratio);
        }
        case Observed::damping: {
            static constexpr std::array<Slip, 3> kSlips{
                {{100, 3, "a factor of a hundred: a percentage without its sign?"},
                 {0.01, 3, "a factor of a hundred: a ratio with a percent sign?"},
                 {2, 1.2, "twice as much: a loss factor for a damping ratio?"}}};
            return slip_of(kSlips, ratio);
        }
        case Observed::dynamic_stiffness: {
            static constexpr std::array<Slip, 4> kSlips{
                {{1000, 3, "a factor of a thousand in the sensor's unit?"},
                 {1e-3, 3, "a factor of a thousand in the sensor's unit?"},
                 {9.8, 1.15, "a factor of 9.8: g for m/s^2?"},
                 {1 / 9.8, 1.15, "a factor of 9.8: m/s^2 for g?"}}};
            return slip_of(kSlips, ratio);
        }
    }
    return {};
}

bool is_gross(Observed what, double value, double model) {
    if (!std::isfinite(model) || model == 0) return false;
    const double ratio = value / model;
    switch (what) {
        case Observed::frequency:
            return is_mains_hum(value, kHumMultiples, kHumWithin) &&
                   std::abs(std::log(ratio)) > kHumNear;
        case Observed::damping:
            return std::abs(std::log(ratio)) > std::log(kGrossDamping);
        case Observed::moved:
            return ratio <= 0 || std::abs(std::log(ratio)) > std::log(kGross);
        case Observed::dynamic_stiffness:
            return std::abs(std::log(ratio)) > std::log(kGross);
        case Observed::wall_top:
        case Observed::wall_foot:
            // Small errors of a wall may well have either sign.
            return std::abs(ratio) > kGross;
    }
    return false;
}

}  // namespace standfast

// Whether a limit is missed: the method that answers in `check` against the walk along the depth on
// all modes, and where the two differ, against the multipliers of fine maps below both. On the
// passes of jobs, and on systems made up of lightly damped modes close together in cuts of small
// immersion.
// Arguments: job files; --speeds N (400 unless said); --made N systems (20 unless said).
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <memory>
#include <numbers>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include "cli/job/read_job.hpp"
#include "fea/chatter/limits/edge_limits.hpp"
#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/map/krylov.hpp"
#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/cut/sides.hpp"

namespace {

using namespace standfast;

constexpr double kTold = 1e-3, kMissed = 5e-3;
constexpr double kFine = 9;  // margin of the maps that decide

struct Tally {
    int speeds = 0, differ = 0, too_high = 0, too_low = 0, nulls = 0, walk_wrong = 0;
    double worst_high = 0, worst_low = 0, seconds = 0, walk_seconds = 0;
};

double growth_at(const DelaySystem& system, SpindleSpeed speed, double depth) {
    const PeriodMap map(system, speed, depth, kFine);
    return std::log(std::abs(dominant_eigenpair(map, 1e-6).value));
}

/// The least depth, up to a little below `told`, at which motion grows; none: stable all the way.
std::optional<double> unstable_below(const DelaySystem& system, SpindleSpeed speed, double told) {
    for (int step = 40; step >= 1; --step) {
        const double depth = told * (1 - kMissed) * step / 40;
        if (growth_at(system, speed, depth) > 0) return depth;
    }
    return std::nullopt;
}

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void compare(const DelaySystem& system, SpindleSpeed speed, double searched, const SpeedLimit& told,
             const SpeedLimit& walked, Tally& tally) {
    ++tally.speeds;
    const double a = told.limit.value_or(searched), b = walked.limit.value_or(searched);
    const double off = a / b - 1;
    if (std::abs(off) <= kTold) return;
    ++tally.differ;
    tally.nulls += told.limit.has_value() != walked.limit.has_value() ? 1 : 0;
    // The walk may have stepped over an instability that the other found.
    if (off < 0 && growth_at(system, speed, a * (1 + kMissed)) > 0) {
        ++tally.walk_wrong;
        return;
    }
    if (off > kMissed && unstable_below(system, speed, a)) {
        ++tally.too_high;
        tally.worst_high = std::max(tally.worst_high, off);
    } else if (off < -kMissed) {
        ++tally.too_low;
        tally.worst_low = std::min(tally.worst_low, off);
    }
}

Tally gate(const DelaySystem& system, const std::vector<SpindleSpeed>& speeds, double searched) {
    Tally tally;
    auto start = std::chrono::steady_clock::now();
    const StabilityLimits told = edge_limits(system, speeds, searched);
    tally.seconds = seconds_since(start);
    start = std::chrono::steady_clock::now();
    const StabilityLimits walked = periodic_limits(system, speeds, searched);
    tally.walk_seconds = seconds_since(start);
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        compare(system, speeds[i], searched, told.speeds[i], walked.speeds[i], tally);
    }
    return tally;
}

void print(const std::string& name, const Tally& tally) {
    fmt::print("{:44} {:5} {:7} {:9} {:8.2f} {:8} {:9.2f} {:6} {:10} {:8.1f} {:8.1f}\n",
               name.substr(0, 44), tally.speeds, tally.differ, tally.too_high,
               100 * tally.worst_high, tally.too_low, 100 * tally.worst_low, tally.nulls,
               tally.walk_wrong, 1000 * tally.seconds / tally.speeds,
               1000 * tally.walk_seconds / tally.speeds);
    std::fflush(stdout);
}

std::vector<SpindleSpeed> spread_over(SpindleSpeed from, SpindleSpeed to, int count) {
    std::vector<SpindleSpeed> speeds;
    const double ratio = to.radians_per_second / from.radians_per_second;
    for (int i = 0; i < count; ++i) {
        speeds.push_back({from.radians_per_second * std::pow(ratio, (i + 0.5) / count)});
    }
    return speeds;
}

void gate_job(const std::string& path, int speeds) {
    const ReadResult read = read_job(path);
    if (!read.job) {
        fmt::print("{} is no job\n", path);
        std::exit(2);
    }
    const Job& job = *read.job;
    std::vector<std::size_t> passes(job.passes.size());
    for (std::size_t i = 0; i < passes.size(); ++i) passes[i] = i;
    const JobSides sides = solve_sides(job, passes);
    for (const std::size_t i : passes) {
        const CutProblem problem =
            cut_problem(job, i, sides.tool[i], sides.work[i], StabilityMethod::periodic);
        const DelaySystem system = delay_system(problem, headings_of(problem).stability);
        SpeedWindow window = offered_window(job, job.passes[i]);
        if (!(window.from < window.to)) window = {job.machine.slowest, job.machine.fastest};
        print(job.passes[i].name,
              gate(system, spread_over(window.from, window.to, speeds), problem.searched_to));
    }
}

/// Two modes a few percent apart on each side, hardly damped, cut by a few percent of the diameter.
DelaySystem made_up(unsigned seed) {
    std::mt19937 random(seed);
    const auto between = [&](double low, double high) {
        return low + (high - low) * std::uniform_real_distribution<double>(0, 1)(random);
    };
    DelaySystem system;
    const double base = between(400, 2500);
    double hertz = base;
    for (int m = 0; m < 5; ++m) {
        const double stiffness = 1e7 * std::pow(10, between(-0.5, 0.7));
        const double w = 2 * std::numbers::pi * hertz;
        const double angle = between(0, std::numbers::pi);
        system.receptance.terms.push_back(
            {AngularFrequency::from_hertz(hertz), between(0.001, 0.006),
             Eigen::Vector3d(std::cos(angle), std::sin(angle), 0) * w / std::sqrt(stiffness)});
        hertz *= m % 2 == 0 ? between(1.02, 1.06) : between(1.4, 2.2);
    }
    const double diameter = between(0.006, 0.016);
    system.cutter.diameter = diameter;
    system.cutter.helix = between(0.5, 0.75);
    const int teeth = 2 + static_cast<int>(seed % 4);
    for (int tooth = 0; tooth < teeth; ++tooth) {
        system.cutter.tooth_angle.push_back(2 * std::numbers::pi * tooth / teeth);
    }
    system.engagement = engagement(seed % 3 == 0 ? Milling::up : Milling::down,
                                   between(0.02, 0.08) * diameter, diameter);
    system.law.tangential = between(6e8, 2.2e9);
    system.law.radial = between(0.2, 0.5) * system.law.tangential;
    return system;
}

}  // namespace

int main(int count, char** values) {
    std::vector<std::string> jobs;
    int speeds = 400, made = 20;
    for (int i = 1; i < count; ++i) {
        const std::string word = values[i];
        if (word == "--speeds" && i + 1 < count) {
            speeds = std::atoi(values[++i]);
        } else if (word == "--made" && i + 1 < count) {
            made = std::atoi(values[++i]);
        } else {
            jobs.push_back(word);
        }
    }
    fmt::print("{:44} {:>5} {:>7} {:>9} {:>8} {:>8} {:>9} {:>6} {:>10} {:>8} {:>8}\n", "cut",
               "asked", "differ", "too high", "most, %", "too low", "most, %", "nulls",
               "walk wrong", "ms", "walk ms");
    for (const std::string& job : jobs) gate_job(job, speeds);
    for (int i = 0; i < made; ++i) {
        const DelaySystem system = made_up(static_cast<unsigned>(i + 1));
        print(fmt::format("made up {}", i + 1),
              gate(system,
                   spread_over(SpindleSpeed::from_rpm(1500), SpindleSpeed::from_rpm(20000), speeds),
                   0.06));
    }
}

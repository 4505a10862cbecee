// Listens to every recording of a folder made by validation/peers/milling_recordings.py and holds
// what is found against the truth beside them: right, unclear, wrong; alarms on steady cuts; how
// often the program is right of what it says with 90 % and more.
//   validation_sound_score DIR [--list | FILE]
#include <fmt/format.h>

#include <fstream>
#include <iostream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "cli/sound/read_recording.hpp"
#include "fea/studies/sound/sound_finding.hpp"

namespace standfast {
namespace {

struct Known {
    std::string file, truth, how;
    double display_rpm = 0, rpm = 0, line = 0;
    int teeth = 0;
};

std::vector<Known> read_truth(const std::string& path) {
    std::ifstream file(path);
    if (!file) throw std::runtime_error(path + ": cannot be read");
    std::vector<Known> list;
    std::string row;
    std::getline(file, row);
    while (std::getline(file, row)) {
        std::istringstream cells(row);
        std::vector<std::string> cell(1);
        while (std::getline(cells, cell.back(), ',')) cell.emplace_back();
        list.push_back({.file = cell.at(0),
                        .truth = cell.at(4),
                        .how = cell.at(7) + ", runout " + cell.at(6),
                        .display_rpm = std::stod(cell.at(1)),
                        .rpm = std::stod(cell.at(2)),
                        .line = std::stod(cell.at(5)),
                        .teeth = std::stoi(cell.at(3))});
    }
    return list;
}

std::string name_of(SoundCause cause) {
    constexpr const char* kNames[] = {"chatter", "doubled", "forced", "runout", "quiet", "unclear"};
    return kNames[static_cast<std::size_t>(cause)];
}

bool is_right(const std::string& truth, SoundCause cause) {
    if (truth == "steady") return cause == SoundCause::forced || cause == SoundCause::runout;
    return cause == (truth == "chatter" ? SoundCause::chatter : SoundCause::period_doubling);
}

struct Score {
    int all = 0, right = 0, unclear = 0, wrong = 0, alarms = 0, steady = 0, speed_wrong = 0;
    int missed = 0;  ///< chatter or doubling called forced, runout or quiet
    std::map<std::string, std::map<std::string, int>> table;
    std::map<int, std::pair<int, int>> sure;  ///< tenths of confidence: named, right
};

void add(Score& score, const Known& known, const SoundFinding& found) {
    const bool right = is_right(known.truth, found.cause);
    const bool unclear = found.cause == SoundCause::unclear;
    const bool alarm =
        found.cause == SoundCause::chatter || found.cause == SoundCause::period_doubling;
    ++score.all;
    score.right += right ? 1 : 0;
    score.unclear += unclear ? 1 : 0;
    score.wrong += right || unclear ? 0 : 1;
    score.steady += known.truth == "steady" ? 1 : 0;
    score.alarms += known.truth == "steady" && alarm ? 1 : 0;
    score.missed += known.truth != "steady" && !alarm && !unclear ? 1 : 0;
    score.speed_wrong += found.speed.refined &&
                         std::abs(60 * found.speed.revolutions_per_second / known.rpm - 1) > 2e-3;
    ++score.table[known.truth][name_of(found.cause)];
    if (unclear) return;
    auto& [named, good] = score.sure[static_cast<int>(10 * found.confidence + 1e-9)];
    ++named;
    good += right ? 1 : 0;
}

void print(const Score& score) {
    const auto share = [&](int part, int of) { return 100.0 * part / std::max(1, of); };
    std::cout << fmt::format(
        "{} recordings: {} right ({:.1f} %), {} unclear ({:.1f} %), {} wrong ({:.1f} %), of these "
        "{} "
        "missed; {} alarms on {} steady cuts; a refined speed is off by 0.2 % and more in {}\n",
        score.all, score.right, share(score.right, score.all), score.unclear,
        share(score.unclear, score.all), score.wrong, share(score.wrong, score.all), score.missed,
        score.alarms, score.steady, score.speed_wrong);
    for (const auto& [truth, row] : score.table) {
        std::cout << "  truth " << truth << ":";
        for (const auto& [name, count] : row) std::cout << " " << name << " " << count;
        std::cout << "\n";
    }
    int named = 0, good = 0;
    for (const auto& [tenth, pair] : score.sure) {
        std::cout << fmt::format("  said {} %: {} of {} right\n", 10 * tenth, pair.second,
                                 pair.first);
        if (tenth < 9) continue;
        named += pair.first;
        good += pair.second;
    }
    std::cout << fmt::format("  said 90 % and more: {} of {} right ({:.1f} %)\n", good, named,
                             share(good, named));
}

void print_lines(const SoundFinding& found) {
    for (const HeardLine& heard : found.lines) {
        constexpr const char* kSources[] = {"tooth", "spindle", "CHATTER", "hum", "-"};
        std::cout << fmt::format(
            "    {:8.2f} Hz {:6.1f} dB prominence {:8.0f} {} {:.3f}\n", heard.line.frequency,
            10 * std::log10(heard.line.power), heard.line.prominence,
            kSources[static_cast<std::size_t>(heard.source)], heard.order.value_or(0));
    }
}

int run(const std::string& folder, bool list, const std::string& only) {
    Score score;
    for (const Known& known : read_truth(folder + "/truth.csv")) {
        if (!only.empty() && known.file != only) continue;
        const SoundFinding found =
            listen(read_recording(folder + "/" + known.file).recording,
                   {.revolutions_per_second = known.display_rpm / 60, .teeth = known.teeth});
        add(score, known, found);
        if (list || !only.empty()) {
            std::cout << fmt::format(
                "{} {} {} {} {:.2f} line {:.0f} found {:.0f} rpm {:.1f} off {:.4f} teeth {} half "
                "{:.1f} low {:.1f} "
                "places {} neighbours {} contrast {:.1f} accident {:.1e} family {:.4f} shares "
                "{:.3f} {:.3f} {:.3f} {:.3f} {:.3f} ({})\n",
                is_right(known.truth, found.cause)   ? "right  "
                : found.cause == SoundCause::unclear ? "unclear"
                                                     : "WRONG  ",
                known.file, known.truth, name_of(found.cause), found.confidence, known.line,
                found.chatter_hertz.value_or(0), known.rpm,
                60 * found.speed.revolutions_per_second / known.rpm - 1, known.teeth,
                found.half_tooth_level, found.half_tooth_low, found.half_tooth_places,
                found.neighbours, found.speed.contrast, found.accident, found.family_share,
                found.shares.tooth_passing / found.shares.everything,
                found.shares.half_tooth / found.shares.everything,
                found.shares.spindle / found.shares.everything,
                found.shares.chatter / found.shares.everything,
                found.shares.unknown / found.shares.everything, known.how);
        }
        if (!only.empty()) print_lines(found);
    }
    if (only.empty()) print(score);
    return 0;
}

}  // namespace
}  // namespace standfast

int main(int count, char** words) {
    const std::vector<std::string> arguments(words + 1, words + count);
    if (arguments.empty()) {
        std::cerr << "usage: validation_sound_score DIR [--list | FILE]\n";
        return 2;
    }
    const std::string more = arguments.size() > 1 ? arguments[1] : "";
    return standfast::run(arguments.front(), more == "--list", more == "--list" ? "" : more);
}

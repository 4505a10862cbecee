#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <sstream>
#include <system_error>

#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/csv.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kFirstLine = "Written by standfast beside the CSV files in this folder.";
constexpr std::string_view kListLine = "Files (fingerprint, name):";

/// Fingerprints of files that this program wrote or was about to write, by file name; several while
/// a folder is being renewed.
using Remembered = std::map<std::string, std::set<std::string>>;

/// What an earlier run left. The companion of somebody else, or one that lost its first line, knows
/// of no file.
Remembered remembered(const fs::path& folder) {
    Remembered fingerprints;
    std::istringstream stream(file_bytes(folder / kCompanionName));
    std::string line;
    if (!std::getline(stream, line) || line != kFirstLine) {
        return fingerprints;
    }
    bool in_list = false;
    while (std::getline(stream, line)) {
        const std::size_t gap = line.find("  ");
        if (in_list && gap != std::string::npos) {
            fingerprints[line.substr(gap + 2)].insert(line.substr(0, gap));
        }
        in_list = in_list || line == kListLine;
    }
    return fingerprints;
}

std::string list_of(const Remembered& fingerprints) {
    std::string text;
    for (const auto& [name, known] : fingerprints) {
        for (const std::string& one : known) text += one + "  " + name + "\n";
    }
    return text;
}

/// The companion is ours by its first line alone: it cannot hold its own fingerprint.
bool companion_is_ours(const fs::path& folder) {
    const std::string bytes = file_bytes(folder / kCompanionName);
    return bytes.starts_with(kFirstLine);
}

void refuse_foreign(const fs::path& folder, const std::vector<OutputFile>& files) {
    const auto fingerprints = remembered(folder);
    for (const OutputFile& file : files) {
        const auto known = fingerprints.find(file.name);
        const bool ever = known != fingerprints.end();
        const auto is_ours = [&](const std::string& last) {
            return look_at(folder / file.name, last) == Existing::written_here;
        };
        if (look_at(folder / file.name, "") != Existing::nothing &&
            !(ever && std::ranges::any_of(known->second, is_ours))) {
            throw UsageError(fmt::format(
                "{}: {}; --force overwrites it; nothing was written", (folder / file.name).string(),
                !ever ? "is there already and was not written by this program"
                      : "was changed since this program wrote it"));
        }
    }
    const fs::path companion = folder / kCompanionName;
    if (look_at(companion, "") == Existing::foreign && !companion_is_ours(folder)) {
        throw UsageError(
            fmt::format("{}: is there already and was not written by this program; --force "
                        "overwrites it; nothing was written",
                        companion.string()));
    }
}

/// The companion down to its list of files.
std::string companion_head(const std::vector<std::string>& not_judged) {
    std::string text = std::string(kFirstLine) + "\n\n";
    text +=
        "*-receptance.csv  frequency in Hz; displacement per force in m/N, real and imaginary\n"
        "                  part, of tool, work and both (relative); x along the feed, y square\n"
        "                  to it, z from the tip to the spindle\n"
        "*-sound.csv       a recording's spectrum: Hz, level in dB of a tone there over full "
        "scale, and\n"
        "                  where a tone stands its source and order (of tooth passing or spindle)\n"
        "*-speeds.csv      each spindle speed: level, reasons, whether it may be recommended,\n"
        "                  edge of chatter (limit_m), error of the wall (error_m, above 0 is cut\n"
        "                  too deep, below 0 is stock left), vibration; an empty field is none\n"
        "*-grid.csv        trade: each option, pass and stickout: whether it clears, edge of\n"
        "                  chatter at the pass's speed, usable depth at its best speed\n"
        "*-options.csv     trade: each option and pass at the stickout chosen for its tool\n"
        "*-limits.csv      trade: edge of chatter at every speed (--every-speed)\n"
        "*-march.csv       where asked for: the pass followed in time from rest; tool minus part "
        "in\n"
        "                  m and force on the tool in N, same axes\n";
    text += "\nCautions:\n";
    for (const std::string& caution : cautions()) {
        text += "- " + caution + "\n";
    }
    text += "\nNot judged:\n";
    for (const std::string& item : not_judged) {
        text += "- " + item + "\n";
    }
    return text + "\n" + std::string(kListLine) + "\n";
}

}  // namespace

std::string companion_text(const std::vector<OutputFile>& files,
                           const std::vector<std::string>& not_judged) {
    Remembered list;
    for (const OutputFile& file : files) list[file.name].insert(fingerprint(file.bytes));
    return companion_head(not_judged) + list_of(list);
}

void write_csv_folder(const fs::path& folder, const std::vector<OutputFile>& files,
                      const std::vector<std::string>& not_judged, bool force) {
    if (!force) {
        refuse_foreign(folder, files);
    }
    std::error_code error;
    fs::create_directories(folder, error);
    if (error) {
        throw std::runtime_error(
            fmt::format("{}: cannot be made: {}", folder.string(), error.message()));
    }
    // Files of earlier runs that this one does not write stay known as ours. What is to be written
    // is known before it is: interrupted anywhere, the same command finds nothing but its own.
    const Remembered before = remembered(folder);
    Remembered meanwhile = before, after = before;
    for (const OutputFile& file : files) {
        meanwhile[file.name].insert(fingerprint(file.bytes));
        after[file.name] = {fingerprint(file.bytes)};
    }
    for (const auto& [name, known] : before) remove_left_over(folder / name);
    write_file(folder / kCompanionName, companion_head(not_judged) + list_of(meanwhile));
    for (const OutputFile& file : files) {
        write_file(folder / file.name, file.bytes);
    }
    write_file(folder / kCompanionName, companion_head(not_judged) + list_of(after));
}

}  // namespace standfast

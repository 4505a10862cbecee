#pragma once

#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "cli/report/common/receptance_table.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// frequency_hz, then for tool, work and relative the six components xx, yy, zz, xy, xz, yz, real
/// and imaginary part (m/N, tool frame): tool_xx_re, tool_xx_im, ... relative_yz_im.
std::string receptance_csv(const ReceptanceTable& table);

/// rpm, level, reasons ("; " between), offered, limit_m, kind, chatter_hz, error_m,
/// peak_to_peak_m; an empty field is none.
std::string speeds_csv(const PassReport& pass);

/// One file to be written.
struct OutputFile {
    std::string name;  ///< within the folder
    std::string bytes;
};

/// Name of the file that goes with every CSV folder: what the columns are, the cautions, what was
/// not judged, and the fingerprints by which a later run knows its own files.
inline constexpr std::string_view kCompanionName = "standfast-files.txt";

/// The companion's text for these files.
std::string companion_text(const std::vector<OutputFile>& files,
                           const std::vector<std::string>& not_judged);

/// Writes the files and their companion into the folder, which is made if it is not there. All
/// are looked at before the first is written.
/// @throws UsageError where a file is there that this program did not write, or wrote and that
///         was changed since, unless `force`; then nothing is written
/// @throws std::runtime_error where the system refuses
void write_csv_folder(const std::filesystem::path& folder, const std::vector<OutputFile>& files,
                      const std::vector<std::string>& not_judged, bool force);

}  // namespace standfast

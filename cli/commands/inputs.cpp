#include "cli/commands/inputs.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <set>
#include <system_error>

#include "cli/files/usage_error.hpp"
#include "cli/job/merge_files.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;

void add(std::vector<std::string>& files, const std::optional<std::string>& path) {
    if (path) files.push_back(*path);
}

void add_files_of(const Value& value, std::set<std::string>& files) {
    if (value.where.file) files.insert(value.where.file->name);
    for (const Value& item : value.items) add_files_of(item, files);
    for (const Entry& entry : value.entries) add_files_of(entry.value, files);
}

/// A job and what it uses, as far as it can be read.
std::set<std::string> files_of_job(const std::string& path) {
    std::set<std::string> files{path};
    std::error_code unknown;
    // A pipe can be read once, by the reader of the job.
    if (!fs::is_regular_file(path, unknown)) return files;
    std::vector<Diagnostic> left_to_the_reader;
    if (const auto tree = load_merged(path, left_to_the_reader)) add_files_of(*tree, files);
    return files;
}

bool is_same_file(const std::string& a, const std::string& b) {
    std::error_code unknown;
    if (fs::equivalent(a, b, unknown) && !unknown) return true;
    const fs::path first = fs::weakly_canonical(a, unknown);
    if (unknown) return false;
    const fs::path second = fs::weakly_canonical(b, unknown);
    return !unknown && first == second;
}

}  // namespace

std::vector<std::string> files_read(const Options& options) {
    std::vector<std::string> files;
    const bool jobs = options.command == Command::check || options.command == Command::trade ||
                      options.command == Command::explain || options.command == Command::fit;
    for (const std::string& argument : jobs ? options.arguments : std::vector<std::string>{}) {
        if (options.merge) {
            files.push_back(argument);
            continue;
        }
        const std::set<std::string> of_job = files_of_job(argument);
        files.insert(files.end(), of_job.begin(), of_job.end());
    }
    // An overlay may be fitted anew and saved where it was.
    for (const auto& path : {options.save ? std::nullopt : options.overlay, options.materials_file,
                             options.sound, options.background, options.tap, options.program}) {
        add(files, path);
    }
    return files;
}

std::vector<std::string> files_named_for_writing(const Options& options) {
    std::vector<std::string> files;
    for (const auto& path : {options.report, options.save, options.out}) add(files, path);
    return files;
}

void refuse_unfit_places(const Options& options) {
    std::error_code unknown;
    for (const std::string& output : files_named_for_writing(options)) {
        const fs::path folder = fs::path(output).parent_path();
        if (!folder.empty() && !fs::is_directory(folder, unknown)) {
            throw UsageError(fmt::format("{}: there is no folder {}", output, folder.string()));
        }
        if (fs::is_directory(output, unknown)) {
            throw UsageError(fmt::format("{}: is a folder, not a file", output));
        }
    }
    for (fs::path at = options.csv_directory.value_or(""); !at.empty(); at = at.parent_path()) {
        if (fs::exists(at, unknown) && !fs::is_directory(at, unknown)) {
            throw UsageError(
                fmt::format("--csv {}: {} is no folder", *options.csv_directory, at.string()));
        }
        if (at == at.parent_path()) break;
    }
}

void refuse_inputs(const Options& options, const std::vector<std::string>& outputs) {
    if (outputs.empty()) return;
    const std::vector<std::string> inputs = files_read(options);
    for (const std::string& output : outputs) {
        for (const std::string& input : inputs) {
            if (is_same_file(output, input)) {
                throw UsageError(fmt::format(
                    "{}: is read by this command ({}), so it is not written; --force does not "
                    "change that",
                    output, input));
            }
        }
    }
}

}  // namespace standfast

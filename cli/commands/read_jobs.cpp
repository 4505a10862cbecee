#include "cli/commands/read_jobs.hpp"

#include <fmt/format.h>

#include <iostream>

#include "cli/files/usage_error.hpp"
#include "cli/job/read_job.hpp"
#include "cli/text/visible_text.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {

std::vector<ReadJob> read_jobs(const Options& options) {
    ReadOptions reading;
    reading.overlay = options.overlay.value_or("");
    reading.other_machine = options.other_machine;
    if (options.materials_file) {
        reading.material_files.push_back(*options.materials_file);
    }
    std::vector<ReadJob> jobs;
    bool readable = true;
    for (const std::string& path : options.arguments) {
        ReadResult read = read_job(path, reading);
        for (const std::string& warning : read.warnings) {
            std::cerr << visible_lines(path + ": warning: " + warning) << "\n";
        }
        if (!read.errors.empty() || !read.job) {
            std::cerr << format_diagnostics(std::move(read.errors));
            readable = false;
            continue;
        }
        jobs.push_back({.path = path,
                        .job = std::move(*read.job),
                        .measurements = std::move(read.measurements)});
    }
    return readable ? std::move(jobs) : std::vector<ReadJob>{};
}

std::vector<std::string> measurements_of(const std::vector<ReadJob>& jobs) {
    std::vector<std::string> all;
    for (const ReadJob& read : jobs) {
        all.insert(all.end(), read.measurements.begin(), read.measurements.end());
    }
    return all;
}

std::size_t pass_named(const ReadJob& read, const std::string& name) {
    std::vector<std::string> names;
    for (const Pass& pass : read.job.passes) {
        if (pass.name == name) {
            return names.size();
        }
        names.push_back(pass.name);
    }
    const auto nearest = nearest_name(name, names);
    throw UsageError(fmt::format("{}: has no pass \"{}\"{}", read.path, name,
                                 nearest ? fmt::format("; did you mean \"{}\"?", *nearest) : ""));
}

}  // namespace standfast

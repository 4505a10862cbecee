#include "cli/fit.hpp"

#include <fmt/format.h>

#include <iostream>

#include "cli/fit_overlay.hpp"
#include "cli/job/read_job.hpp"
#include "cli/report/fit_json.hpp"
#include "cli/report/fit_text.hpp"
#include "cli/report/modes_lines.hpp"
#include "cli/safe_file.hpp"
#include "cli/uff/read_receptance.hpp"
#include "cli/usage_error.hpp"
#include "fea/studies/fit.hpp"
#include "fea/studies/modal_fit.hpp"

namespace standfast {
namespace {

constexpr int kBadInput = 2;

std::optional<Job> read(const Options& options, const std::string& path) {
    ReadOptions reading;
    reading.overlay = options.overlay.value_or("");
    if (options.materials_file) {
        reading.material_files.push_back(*options.materials_file);
    }
    ReadResult result = read_job(path, reading);
    for (const std::string& warning : result.warnings) {
        std::cerr << path << ": warning: " << warning << "\n";
    }
    if (!result.errors.empty() || !result.job) {
        std::cerr << format_diagnostics(std::move(result.errors));
        return std::nullopt;
    }
    return std::move(result.job);
}

FittedDirection fitted(const std::string& source, const std::string& direction,
                       const std::vector<AngularFrequency>& frequency,
                       const std::vector<std::complex<double>>& receptance) {
    FittedDirection result{.source = source, .direction = direction, .fit = {}};
    try {
        result.fit = fit_modes(frequency, receptance);
    } catch (const std::domain_error& error) {
        throw UsageError(fmt::format("{}: {}", source, error.what()));
    }
    if (result.fit.terms.empty()) {
        throw UsageError(fmt::format("{}: no mode stands out of the noise", source));
    }
    return result;
}

/// Modes of every receptance of a job, by where they were measured.
int print_modes_of_job(const Job& job) {
    std::vector<std::pair<std::string, std::vector<FittedDirection>>> places;
    for (const Measured& measured : job.measured) {
        if (!measured.receptance) {
            continue;
        }
        const ReceptanceTest& test = *measured.receptance;
        const std::string where =
            test.place.tool ? fmt::format("[[tool]]  # {}", job.tools[*test.place.tool].name)
                            : "[stack]";
        if (places.empty() || places.back().first != where) {
            places.emplace_back(where, std::vector<FittedDirection>{});
        }
        places.back().second.push_back(
            fitted(test.file, direction_text(test.direction), test.frequency, test.receptance));
    }
    if (places.empty()) {
        throw UsageError(
            "--modes-only needs a measured receptance: [[measured]] with kind = \"receptance\", or "
            "the file itself in place of the job");
    }
    for (const auto& [where, directions] : places) {
        std::cout << where << "\n" << modes_lines(directions);
    }
    return 0;
}

int print_modes_of_file(const std::string& path, const std::string& column) {
    const MeasuredReceptance read = read_receptance(path, column);
    std::cout << "# direction: put the one that was measured\n"
              << modes_lines({fitted(path, "\"x\"", read.frequency, read.receptance)});
    return 0;
}

FitResult compute(const Job& job, const std::string& path) {
    try {
        return fit_job(job);
    } catch (const std::domain_error& error) {
        throw UsageError(fmt::format("{}: {}", path, error.what()));
    }
}

/// An overlay knows what it was fitted from; the same measurements again would count twice.
void warn_of_counting_twice(const Options& options, const std::string& path) {
    const std::string inputs = fmt::format("inputs = \"{}\"", fingerprint(file_bytes(path)));
    if (options.overlay && file_bytes(*options.overlay).find(inputs) != std::string::npos) {
        std::cerr << fmt::format(
            "{}: warning: {} was fitted from this very job: its measurements count twice\n", path,
            *options.overlay);
    }
}

void print(const Job& job, const FitResult& result, const Options& options) {
    const std::string saved = options.save.value_or("");
    if (options.json) {
        std::cout << fit_json(job, result, saved);
        return;
    }
    if (options.quiet) {
        return;
    }
    const Terminal terminal = standard_output(options.color);
    std::cout << fit_text(job, result,
                          {.units = options.units,
                           .page = {.width = terminal.width, .color = terminal.color},
                           .job_path = options.arguments.front(),
                           .saved = saved});
}

}  // namespace

int run_fit(const Options& options) {
    const std::string& path = options.arguments.front();
    if (options.modes_only && !path.ends_with(".toml")) {
        return print_modes_of_file(path, options.column.value_or(""));
    }
    const std::optional<Job> job = read(options, path);
    if (!job) {
        return kBadInput;
    }
    if (options.modes_only) {
        return print_modes_of_job(*job);
    }
    warn_of_counting_twice(options, path);
    const FitResult result = compute(*job, path);
    if (options.save) {
        save_overlay(*options.save, overlay_text(*job, result, path, fingerprint(file_bytes(path))),
                     options.force);
    }
    print(*job, result, options);
    return 0;
}

}  // namespace standfast

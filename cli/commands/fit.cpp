#include "cli/commands/fit.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <iostream>
#include <optional>

#include "cli/commands/fit_overlay.hpp"
#include "cli/commands/read_jobs.hpp"
#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/job/read_job.hpp"
#include "cli/page/fit_page.hpp"
#include "cli/report/fit/fit_json.hpp"
#include "cli/report/fit/fit_text.hpp"
#include "cli/report/fit/modes_lines.hpp"
#include "cli/report/fit/plan_text.hpp"
#include "cli/report/fit/tap_text.hpp"
#include "cli/sound/read_recording.hpp"
#include "cli/text/visible_text.hpp"
#include "cli/uff/read_receptance.hpp"
#include "fea/studies/fit/fit.hpp"
#include "fea/studies/fit/modal_fit.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr int kBadInput = 2;

std::optional<Job> read(const Options& options, const std::string& path) {
    ReadOptions reading;
    reading.overlay = options.overlay.value_or("");
    reading.other_machine = options.other_machine;
    if (options.materials_file) {
        reading.material_files.push_back(*options.materials_file);
    }
    ReadResult result = read_job(path, reading);
    for (const std::string& warning : result.warnings) {
        std::cerr << visible_lines(path + ": warning: " + warning) << "\n";
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

/// What a recording of knocks says by itself.
int print_tap(const Options& options) {
    if (!options.arguments.empty()) {
        throw UsageError(
            "--tap stands by itself; in a job: [[measured]] with kind = \"tap\" and sound = "
            "\"FILE\"");
    }
    const SoundFile file = read_recording(*options.tap);
    for (const std::string& warning : file.warnings) {
        std::cerr << visible_lines(fmt::format("{}: warning: {}\n", *options.tap, warning));
    }
    const RingDown found = ring_down(file.recording);
    if (options.json) {
        std::cout << visible_json(tap_json(found));
        return 0;
    }
    const Terminal terminal = standard_output(options.color);
    std::cout << tap_text(found, *options.tap, {.width = terminal.width, .color = terminal.color});
    return 0;
}

/// Leaves out the readings that were set aside by name.
void set_aside(Job& job, const Options& options) {
    std::vector<std::string> names;
    for (const Measured& measured : job.measured) names.push_back(measured.name);
    for (const std::string& name : options.without) {
        if (std::ranges::find(names, name) == names.end()) {
            const auto nearest = nearest_name(name, names);
            throw UsageError(fmt::format(
                "--without: {} has no reading \"{}\"{}", options.arguments.front(), name,
                nearest ? fmt::format("; did you mean \"{}\"?", *nearest)
                        : "; it has: " + fmt::format("{}", fmt::join(names, ", "))));
        }
        std::erase_if(job.measured, [&](const Measured& one) { return one.name == name; });
    }
    if (!options.without.empty() && job.measured.empty()) {
        throw UsageError("--without: no reading is left");
    }
}

FitResult compute(const Job& job, const std::string& path) {
    try {
        return fit_job(job);
    } catch (const std::domain_error& error) {
        throw UsageError(fmt::format("{}: {}", path, error.what()));
    }
}

/// What to measure next.
int print_plan(const Job& job, const Options& options) {
    const std::string& path = options.arguments.front();
    if (job.passes.empty()) {
        throw UsageError(
            fmt::format("{}: --plan needs a [[pass]] whose verdict is to be narrowed", path));
    }
    const ReadJob read{.path = path, .job = job};
    const std::size_t pass = options.pass ? pass_named(read, *options.pass) : 0;
    // Printed dials: 0.001 mm, or 0.0001 in.
    const PlanningOptions planning{.division =
                                       options.units == UnitSystem::metric ? 1e-6 : 2.54e-6};
    MeasuringPlan plan;
    try {
        plan = measuring_plan(job, pass, planning);
    } catch (const std::domain_error& error) {
        throw UsageError(fmt::format("{}: {}", path, error.what()));
    }
    if (options.json) {
        std::cout << visible_json(plan_json(job, plan));
        return 0;
    }
    const Terminal terminal = standard_output(options.color);
    std::cout << plan_text(job, plan, options.units,
                           {.width = terminal.width, .color = terminal.color});
    return 0;
}

/// An overlay knows what it was fitted from; the same measurements again would count twice.
void warn_of_counting_twice(const Options& options, const std::string& path) {
    const std::string inputs = fmt::format("inputs = \"{}\"", fingerprint(file_bytes(path)));
    if (options.overlay && file_bytes(*options.overlay).find(inputs) != std::string::npos) {
        std::cerr << visible_lines(fmt::format(
            "{}: warning: {} was fitted from this very job: its measurements count twice\n", path,
            *options.overlay));
    }
}

void print(const Job& job, const FitResult& result, const std::optional<FitWithout>& without,
           const Options& options) {
    const std::string saved = options.save.value_or("");
    if (options.json) {
        std::cout << visible_json(fit_json(job, result, without, options.without, saved));
        return;
    }
    if (options.quiet) {
        return;
    }
    const Terminal terminal = standard_output(options.color);
    std::cout << fit_text(job, result, without,
                          {.units = options.units,
                           .page = {.width = terminal.width, .color = terminal.color},
                           .job_path = options.arguments.front(),
                           .saved = saved});
}

}  // namespace

int run_fit(const Options& options) {
    if (options.tap) {
        return print_tap(options);
    }
    const std::string& path = options.arguments.front();
    if (options.report && options.modes_only) {
        throw UsageError("--report goes with a fit, not with --modes-only");
    }
    if (options.report) require_page_can_be_written(*options.report, options.force);
    if (options.modes_only && !path.ends_with(".toml")) {
        return print_modes_of_file(path, options.column.value_or(""));
    }
    std::optional<Job> job = read(options, path);
    if (!job) {
        return kBadInput;
    }
    set_aside(*job, options);
    if (options.modes_only) {
        return print_modes_of_job(*job);
    }
    if (options.plan) {
        return print_plan(*job, options);
    }
    warn_of_counting_twice(options, path);
    const FitResult result = compute(*job, path);
    if (options.save) {
        save_overlay(*options.save, overlay_text(*job, result, path, fingerprint(file_bytes(path))),
                     options.force);
    }
    const std::optional<FitWithout> without = fit_without_disagreeing(*job, result);
    if (options.report) {
        const std::string title = job->title.empty() ? path : job->title;
        write_page(*options.report, fit_page(*job, title, result, without, options.units),
                   options.force);
    }
    print(*job, result, without, options);
    return 0;
}

}  // namespace standfast

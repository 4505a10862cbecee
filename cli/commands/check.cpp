#include "cli/commands/check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <memory>
#include <set>

#include "cli/commands/asked_speeds.hpp"
#include "cli/commands/read_jobs.hpp"
#include "cli/explore/explore_page.hpp"
#include "cli/explore/make_input.hpp"
#include "cli/files/file_name.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/page/check_page.hpp"
#include "cli/report/check/json.hpp"
#include "cli/report/check/march_text.hpp"
#include "cli/report/check/screen.hpp"
#include "cli/report/check/side_by_side.hpp"
#include "cli/report/common/csv.hpp"
#include "cli/shards/check_shards.hpp"
#include "cli/text/visible_text.hpp"
#include "fea/judgement/pass/check.hpp"
#include "fea/reach_fcl/fcl_distance.hpp"

namespace standfast {
namespace {

constexpr int kBadInput = 2, kSomethingToAvoid = 3;

struct CheckedJob {
    ReadJob read;
    JobReport report;
};

std::vector<CheckedJob> to_check(std::vector<ReadJob> jobs) {
    std::vector<CheckedJob> checked;
    for (ReadJob& job : jobs) {
        checked.push_back({.read = std::move(job), .report = {}});
    }
    return checked;
}

/// A march is long: it is made of one cut at a time.
void require_one_cut(const CheckedJob& checked, const Options& options) {
    if (!options.march) {
        return;
    }
    if (options.speeds.size() > 1) {
        throw UsageError(
            fmt::format("--march follows one speed: --speeds names {}", options.speeds.size()));
    }
    if (checked.read.job.passes.size() > 1 && !options.pass) {
        throw UsageError(fmt::format("{}: --march follows one pass: name one of the {} by --pass",
                                     checked.read.path, checked.read.job.passes.size()));
    }
}

OddsOptions odds_of(const Job& job, const Options& options) {
    const Uncertainty& own = job.uncertainty;
    return {.draws = options.draws_given ? options.draws : own.draws.value_or(options.draws),
            .seed = options.seed_given ? options.seed : own.seed.value_or(options.seed)};
}

void compute(CheckedJob& checked, const Options& options) {
    if (checked.read.job.passes.empty()) {
        throw UsageError(
            fmt::format("{}: has no [[pass]]: check needs a cut to judge", checked.read.path));
    }
    require_one_cut(checked, options);
    CheckOptions how;
    how.method = options.method;
    how.speeds = options.speeds;
    how.listed_modes = options.modes;
    const std::unique_ptr<SolidDistance> distance = fcl_distance();
    how.distance = distance.get();
    how.odds = odds_of(checked.read.job, options);
    how.march = options.march;
    if (options.pass) {
        how.only_pass = pass_named(checked.read, *options.pass);
    }
    try {
        checked.report = check_job(checked.read.job, how);
    } catch (const std::domain_error& error) {
        throw UsageError(fmt::format("{}: {}", checked.read.path, error.what()));
    }
    keep_asked_speeds(checked.report, options.speeds);
    if (checked.report.title.empty()) {
        checked.report.title =
            checked.read.job.title.empty() ? checked.read.path : checked.read.job.title;
    }
}

void compute_all(std::vector<CheckedJob>& jobs, const Options& options) {
    ProgressLine progress(!options.quiet && jobs.size() > 1);
    for (std::size_t i = 0; i < jobs.size(); ++i) {
        progress.show(fmt::format("computing {} of {}: {}", i + 1, jobs.size(), jobs[i].read.path));
        compute(jobs[i], options);
    }
}

void write_csv(const std::vector<CheckedJob>& jobs, const Options& options) {
    std::vector<OutputFile> files;
    std::vector<std::string> not_judged;
    std::set<std::string> stems;
    const auto add_not_judged = [&](const std::vector<std::string>& items) {
        for (const std::string& item : items) {
            if (std::find(not_judged.begin(), not_judged.end(), item) == not_judged.end()) {
                not_judged.push_back(item);
            }
        }
    };
    for (const CheckedJob& checked : jobs) {
        add_not_judged(checked.report.not_judged);
        for (const PassReport& pass : checked.report.passes) {
            const std::string stem = unique_stem(pass.name, stems);
            files.push_back({.name = stem + "-receptance.csv",
                             .bytes = receptance_csv(receptance_table(checked.read.job, pass))});
            files.push_back({.name = stem + "-speeds.csv", .bytes = speeds_csv(pass)});
            if (pass.march) {
                files.push_back({.name = stem + "-march.csv", .bytes = march_csv(*pass.march)});
            }
            add_not_judged(pass.not_judged);
        }
    }
    write_csv_folder(*options.csv_directory, files, not_judged, options.force);
}

void write_report(const std::vector<CheckedJob>& jobs, const Options& options) {
    std::vector<PagedJob> paged;
    for (const CheckedJob& checked : jobs) {
        paged.push_back({&checked.read.job, &checked.report, checked.read.path});
    }
    write_page(*options.report, check_page(paged, options.units), options.force);
}

void require_explore_can_be_written(const std::vector<CheckedJob>& jobs, const Options& options) {
    if (jobs.size() > 1) {
        throw UsageError(fmt::format("--explore: a page is of one job, here are {}", jobs.size()));
    }
    require_explore_page_can_be_written(*options.explore, options.force);
}

void write_explore(const CheckedJob& checked, const Options& options) {
    const Job& job = checked.read.job;
    const ExploreInput input =
        make_explore_input(checked.read.path, job, checked.report, options.method,
                           odds_of(job, options), options.units);
    const std::size_t first = checked.report.passes.front().pass;
    write_explore_page(*options.explore, explore_page(input, checked.report, first), options.force);
}

void print_json(const std::vector<CheckedJob>& jobs, const Options& options) {
    std::vector<std::string> documents;
    for (const CheckedJob& checked : jobs) {
        documents.push_back(check_json(checked.read.job, checked.report, options.units));
    }
    std::cout << visible_json(join_documents(documents));
}

void print_screens(const std::vector<CheckedJob>& jobs, const Options& options) {
    const Terminal terminal = standard_output(options.color);
    const ScreenOptions screen{.units = options.units,
                               .page = {.width = terminal.width, .color = terminal.color},
                               .list_assumed = options.assumed};
    constexpr std::size_t kSideBySide = 2;
    if (jobs.size() == kSideBySide && !options.quiet) {
        std::cout << side_by_side_text(
            {{&jobs[0].read.job, &jobs[0].report}, {&jobs[1].read.job, &jobs[1].report}},
            options.units, terminal.width);
        return;
    }
    for (const CheckedJob& checked : jobs) {
        if (&checked != &jobs.front() && !options.quiet) {
            std::cout << "\n";
        }
        std::cout << (options.quiet ? quiet_text(checked.report, screen)
                                    : screen_text(checked.read.job, checked.report, screen));
    }
}

bool something_to_avoid(const std::vector<CheckedJob>& jobs) {
    return std::any_of(jobs.begin(), jobs.end(), [](const CheckedJob& checked) {
        return std::any_of(
            checked.report.passes.begin(), checked.report.passes.end(),
            [](const PassReport& pass) { return pass.verdict.level == Level::avoid; });
    });
}

}  // namespace

int run_check(const Options& options) {
    if (options.merge) {
        return merge_checks(options);
    }
    std::vector<CheckedJob> jobs = to_check(read_jobs(options));
    if (jobs.empty()) {
        return kBadInput;
    }
    if (options.shard) {
        return share_out_checks(jobs.size(), options, [&](std::size_t unit) {
            compute(jobs[unit], options);
            return check_json(jobs[unit].read.job, jobs[unit].report, options.units);
        });
    }
    if (options.report) require_page_can_be_written(*options.report, options.force);
    if (options.explore) require_explore_can_be_written(jobs, options);
    compute_all(jobs, options);
    if (options.report) write_report(jobs, options);
    if (options.explore) write_explore(jobs.front(), options);
    if (options.csv_directory) {
        write_csv(jobs, options);
    }
    if (options.json) {
        print_json(jobs, options);
    } else {
        print_screens(jobs, options);
    }
    return options.strict && something_to_avoid(jobs) ? kSomethingToAvoid : 0;
}

}  // namespace standfast

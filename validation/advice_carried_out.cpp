// Whether what is promised holds: every advice, every best speed and every quiet band of jobs,
// carried out on the job itself and checked again with the same tries, and with those of another
// seed. Prints those that come out worse than said, and counts.
// Arguments: job files; --draws N (128 unless said); --other-seed N (none unless said); --pass N
// (from 1; all unless said).
#include <fmt/core.h>

#include <cstdint>
#include <cstdlib>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "cli/job/read_job.hpp"
#include "cli/report/common/edit_lines.hpp"
#include "fea/job/edits/apply_edits.hpp"
#include "fea/judgement/pass/check.hpp"
#include "fea/reach_fcl/fcl_distance.hpp"

namespace {

using namespace standfast;

struct Arguments {
    std::vector<std::string> jobs;
    int draws = 128;
    std::optional<std::uint64_t> other_seed;
    std::optional<std::size_t> pass;
};

struct Promise {
    std::string text;
    std::vector<Edit> set;
    Level level = Level::unflagged;
};

struct Count {
    int carried_out = 0, worse = 0, other_seed = 0, worse_on_other_seed = 0;
};

const char* word(Level level) {
    return level == Level::avoid      ? "avoid"
           : level == Level::marginal ? "marginal"
                                      : "nothing flagged";
}

std::string words(const Job& job, const std::vector<Edit>& set) {
    std::string text;
    for (const EditLine& line : edit_lines(job, set)) {
        text += fmt::format("{}{} = {}", text.empty() ? "" : ", ", line.path,
                            line_value(line, UnitSystem::metric));
    }
    return text;
}

std::vector<Promise> promises(const Job& job, const PassReport& report) {
    const Pass& pass = job.passes[report.pass];
    std::vector<Promise> list;
    for (const Advice& advice : report.advice) {
        list.push_back({words(job, advice.set), advice.set, advice.level});
    }
    if (report.best) {
        list.push_back(
            {fmt::format("best found: {:.0f} rpm, {:.3g} mm",
                         report.best->speed.revolutions_per_second() * 60,
                         1000 * report.best->depth),
             {PassSpeed{pass.name, report.best->speed}, AxialDepth{pass.name, report.best->depth}},
             report.best->level});
    }
    return list;
}

/// Level of a pass with the edits made. One speed is asked for, so that nothing else is computed.
Verdict carried_out(const Job& before, std::size_t pass, const Promise& promise,
                    CheckOptions options) {
    const Job job = edited(before, promise.set);
    options.only_pass = pass;
    options.advise = false;
    if (job.passes[pass].speed) options.speeds = {*job.passes[pass].speed};
    return check_job(job, options).passes.front().verdict;
}

bool worse_than_said(const Job& job, const PassReport& report, const Promise& promise,
                     const CheckOptions& options) {
    const Verdict found = carried_out(job, report.pass, promise, options);
    if (found.level <= promise.level) return false;
    fmt::print("  worse, seed {}: {}: said {}, found {} (reason {})\n", options.odds.seed,
               promise.text, word(promise.level), word(found.level),
               static_cast<int>(found.reasons.front()));
    return true;
}

void carry_out(const Job& job, const PassReport& report, const CheckOptions& options,
               const Arguments& arguments, Count& all) {
    for (const Promise& promise : promises(job, report)) {
        all.carried_out += 1;
        all.worse += worse_than_said(job, report, promise, options) ? 1 : 0;
        if (arguments.other_seed) {
            CheckOptions other = options;
            other.odds.seed = *arguments.other_seed;
            all.other_seed += 1;
            all.worse_on_other_seed += worse_than_said(job, report, promise, other) ? 1 : 0;
        }
        std::fflush(stdout);
    }
}

Arguments read(int argc, char** argv) {
    Arguments arguments;
    for (int i = 1; i < argc; ++i) {
        const std::string word = argv[i];
        const bool valued = word == "--draws" || word == "--other-seed" || word == "--pass";
        if (!valued) {
            arguments.jobs.push_back(word);
            continue;
        }
        if (i + 1 == argc) break;
        const long value = std::atol(argv[++i]);
        if (word == "--draws") arguments.draws = static_cast<int>(value);
        if (word == "--other-seed") arguments.other_seed = static_cast<std::uint64_t>(value);
        if (word == "--pass") arguments.pass = static_cast<std::size_t>(value - 1);
    }
    return arguments;
}

}  // namespace

int main(int argc, char** argv) {
    const Arguments arguments = read(argc, argv);
    const std::unique_ptr<SolidDistance> distance = fcl_distance();
    CheckOptions options;
    options.distance = distance.get();
    options.odds.draws = arguments.draws;
    options.only_pass = arguments.pass;
    Count all;
    for (const std::string& path : arguments.jobs) {
        const ReadResult read = read_job(path, {});
        if (!read.job) {
            fmt::print("{}: is no job that can be read\n", path);
            return 1;
        }
        const JobReport report = check_job(*read.job, options);
        for (const PassReport& pass : report.passes) {
            fmt::print("{}, \"{}\": {}, {} pieces of advice, {}\n", path, pass.name,
                       word(pass.verdict.level), pass.advice.size(),
                       pass.best ? "a best" : "no best");
            carry_out(*read.job, pass, options, arguments, all);
        }
    }
    fmt::print("carried out {}, worse than said {}\n", all.carried_out, all.worse);
    if (arguments.other_seed) {
        fmt::print("on seed {}: carried out {}, worse than said {}\n", *arguments.other_seed,
                   all.other_seed, all.worse_on_other_seed);
    }
    return all.worse == 0 ? 0 : 1;
}

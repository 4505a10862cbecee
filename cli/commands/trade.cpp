#include "cli/commands/trade.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <memory>
#include <set>

#include "cli/commands/read_jobs.hpp"
#include "cli/files/file_name.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/options/progress.hpp"
#include "cli/page/trade_page.hpp"
#include "cli/report/check/json.hpp"
#include "cli/report/trade/trade_csv.hpp"
#include "cli/report/trade/trade_json.hpp"
#include "cli/report/trade/trade_screen.hpp"
#include "cli/report/trade/trade_words.hpp"
#include "cli/report/trade/traded_check.hpp"
#include "cli/shards/run_shard.hpp"
#include "cli/text/visible_text.hpp"
#include "fea/judgement/pass/pass_report.hpp"
#include "fea/reach_fcl/fcl_distance.hpp"
#include "fea/studies/trade/trade_reach.hpp"

namespace standfast {
namespace {

constexpr int kBadInput = 2, kSomethingToAvoid = 3;

/// The job with one of its passes alone.
void keep_pass(Job& job, std::size_t index) {
    const Pass kept = job.passes[index];
    job.passes = {kept};
    if (job.trade) {
        std::erase_if(job.trade->tilts,
                      [&](const PassTilts& tilts) { return tilts.pass != kept.name; });
    }
}

/// One job with its study, which is set up once it is needed.
class Study {
    template <typename Work>
    auto guarded(const Work& work) {
        try {
            return work();
        } catch (const std::domain_error& error) {
            throw UsageError(fmt::format("{}: {}", read_.path, error.what()));
        }
    }

public:
    Study(ReadJob read, const Options& options) : read_(std::move(read)) {
        if (read_.job.passes.empty()) {
            throw UsageError(
                fmt::format("{}: has no [[pass]]: trade needs a cut to judge", read_.path));
        }
        if (options.pass) {
            keep_pass(read_.job, pass_named(read_, *options.pass));
        }
        settings_.method = options.method;
        settings_.every_speed = options.every_speed;
        const Uncertainty& own = read_.job.uncertainty;
        settings_.draws = options.draws_given ? options.draws : own.draws.value_or(settings_.draws);
        settings_.seed = options.seed_given ? options.seed : own.seed.value_or(options.seed);
        settings_.reach = reach_by_distance(*distance_);
        settings_.distance = distance_.get();
        unit_system_ = options.units;
        grid_ = guarded([&] { return trade_grid(read_.job); });
    }

    /// The head counts as a unit too: it carries what the options share.
    std::size_t units() const { return grid_.options.size() + 1; }

    TradedHead head() {
        TradedHead head{.path = read_.path,
                        .title = read_.job.title.empty() ? read_.path : read_.job.title,
                        .riser = grid_.tier_name};
        for (std::size_t tool = 0; tool < grid_.stickouts.size(); ++tool) {
            head.stickouts.push_back({.tool = read_.job.tools[tool].name,
                                      .stickout = grid_.stickouts[tool],
                                      .own = stickout_of(read_.job.tools[tool].cutter)});
        }
        head.assumed = read_.job.assumed;
        head.assumed.insert(head.assumed.end(), grid_.notes.begin(), grid_.notes.end());
        head.not_judged = never_judged();
        head.method = settings_.method;
        head.every_speed = settings_.every_speed;
        head.speeds = settings_.speeds;
        head.draws = settings_.draws;
        head.seed = settings_.seed;
        head.options = grid_.options.size();
        head.units = unit_system_;
        return head;
    }

    const std::vector<std::string>& measurements() const { return read_.measurements; }

    TradeResult option(std::size_t index) {
        return guarded([&] {
            if (!study_) {
                study_ = std::make_unique<TradeStudy>(read_.job, settings_);
            }
            return study_->option(index);
        });
    }

    const std::string& option_id(std::size_t index) const { return grid_.options[index].id; }

private:
    ReadJob read_;
    std::unique_ptr<SolidDistance> distance_ = fcl_distance();
    TradeSettings settings_;
    UnitSystem unit_system_ = UnitSystem::metric;
    TradeGrid grid_;
    std::unique_ptr<TradeStudy> study_;
};

/// Units of all jobs, one after the other: of each its head, then its options.
struct UnitPlace {
    std::size_t job = 0, unit = 0;
};

std::vector<UnitPlace> unit_places(const std::vector<Study>& studies) {
    std::vector<UnitPlace> places;
    for (std::size_t job = 0; job < studies.size(); ++job) {
        for (std::size_t unit = 0; unit < studies[job].units(); ++unit) {
            places.push_back({job, unit});
        }
    }
    return places;
}

std::vector<Study> studies_of(const Options& options) {
    std::vector<Study> studies;
    for (ReadJob& read : read_jobs(options)) {
        studies.emplace_back(std::move(read), options);
    }
    return studies;
}

std::vector<TradedJob> compute_all(std::vector<Study>& studies, const Options& options) {
    Progress progress(!options.quiet, unit_places(studies).size() - studies.size());
    std::vector<TradedJob> traded;
    for (Study& study : studies) {
        TradedJob one{.head = study.head(), .results = {}, .ranking = {}};
        for (std::size_t i = 0; i < one.head.options; ++i) {
            progress.next(study.option_id(i));
            one.results.push_back(study.option(i));
        }
        traded.push_back(std::move(one));
    }
    return traded;
}

std::vector<TradedJob> merged(const Options& options) {
    const MergedShards shards = merge_shards(options.arguments, "trade");
    std::vector<TradedJob> traded;
    std::size_t unit = 0;
    const auto record = [&](const auto& read) {
        try {
            return read(shards.payloads.at(unit++));
        } catch (const std::exception& error) {
            const std::size_t at = std::min(unit, shards.places.size()) - 1;
            throw UsageError(
                fmt::format("{}: is no share of a trade: {}", shards.places.at(at), error.what()));
        }
    };
    while (unit < shards.payloads.size()) {
        TradedJob one{.head = record(read_head_record), .results = {}, .ranking = {}};
        if (one.head.options > shards.payloads.size() - unit) {
            throw UsageError(fmt::format("{}: counts {} options, and only {} follow",
                                         shards.places[unit - 1], one.head.options,
                                         shards.payloads.size() - unit));
        }
        const std::size_t first = unit;
        require_sound(one.head, shards.places[first - 1]);
        for (std::size_t i = 0; i < one.head.options; ++i) {
            one.results.push_back(record(read_result_record));
            require_sound(one.results.back(), one.results.front(), shards.places[first + i]);
        }
        traded.push_back(std::move(one));
    }
    return traded;
}

int share_out(std::vector<Study>& studies, const Options& options) {
    const std::vector<UnitPlace> places = unit_places(studies);
    std::vector<std::string> measurements;
    for (const Study& study : studies) {
        measurements.insert(measurements.end(), study.measurements().begin(),
                            study.measurements().end());
    }
    const ShardHeader header{.command = "trade",
                             .version = STANDFAST_VERSION,
                             .inputs = inputs_fingerprint(options, measurements, "trade"),
                             .seed = options.seed,
                             .units = places.size()};
    return run_shard(header, options, [&](std::size_t unit) {
        const auto [job, part] = places[unit];
        return part == 0 ? head_record(studies[job].head())
                         : result_record(studies[job].option(part - 1));
    });
}

void write_csv(const std::vector<TradedJob>& jobs, const Options& options) {
    std::vector<OutputFile> files;
    std::vector<std::string> not_judged;
    std::set<std::string> stems;
    for (const TradedJob& traded : jobs) {
        const std::string name = jobs.size() == 1
                                     ? std::string("trade")
                                     : std::filesystem::path(traded.head.path).stem().string();
        const std::string stem = unique_stem(name, stems);
        for (OutputFile& file : trade_csv(traded, stem)) {
            files.push_back(std::move(file));
        }
        for (const std::string& item : not_judged_of(traded)) {
            if (std::find(not_judged.begin(), not_judged.end(), item) == not_judged.end()) {
                not_judged.push_back(item);
            }
        }
    }
    write_csv_folder(*options.csv_directory, files, not_judged, options.force);
}

void print(const std::vector<TradedJob>& jobs, const Options& options) {
    if (options.json) {
        std::vector<std::string> documents;
        for (const TradedJob& traded : jobs) {
            documents.push_back(trade_json(traded, options.units));
        }
        std::cout << visible_json(join_documents(documents));
        return;
    }
    const Terminal terminal = standard_output(options.color);
    const ScreenOptions screen{.units = options.units,
                               .page = {.width = terminal.width, .color = terminal.color},
                               .list_assumed = options.assumed};
    for (const TradedJob& traded : jobs) {
        if (&traded != &jobs.front() && !options.quiet) {
            std::cout << "\n";
        }
        std::cout << (options.quiet ? trade_quiet(traded, screen) : trade_screen(traded, screen));
    }
}

bool something_to_avoid(const std::vector<TradedJob>& jobs) {
    return std::any_of(jobs.begin(), jobs.end(), [](const TradedJob& traded) {
        return !traded.ranking.best ||
               traded.results[*traded.ranking.best].best_verdict.level == Level::avoid;
    });
}

}  // namespace

int run_trade(const Options& given) {
    Options options = given;
    std::vector<TradedJob> jobs;
    if (options.report) require_page_can_be_written(*options.report, options.force);
    if (options.merge) {
        jobs = merged(options);
        if (!options.units_given && !jobs.empty()) options.units = jobs.front().head.units;
    } else {
        std::vector<Study> studies = studies_of(options);
        if (studies.empty()) {
            return kBadInput;
        }
        if (options.shard) {
            return share_out(studies, options);
        }
        jobs = compute_all(studies, options);
    }
    for (TradedJob& traded : jobs) {
        traded.ranking = rank_trade(traded.results);
    }
    if (options.report) {
        write_page(*options.report, trade_page(jobs, options.units), options.force);
    }
    if (options.csv_directory) {
        write_csv(jobs, options);
    }
    print(jobs, options);
    return options.strict && something_to_avoid(jobs) ? kSomethingToAvoid : 0;
}

}  // namespace standfast

#include "cli/commands/explain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <memory>
#include <set>
#include <stdexcept>

#include "cli/files/file_name.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/job/read_job.hpp"
#include "cli/page/explain_page.hpp"
#include "cli/report/common/csv.hpp"
#include "cli/report/explain/explain_json.hpp"
#include "cli/report/explain/explain_screen.hpp"
#include "cli/report/explain/explain_words.hpp"
#include "cli/text/visible_text.hpp"
#include "fea/reach_fcl/fcl_distance.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr int kBadInput = 2;
constexpr double kHighestMarks = 6000;  // Hz, to which the model's modes reach

std::optional<Job> job_of(const Options& options) {
    ReadOptions reading;
    reading.overlay = options.overlay.value_or("");
    reading.other_machine = options.other_machine;
    if (options.materials_file) reading.material_files.push_back(*options.materials_file);
    const std::string& path = options.arguments.front();
    ReadResult read = read_job(path, reading);
    for (const std::string& warning : read.warnings) {
        std::cerr << visible_lines(path + ": warning: " + warning) << "\n";
    }
    if (read.errors.empty() && read.job) return std::move(read.job);
    std::cerr << format_diagnostics(std::move(read.errors));
    return std::nullopt;
}

std::string list_of(const std::vector<std::string>& names) {
    std::string list;
    for (const std::string& name : names) {
        list += fmt::format("{}\"{}\"", list.empty() ? "" : ", ", name);
    }
    return list;
}

std::size_t pass_of(const Job& job, const Options& options) {
    const std::string& path = options.arguments.front();
    std::vector<std::string> names;
    for (const Pass& pass : job.passes) names.push_back(pass.name);
    if (names.empty()) throw UsageError(fmt::format("{}: has no [[pass]] to explain", path));
    if (!options.pass && names.size() == 1) return 0;
    if (!options.pass) {
        throw UsageError(
            fmt::format("{}: which pass? --pass takes one of {}", path, list_of(names)));
    }
    const auto found = std::find(names.begin(), names.end(), *options.pass);
    if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
    const auto nearest = nearest_name(*options.pass, names);
    throw UsageError(fmt::format(
        "{}: has no pass \"{}\"{}", path, *options.pass,
        nearest ? fmt::format("; did you mean \"{}\"?", *nearest) : "; it has " + list_of(names)));
}

SpindleSpeed shown_speed(const Explained& explained, const Options& options) {
    if (options.speeds.size() > 1) {
        throw UsageError("--speeds: explain takes one speed, that of the display");
    }
    if (!options.speeds.empty()) return options.speeds.front();
    const Pass& pass = explained.job.passes[explained.pass];
    if (pass.speed) return *pass.speed;
    throw UsageError(fmt::format(
        "{}: pass \"{}\" names no speed; give the one on the display, as in --speeds \"9000 rpm\"",
        options.arguments.front(), pass.name));
}

HeardCut heard_cut(const Explained& explained, SpindleSpeed shown) {
    const Cutter& cutter = explained.job.tools[explained.job.passes[explained.pass].tool].cutter;
    return {.revolutions_per_second = shown.revolutions_per_second(),
            .teeth = cutter.teeth,
            .even_pitch = cutter.pitch.empty(),
            .mains_hertz = 0};
}

/// The line that is worth explaining where there is no chatter: the strongest that the finding is
/// about.
std::optional<double> line_of(const SoundFinding& finding) {
    if (finding.chatter_hertz || finding.cause == SoundCause::quiet) return finding.chatter_hertz;
    const HeardLine* strongest = nullptr;
    for (const HeardLine& heard : finding.lines) {
        const bool fits =
            finding.cause == SoundCause::forced   ? heard.source == LineSource::tooth_passing
            : finding.cause == SoundCause::runout ? heard.source == LineSource::spindle
            : finding.doubt == Doubt::lone_tone   ? heard.source == LineSource::unknown
                                                  : heard.source != LineSource::hum;
        if (fits && (strongest == nullptr || heard.line.power > strongest->line.power)) {
            strongest = &heard;
        }
    }
    return strongest == nullptr ? std::nullopt : std::optional(strongest->line.frequency);
}

void take_recording(Explained& explained, const Options& options, SpindleSpeed shown) {
    HeardRecording heard{
        .path = *options.sound,
        .file = read_recording(*options.sound, {options.sound_from, options.sound_to}),
        .finding = {},
        .background = options.background};
    for (const std::string& warning : heard.file.warnings) {
        std::cerr << visible_lines(heard.path + ": warning: " + warning) << "\n";
    }
    std::optional<SoundFile> background;
    if (options.background) background = read_recording(*options.background);
    try {
        heard.finding = listen(heard.file.recording, heard_cut(explained, shown),
                               background ? &background->recording : nullptr);
    } catch (const std::domain_error& error) {
        throw UsageError(fmt::format("{}: {}", heard.path, error.what()));
    }
    explained.evidence.cause = heard.finding.cause;
    explained.evidence.doubt = heard.finding.doubt;
    explained.evidence.confidence = heard.finding.confidence;
    explained.evidence.hertz = line_of(heard.finding);
    if (heard.finding.speed.refined && heard.finding.cause != SoundCause::quiet) {
        explained.evidence.refined =
            SpindleSpeed::from_rpm(60 * heard.finding.speed.revolutions_per_second);
    }
    explained.recording = std::move(heard);
}

void take_tone(Explained& explained, const Options& options, SpindleSpeed shown) {
    explained.tone = HeardTone{.hertz = *options.heard,
                               .finding = place_tone(*options.heard, heard_cut(explained, shown))};
    explained.evidence.cause = explained.tone->finding.cause;
    explained.evidence.confidence = explained.tone->finding.confidence;
    explained.evidence.hertz = options.heard;
}

void take_marks(Explained& explained, const Options& options, SpindleSpeed shown) {
    const Pass& pass = explained.job.passes[explained.pass];
    const Cutter& cutter = explained.job.tools[pass.tool].cutter;
    const MarkedCut cut{.revolutions_per_second = shown.revolutions_per_second(),
                        .teeth = cutter.teeth,
                        .even_pitch = cutter.pitch.empty(),
                        .feed_per_tooth = pass.feed_per_tooth,
                        .diameter = cutter.diameter,
                        .helix = cutter.helix};
    if (!cut.even_pitch) {
        throw UsageError(
            "--marks: teeth of unequal pitch leave no even marks to measure; use --sound");
    }
    if (options.marks_axial && cut.helix == 0) {
        throw UsageError("--marks-axial: the cutter has no helix, so its marks do not slant");
    }
    SeenMarks seen{.spacing = *options.marks,
                   .axial = options.marks_axial,
                   .finding = read_marks(*options.marks, options.marks_axial, cut, kHighestMarks),
                   .cut = cut};
    explained.evidence.cause = seen.finding.cause;
    explained.evidence.confidence = seen.finding.confidence;
    explained.evidence.candidates = seen.finding.candidates;
    explained.evidence.told_candidate = seen.finding.by_axial;
    explained.marks = std::move(seen);
}

void require_one_source(const Options& options) {
    const int given = (options.sound ? 1 : 0) + (options.heard ? 1 : 0) + (options.marks ? 1 : 0);
    if (given != 1) {
        throw UsageError(fmt::format(
            "explain needs {} of --sound FILE, --heard \"1480 Hz\", --marks \"0.42 mm\"",
            given == 0 ? "one" : "only one"));
    }
    if (options.marks_axial && !options.marks) {
        throw UsageError("--marks-axial goes with --marks, the spacing along the feed");
    }
    if (options.background && !options.sound) {
        throw UsageError("--background goes with --sound, the recording of the cut");
    }
    if ((options.sound_from || options.sound_to) && !options.sound) {
        throw UsageError("--from and --to go with --sound");
    }
    if (options.sound_from && options.sound_to && !(*options.sound_from < *options.sound_to)) {
        throw UsageError("--from must be before --to");
    }
}

void write_files(const Explained& explained, const Options& options) {
    if (!explained.recording) {
        throw UsageError("--csv: only a recording (--sound) has a spectrum to write");
    }
    std::set<std::string> stems;
    const std::string stem = unique_stem(explained.job.passes[explained.pass].name, stems);
    write_csv_folder(
        *options.csv_directory,
        {{.name = stem + "-sound.csv", .bytes = sound_csv(explained.recording->finding)}},
        explain_limits(explained), options.force);
}

void print(const Explained& explained, const Options& options) {
    if (options.json) {
        std::cout << visible_json(explain_json(explained, options.units));
        return;
    }
    const Terminal terminal = standard_output(options.color);
    const ScreenOptions screen{.units = options.units,
                               .page = {.width = terminal.width, .color = terminal.color},
                               .list_assumed = false};
    std::cout << (options.quiet ? explain_quiet_text(explained, screen)
                                : explain_screen(explained, screen));
}

}  // namespace

int run_explain(const Options& options) {
    require_one_source(options);
    if (options.report) require_page_can_be_written(*options.report, options.force);
    std::optional<Job> job = job_of(options);
    if (!job) return kBadInput;
    Explained explained;
    explained.job = std::move(*job);
    explained.title = explained.job.title.empty() ? options.arguments.front() : explained.job.title;
    explained.pass = pass_of(explained.job, options);
    const SpindleSpeed shown = shown_speed(explained, options);
    explained.evidence.shown = shown;
    if (options.sound) take_recording(explained, options, shown);
    if (options.heard) take_tone(explained, options, shown);
    if (options.marks) take_marks(explained, options, shown);
    const std::unique_ptr<SolidDistance> distance = fcl_distance();
    try {
        explained.explanation =
            explain_pass(explained.job, explained.pass, explained.evidence,
                         {.method = options.method, .distance = distance.get()});
    } catch (const std::domain_error& error) {
        throw UsageError(fmt::format("{}: {}", options.arguments.front(), error.what()));
    }
    if (options.report) {
        write_page(*options.report, explain_page(explained, options.units), options.force);
    }
    if (options.csv_directory) write_files(explained, options);
    print(explained, options);
    return 0;
}

}  // namespace standfast

#include "cli/options/options.hpp"

#include <fmt/format.h>

#include <array>
#include <limits>
#include <stdexcept>

#include "cli/files/usage_error.hpp"
#include "cli/options/option_values.hpp"

namespace standfast {
namespace {

constexpr unsigned kCheck = bit_of(Command::check);
constexpr unsigned kMaterials = bit_of(Command::materials);
constexpr unsigned kCreate = bit_of(Command::create);
constexpr unsigned kTrade = bit_of(Command::trade);
constexpr unsigned kJobs = kCheck | kTrade;
constexpr unsigned kExplain = bit_of(Command::explain);
constexpr unsigned kFit = bit_of(Command::fit);
constexpr unsigned kNone = bit_of(Command::none);
constexpr unsigned kAll = kJobs | kMaterials | kCreate | kExplain | kFit;

void choose_method(Options& options, std::string_view value) {
    options.method = parse_word("--method", value, {"zero-order", "periodic"}) == 0
                         ? StabilityMethod::zero_order
                         : StabilityMethod::periodic;
}

}  // namespace

const std::vector<CommandRow>& command_table() {
    static const std::vector<CommandRow> table = {
        {Command::check, "check", "JOB...",
         "Will the cut push off, chatter or ring, which speeds are quiet, what would help", false},
        {Command::trade, "trade", "JOB...",
         "Which riser, and how far out each tool: reach against rigidity, computed together",
         false},
        {Command::explain, "explain", "JOB",
         "Why a surface looks or a cut sounds like that, by --sound, --heard or --marks, and what "
         "cures it",
         false},
        {Command::fit, "fit", "JOB",
         "What was measured at the machine ([[measured]]) corrects the joints of the model", false},
        {Command::materials, "materials", "[NAME]",
         "The built-in materials, cutting data, joints and machines; NAME: one, with its source",
         false},
        {Command::create, "new", "[FILE]",
         "Write a commented starter job to FILE (job.toml unless said; - for the screen)", false},
    };
    return table;
}

const std::vector<OptionRow>& option_table() {
    static const std::vector<OptionRow> table = {
        {"--json", "", "Everything as JSON, SI units; several jobs: one array of documents",
         kJobs | kExplain | kFit, [](Options& o, std::string_view) { o.json = true; }},
        {"--csv", "DIR",
         "Also write CSV files into DIR: check: for each pass PASS-receptance.csv and "
         "PASS-speeds.csv; explain: PASS-sound.csv, the spectrum; trade: the grid of options and "
         "stickouts, and the options",
         kJobs | kExplain,
         [](Options& o, std::string_view value) { o.csv_directory = std::string(value); }},
        {"--report", "FILE.html",
         "Also write a page with drawing and charts that opens in any browser without a network; "
         "several jobs: side by side",
         kJobs | kExplain | kFit,
         [](Options& o, std::string_view value) { o.report = std::string(value); }},
        {"--explore", "FILE.html",
         "Also write a page on which riser, stickout and depth are dragged and the answer follows; "
         "it computes by itself in any browser, without a network",
         kCheck, [](Options& o, std::string_view value) { o.explore = std::string(value); }},
        {"--pass", "NAME", "Only this pass", kJobs | kExplain | kFit,
         [](Options& o, std::string_view value) { o.pass = std::string(value); }},
        {"--speeds", "SPEEDS",
         "Spindle speeds to compute, \"5100 5500 rpm\" or \"3000 to 10000 by 50 rpm\"; "
         "otherwise 400 over the machine's range",
         kCheck | kExplain,
         [](Options& o, std::string_view value) { o.speeds = parse_speeds(value); }},
        {"--sound", "FILE",
         "A recording of the cut (WAV, FLAC, AIFF, Ogg, or a universal file), steady part",
         kExplain, [](Options& o, std::string_view value) { o.sound = std::string(value); }},
        {"--background", "FILE",
         "With --sound: a recording of the machine without the cut, same place and gain; its tones "
         "are taken away",
         kExplain, [](Options& o, std::string_view value) { o.background = std::string(value); }},
        {"--from", "SECONDS", "Where in the recording to begin", kExplain,
         [](Options& o, std::string_view value) { o.sound_from = parse_seconds("--from", value); }},
        {"--to", "SECONDS", "Where in the recording to end", kExplain,
         [](Options& o, std::string_view value) { o.sound_to = parse_seconds("--to", value); }},
        {"--heard", "FREQUENCY", "A tone read off a phone, \"1480 Hz\"", kExplain,
         [](Options& o, std::string_view value) {
             o.heard = parse_measure("--heard", value, Quantity::frequency);
         }},
        {"--marks", "SPACING", "Spacing of the marks on the wall along the feed, \"0.42 mm\"",
         kExplain,
         [](Options& o, std::string_view value) {
             o.marks = parse_measure("--marks", value, Quantity::length);
         }},
        {"--marks-axial", "SPACING",
         "With --marks: spacing of the slanted marks along the tool axis", kExplain,
         [](Options& o, std::string_view value) {
             o.marks_axial = parse_measure("--marks-axial", value, Quantity::length);
         }},
        {"--method", "METHOD",
         "How the edge of chatter is computed: periodic (unless said; the delay equation itself) "
         "or "
         "zero-order (averaged, quick, off by tens of percent at small radial depth)",
         kJobs | kExplain, choose_method},
        {"--every-speed", "",
         "Edges of chatter at 60 speeds for every riser and stickout; otherwise at the programmed "
         "speed, and about the best speeds of the promising stickouts",
         kTrade, [](Options& o, std::string_view) { o.every_speed = true; }},
        {"--shard", "K/N",
         "Do the share K of N of the work and write it as lines of JSON; see --out and --merge",
         kJobs, [](Options& o, std::string_view value) { o.shard = parse_shard(value); }},
        {"--out", "FILE",
         "The file for a shard's lines; run again after an interruption, it goes on where it was",
         kJobs, [](Options& o, std::string_view value) { o.out = std::string(value); }},
        {"--merge", "",
         "The arguments are files of shards, all of one run: join them and write what the whole "
         "run would have (check: as --json)",
         kJobs, [](Options& o, std::string_view) { o.merge = true; }},
        {"--save", "FILE.toml", "Keep the adjusted joints as an overlay for --with", kFit,
         [](Options& o, std::string_view value) { o.save = std::string(value); }},
        {"--without", "READING",
         "Leave out this reading ([[measured]] name, \"push 2\" unless it has one); again for "
         "another",
         kFit, [](Options& o, std::string_view value) { o.without.emplace_back(value); }, true},
        {"--plan", "",
         "What to measure next: the pushes and taps that narrow the verdict most, in the order in "
         "which to do them; --pass says for which pass (the first unless said)",
         kFit, [](Options& o, std::string_view) { o.plan = true; }},
        {"--tap", "FILE",
         "A recording of several knocks (WAV, FLAC): print what rings, its damping and how well "
         "they are known; no job needed",
         kFit, [](Options& o, std::string_view value) { o.tap = std::string(value); }},
        {"--modes-only", "",
         "Print the modes of a measured receptance as lines for a job; also of a measurement file "
         "in place of the job",
         kFit, [](Options& o, std::string_view) { o.modes_only = true; }},
        {"--column", "NAME",
         "With --modes-only and a measurement file that holds several receptances: which one; in a "
         "universal file the record's number",
         kFit, [](Options& o, std::string_view value) { o.column = std::string(value); }},
        {"--march", "",
         "Also follow one pass in time at its depth, as it really cuts: with --speeds and one "
         "speed, with --pass where there are several; --csv then holds PASS-march.csv",
         kCheck, [](Options& o, std::string_view) { o.march = true; }},
        {"--with", "OVERLAY.toml", "Lay the adjusted joints of this file over every job",
         kJobs | kExplain | kFit,
         [](Options& o, std::string_view value) { o.overlay = std::string(value); }},
        {"--other-machine", "",
         "With --with: take joints that were measured on another machine or stack; the verdict "
         "says so",
         kJobs | kExplain | kFit, [](Options& o, std::string_view) { o.other_machine = true; }},
        {"--materials", "FILE.toml", "Add the shop's own rows to the built-in tables",
         kJobs | kExplain | kFit | kMaterials,
         [](Options& o, std::string_view value) { o.materials_file = std::string(value); }},
        {"--seed", "N", "Seed of whatever is drawn at random (1 unless said)", kJobs,
         [](Options& o, std::string_view value) {
             o.seed_given = true;
             o.seed = static_cast<std::uint64_t>(
                 parse_whole("--seed", value, 0, std::numeric_limits<long long>::max()));
         }},
        {"--draws", "N",
         "Tries of what is not known exactly, for the probability of chatter (check: 128 unless "
         "said, 0: none; trade: 24)",
         kJobs,
         [](Options& o, std::string_view value) {
             o.draws = static_cast<int>(parse_whole("--draws", value, 0, 100'000));
             o.draws_given = true;
         }},
        {"--modes", "N", "Vibration modes listed a side in the JSON (6 unless said)", kCheck,
         [](Options& o, std::string_view value) {
             o.modes = static_cast<int>(parse_whole("--modes", value, 1, 500));
         }},
        {"--assumed", "", "List everything that the job did not say and the program assumed", kJobs,
         [](Options& o, std::string_view) { o.assumed = true; }},
        {"--units", "SYSTEM",
         "metric or inch, for the output; unless said, as most of the job's lengths are given",
         kAll,
         [](Options& o, std::string_view value) {
             o.units_given = true;
             o.units = parse_word("--units", value, {"metric", "inch"}) == 0 ? UnitSystem::metric
                                                                             : UnitSystem::inch;
         }},
        {"--strict", "", "Exit code 3 when a pass, or the best of a trade, is at \"avoid\"", kJobs,
         [](Options& o, std::string_view) { o.strict = true; }},
        {"--quiet", "", "Only a line for each pass, and errors", kJobs | kExplain | kCreate | kFit,
         [](Options& o, std::string_view) { o.quiet = true; }},
        {"--color", "WHEN", "auto, always or never; auto: on a terminal, unless NO_COLOR is set",
         kAll,
         [](Options& o, std::string_view value) {
             constexpr std::array kChoices = {ColorChoice::automatic, ColorChoice::always,
                                              ColorChoice::never};
             o.color = kChoices[parse_word("--color", value, {"auto", "always", "never"})];
         }},
        {"--force", "", "Overwrite files that this program did not write",
         kJobs | kExplain | kCreate | kFit, [](Options& o, std::string_view) { o.force = true; }},
        {"--help", "", "What is used daily; --help all: every option", kAll | kNone,
         [](Options& o, std::string_view) { o.help = true; }},
        {"--version", "", "The version", kNone,
         [](Options& o, std::string_view) { o.version = true; }},
    };
    return table;
}

const CommandRow& row_of(Command command) {
    for (const CommandRow& row : command_table()) {
        if (row.command == command && !row.planned) {
            return row;
        }
    }
    throw std::logic_error("a command without a row in the table");
}

}  // namespace standfast

#include "cli/job/read_job.hpp"

#include <utility>

#include "cli/job/check/check_job_makes_sense.hpp"
#include "cli/job/merge_files.hpp"
#include "cli/job/read/read_data.hpp"
#include "cli/job/read/read_machine.hpp"
#include "cli/job/read/read_modes.hpp"
#include "cli/job/read/read_pass.hpp"
#include "cli/job/read/read_tier.hpp"
#include "cli/job/read/read_tool.hpp"
#include "cli/job/toml/load_file.hpp"
#include "materials/tables/load_catalogue.hpp"

namespace standfast {
namespace {

void add_user_tables(Reading& reading, const std::vector<std::string>& files) {
    for (const std::string& path : files) {
        const std::shared_ptr<const SourceFile> file = load_file(path, reading.errors);
        if (!file) {
            continue;
        }
        if (std::optional<Diagnostic> unfit = unfit_text(file)) {
            fail(reading, std::move(*unfit));
            continue;
        }
        try {
            add_to_catalogue(reading.catalogue, file->text, path);
        } catch (const CatalogueError& error) {
            fail(reading, {.where = {.file = file}, .message = error.what()});
        }
    }
}

/// Machine and stack come first, since tools and passes refer to them.
void read_root(Reading& reading, const Value& tree) {
    TableReader root(reading, tree, {});
    reading.job.title = root.text("title", "a text").value_or("");
    read_data(root);
    read_machine(root);
    read_stack(root);
    read_tiers(root);
    read_supports(root);
    read_tools(root);
    read_passes(root);
    read_limits(root);
    read_uncertainty(root);
    read_studies(root);
    complete_machine(root);
    read_measured(root);
    root.find("adjust");
    root.find("measured_on");
    root.find("together");
    root.finish();
}

/// [adjust] may stand in the job itself; an overlay file comes on top of it.
void apply_adjustments(Reading& reading, const Value& tree, const ReadOptions& options) {
    Value own = make_value(tree.where, ValueKind::table);
    for (const Entry& entry : tree.entries) {
        if (entry.key == "adjust" || entry.key == "measured_on" || entry.key == "together") {
            own.entries.push_back(entry);
        }
    }
    apply_overlay(reading, own, options.other_machine);
    if (!options.overlay.empty()) {
        if (const std::optional<Value> overlay = load_merged(options.overlay, reading.errors)) {
            apply_overlay(reading, *overlay, options.other_machine);
        }
    }
}

ReadResult read_tree(const std::optional<Value>& tree, Reading reading,
                     const ReadOptions& options) {
    if (tree) {
        read_root(reading, *tree);
        apply_adjustments(reading, *tree, options);
        check_job_makes_sense(reading);
    }
    ReadResult result{.job = std::nullopt,
                      .errors = std::move(reading.errors),
                      .warnings = std::move(reading.warnings),
                      .measurements = std::move(reading.measurements)};
    if (tree && result.errors.empty()) {
        result.job = std::move(reading.job);
    }
    return result;
}

Reading start_reading(const ReadOptions& options) {
    Reading reading{.catalogue = built_in_catalogue()};
    add_user_tables(reading, options.material_files);
    return reading;
}

}  // namespace

ReadResult read_job(const std::string& path, const ReadOptions& options) {
    Reading reading = start_reading(options);
    const std::optional<Value> tree = load_merged(path, reading.errors);
    return read_tree(tree, std::move(reading), options);
}

ReadResult read_job_text(std::string text, std::string name, const ReadOptions& options) {
    Reading reading = start_reading(options);
    const std::optional<Value> tree =
        merge_text(make_source_file(std::move(name), std::move(text)), reading.errors);
    return read_tree(tree, std::move(reading), options);
}

}  // namespace standfast

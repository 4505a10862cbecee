#include "cli/commands/run.hpp"

#include <iostream>

#include "cli/commands/check.hpp"
#include "cli/commands/explain.hpp"
#include "cli/commands/fit.hpp"
#include "cli/commands/help.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/materials.hpp"
#include "cli/commands/new.hpp"
#include "cli/commands/schema.hpp"
#include "cli/commands/trade.hpp"
#include "cli/job/usual_units.hpp"
#include "cli/options/parse_options.hpp"

namespace standfast {

namespace {

/// In what the shop writes its jobs, where it did not say in what it wants to read.
void choose_units(Options& options) {
    const bool of_jobs = options.command == Command::check || options.command == Command::trade ||
                         options.command == Command::explain || options.command == Command::fit;
    if (of_jobs && !options.units_given && !options.merge) {
        options.units = usual_units(options.arguments);
    }
}

}  // namespace

int run(const std::vector<std::string>& arguments) {
    Options options = parse_options(arguments);
    if (options.version) {
        std::cout << "standfast " STANDFAST_VERSION "\n";
        return 0;
    }
    if (options.help) {
        std::cout << help_text(options.command, standard_output(options.color).width,
                               options.help_all);
        return 0;
    }
    choose_units(options);
    refuse_inputs(options, files_named_for_writing(options));
    refuse_unfit_places(options);
    switch (options.command) {
        case Command::check:
            return run_check(options);
        case Command::trade:
            return run_trade(options);
        case Command::explain:
            return run_explain(options);
        case Command::materials:
            return run_materials(options);
        case Command::create:
            return run_new(options);
        case Command::fit:
            return run_fit(options);
        case Command::schema:
            return run_schema(options);
        case Command::none:
            break;
    }
    return 0;
}

}  // namespace standfast

#include "cli/commands/new.hpp"

#include <fmt/format.h>

#include <iostream>

#include "cli/commands/starter_job.hpp"
#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/text/visible_text.hpp"

namespace standfast {

int run_new(const Options& options) {
    const std::string path = options.arguments.empty() ? "job.toml" : options.arguments.front();
    const std::string job = starter_job(options.units);
    if (path == "-") {
        std::cout << job;
        return 0;
    }
    if (!options.force && look_at(path, "") != Existing::nothing) {
        throw UsageError(fmt::format("{}: is there already; --force overwrites it", path));
    }
    write_file(path, job);
    if (!options.quiet) {
        std::cout << visible_lines(fmt::format("wrote {}; next: standfast check {}\n", path, path));
    }
    return 0;
}

}  // namespace standfast

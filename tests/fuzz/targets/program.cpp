#include <algorithm>
#include <string>

#include "cli/job/read_job.hpp"
#include "cli/starters/program_job.hpp"
#include "cli/starters/starter_job.hpp"
#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {

void try_program(std::string_view bytes) {
    const NcProgram program = read_nc_program(bytes);
    if (program.cuts.empty()) return;
    const std::string job =
        program_job(program, "fuzz.nc", starter_stand("riser", UnitSystem::metric));
    // Whatever the program holds, the job is TOML, and its only faults are blanks and sizes.
    for (const Diagnostic& fault : read_job_text(job, "/nonexistent/job.toml").errors) {
        if (fault.message.find("TOML") != std::string::npos ||
            fault.message.find("unknown key") != std::string::npos) {
            broken(fault.message.c_str());
        }
    }
}

}  // namespace standfast::fuzz

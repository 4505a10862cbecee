#include "cli/commands/schema.hpp"

#include <iostream>

#include "cli/schema/job_schema.hpp"

namespace standfast {

int run_schema(const Options&) {
    std::cout << job_schema();
    return 0;
}

}  // namespace standfast

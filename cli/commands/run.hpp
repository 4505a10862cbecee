#pragma once

#include <string>
#include <vector>

namespace standfast {

/// The whole program: command line (without the program's name) in, exit code out; output to
/// standard output, messages to standard error. Throws what main turns into a message.
int run(const std::vector<std::string>& arguments);

}  // namespace standfast

#include <string>
#include <vector>

#include "cli/files/usage_error.hpp"
#include "cli/options/parse_options.hpp"
#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {

void try_command_line(std::string_view bytes) {
    // One argument a line, as a shell would hand them over.
    std::vector<std::string> arguments;
    while (!bytes.empty() && arguments.size() < 100) {
        const std::size_t end = bytes.find('\n');
        arguments.emplace_back(bytes.substr(0, end));
        bytes.remove_prefix(end == std::string_view::npos ? bytes.size() : end + 1);
    }
    try {
        (void)parse_options(arguments);
    } catch (const UsageError&) {
    }
}

}  // namespace standfast::fuzz

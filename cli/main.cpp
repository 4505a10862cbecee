#include <exception>
#include <iostream>
#include <new>
#include <stdexcept>
#include <string>
#include <vector>

#include "cli/commands/run.hpp"
#include "cli/files/interrupt.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/text/visible_text.hpp"

namespace {

constexpr int kFailed = 1, kBadInput = 2;

int complain(const std::string& message, int code) {
    std::cout.flush();
    std::cerr << "standfast: " << standfast::visible_lines(message) << "\n";
    return code;
}

}  // namespace

int main(int argc, char** argv) {
    standfast::end_at_interrupt();
    try {
        const int code = standfast::run({argv + 1, argv + argc});
        std::cout.flush();
        return std::cout ? code : complain("the output could not be written", kFailed);
    } catch (const standfast::UsageError& error) {
        return complain(error.what(), kBadInput);
    } catch (const std::bad_alloc&) {
        return complain("out of memory", kFailed);
    } catch (const std::exception& error) {
        return complain(error.what(), kFailed);
    }
}

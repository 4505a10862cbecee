#pragma once

#include <stdexcept>

namespace standfast {

/// The command line, or a file it names, cannot be used as given. Ends the program with exit
/// code 2; what() is the whole sentence for the user.
class UsageError : public std::runtime_error {
    using std::runtime_error::runtime_error;
};

}  // namespace standfast

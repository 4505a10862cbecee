#pragma once

#include "cli/files/usage_error.hpp"

namespace standfast {

/// A measurement file that cannot be used; what() is the whole sentence with file, line and byte.
class MeasurementError : public UsageError {
    using UsageError::UsageError;
};

}  // namespace standfast

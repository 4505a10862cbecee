#pragma once

#include <string>

namespace standfast {

/// Where a figure comes from, as honestly as it is known.
enum class Provenance {
    found,            ///< read in the named document
    memory,           ///< recalled from the named publication, not re-read
    common_practice,  ///< shop practice without a citable source
    computed,         ///< calculated from other named figures
    fitted,           ///< chosen so that the model agrees with named observations
    user              ///< given in the job or in the user's own table
};

struct Source {
    std::string text;
    Provenance provenance = Provenance::user;
};

}  // namespace standfast

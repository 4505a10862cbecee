#pragma once

#include <string_view>

namespace standfast {

/// Files that the page of --explore carries with it, as they were at build time.
struct ExploreAssets {
    std::string_view script, core_script, worker_script, style;  ///< explore.js, core.js ...
};
const ExploreAssets& explore_assets();

/// The computing core as WebAssembly: gzip, in base64. Empty: the build had no em++. It is a
/// library of its own, so that the package can hold it where the build does not.
std::string_view explore_core();

}  // namespace standfast

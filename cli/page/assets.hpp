#pragma once

#include <string_view>

namespace standfast {

/// Files that the page carries with it, as they were at build time (embed_assets.cmake).
struct PageAssets {
    std::string_view chart_script;   ///< Chart.js, minified; empty: the build had none
    std::string_view chart_licence;  ///< its licence
    std::string_view script, style;  ///< our own page.js and page.css
};

const PageAssets& page_assets();

}  // namespace standfast

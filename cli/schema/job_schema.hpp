#pragma once

#include <string>

namespace standfast {

// Room "schema": the list of keys as a JSON Schema.

/// The job file as a JSON Schema (draft 2020-12, json-schema.org), for editors that check and
/// complete TOML by one. It holds for whole jobs, for shop-wide files that jobs use, and for
/// overlays of `fit`: no table is required at the top, since `use` may bring it.
///
/// It refuses unknown keys, values of a wrong type, bare numbers out of range and texts without
/// a unit where one is needed. It does not know which units fit, which names exist, nor what two
/// keys make of each other: that is the reader's.
std::string job_schema();

}  // namespace standfast

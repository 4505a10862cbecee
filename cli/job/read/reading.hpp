#pragma once

#include <map>
#include <string>
#include <vector>

#include "cli/job/toml/diagnostic.hpp"
#include "fea/job/job.hpp"
#include "materials/catalogue.hpp"

namespace standfast {

/// What the readers of one job share.
struct Reading {
    Catalogue catalogue{};  ///< built in, plus the user's tables, plus those of the job
    Job job{};
    std::vector<Diagnostic> errors{};
    std::vector<std::string> warnings{};
    std::vector<std::string>
        measurements{};  ///< files of receptances and recordings that were read
    /// Where each value was given, by path with indices: "tier[1].joint.width". Lets a
    /// contradiction found late still point at both lines.
    std::map<std::string, Position> places{};
};

/// Adds a fault; after the first thousand no more are kept.
void fail(Reading& reading, Diagnostic fault);

/// Where a path was given, or the nearest enclosing path that was; a place of line 0 if none.
Position place_of(const Reading& reading, std::string path);
/// Whether the job says this itself.
bool is_given(const Reading& reading, const std::string& path);

/// A number that the program supplied, with the reason in words and the row it came from.
void assume(Reading& reading, std::string path, double value, Quantity quantity,
            std::string text = "", std::string source = "");
/// Something in words that the program supplied.
void assume_text(Reading& reading, std::string path, std::string text, std::string source = "");

/// "tier 2 (\"riser\")" for messages; "tier 2" for one that only has its number for a name.
std::string numbered(std::string_view kind, std::size_t index, const std::string& name);

/// tier."riser" from the kind and the name, as assumptions and advice spell a path.
std::string named_path(std::string_view kind, std::string_view name);

}  // namespace standfast

#pragma once

#include <optional>
#include <vector>

#include "cli/job/read/table_reader.hpp"
#include "fea/job/measured.hpp"

namespace standfast {

/// kind = "receptance": where, direction, file, column; the file is read.
ReceptanceTest read_receptance_test(TableReader& table);

/// Receptances that stand for a tool's side outright, by tool.
struct Replacement {
    std::size_t tool = 0;
    ReceptanceTest test;
    std::optional<double> stickout;
    Position where;
};

/// use = "replace": the tool's side is what was measured; stickout: at which it was. None where the
/// joints are to be adjusted instead.
std::optional<Replacement> read_replacement(TableReader& table, const ReceptanceTest& test);

/// The tools by the modes of what was measured at their tips.
void replace_tools(Reading& reading, const std::vector<Replacement>& replacements);

}  // namespace standfast

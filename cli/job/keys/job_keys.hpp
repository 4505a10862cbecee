#pragma once

#include <string_view>
#include <vector>

#include "cli/job/keys/form.hpp"

namespace standfast {

// Room "keys": which keys a job may have and what each holds, as data. The readers decide; the
// tests hold them and this list against each other in both directions.

/// Every kind of table of a job and of an overlay, the top of the file first.
const std::vector<TableKeys>& job_tables();

/// One by its name.
/// @throws std::domain_error where there is none of that name
const TableKeys& job_table(std::string_view name);

/// The parts of the list.
std::vector<TableKeys> root_tables();
std::vector<TableKeys> machine_tables();
std::vector<TableKeys> stack_tables();
std::vector<TableKeys> tool_tables();
std::vector<TableKeys> pass_tables();
std::vector<TableKeys> data_tables();
std::vector<TableKeys> study_tables();
std::vector<TableKeys> measured_tables();

/// What several tables share.
std::vector<Key> section_keys();
std::vector<Key> spring_keys(bool tool_side);
/// These keys, then those.
std::vector<Key> joined(std::vector<Key> keys, const std::vector<Key>& more);

}  // namespace standfast

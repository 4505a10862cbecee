// Tables that other commands use.
#include "cli/job/read/read_data.hpp"
#include "cli/job/read/read_trade.hpp"

namespace standfast {

void read_studies(TableReader& root) { read_trade(root); }

}  // namespace standfast

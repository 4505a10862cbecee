#include <stdexcept>
#include <string>

#include "cli/files/usage_error.hpp"
#include "cli/report/trade/trade_json.hpp"
#include "cli/report/trade/trade_screen.hpp"
#include "cli/report/trade/traded_check.hpp"
#include "cli/shards/shard_lines.hpp"
#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {
namespace {

/// What a payload becomes: the head of a trade, or an option alone in its trade.
void show(const std::string& payload) {
    try {
        TradedJob traded{.head = read_head_record(payload), .results = {}, .ranking = {}};
        require_sound(traded.head, "fuzz");
        (void)trade_json(traded, UnitSystem::metric);
    } catch (const std::runtime_error&) {
    }
    try {
        TradedJob traded{.head = {}, .results = {read_result_record(payload)}, .ranking = {}};
        require_sound(traded.results.front(), traded.results.front(), "fuzz");
        traded.ranking = rank_trade(traded.results);
        (void)trade_json(traded, UnitSystem::inch);
        (void)trade_screen(traded, {});
    } catch (const std::runtime_error&) {
    }
}

}  // namespace

void try_shard(std::string_view bytes) {
    try {
        const ShardLine line = parse_line(bytes);
        if (parse_line(line_text(line)).unit != line.unit) broken("a line that does not come back");
        show(line.payload);
    } catch (const BadShardLine& error) {
        if (error.column() < 1 || error.column() > bytes.size() + 2) broken("no such column");
    }
}

}  // namespace standfast::fuzz

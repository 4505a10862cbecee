#include "cli/job/read/known_keys.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/job/keys/job_keys.hpp"

namespace standfast {

const std::vector<KnownTable>& known_tables() {
    static const std::vector<KnownTable> tables = [] {
        std::vector<KnownTable> list;
        for (const std::string_view name : {"", "machine", "tier", "tool", "pass"}) {
            const TableKeys& table = job_table(name);
            KnownTable known{.header = table.header, .keys = {}};
            for (const Key& key : table.keys) known.keys.push_back(key.name);
            list.push_back(std::move(known));
        }
        return list;
    }();
    return tables;
}

std::string landed_hint(std::string_view key, std::string_view header) {
    if (header.empty()) {
        return {};
    }
    std::vector<std::string_view> homes;
    for (const KnownTable& table : known_tables()) {
        if (table.header != header && std::ranges::find(table.keys, key) != table.keys.end()) {
            homes.push_back(table.header);
        }
    }
    if (homes.empty()) {
        return {};
    }
    const std::string why =
        fmt::format("a line belongs to the last table header above it, here {}", header);
    if (homes.front().empty()) {
        return fmt::format(R"({}: move "{}" to the top of the file, above every [table])", why,
                           key);
    }
    return fmt::format(R"({}: "{}" belongs under {})", why, key, fmt::join(homes, " or "));
}

}  // namespace standfast

// [limits]: where a level begins.
#include "cli/job/keys/limit_keys.hpp"
#include "cli/job/read/read_data.hpp"
#include "cli/job/read/read_quantity.hpp"

namespace standfast {
namespace {

constexpr Range kFactor{.low = 0, .above_low = true, .high = 1000};

}  // namespace

void read_limits(TableReader& root) {
    auto table = root.table("limits", "[limits], with single brackets");
    if (!table) {
        return;
    }
    TableReader reader(root.reading(), table->value(),
                       {.subject = "limits", .path = "limits", .header = "[limits]"});
    for (const LimitKey& limit : limit_keys()) {
        const auto value = limit.quantity == Quantity::number
                               ? fraction(reader, limit.key, kFactor)
                               : quantity(reader, limit.key, limit.quantity, kToolSize);
        if (value) {
            root.reading().job.limits.*limit.member = *value;
        }
    }
    reader.finish();
}

}  // namespace standfast

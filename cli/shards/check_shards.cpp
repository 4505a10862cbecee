#include "cli/shards/check_shards.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>

#include "cli/files/usage_error.hpp"
#include "cli/report/check/json.hpp"
#include "cli/shards/run_shard.hpp"
#include "cli/shards/shard_lines.hpp"
#include "cli/text/visible_text.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kSomethingToAvoid = 3;

bool has_pass_to_avoid(const Json& document) {
    const Json& passes = document.at("passes");
    return std::any_of(passes.begin(), passes.end(),
                       [](const Json& pass) { return pass.at("verdict").at("level") == "avoid"; });
}

}  // namespace

int share_out_checks(std::size_t jobs, const std::vector<std::string>& measurements,
                     const Options& options,
                     const std::function<std::string(std::size_t)>& document) {
    // The words of a document are in the chosen units, so that these are inputs as well.
    const std::string also =
        fmt::format("check units {} modes {}", static_cast<int>(options.units), options.modes);
    const ShardHeader header{.command = "check",
                             .version = STANDFAST_VERSION,
                             .inputs = inputs_fingerprint(options, measurements, also),
                             .seed = options.seed,
                             .units = jobs};
    return run_shard(header, options, document);
}

int merge_checks(const Options& options) {
    std::vector<std::string> documents;
    bool avoid = false;
    const MergedShards shards = merge_shards(options.arguments, "check");
    for (std::size_t unit = 0; unit < shards.payloads.size(); ++unit) {
        const Json document = Json::parse(shards.payloads[unit]);
        try {
            avoid = avoid || has_pass_to_avoid(document);
        } catch (const Json::exception&) {
            throw UsageError(fmt::format("{}: is no share of a check: no passes with a verdict",
                                         shards.places[unit]));
        }
        documents.push_back(document.dump(1, ' ', false, Json::error_handler_t::replace) + "\n");
    }
    std::cout << visible_json(join_documents(documents));
    return options.strict && avoid ? kSomethingToAvoid : 0;
}

}  // namespace standfast

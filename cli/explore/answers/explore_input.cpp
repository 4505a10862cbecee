#include "cli/explore/answers/explore_input.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <stdexcept>
#include <utility>

#include "cli/text/visible_text.hpp"
#include "fea/packing/pack.hpp"
#include "fea/packing/packed_job.hpp"

namespace standfast {

namespace {

/// An input with its job packed: the many fields of a job are compiled once, in their own room.
struct PackedInput {
    std::string job;
    std::vector<ExploreStart> start;
    JobText text;
    StabilityMethod method = StabilityMethod::periodic;
    int draws = 0;
    std::uint64_t seed = 0;
    UnitSystem units = UnitSystem::metric;
};

}  // namespace

template <>
inline constexpr std::size_t field_count<SpindleSpeed> = 1;
template <>
inline constexpr std::size_t field_count<ExploreSetting> = 5;
template <>
inline constexpr std::size_t field_count<JobPlace> = 7;
template <>
inline constexpr std::size_t field_count<JobText> = 2;
template <>
inline constexpr std::size_t field_count<Headings> = 3;
template <>
inline constexpr std::size_t field_count<ExploreStart> = 2;
template <>
inline constexpr std::size_t field_count<PackedInput> = 7;

namespace {

/// One size that is not as the job has it.
struct Changed {
    JobSize size = JobSize::depth;
    std::size_t index = 0;
    double value = 0;  // SI
    std::string name;  // for the comment
};

std::vector<Changed> changes(const Job& job, const ExploreSetting& setting) {
    const Pass& pass = job.passes.at(setting.pass);
    std::vector<Changed> list;
    const std::optional<std::size_t> riser = riser_of(job, pass);
    if (riser && setting.riser_height && *setting.riser_height != job.stack.tiers[*riser].height) {
        list.push_back({JobSize::riser_height, *riser, *setting.riser_height,
                        fmt::format("tier \"{}\": height", job.stack.tiers[*riser].name)});
    }
    const ToolChain& tool = job.tools.at(pass.tool);
    if (setting.stickout && *setting.stickout != stickout_of(tool.cutter)) {
        list.push_back({JobSize::stickout, pass.tool, *setting.stickout,
                        fmt::format("tool \"{}\": cutter.stickout", tool.name)});
    }
    if (!pass.axial || *pass.axial != setting.depth) {
        list.push_back({JobSize::depth, setting.pass, setting.depth,
                        fmt::format("pass \"{}\": axial", pass.name)});
    }
    if (!pass.speed || *pass.speed != setting.speed) {
        list.push_back({JobSize::speed, setting.pass, setting.speed.radians_per_second,
                        fmt::format("pass \"{}\": speed", pass.name)});
    }
    return list;
}

std::string value_text(const Changed& change, double more, UnitSystem units) {
    const bool speed = change.size == JobSize::speed;
    return '"' +
           exact_text(change.value + (speed ? 0 : more),
                      speed ? Quantity::rotational_speed : Quantity::length, units) +
           '"';
}

}  // namespace

std::string packed_input(const ExploreInput& input) {
    return packed(PackedInput{packed_job(input.job), input.start, input.text, input.method,
                              input.draws, input.seed, input.units});
}

ExploreInput unpacked_input(std::string_view bytes) {
    PackedInput read = unpacked<PackedInput>(bytes);
    ExploreInput input{.job = unpacked_job(read.job),
                       .start = std::move(read.start),
                       .text = std::move(read.text),
                       .method = read.method,
                       .draws = read.draws,
                       .seed = read.seed,
                       .units = read.units};
    if (input.start.size() != input.job.passes.size()) {
        throw std::domain_error("explore: not one beginning for each pass");
    }
    return input;
}

std::string job_text(const ExploreInput& input, const ExploreSetting& setting) {
    std::string toml = input.text.toml, comment;
    // From the end of the text, so that places before it stay where they are.
    std::vector<JobPlace> places = input.text.places;
    std::stable_sort(places.begin(), places.end(),
                     [](const JobPlace& a, const JobPlace& b) { return a.at > b.at; });
    std::vector<Changed> list = changes(input.job, setting);
    for (const JobPlace& place : places) {
        const auto found = std::find_if(list.begin(), list.end(), [&](const Changed& change) {
            return change.size == place.size && change.index == place.index;
        });
        if (found == list.end() || place.at + place.length > toml.size()) continue;
        toml.replace(place.at, place.length,
                     place.before + value_text(*found, place.more, place.units));
        list.erase(found);
    }
    for (const Changed& change : list) {
        comment += fmt::format("# To be changed where it stands: {} = {}\n",
                               visible_text(change.name), value_text(change, 0, input.units));
    }
    return comment + toml;
}

}  // namespace standfast

#include "cli/starters/starter_job.hpp"

#include <algorithm>
#include <stdexcept>

#include "cli/starters/starter_texts.hpp"
#include "materials/lookup_key.hpp"

namespace standfast {
namespace {

struct Starter {
    StarterKind kind;
    std::vector<std::string_view> other_names;
    StarterText text;
};

const std::vector<Starter>& starters() {
    static const std::vector<Starter> list{
        {{"riser", "a part in a dovetail on a riser"}, {"dovetail"}, riser_starter()},
        {{"vice", "a part in a vice"}, {"vise", "jaws"}, vice_starter()},
        {{"pyramid", "parts on the inclined faces of a pyramid"}, {}, pyramid_starter()},
        {{"tower", "parts on the sides of a tower"}, {"tombstone", "column"}, tower_starter()},
        {{"measured-modes", "tapped modes of tool and stack instead of their geometry"},
         {"modes", "measured", "tapped"},
         measured_modes_starter()}};
    return list;
}

const Starter& starter_named(std::string_view name) {
    for (const Starter& starter : starters()) {
        if (starter.kind.name == name) return starter;
    }
    throw std::domain_error("starter: no kind is called " + std::string(name));
}

/// <metric|inch>: one of the two is kept.
std::string in_units(std::string_view rest, UnitSystem units) {
    std::string text;
    while (!rest.empty()) {
        const std::size_t open = rest.find('<');
        text += rest.substr(0, open);
        if (open == std::string_view::npos) break;
        const std::size_t bar = rest.find('|', open);
        const std::size_t close = rest.find('>', bar);
        text += units == UnitSystem::metric ? rest.substr(open + 1, bar - open - 1)
                                            : rest.substr(bar + 1, close - bar - 1);
        rest.remove_prefix(close + 1);
    }
    return text;
}

constexpr std::string_view kHead =
    R"(# A job for standfast: the stack from the table up, the tool, the cut.
#   standfast check THIS-FILE
# Change the numbers to yours. Sizes carry their unit; "150 mm", "6 in" and "3/8 in" mix freely.
# What you leave out is assumed; --assumed lists it. Everything here is invented.

)";

}  // namespace

const std::vector<StarterKind>& starter_kinds() {
    static const std::vector<StarterKind> kinds = [] {
        std::vector<StarterKind> list;
        for (const Starter& starter : starters()) list.push_back(starter.kind);
        return list;
    }();
    return kinds;
}

const StarterKind* starter_kind(std::string_view word) {
    const std::string key = lookup_key(word);
    const auto means = [&](std::string_view name) { return lookup_key(name) == key; };
    for (const Starter& starter : starters()) {
        if (means(starter.kind.name) || std::ranges::any_of(starter.other_names, means)) {
            return &starter.kind;
        }
    }
    return nullptr;
}

std::string starter_job(std::string_view kind, UnitSystem units) {
    const StarterText& text = starter_named(kind).text;
    return std::string(kHead) + in_units(text.stand, units) + in_units(text.cuts, units);
}

std::string starter_stand(std::string_view kind, UnitSystem units) {
    return in_units(starter_named(kind).text.stand, units);
}

}  // namespace standfast

#include <array>
#include <cctype>

#include "cli/uff/read_receptance.hpp"

namespace standfast {
namespace {

struct Named {
    std::string_view name;
    double factor;
};

constexpr std::array<Named, 9> kLengths{{{"um", 1e-6},
                                         {"\xC2\xB5m", 1e-6},
                                         {"\xCE\xBCm", 1e-6},
                                         {"mm", 1e-3},
                                         {"cm", 1e-2},
                                         {"nm", 1e-9},
                                         {"in", 0.0254},
                                         {"ft", 0.3048},
                                         {"m", 1}}};
constexpr double kStandardGravity = 9.80665;
constexpr std::array<Named, 5> kForces{
    {{"kn", 1e3}, {"lbf", 4.4482216152605}, {"lb", 4.4482216152605}, {"kgf", 9.80665}, {"n", 1}}};

std::string plain(std::string_view text) {
    std::string kept;
    for (const char letter : text) {
        if (letter != ' ' && letter != '(' && letter != ')' && letter != '^' && letter != '*') {
            kept += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
        }
    }
    return kept;
}

template <std::size_t size>
const Named* at_start(std::string_view text, const std::array<Named, size>& names) {
    for (const Named& row : names) {
        const std::string_view rest = text.substr(0, row.name.size());
        if (rest == row.name &&
            (text.size() == rest.size() || text[rest.size()] == '/' || text[rest.size()] == '-')) {
            return &row;
        }
    }
    return nullptr;
}

/// Takes "/s2", "/s/s", "/s" off the front.
int take_derivatives(std::string_view& text) {
    for (const auto& [ending, count] : {std::pair<std::string_view, int>{"/s2", 2},
                                        {"/s/s", 2},
                                        {"/sec2", 2},
                                        {"/s", 1},
                                        {"/sec", 1}}) {
        const std::string_view next = text.substr(0, ending.size());
        const bool ends =
            text.size() == next.size() || (next == ending && text[next.size()] == '/');
        if (next == ending && ends) {
            text.remove_prefix(ending.size());
            return count;
        }
    }
    return 0;
}

}  // namespace

MotionUnit motion_unit(std::string_view written) {
    const std::string kept = plain(written);
    std::string_view text = kept;
    MotionUnit unit;
    if (text == "g" || text.starts_with("g/")) {
        unit = {.factor = kStandardGravity, .derivatives = 2};
        text.remove_prefix(1);
    } else if (const Named* const length = at_start(text, kLengths)) {
        text.remove_prefix(length->name.size());
        unit = {.factor = length->factor, .derivatives = take_derivatives(text)};
    } else {
        return unit;
    }
    if (!text.empty()) {
        text.remove_prefix(1);
        const Named* const force = at_start(text, kForces);
        if (force == nullptr || force->name.size() != text.size()) {
            return {};
        }
        unit.factor /= force->factor;
    }
    unit.known = true;
    return unit;
}

}  // namespace standfast

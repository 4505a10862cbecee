#include "cli/job/read/screw_size.hpp"

#include <charconv>
#include <string>

#include "materials/units.hpp"

namespace standfast {
namespace {

constexpr double kInch = 0.0254;

std::optional<double> plain_length(const std::string& text) {
    const ParsedQuantity parsed = parse_quantity(text, Quantity::length);
    return parsed.error.empty() ? std::optional(parsed.value) : std::nullopt;
}

std::optional<double> numbered(std::string_view digits) {
    int number = 0;
    const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), number);
    const bool whole = error == std::errc() && end == digits.data() + digits.size();
    return whole && number >= 0 && number <= 12 ? std::optional((0.060 + 0.013 * number) * kInch)
                                                : std::nullopt;
}

}  // namespace

std::optional<double> screw_diameter(std::string_view designation) {
    std::optional<double> diameter;
    if (designation.starts_with('M') || designation.starts_with('m')) {
        const std::string_view rest = designation.substr(1);
        diameter = plain_length(std::string(rest.substr(0, rest.find_first_of("xX"))) + " mm");
    } else if (designation.starts_with('#')) {
        diameter = numbered(designation.substr(1, designation.find('-') - 1));
    } else if (const std::optional<double> length = plain_length(std::string(designation))) {
        diameter = length;
    } else if (const std::size_t dash = designation.rfind('-');
               dash != std::string_view::npos && dash + 1 < designation.size()) {
        diameter = plain_length(std::string(designation.substr(0, dash)) + " in");
    }
    const bool screw = diameter && *diameter >= 0.0005 && *diameter <= 0.2;
    return screw ? diameter : std::nullopt;
}

}  // namespace standfast

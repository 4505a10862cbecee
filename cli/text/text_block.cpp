#include "cli/text/text_block.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace standfast {

std::string figure(double value, int digits) {
    if (value == 0) return "0";
    if (!std::isfinite(value)) return "-";
    const int magnitude = static_cast<int>(std::floor(std::log10(std::abs(value))));
    if (magnitude < -4) return fmt::format("{:.{}g}", value, digits);
    const int decimals = digits - 1 - magnitude;
    const double step = std::pow(10.0, -decimals);
    std::string text =
        fmt::format("{:.{}f}", std::round(value / step) * step, std::max(decimals, 0));
    if (text.find('.') == std::string::npos) return text;
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

std::string figure_in(double value, Quantity quantity, std::string_view unit, int digits) {
    const double size = parse_quantity(fmt::format("1 {}", unit), quantity).value;
    return fmt::format("{} {}", figure(value / size, digits), unit);
}

std::string wrapped(std::string_view text, std::size_t indent, std::size_t width) {
    std::string result, line;
    const auto end_line = [&] {
        if (!line.empty()) result += std::string(indent, ' ') + line + "\n";
        line.clear();
    };
    while (!text.empty()) {
        const std::size_t space = std::min(text.find(' '), text.size());
        const std::string_view word = text.substr(0, space);
        if (!line.empty() && indent + columns(line) + 1 + columns(word) > width) end_line();
        if (!line.empty() && !word.empty()) line += ' ';
        line += word;
        text.remove_prefix(std::min(space + 1, text.size()));
    }
    end_line();
    return result;
}

std::size_t columns(std::string_view text) {
    // A byte 10xxxxxx continues a character.
    return static_cast<std::size_t>(std::ranges::count_if(
        text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string padded(std::string_view text, std::size_t width) {
    std::string result(text);
    const std::size_t taken = columns(text);
    if (taken < width) result.append(width - taken, ' ');
    return result;
}

std::string shortened(std::string_view text, std::size_t width) {
    if (columns(text) <= width) return std::string(text);
    std::string result;
    for (const char c : text) {
        const bool starts = (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
        if (starts && columns(result) + 3 >= width) break;
        result += c;
    }
    return result + "...";
}

}  // namespace standfast

#include "cli/text/visible_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdint>

namespace standfast {
namespace {

struct CodePoints {
    std::uint32_t from = 0, to = 0;
};

constexpr std::array<CodePoints, 20> kEscaped{{
    {0x00, 0x1F},        // C0
    {0x7F, 0x9F},        // DEL and C1
    {0xAD, 0xAD},        // soft hyphen
    {0x34F, 0x34F},      // grapheme joiner
    {0x61C, 0x61C},      // Arabic letter mark
    {0x115F, 0x1160},    // Hangul fillers
    {0x17B4, 0x17B5},    // Khmer inherent vowels
    {0x180B, 0x180F},    // Mongolian selectors and vowel separator
    {0x200B, 0x200F},    // zero width, left-to-right and right-to-left marks
    {0x2028, 0x202E},    // separators, embeddings, overrides
    {0x2060, 0x206F},    // joiners, invisible operators, isolates
    {0x3164, 0x3164},    // Hangul filler
    {0xFE00, 0xFE0F},    // variation selectors
    {0xFEFF, 0xFEFF},    // byte order mark
    {0xFFA0, 0xFFA0},    // half-width Hangul filler
    {0xFFF0, 0xFFFB},    // annotation
    {0xFFFE, 0xFFFF},    // no characters
    {0x1BCA0, 0x1BCA3},  // shorthand format controls
    {0x1D173, 0x1D17A},  // musical format controls
    {0xE0000, 0xE0FFF},  // tags, variation selectors
}};

bool is_escaped(std::uint32_t code) {
    return std::any_of(kEscaped.begin(), kEscaped.end(), [&](const CodePoints& range) {
        return code >= range.from && code <= range.to;
    });
}

struct Letter {
    std::uint32_t code = 0;
    std::size_t bytes = 0;  ///< 0: no UTF-8
};

/// The shortest form of a code point only, no surrogates: what else there is would be read
/// otherwise by another reader.
Letter letter_at(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const std::uint32_t first = byte(0);
    if (first < 0x80) return {first, 1};
    const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
    if (first < 0xC2 || first > 0xF4 || text.size() < length) return {};
    std::uint32_t code = first & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) return {};
        code = (code << 6U) | (byte(i) & 0x3FU);
    }
    constexpr std::array<std::uint32_t, 5> kLeast{0, 0, 0x80, 0x800, 0x10000};
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (code < kLeast.at(length) || code > 0x10FFFF || surrogate) return {};
    return {code, length};
}

/// @param escape  writes a code point that may not be shown, or, as a negative number, a byte
template <typename Escape>
std::string escaped(std::string_view text, const Escape& escape) {
    std::string shown;
    shown.reserve(text.size());
    while (!text.empty()) {
        const Letter letter = letter_at(text);
        if (letter.bytes == 0) {
            shown += escape(-static_cast<std::int64_t>(static_cast<unsigned char>(text.front())));
            text.remove_prefix(1);
            continue;
        }
        if (is_escaped(letter.code)) {
            shown += escape(static_cast<std::int64_t>(letter.code));
        } else {
            shown += text.substr(0, letter.bytes);
        }
        text.remove_prefix(letter.bytes);
    }
    return shown;
}

std::string by_code(std::int64_t code) {
    return code < 0 ? fmt::format("\\x{{{:02X}}}", -code) : fmt::format("\\u{{{:X}}}", code);
}

std::string in_json(std::int64_t code) {
    constexpr std::int64_t kPlane = 0x10000;
    if (code < 0) return fmt::format("\\u{:04x}", 0xFFFD);
    if (code < 0x20) return {static_cast<char>(code)};  // layout; in strings these are escaped
    if (code < kPlane) return fmt::format("\\u{:04x}", code);
    return fmt::format("\\u{:04x}\\u{:04x}", 0xD800 + ((code - kPlane) >> 10),
                       0xDC00 + ((code - kPlane) & 0x3FF));
}

}  // namespace

std::string visible_text(std::string_view text) { return escaped(text, by_code); }

std::string visible_lines(std::string_view text) {
    return escaped(text, [](std::int64_t code) { return code == '\n' ? "\n" : by_code(code); });
}

std::string visible_json(std::string_view json) { return escaped(json, in_json); }

}  // namespace standfast

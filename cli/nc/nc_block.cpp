#include "cli/nc/nc_block.hpp"

#include <cctype>
#include <charconv>
#include <cmath>

namespace standfast {
namespace {

constexpr std::size_t kLongestPiece = 24;
constexpr std::size_t kMostWords = 64;

bool is_letter(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }
bool is_space(char c) { return c == ' ' || c == '\t' || c == '\r'; }
bool is_of_number(char c) {
    return std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '.' || c == '+' || c == '-';
}

void skip_spaces(std::string_view& rest) {
    while (!rest.empty() && is_space(rest.front())) rest.remove_prefix(1);
}

/// A comment, its brackets taken off.
void take_comment(std::string_view& rest, NcBlock& block) {
    const bool bracket = rest.front() == '(';
    const std::size_t end = bracket ? rest.find(')') : rest.size();
    const std::string_view text = rest.substr(1, end == std::string_view::npos ? end : end - 1);
    if (!block.comment.empty() && !text.empty()) block.comment += ' ';
    block.comment += text;
    rest.remove_prefix(end == std::string_view::npos ? rest.size()
                                                     : std::min(end + 1, rest.size()));
}

/// The number behind a letter, or none where something else stands there.
std::optional<NcWord> take_word(std::string_view& rest) {
    std::string_view tail = rest.substr(1);
    skip_spaces(tail);
    std::size_t length = 0;
    while (length < tail.size() && is_of_number(tail[length])) ++length;
    std::string_view digits = tail.substr(0, length);
    NcWord word{.letter = static_cast<char>(std::toupper(static_cast<unsigned char>(rest.front()))),
                .has_point = digits.find('.') != std::string_view::npos};
    if (digits.starts_with('+')) digits.remove_prefix(1);
    const char* const end = digits.data() + digits.size();
    const auto [stop, error] =
        std::from_chars(digits.data(), end, word.number, std::chars_format::fixed);
    if (digits.empty() || error != std::errc{} || stop != end || !std::isfinite(word.number)) {
        return std::nullopt;
    }
    rest = tail.substr(length);
    return word;
}

}  // namespace

NcBlock read_nc_block(std::string_view line) {
    NcBlock block;
    skip_spaces(line);
    if (line.starts_with('/')) {
        block.skipped_at_will = true;
        line.remove_prefix(1);
    }
    while (true) {
        skip_spaces(line);
        if (line.empty() || line.front() == '%') return block;
        if (line.front() == '(' || line.front() == ';') {
            take_comment(line, block);
            continue;
        }
        const bool program_number = line.front() == ':';
        const std::optional<NcWord> word =
            is_letter(line.front()) || program_number ? take_word(line) : std::nullopt;
        if (!word || block.words.size() >= kMostWords) {
            block.not_plain = line.substr(0, kLongestPiece);
            return block;
        }
        if (!program_number) block.words.push_back(*word);
    }
}

}  // namespace standfast

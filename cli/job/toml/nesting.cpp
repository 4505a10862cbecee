#include "cli/job/toml/nesting.hpp"

namespace standfast {
namespace {

/// End (one past) of the comment or string that starts at i.
std::size_t end_of_comment(std::string_view text, std::size_t i) {
    const std::size_t end = text.find('\n', i);
    return end == std::string_view::npos ? text.size() : end;
}

std::size_t end_of_string(std::string_view text, std::size_t i) {
    const char quote = text[i];
    const std::string_view triple = quote == '"' ? R"(""")" : "'''";
    const bool multiline = text.substr(i, 3) == triple;
    for (i += multiline ? 3 : 1; i < text.size(); ++i) {
        if (quote == '"' && text[i] == '\\') {
            ++i;
        } else if (!multiline && (text[i] == quote || text[i] == '\n')) {
            return i + 1;
        } else if (multiline && text.substr(i, 3) == triple) {
            return i + 3;
        }
    }
    return text.size();
}

}  // namespace

std::optional<std::size_t> too_deep_at(std::string_view toml) {
    std::size_t brackets = 0;
    std::size_t dots = 0;
    for (std::size_t i = 0; i < toml.size();) {
        const char c = toml[i];
        if (c == '#') {
            i = end_of_comment(toml, i);
            continue;
        }
        if (c == '"' || c == '\'') {
            i = end_of_string(toml, i);
            continue;
        }
        switch (c) {
            case '[':
            case '{':
                ++brackets;
                dots = 0;
                break;
            case ']':
            case '}':
                brackets -= brackets > 0 ? 1 : 0;
                dots = 0;
                break;
            case '.':
                ++dots;
                break;
            case ',':
            case '=':
            case '\n':
                dots = 0;
                break;
            default:
                break;
        }
        if (brackets > kDeepestNesting || dots > kDeepestNesting) {
            return i;
        }
        ++i;
    }
    return std::nullopt;
}

}  // namespace standfast

#include "cli/job/toml/source_file.hpp"

#include <utility>

namespace standfast {

std::shared_ptr<const SourceFile> make_source_file(std::string name, std::string text) {
    SourceFile file{.name = std::move(name), .text = std::move(text), .line_starts = {0}};
    for (std::size_t i = 0; i < file.text.size(); ++i) {
        if (file.text[i] == '\n') {
            file.line_starts.push_back(i + 1);
        }
    }
    return std::make_shared<const SourceFile>(std::move(file));
}

std::string_view line_of(const SourceFile& file, int line) {
    const auto index = static_cast<std::size_t>(line) - 1;
    if (line < 1 || index >= file.line_starts.size()) {
        return {};
    }
    const std::size_t start = file.line_starts[index];
    std::string_view rest = std::string_view(file.text).substr(start);
    rest = rest.substr(0, rest.find('\n'));
    if (!rest.empty() && rest.back() == '\r') {
        rest.remove_suffix(1);
    }
    return rest;
}

}  // namespace standfast

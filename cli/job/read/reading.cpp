#include "cli/job/read/reading.hpp"

#include <fmt/format.h>

#include <utility>

namespace standfast {
namespace {

constexpr std::size_t kKeptErrors = 1000;

}  // namespace

void fail(Reading& reading, Diagnostic fault) {
    if (reading.errors.size() < kKeptErrors) {
        reading.errors.push_back(std::move(fault));
    }
}

Position place_of(const Reading& reading, std::string path) {
    while (true) {
        if (const auto found = reading.places.find(path); found != reading.places.end()) {
            return found->second;
        }
        const std::size_t cut = path.find_last_of(".[");
        if (cut == std::string::npos) {
            const auto root = reading.places.find("");
            return root == reading.places.end() ? Position{} : root->second;
        }
        path.resize(cut);
    }
}

bool is_given(const Reading& reading, const std::string& path) {
    return reading.places.contains(path);
}

void assume(Reading& reading, std::string path, double value, Quantity quantity, std::string text,
            std::string source) {
    reading.job.assumed.push_back({.path = std::move(path),
                                   .value = value,
                                   .quantity = quantity,
                                   .text = std::move(text),
                                   .source = std::move(source)});
}

void assume_text(Reading& reading, std::string path, std::string text, std::string source) {
    reading.job.assumed.push_back({.path = std::move(path),
                                   .value = std::nullopt,
                                   .quantity = Quantity::number,
                                   .text = std::move(text),
                                   .source = std::move(source)});
}

std::string numbered(std::string_view kind, std::size_t index, const std::string& name) {
    const std::string number = fmt::format("{} {}", kind, index + 1);
    return name == number ? number : fmt::format(R"({} ("{}"))", number, name.substr(0, 60));
}

std::string named_path(std::string_view kind, std::string_view name) {
    return fmt::format(R"({}."{}")", kind, name);
}

}  // namespace standfast

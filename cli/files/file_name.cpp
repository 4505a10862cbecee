#include "cli/files/file_name.hpp"

#include <algorithm>
#include <array>

namespace standfast {
namespace {

constexpr std::size_t kLongest = 80;

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::string lowered(std::string text) {
    std::transform(text.begin(), text.end(), text.begin(), lower);
    return text;
}

bool stays(char c) {
    const auto byte = static_cast<unsigned char>(c);
    const char small = lower(c);
    return (small >= 'a' && small <= 'z') || (c >= '0' && c <= '9') || c == '_' || byte >= 0x80;
}

bool is_device(const std::string& stem) {
    static constexpr std::array<std::string_view, 4> kDevices = {"con", "prn", "aux", "nul"};
    const std::string small = lowered(stem);
    const bool port = small.size() == 4 && (small.starts_with("com") || small.starts_with("lpt"));
    return port || std::find(kDevices.begin(), kDevices.end(), small) != kDevices.end();
}

void cut(std::string& stem) {
    if (stem.size() > kLongest) {
        std::size_t end = kLongest;
        // Not in the middle of a UTF-8 letter.
        while (end > 0 && (static_cast<unsigned char>(stem[end]) & 0xC0U) == 0x80U) {
            --end;
        }
        stem.resize(end);
    }
    while (stem.ends_with('-')) {
        stem.pop_back();
    }
}

}  // namespace

std::string file_stem(std::string_view name) {
    std::string stem;
    for (const char c : name) {
        if (stays(c)) {
            stem += c;
        } else if (!stem.empty() && stem.back() != '-') {
            stem += '-';
        }
    }
    cut(stem);
    if (stem.empty()) {
        return "pass";
    }
    return is_device(stem) ? stem + "-pass" : stem;
}

std::string unique_stem(std::string_view name, std::set<std::string>& used) {
    const std::string stem = file_stem(name);
    std::string candidate = stem;
    for (int n = 2; !used.insert(lowered(candidate)).second; ++n) {
        candidate = stem + "-" + std::to_string(n);
    }
    return candidate;
}

}  // namespace standfast

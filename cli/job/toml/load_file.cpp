#include "cli/job/toml/load_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdint>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string_view>
#include <system_error>

#include "cli/job/toml/nesting.hpp"

namespace standfast {
namespace {

constexpr std::uintmax_t kLargest = 8'000'000;  // bytes; a long job is a few kilobytes

/// Why a path cannot be read as a job, or empty.
std::string refusal(const std::string& path) {
    std::error_code error;
    const std::filesystem::file_status status = std::filesystem::status(path, error);
    if (path.find('\0') != std::string::npos) {
        return "a file name cannot hold a NUL character";
    }
    if (status.type() == std::filesystem::file_type::not_found) {
        return "there is no such file";
    }
    if (error) {
        return fmt::format("cannot be read: {}", error.message());
    }
    if (std::filesystem::is_directory(status)) {
        return "is a folder, not a file";
    }
    if (!std::filesystem::is_regular_file(status)) {
        return "is not an ordinary file";
    }
    const std::uintmax_t size = std::filesystem::file_size(path, error);
    if (!error && size > kLargest) {
        return fmt::format("is {:.0f} MB; a job file has at most {:.0f} MB",
                           static_cast<double>(size) / 1e6, static_cast<double>(kLargest) / 1e6);
    }
    return {};
}

/// Length of the UTF-8 sequence at the start of the text, or 0 if there is none.
std::size_t sequence_length(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned first = byte(0);
    const std::size_t length = first < 0x80U              ? 1
                               : (first & 0xE0U) == 0xC0U ? 2
                               : (first & 0xF0U) == 0xE0U ? 3
                               : (first & 0xF8U) == 0xF0U ? 4
                                                          : 0;
    if (length == 0 || length > text.size()) {
        return 0;
    }
    unsigned code = length == 1 ? first : first & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) {
            return 0;
        }
        code = (code << 6U) | (byte(i) & 0x3FU);
    }
    constexpr std::array<unsigned, 5> kLeast{0, 0, 0x80, 0x800, 0x10000};
    const bool surrogate = code >= 0xD800U && code <= 0xDFFFU;
    return code < kLeast.at(length) || code > 0x10FFFFU || surrogate ? 0 : length;
}

Position place_of_byte(const std::shared_ptr<const SourceFile>& file, std::size_t offset) {
    const auto after = std::ranges::upper_bound(file->line_starts, offset);
    const auto line = std::distance(file->line_starts.begin(), after);
    const std::size_t start = file->line_starts[static_cast<std::size_t>(line) - 1];
    const std::string_view before = std::string_view(file->text).substr(start, offset - start);
    const auto column = std::ranges::count_if(
        before, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; });
    return {file, static_cast<int>(line), static_cast<int>(column) + 1, 1};
}

}  // namespace

std::shared_ptr<const SourceFile> load_file(const std::string& path,
                                            std::vector<Diagnostic>& errors) {
    const auto refuse = [&](const std::string& why) {
        errors.push_back({.where = {.file = make_source_file(path, "")}, .message = why});
        return std::shared_ptr<const SourceFile>();
    };
    if (const std::string why = refusal(path); !why.empty()) {
        return refuse(why);
    }
    std::ifstream stream(path, std::ios::binary);
    if (!stream) {
        return refuse(fmt::format("cannot be read: {}", std::strerror(errno)));
    }
    // One byte more than is allowed, so that a file that grows meanwhile is noticed too.
    std::string text(static_cast<std::size_t>(kLargest) + 1, '\0');
    stream.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(stream.gcount()));
    if (stream.bad()) {
        return refuse("cannot be read to its end");
    }
    if (text.size() > kLargest) {
        return refuse("is too large for a job file");
    }
    return make_source_file(path, std::move(text));
}

std::optional<Diagnostic> unfit_text(const std::shared_ptr<const SourceFile>& file) {
    const std::string_view text = file->text;
    const auto unfit = [](Position where, std::string message, std::string accepted) {
        Diagnostic fault;
        fault.where = std::move(where);
        fault.message = std::move(message);
        fault.accepted = std::move(accepted);
        return fault;
    };
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) {
        return unfit({.file = file}, "the file is empty",
                     R"(a job; "standfast new" writes one to start from)");
    }
    for (std::size_t i = 0; i < text.size();) {
        const std::size_t length = sequence_length(text.substr(i));
        if (length == 0) {
            return unfit(place_of_byte(file, i),
                         fmt::format("byte {} (0x{:02X}) is not UTF-8", i + 1,
                                     static_cast<unsigned char>(text[i])),
                         "plain text saved as UTF-8");
        }
        if (text[i] == '\0') {
            return unfit(place_of_byte(file, i), fmt::format("byte {} is a NUL character", i + 1),
                         "plain text saved as UTF-8");
        }
        i += length;
    }
    if (const std::optional<std::size_t> deep = too_deep_at(text)) {
        return unfit(place_of_byte(file, *deep), "nested more deeply than any job needs",
                     fmt::format("at most {} levels", kDeepestNesting));
    }
    return std::nullopt;
}

}  // namespace standfast

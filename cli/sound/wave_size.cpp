#include "cli/sound/wave_size.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>
#include <cstdint>

namespace standfast {
namespace {

constexpr std::uint32_t kUnknown = 0xFFFFFFFF;

std::uint64_t little_endian(std::string_view bytes, std::size_t at, int count) {
    std::uint64_t value = 0;
    for (int i = count - 1; i >= 0; --i) {
        value = value << 8U | static_cast<unsigned char>(bytes[at + static_cast<std::size_t>(i)]);
    }
    return value;
}

}  // namespace

WaveSize check_wave_size(std::string_view head, unsigned long long true_size) {
    const bool plain = head.starts_with("RIFF");
    if ((!plain && !head.starts_with("RF64")) || head.size() < 12) return {};
    if (head.substr(8, 4) != "WAVE") {
        return {.fault = "byte 8: a RIFF file, but no sound: \"WAVE\" is missing", .warning = ""};
    }
    std::uint64_t long_size = 0;  // of the samples, where 32 bits do not hold it
    std::uint64_t at = 12;
    while (at + 8 <= head.size()) {
        const std::string_view name = head.substr(at, 4);
        std::uint64_t size = little_endian(head, at + 4, 4);
        if (name == "ds64" && at + 24 <= head.size()) long_size = little_endian(head, at + 16, 8);
        if (name == "data") {
            if (!plain && size == kUnknown) size = long_size;
            const std::uint64_t room = true_size - std::min<std::uint64_t>(true_size, at + 8);
            if (plain && size == kUnknown && room > 0) {
                return {
                    .fault = "",
                    .warning = "the recorder never wrote down how long it is; all of it is used"};
            }
            if (size > room) {
                return {
                    .fault = fmt::format("byte {}: the header promises {} bytes of samples, the "
                                         "file holds {}: it was cut short",
                                         at + 4, size, room),
                    .warning = ""};
            }
            return {};
        }
        if (size > true_size) {
            return {.fault = fmt::format("byte {}: a part of {} bytes in a file of {}: it was cut "
                                         "short or damaged",
                                         at + 4, size, true_size),
                    .warning = ""};
        }
        at += 8 + size + size % 2;
    }
    if (at >= true_size) {
        return {.fault = fmt::format("byte {}: the file ends before its samples begin", true_size),
                .warning = ""};
    }
    return {};
}

}  // namespace standfast

#include "cli/sound/read_recording.hpp"

#include <fmt/format.h>
#include <sndfile.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <memory>
#include <system_error>

#include "cli/sound/uff_recording.hpp"
#include "cli/sound/wave_size.hpp"
#include "cli/text/text_block.hpp"
#include "cli/uff/measurement_error.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kHead = 1U << 16U;
constexpr std::size_t kLeastSamples = 64;
constexpr int kLowestRate = 500, kHighestRate = 1'000'000;
constexpr sf_count_t kBlock = 1 << 15;

[[noreturn]] void refuse(const std::string& path, const std::string& why) {
    throw MeasurementError(fmt::format("{}: {}", path, why));
}

struct FileHead {
    std::string bytes;
    std::uintmax_t size = 0;
};

FileHead head_of(const std::string& path) {
    std::error_code error;
    if (!fs::exists(path, error)) refuse(path, "no such file");
    if (!fs::is_regular_file(path, error)) refuse(path, "is not a file");
    FileHead head;
    head.size = fs::file_size(path, error);
    if (error) refuse(path, fmt::format("cannot be read: {}", error.message()));
    if (head.size == 0) refuse(path, "byte 0: the file is empty");
    std::ifstream stream(path, std::ios::binary);
    head.bytes.resize(std::min<std::uintmax_t>(head.size, kHead));
    stream.read(head.bytes.data(), static_cast<std::streamsize>(head.bytes.size()));
    if (!stream) refuse(path, "cannot be read");
    return head;
}

/// Beginning of a file as it may be shown: text as text, the rest as numbers.
std::string shown(const std::string& bytes) {
    const std::string start = bytes.substr(0, 12);
    const bool text = std::all_of(start.begin(), start.end(), [](unsigned char c) {
        return (c >= ' ' && c < 127) || c == '\n' || c == '\r' || c == '\t';
    });
    std::string written = text ? "\"" : "bytes";
    for (const char c : start) {
        written += text ? std::string(1, c < ' ' ? ' ' : c)
                        : fmt::format(" {:02x}", static_cast<unsigned char>(c));
    }
    return text ? written + "\"" : written;
}

struct Closer {
    void operator()(SNDFILE* file) const { sf_close(file); }
};
using OpenSound = std::unique_ptr<SNDFILE, Closer>;

std::string format_name(const SF_INFO& info) {
    SF_FORMAT_INFO format{};
    format.format = info.format & SF_FORMAT_TYPEMASK;
    sf_command(nullptr, SFC_GET_FORMAT_INFO, &format, sizeof format);
    const std::string name = format.name == nullptr ? "sound" : format.name;
    return name.substr(0, name.find(" ("));
}

/// The stretch in samples; `to` may lie beyond the end.
struct Samples {
    sf_count_t from = 0, to = 0;
};

Samples samples_of(const std::string& path, const Stretch& stretch, const SF_INFO& info) {
    const double rate = info.samplerate;
    const double most = 9e15;
    Samples samples;
    samples.from =
        static_cast<sf_count_t>(std::min(most, std::floor(stretch.from.value_or(0) * rate)));
    samples.to =
        static_cast<sf_count_t>(stretch.to ? std::min(most, std::ceil(*stretch.to * rate)) : most);
    if (samples.from >= info.frames) {
        refuse(path, fmt::format("lasts {:.3g} s, and --from asks for what comes after {:.3g} s",
                                 static_cast<double>(info.frames) / rate, *stretch.from));
    }
    return samples;
}

void require_finite(const std::string& path, const std::vector<float>& block, sf_count_t frames,
                    int channels, sf_count_t first, int rate) {
    for (sf_count_t i = 0; i < frames * channels; ++i) {
        if (std::isfinite(block[static_cast<std::size_t>(i)])) continue;
        const sf_count_t sample = first + i / channels;
        refuse(path, fmt::format("sample {} (at {:.6g} s, channel {}): not a finite number", sample,
                                 static_cast<double>(sample) / rate, i % channels + 1));
    }
}

/// Sample by sample up to the end of the stretch, so that nothing is made room for that is not
/// there.
void read_samples(SNDFILE* file, const std::string& path, const SF_INFO& info,
                  const Samples& samples, SoundFile& sound) {
    if (samples.from > 0 && sf_seek(file, samples.from, SEEK_SET) != samples.from) {
        refuse(path,
               fmt::format("sample {}: cannot be reached: {}", samples.from, sf_strerror(file)));
    }
    const int kept = std::min(info.channels, kMostChannels);
    sound.recording.channels.resize(static_cast<std::size_t>(kept));
    const sf_count_t end =
        std::min(samples.to, samples.from + static_cast<sf_count_t>(kMostSamples));
    std::vector<float> block(static_cast<std::size_t>(kBlock * info.channels));
    sf_count_t at = samples.from;
    while (at < end) {
        const sf_count_t wanted = std::min(kBlock, end - at);
        const sf_count_t got = sf_readf_float(file, block.data(), wanted);
        if (got <= 0) break;
        require_finite(path, block, got, info.channels, at, info.samplerate);
        for (int c = 0; c < kept; ++c) {
            for (sf_count_t i = 0; i < got; ++i) {
                sound.recording.channels[static_cast<std::size_t>(c)].push_back(
                    block[static_cast<std::size_t>(i * info.channels + c)]);
            }
        }
        at += got;
    }
    const sf_count_t promised = std::min(end, info.frames);
    // Compressed files may not know their length.
    if (at < promised && info.frames < SF_COUNT_MAX) {
        refuse(path, fmt::format("sample {} (at {:.6g} s): the file ends here, its header promises "
                                 "{} samples: it was cut short",
                                 at, static_cast<double>(at) / info.samplerate, info.frames));
    }
    if (end < std::min(samples.to, info.frames)) {
        sound.warnings.push_back(fmt::format("only {:.4g} s are used; --from and --to choose which",
                                             static_cast<double>(kMostSamples) / info.samplerate));
    }
    if (info.channels > kMostChannels) {
        sound.warnings.push_back(
            fmt::format("of {} channels the first {} are used", info.channels, kMostChannels));
    }
}

SoundFile read_by_library(const std::string& path, const FileHead& head, const Stretch& stretch) {
    const WaveSize size = check_wave_size(head.bytes, head.size);
    if (!size.fault.empty()) refuse(path, size.fault);
    SF_INFO info{};
    const OpenSound file(sf_open(path.c_str(), SFM_READ, &info));
    if (!file) {
        refuse(path, fmt::format("byte 0: no recording that can be read ({}); it begins with {}; "
                                 "accepted: WAV, FLAC, AIFF, Ogg, or a universal file with a "
                                 "record over time",
                                 sf_strerror(nullptr), shown(head.bytes)));
    }
    if (info.samplerate < kLowestRate || info.samplerate > kHighestRate) {
        refuse(path, fmt::format("header: a sampling rate of {} Hz; accepted: {} Hz to 1 MHz",
                                 info.samplerate, kLowestRate));
    }
    if (info.channels < 1) refuse(path, "header: no channel");
    if (info.frames < static_cast<sf_count_t>(kLeastSamples)) {
        refuse(path, fmt::format("has {} sample{}; at least {} are needed", info.frames,
                                 info.frames == 1 ? "" : "s", kLeastSamples));
    }
    SoundFile sound;
    sound.format = format_name(info);
    sound.recording.rate = info.samplerate;
    const Samples samples = samples_of(path, stretch, info);
    sound.from = static_cast<double>(samples.from) / info.samplerate;
    if (!size.warning.empty()) sound.warnings.push_back(size.warning);
    read_samples(file.get(), path, info, samples, sound);
    return sound;
}

}  // namespace

SoundFile read_recording(const std::string& path, const Stretch& stretch) {
    const FileHead head = head_of(path);
    SoundFile sound = looks_universal(head.bytes) ? read_universal_recording(path, stretch)
                                                  : read_by_library(path, head, stretch);
    if (sound.recording.samples() < kLeastSamples) {
        refuse(path, fmt::format("{} samples in the stretch; at least {} are needed",
                                 sound.recording.samples(), kLeastSamples));
    }
    return sound;
}

}  // namespace standfast

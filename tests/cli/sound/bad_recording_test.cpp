#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <limits>
#include <string>
#include <vector>

#include "cli/sound/read_recording.hpp"
#include "cli/uff/measurement_error.hpp"
#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using tests::TemporaryFolder;

std::string little(std::uint64_t value, int bytes) {
    std::string text;
    for (int i = 0; i < bytes; ++i) text += static_cast<char>(value >> (8 * i) & 0xFFU);
    return text;
}

struct WaveClaim {
    std::uint32_t rate = 8000;
    std::uint16_t channels = 1, bits = 16, format = 1;
    std::uint32_t data_size = 0;  ///< claimed
};

std::string wave(const WaveClaim& claim, const std::string& data) {
    const std::uint32_t block = claim.channels * claim.bits / 8U;
    return "RIFF" + little(36 + claim.data_size, 4) + "WAVEfmt " + little(16, 4) +
           little(claim.format, 2) + little(claim.channels, 2) + little(claim.rate, 4) +
           little(std::uint64_t{claim.rate} * block, 4) + little(block, 2) + little(claim.bits, 2) +
           "data" + little(claim.data_size, 4) + data;
}

std::string samples_of_16_bits(std::size_t count) {
    std::string data;
    for (std::size_t i = 0; i < count; ++i)
        data += little(
            static_cast<std::uint16_t>(std::lround(8000 * std::sin(0.3 * static_cast<double>(i)))),
            2);
    return data;
}

std::string refusal(const TemporaryFolder& folder, const std::string& name,
                    const std::string& bytes, const Stretch& stretch = {}) {
    const std::string path = folder.write(name, bytes);
    try {
        read_recording(path, stretch);
    } catch (const MeasurementError& error) {
        const std::string what = error.what();
        EXPECT_EQ(what.find(path + ": "), 0U) << what;
        return what.substr(path.size() + 2);
    }
    return "accepted";
}

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

TEST(BadRecording, AGoodOneIsReadSampleForSample) {
    const TemporaryFolder folder;
    const std::string data = samples_of_16_bits(8000);
    const std::string path = folder.write("good.wav", wave({.data_size = 16'000}, data));
    const SoundFile sound = read_recording(path);
    EXPECT_EQ(sound.format, "WAV");
    EXPECT_EQ(sound.recording.samples(), 8000U);
    EXPECT_EQ(sound.recording.rate, 8000);
    EXPECT_NEAR(sound.recording.channels[0][5], std::lround(8000 * std::sin(1.5)) / 32768.0, 1e-7);
    const SoundFile part = read_recording(path, {.from = 0.25, .to = 0.5});
    EXPECT_EQ(part.recording.samples(), 2000U);
    EXPECT_EQ(part.recording.channels[0][0], sound.recording.channels[0][2000]);
    EXPECT_TRUE(
        has(refusal(folder, "good.wav", wave({.data_size = 16'000}, data), {.from = 2, .to = {}}),
            "lasts 1 s, and --from asks for what comes after 2 s"));
}

TEST(BadRecording, EachFaultIsNamedWithItsPlace) {
    const TemporaryFolder folder;
    const std::string data = samples_of_16_bits(1000);
    EXPECT_EQ(refusal(folder, "a.wav", ""), "byte 0: the file is empty");
    EXPECT_EQ(refusal(folder, "b.wav", wave({.data_size = 3'000'000'000U}, data)),
              "byte 40: the header promises 3000000000 bytes of samples, the file holds 2000: it "
              "was cut short");
    EXPECT_EQ(refusal(folder, "c.wav", wave({.data_size = 2000}, data).substr(0, 1044)),
              "byte 40: the header promises 2000 bytes of samples, the file holds 1000: it was cut "
              "short");
    EXPECT_TRUE(
        has(refusal(folder, "d.wav", wave({.data_size = 2000}, data).substr(0, 30)), "byte"));
    EXPECT_TRUE(has(refusal(folder, "e.wav", "just some words, no sound at all\n"),
                    "byte 0: no recording that can be read"));
    EXPECT_TRUE(has(refusal(folder, "e.wav", "just some words, no sound at all\n"),
                    "it begins with \"just some wo\""));
    EXPECT_NE(refusal(folder, "f.wav", wave({.rate = 0, .data_size = 2000}, data)), "accepted");
    EXPECT_TRUE(has(refusal(folder, "g.wav", wave({.rate = 100, .data_size = 2000}, data)),
                    "a sampling rate of 100 Hz"));
    EXPECT_EQ(refusal(folder, "h.wav", wave({.data_size = 2}, data.substr(0, 2))),
              "has 1 sample; at least 64 are needed");
    EXPECT_NE(refusal(folder, "i.wav", wave({.channels = 0, .data_size = 2000}, data)), "accepted");
    EXPECT_TRUE(has(refusal(folder, "j.wav", std::string(5000, '\0')), "bytes 00 00"));
    EXPECT_EQ(refusal(folder, "k.wav", "RIFF" + little(100, 4) + "AVI LIST"),
              "byte 8: a RIFF file, but no sound: \"WAVE\" is missing");
    EXPECT_THROW(read_recording(folder.path()), MeasurementError);
    EXPECT_THROW(read_recording(folder.path() + "/none.wav"), MeasurementError);
}

TEST(BadRecording, AFileCannotClaimTenGigabytesIntoMemory) {
    const TemporaryFolder folder;
    // RF64: sizes of 64 bits.
    const std::string data = samples_of_16_bits(1000);
    const std::string bytes = "RF64" + little(0xFFFFFFFF, 4) + "WAVEds64" + little(28, 4) +
                              little(10'000'000'100ULL, 8) + little(10'000'000'000ULL, 8) +
                              little(5'000'000'000ULL, 8) + little(0, 4) + "fmt " + little(16, 4) +
                              little(1, 2) + little(1, 2) + little(8000, 4) + little(16'000, 4) +
                              little(2, 2) + little(16, 2) + "data" + little(0xFFFFFFFF, 4) + data;
    EXPECT_TRUE(has(refusal(folder, "long.wav", bytes), "promises 10000000000 bytes"));
}

TEST(BadRecording, ASampleThatIsNoNumberIsFound) {
    const TemporaryFolder folder;
    for (const float bad :
         {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity()}) {
        std::vector<float> samples(1000, 0.1F);
        samples[400] = bad;
        const std::string data(reinterpret_cast<const char*>(samples.data()), 4000);
        EXPECT_EQ(
            refusal(folder, "nan.wav", wave({.bits = 32, .format = 3, .data_size = 4000}, data)),
            "sample 400 (at 0.05 s, channel 1): not a finite number");
    }
}

TEST(BadRecording, ACompressedFileThatIsCutShortIsRefused) {
    const TemporaryFolder folder;
    std::ifstream stream(STANDFAST_SOURCE_DIR "/tests/data/recordings/o3.flac", std::ios::binary);
    const std::string whole{std::istreambuf_iterator<char>(stream), {}};
    for (const std::size_t kept :
         {whole.size() / 2, whole.size() / 10, std::size_t{60}, std::size_t{10}}) {
        const std::string said = refusal(folder, "cut.flac", whole.substr(0, kept));
        EXPECT_TRUE(has(said, "cut short") || has(said, "no recording that can be read"))
            << kept << ": " << said;
    }
}

TEST(BadRecording, ARecorderThatNeverWroteTheLengthIsUsedWithAWarning) {
    const TemporaryFolder folder;
    const std::string path =
        folder.write("stream.wav", wave({.data_size = 0xFFFFFFFFU}, samples_of_16_bits(1000)));
    const SoundFile sound = read_recording(path);
    EXPECT_EQ(sound.recording.samples(), 1000U);
    ASSERT_EQ(sound.warnings.size(), 1U);
}

TEST(BadRecording, EveryBeginningOfAGoodFileIsRefusedOrRead) {
    const TemporaryFolder folder;
    const std::string whole = wave({.data_size = 400}, samples_of_16_bits(200));
    for (std::size_t kept = 0; kept < whole.size(); ++kept)
        EXPECT_NE(refusal(folder, "part.wav", whole.substr(0, kept)), "accepted") << kept;
}

TEST(UniversalRecording, TextAndBinaryGiveTheSameSoundOf65536SamplesASecond) {
    const std::string folder = STANDFAST_SOURCE_DIR "/tests/cli/uff/samples/";
    const SoundFile text = read_recording(folder + "Sample_UFF58_ascii.uff");
    const SoundFile binary = read_recording(folder + "Sample_UFF58b_bin.uff");
    EXPECT_EQ(text.recording.samples(), 79'292U);
    EXPECT_NEAR(text.recording.rate, 65'536, 0.1);
    ASSERT_EQ(binary.recording.samples(), 79'292U);
    EXPECT_NEAR(binary.recording.channels[0][0], -0.01475526, 1e-8);
    for (std::size_t i = 0; i < 79'292; i += 997)
        EXPECT_NEAR(text.recording.channels[0][i], binary.recording.channels[0][i], 1e-6);
    EXPECT_EQ(read_recording(folder + "Sample_UFF58b_bin.uff", {.from = 0.5, .to = 1.0})
                  .recording.samples(),
              32'768U);
    // 250 samples at 100 Hz are no sound.
    EXPECT_THROW(read_recording(folder + "binary8byte.uff"), MeasurementError);
}

}  // namespace
}  // namespace standfast

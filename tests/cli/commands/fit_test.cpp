#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <numbers>
#include <sstream>
#include <string>
#include <vector>

#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using nlohmann::json;
using tests::ProgramResult;
using tests::run_program;
using tests::TemporaryFolder;

const std::string kFolder = STANDFAST_SOURCE_DIR;
const std::string kExample = "examples/16-push-test/job.toml";

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

std::string bytes_of(const std::string& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

ProgramResult run(std::vector<std::string> arguments) {
    return run_program({.arguments = std::move(arguments), .folder = kFolder});
}

/// Words of a text; brackets and commas stand apart.
std::vector<std::string> words_of(std::string text) {
    for (char& letter : text) {
        if (letter == ',' || letter == '[' || letter == ']') letter = ' ';
    }
    std::istringstream stream(text);
    return {std::istream_iterator<std::string>(stream), {}};
}

/// A job of a measured tool and stack with a receptance beside it; both are written.
std::string tapped_job(const TemporaryFolder& folder, const std::string& measured) {
    std::string csv = "frequency_hz,re,im\n";
    for (int hertz = 50; hertz <= 2000; hertz += 5) {
        const double omega = 2 * std::numbers::pi * hertz, natural = 2 * std::numbers::pi * 700;
        const std::complex<double> value =
            1 / 0.5 /
            std::complex<double>(natural * natural - omega * omega, 2 * 0.03 * natural * omega);
        csv += std::to_string(hertz) + "," + json(value.real()).dump() + "," +
               json(value.imag()).dump() + "\n";
    }
    folder.write("tip.csv", csv);
    return folder.write("job.toml", bytes_of(kFolder + "/examples/02-small-part-tall-riser/"
                                                       "job.toml") +
                                        measured);
}

TEST(Fit, TheOverlayBesideTheExampleIsWhatAFitWrites) {
    const TemporaryFolder folder;
    const std::string saved = folder.path() + "/joints.toml";
    const ProgramResult result = run({"fit", kExample, "--save", saved});
    EXPECT_EQ(result.exit_code, 0) << result.standard_error;
    const std::string kept = kFolder + "/examples/16-push-test/joints.toml";
    if (std::getenv("STANDFAST_UPDATE_GOLDEN") != nullptr) {
        std::ofstream(kept, std::ios::binary) << bytes_of(saved);
    }
    const std::vector<std::string> now = words_of(bytes_of(saved)), then = words_of(bytes_of(kept));
    ASSERT_EQ(now.size(), then.size()) << "STANDFAST_UPDATE_GOLDEN=1 refreshes it";
    // The first line holds a fingerprint; the last digits of the numbers are the compiler's.
    for (std::size_t i = 12; i < now.size(); ++i) {
        if (now[i] == then[i]) continue;
        EXPECT_NEAR(std::strtod(now[i].c_str(), nullptr), std::strtod(then[i].c_str(), nullptr),
                    2e-3 * std::max(1.0, std::abs(std::strtod(then[i].c_str(), nullptr))))
            << now[i] << " was " << then[i] << "; STANDFAST_UPDATE_GOLDEN=1 refreshes it";
    }
}

TEST(Fit, AfterwardsTheAnswerIsSurer) {
    const auto spread_of = [](const char* quantity, std::vector<std::string> extra) {
        std::vector<std::string> call{"check",  kExample,   "--draws", "64",
                                      "--json", "--speeds", "9000 rpm"};
        call.insert(call.end(), extra.begin(), extra.end());
        const json document = json::parse(run(std::move(call)).standard_output);
        const json& range = document.at("passes").at(0).at("odds").at(quantity);
        return std::log(range.at("p90").get<double>() / range.at("p10").get<double>());
    };
    const std::vector<std::string> with{"--with", "examples/16-push-test/joints.toml"};
    // The stack was measured; the tool and the cutting force, which the push-off has too, were not.
    EXPECT_LT(spread_of("first_stack_hz", with), 0.3 * spread_of("first_stack_hz", {}));
    EXPECT_LT(spread_of("push_off_m", with), 0.9 * spread_of("push_off_m", {}));
}

TEST(Fit, JsonHoldsWhatWasAdjustedAndWhatWasMeasured) {
    const ProgramResult result = run({"fit", kExample, "--json"});
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    const json document = json::parse(result.standard_output);
    EXPECT_EQ(document.at("schema"), "standfast.fit/1");
    EXPECT_TRUE(document.at("saved").is_null());
    EXPECT_TRUE(document.at("converged").get<bool>());
    for (const json& row : document.at("adjusted")) {
        EXPECT_GE(row.at("spread").get<double>(), 1);
        EXPECT_LE(row.at("spread").get<double>(), row.at("spread_before").get<double>() * 1.001);
        EXPECT_NEAR(row.at("after").get<double>(),
                    row.at("before").get<double>() * row.at("factor").get<double>(),
                    1e-9 * row.at("after").get<double>());
    }
    bool frequency = false;
    for (const json& row : document.at("measured"))
        frequency = frequency || row.at("quantity") == "frequency_hz";
    EXPECT_TRUE(frequency);
    EXPECT_TRUE(document.at("unseen").is_array());
}

TEST(Fit, AFileOfSomebodyElseIsNotOverwritten) {
    const TemporaryFolder folder;
    const std::string mine = folder.write("mine.toml", "# mine\n");
    const ProgramResult refused = run({"fit", kExample, "--save", mine});
    EXPECT_EQ(refused.exit_code, 2);
    EXPECT_EQ(bytes_of(mine), "# mine\n");
    EXPECT_EQ(run({"fit", kExample, "--save", mine, "--force"}).exit_code, 0);
    // Now it is ours, and is renewed without asking; a change by hand makes it somebody's.
    EXPECT_EQ(run({"fit", kExample, "--save", mine}).exit_code, 0);
    std::ofstream(mine, std::ios::app) << "# and a note\n";
    EXPECT_EQ(run({"fit", kExample, "--save", mine}).exit_code, 2);
}

TEST(Fit, ModesOfAMeasuredReceptanceComeAsLinesForAJob) {
    const TemporaryFolder folder;
    const std::string job = tapped_job(folder, R"(
[[measured]]
kind = "receptance"
where = "short finisher"
direction = "y"
file = "tip.csv"
)");
    const ProgramResult result = run({"fit", job, "--modes-only"});
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    EXPECT_TRUE(has(result.standard_output,
                    "{ direction = \"y\", frequency = \"700 Hz\", damping = 0.03, mass = \"0.5 "
                    "kg\" },"))
        << result.standard_output;
    const ProgramResult bare = run({"fit", folder.path() + "/tip.csv", "--modes-only"});
    EXPECT_TRUE(has(bare.standard_output, "frequency = \"700 Hz\"")) << bare.standard_error;
}

TEST(Fit, OurOwnReceptanceTableGoesInAgainByColumn) {
    const TemporaryFolder folder;
    const std::string tables = folder.path() + "/tables";
    ASSERT_EQ(
        run({"check", kExample, "--draws", "0", "--speeds", "9000 rpm", "--csv", tables, "--quiet"})
            .exit_code,
        0);
    const std::string table = tables + "/rough-the-long-side-receptance.csv";
    const ProgramResult which = run({"fit", table, "--modes-only"});
    EXPECT_EQ(which.exit_code, 2);
    EXPECT_TRUE(has(which.standard_error, "has 18 receptances; say which")) << which.standard_error;
    const ProgramResult tool = run({"fit", table, "--modes-only", "--column", "tool_xx"});
    EXPECT_EQ(tool.exit_code, 0) << tool.standard_error;
    // A mode of the tool as check lists it: 1990 Hz.
    EXPECT_TRUE(has(tool.standard_output, "frequency = \"199")) << tool.standard_output;
}

TEST(Fit, AMeasuredTipReplacesTheToolAlsoAtAnotherStickout) {
    const TemporaryFolder folder;
    const auto tool_hertz = [&](const std::string& extra) {
        const std::string job = tapped_job(folder, R"(
[[measured]]
kind = "receptance"
use = "replace"
where = "short finisher"
direction = "x"
file = "tip.csv"
)" + extra);
        const ProgramResult result =
            run({"check", job, "--json", "--speeds", "12000 rpm", "--draws", "0"});
        EXPECT_EQ(result.exit_code, 0) << result.standard_error;
        return json::parse(result.standard_output)
            .at("passes")
            .at(0)
            .at("tool_modes")
            .at(0)
            .at("frequency_hz")
            .get<double>();
    };
    EXPECT_NEAR(tool_hertz(""), 700, 0.7);
    const double shorter = tool_hertz("stickout = \"31 mm\"\n");
    EXPECT_GT(shorter, 700) << "it was measured at a longer stickout than it is used at";
}

TEST(Fit, FaultsOfMeasurementsAreToldAllAtOnceWithTheirPlace) {
    const TemporaryFolder folder;
    const std::string job = tapped_job(folder, R"(
[[measured]]
kind = "push"
where = "stack"
direction = "y"
force = "20 kg"
moved = "0.02 mm"

[[measured]]
kind = "receptance"
where = "short finisher"
direction = "y"
file = "no-such.uff"

[[measured]]
kind = "tap"
where = "stak"
frequencies = ["355 Hz", "905 Hz"]
damping = ["3 %"]
)");
    const ProgramResult result = run({"fit", job});
    EXPECT_EQ(result.exit_code, 2);
    for (const char* const part : {"against is missing", "there is no such file",
                                   "there is no tool", "kgf", "1 values for 2 frequencies"}) {
        EXPECT_TRUE(has(result.standard_error, part)) << part << "\n" << result.standard_error;
    }
}

TEST(Fit, TheSameMeasurementsTwiceAreWarnedOf) {
    const ProgramResult twice =
        run({"fit", kExample, "--with", "examples/16-push-test/joints.toml", "--quiet"});
    EXPECT_EQ(twice.exit_code, 0);
    EXPECT_TRUE(has(twice.standard_error, "count twice")) << twice.standard_error;
    EXPECT_EQ(run({"fit", kExample, "--quiet"}).standard_error, "");
}

TEST(Fit, AJobWithoutMeasurementsIsToldSo) {
    const ProgramResult result = run({"fit", "examples/02-small-part-tall-riser/job.toml"});
    EXPECT_EQ(result.exit_code, 2);
    EXPECT_TRUE(has(result.standard_error, "[[measured]]")) << result.standard_error;
}

TEST(Fit, AnOverlayOfAnotherStackIsRefusedUnlessAskedFor) {
    const std::vector<std::string> call{"check",   "examples/01-shortest-job/job.toml",
                                        "--draws", "0",
                                        "--with",  "examples/16-push-test/joints.toml"};
    const auto with = [&](std::vector<std::string> more) {
        std::vector<std::string> all = call;
        all.insert(all.end(), more.begin(), more.end());
        return run(std::move(all));
    };
    for (const char* also : {"--quiet", "--force"}) {
        const ProgramResult refused = with({also});
        EXPECT_EQ(refused.exit_code, 2) << also;
        EXPECT_TRUE(has(refused.standard_error, "base \"quick-change plate\" there"))
            << refused.standard_error;
        EXPECT_TRUE(has(refused.standard_error, "--other-machine")) << refused.standard_error;
    }
    const ProgramResult taken = with({"--other-machine"});
    EXPECT_EQ(taken.exit_code, 0) << taken.standard_error;
    EXPECT_TRUE(
        has(taken.standard_error, "the adjustments of \"bracket\" are not used: this job has no"))
        << taken.standard_error;
    EXPECT_TRUE(has(taken.standard_output, "With joints measured on something else"))
        << taken.standard_output;
}

/// Little-endian bytes of a whole number.
std::string bytes_of_number(std::uint32_t value, int count) {
    std::string bytes;
    for (int i = 0; i < count; ++i) bytes += static_cast<char>((value >> (8 * i)) & 0xFFU);
    return bytes;
}

/// Five knocks on two damped modes, 16 bits at 16 kHz, with a hum of 50 Hz.
std::string knocks_wav(double first, double second) {
    constexpr std::uint32_t kRate = 16000;
    std::string samples;
    for (std::uint32_t i = 0; i < 4 * kRate; ++i) {
        const double t = static_cast<double>(i) / kRate;
        const double since = std::fmod(t - 0.3, 0.7);
        const auto ring = [&](double hertz, double damping) {
            const double omega = 2 * std::numbers::pi * hertz;
            return std::exp(-damping * omega * since) *
                   std::sin(omega * std::sqrt(1 - damping * damping) * since);
        };
        const double sound = (t < 0.3 ? 0 : 0.5 * ring(first, 0.024) + 0.3 * ring(second, 0.022)) +
                             0.02 * std::sin(2 * std::numbers::pi * 50 * t);
        samples += bytes_of_number(
            static_cast<std::uint32_t>(static_cast<std::int32_t>(std::lround(20000 * sound))), 2);
    }
    const auto size = static_cast<std::uint32_t>(samples.size());
    return "RIFF" + bytes_of_number(36 + size, 4) + "WAVEfmt " + bytes_of_number(16, 4) +
           bytes_of_number(1, 2) + bytes_of_number(1, 2) + bytes_of_number(kRate, 4) +
           bytes_of_number(2 * kRate, 4) + bytes_of_number(2, 2) + bytes_of_number(16, 2) + "data" +
           bytes_of_number(size, 4) + samples;
}

TEST(Fit, KnocksOnATelephoneTellFrequencyAndDampingAndNoStiffness) {
    const TemporaryFolder folder;
    const std::string sound = folder.write("tap.wav", knocks_wav(207, 1230));
    const ProgramResult alone = run({"fit", "--tap", sound, "--json"});
    ASSERT_EQ(alone.exit_code, 0) << alone.standard_error;
    const json document = json::parse(alone.standard_output);
    ASSERT_EQ(document.at("modes").size(), 2U) << alone.standard_output;
    EXPECT_NEAR(document.at("modes").at(0).at("frequency_hz").get<double>(), 207, 1);
    EXPECT_NEAR(document.at("modes").at(0).at("damping_ratio").get<double>(), 0.024, 0.002);
    EXPECT_NEAR(document.at("modes").at(1).at("frequency_hz").get<double>(), 1230, 6);
    const ProgramResult screen = run({"fit", "--tap", sound});
    for (const char* const part : {"never stiffness", "locked out", "50 Hz (mains hum)"}) {
        EXPECT_TRUE(has(screen.standard_output, part)) << part << "\n" << screen.standard_output;
    }
    const std::string job =
        folder.write("job.toml", bytes_of(kFolder + "/examples/02-small-part-tall-riser/job.toml") +
                                     R"(
[[measured]]
kind = "tap"
where = "stack"
direction = "y"
sound = "tap.wav"
)");
    const ProgramResult fitted = run({"fit", job, "--json"});
    ASSERT_EQ(fitted.exit_code, 0) << fitted.standard_error;
    const json rows = json::parse(fitted.standard_output).at("measured");
    ASSERT_EQ(rows.size(), 4U);
    EXPECT_NEAR(rows.at(0).at("value").get<double>(), 207, 1);
}

TEST(Fit, APlanRanksReadingsThatNarrowTheEdge) {
    const ProgramResult result =
        run({"fit", "examples/02-small-part-tall-riser/job.toml", "--plan", "--json"});
    ASSERT_EQ(result.exit_code, 0) << result.standard_error;
    const json document = json::parse(result.standard_output);
    EXPECT_EQ(document.at("schema"), "standfast.plan/1");
    ASSERT_GE(document.at("readings").size(), 1U);
    double spread = document.at("spread").get<double>();
    for (const json& reading : document.at("readings")) {
        EXPECT_NEAR(reading.at("spread_before").get<double>(), spread, 1e-9);
        spread = reading.at("spread_after").get<double>();
        EXPECT_LT(spread, reading.at("spread_before").get<double>());
    }
    const ProgramResult screen =
        run({"fit", "examples/02-small-part-tall-riser/job.toml", "--plan"});
    EXPECT_TRUE(has(screen.standard_output, "Then good to a factor of")) << screen.standard_output;
}

TEST(Fit, WhatCannotBeTrueIsNamedAndBendsNothing) {
    const TemporaryFolder folder;
    std::string text = bytes_of(kFolder + "/" + kExample);
    const auto with = [&](const std::string& from, const std::string& to) {
        std::string changed = text;
        changed.replace(changed.find(from), from.size(), to);
        return run({"fit", folder.write("job.toml", changed), "--json"});
    };
    struct Case {
        std::string from, to, named;
    };
    for (const Case& one :
         std::vector<Case>{{R"(moved = ["0.019 mm", "0.018 mm", "0.018 mm"])",
                            R"(moved = ["-0.019 mm", "-0.018 mm", "-0.018 mm"])", "sign reversed?"},
                           {R"(moved = ["0.019 mm", "0.018 mm", "0.018 mm"])",
                            R"(moved = ["19 mm", "18 mm", "18 mm"])", "factor of a thousand"},
                           {R"(frequencies = ["207 Hz", "1230 Hz"])",
                            R"(frequencies = ["50 Hz", "1230 Hz"])", "50 Hz is mains hum"}}) {
        const ProgramResult result = with(one.from, one.to);
        ASSERT_EQ(result.exit_code, 0) << result.standard_error;
        const json document = json::parse(result.standard_output);
        std::string warnings;
        for (const json& warning : document.at("warnings")) {
            warnings += warning.get<std::string>() + "\n";
        }
        EXPECT_TRUE(has(warnings, one.named)) << warnings;
        EXPECT_TRUE(has(warnings, "counts for nothing")) << warnings;
        for (const json& row : document.at("adjusted")) {
            EXPECT_LT(std::abs(std::log(row.at("factor").get<double>())),
                      2 * std::log(row.at("spread_before").get<double>()))
                << one.to << ": " << row;
        }
    }
}

}  // namespace
}  // namespace standfast

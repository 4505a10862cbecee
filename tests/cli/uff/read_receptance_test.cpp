#include "cli/uff/read_receptance.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <optional>
#include <string>

#include "cli/uff/measurement_error.hpp"
#include "cli/uff/read_uff.hpp"
#include "cli/uff/write_uff.hpp"

namespace standfast {
namespace {

std::string rows(double re, double im) {
    std::string text;
    for (int hertz = 0; hertz <= 100; hertz += 10)
        text += std::to_string(hertz) + "," + std::to_string(re) + "," + std::to_string(im) + "\n";
    return text;
}

std::string complaint(const std::string& csv, const std::string& which = "") {
    try {
        parse_receptance_csv(csv, "tip.csv", which);
    } catch (const MeasurementError& error) {
        return error.what();
    }
    return "no complaint";
}

TEST(ReceptanceCsv, PlainColumnsAreFrequencyRealAndImaginaryPart) {
    const MeasuredReceptance read = parse_receptance_csv(rows(0.5, -0.25), "tip.csv", "");
    ASSERT_EQ(read.frequency.size(), 10U) << "0 Hz says nothing of a resonance and is left out";
    EXPECT_DOUBLE_EQ(read.frequency[0].hertz(), 10);
    EXPECT_EQ(read.receptance[0], std::complex<double>(0.5, -0.25));
}

TEST(ReceptanceCsv, AUnitBehindANameCounts) {
    const MeasuredReceptance read =
        parse_receptance_csv("Frequency (Hz),Re (um/N),Im (um/N)\n" + rows(0.5, -0.25), "a", "");
    EXPECT_NEAR(read.receptance[0].real(), 0.5e-6, 1e-18);
    EXPECT_NEAR(read.receptance[0].imag(), -0.25e-6, 1e-18);
}

TEST(ReceptanceCsv, AccelerationOverForceIsIntegratedTwice) {
    const MeasuredReceptance read =
        parse_receptance_csv("f,real (g/N),imag (g/N)\n" + rows(2, 0), "a", "");
    const double omega = 2 * std::numbers::pi * 10;
    EXPECT_NEAR(read.receptance[0].real(), -2 * 9.80665 / (omega * omega), 1e-12);
}

TEST(ReceptanceCsv, OneOfSeveralIsChosenByName) {
    const std::string csv =
        "frequency_hz,tool_xx_re,tool_xx_im,work_xx_re,work_xx_im\n"
        "10,1,2,3,4\n20,5,6,7,8\n";
    EXPECT_EQ(parse_receptance_csv(csv, "a", "work_xx").receptance[1], std::complex<double>(7, 8));
    EXPECT_NE(complaint(csv).find("has 2 receptances; say which"), std::string::npos);
    EXPECT_NE(complaint(csv, "tool_xy").find("did you mean \"tool_xx\"?"), std::string::npos);
}

TEST(ReceptanceCsv, SizeAndPhaseServeAsWell) {
    const MeasuredReceptance read =
        parse_receptance_csv("freq;mag;phase (deg)\n10;2,5;-90\n", "a", "");
    EXPECT_NEAR(read.receptance[0].imag(), -2.5, 1e-12);
    EXPECT_NEAR(read.receptance[0].real(), 0, 1e-12);
}

TEST(ReceptanceCsv, RadiansDecibelsAndRadiansPerSecondAreRead) {
    const MeasuredReceptance read = parse_receptance_csv(
        "frequency (rad/s),magnitude (dB re 1 um/N),phase (rad)\n628.3185307,-20,-1.5707963268\n",
        "a", "");
    ASSERT_EQ(read.frequency.size(), 1U);
    EXPECT_NEAR(read.frequency[0].hertz(), 100, 1e-6);
    EXPECT_NEAR(read.receptance[0].imag(), -0.1e-6, 1e-15);
    EXPECT_NEAR(read.receptance[0].real(), 0, 1e-15);
    const MeasuredReceptance by_name =
        parse_receptance_csv("freq,mag_db,phase\n10,6.0205999,180\n", "a", "");
    EXPECT_NEAR(by_name.receptance[0].real(), -2, 1e-6);
    EXPECT_NE(complaint("f,magnitude (dB re 1 parsec),phase\n1,2,3\n").find("rad/s, deg or rad"),
              std::string::npos);
}

TEST(ReceptanceCsv, CoherenceBesideTheValuesIsKept) {
    const MeasuredReceptance read =
        parse_receptance_csv("f,re,im,coherence\n10,1,2,0.5\n20,1,2,1\n", "a", "");
    ASSERT_EQ(read.coherence.size(), 2U);
    EXPECT_EQ(read.coherence[0], 0.5);
    EXPECT_NE(complaint("f,re,im,coherence\n10,1,2,1.5\n").find("must be from 0 to 1"),
              std::string::npos);
}

TEST(ReceptanceCsv, FaultsNameTheirLine) {
    EXPECT_EQ(complaint(""), "tip.csv:1: byte 1: the file is empty");
    EXPECT_EQ(complaint("10,1,2\n20,1,nan\n").substr(0, 10), "tip.csv:2:");
    EXPECT_EQ(complaint("10,1,2\n20,1\n").substr(0, 10), "tip.csv:2:");
    EXPECT_NE(complaint("f,re (parsec/N),im\n1,2,3\n").find("the unit is not known"),
              std::string::npos);
}

TEST(ReceptanceRecord, UnitsAndKindsOfAUniversalFileCount) {
    FunctionRecord record;
    record.function_type = kFrequencyResponse;
    record.stored_as = StoredAs::complex_double;
    record.start = 10;
    record.step = 10;
    record.ordinate = {.kind = kAxisAcceleration, .label = "Acceleration", .unit = "g"};
    record.denominator = {.kind = kAxisForce, .label = "Force", .unit = "lbf"};
    record.abscissa = {.kind = kAxisFrequency};
    for (int i = 0; i < 10; ++i) {
        record.x.push_back(10 + 10 * i);
        record.y.emplace_back(-3, 1);
    }
    const UniversalFile file = parse_uff(uff_bytes({record}, UffForm::little_endian), "a.uff");
    const MeasuredReceptance read = receptance_of_record(file.records[0], file, "a.uff");
    const double omega = 2 * std::numbers::pi * 10;
    EXPECT_NEAR(read.receptance[0].real(), 3 * 9.80665 / 4.4482216152605 / (omega * omega), 1e-12);
    EXPECT_NEAR(read.receptance[0].imag(), -9.80665 / 4.4482216152605 / (omega * omega), 1e-12);
}

TEST(ReceptanceRecord, DirectionsAreKeptAndOtherUnitsReadOrRefusedByName) {
    FunctionRecord record;
    record.function_type = kFrequencyResponse;
    record.stored_as = StoredAs::complex_double;
    record.start = 100;
    record.step = 10;
    record.response.direction = -2;
    record.reference.direction = 2;
    record.ordinate = {.kind = kAxisDisplacement, .label = "", .unit = "m"};
    record.denominator = {.kind = kAxisForce, .label = "", .unit = "N"};
    record.abscissa = {.kind = kAxisFrequency, .label = "", .unit = "rad/s"};
    record.x = {100, 110};
    record.y = {1, 2};
    const UniversalFile file{.records = {record}, .units = std::nullopt, .passed_over = {}};
    const MeasuredReceptance read = receptance_of_record(record, file, "a.uff");
    EXPECT_NEAR(read.frequency[0].radians_per_second, 100, 1e-9);
    EXPECT_EQ(read.response_direction, -2);
    EXPECT_EQ(read.reference_direction, 2);
    const auto refused = [&](const FunctionRecord& one) {
        try {
            receptance_of_record(one, file, "a.uff");
        } catch (const MeasurementError& error) {
            return std::string(error.what());
        }
        return std::string("no complaint");
    };
    FunctionRecord other = record;
    other.abscissa.unit = "furlong";
    EXPECT_NE(refused(other).find("\"furlong\"; Hz, kHz, rad/s and rpm are read"),
              std::string::npos);
    other = record;
    other.ordinate.unit = "dB";
    EXPECT_NE(refused(other).find("complex values of motion over force"), std::string::npos);
}

TEST(ReceptanceRecord, ATimeRecordIsRefused) {
    const std::string sample = STANDFAST_SOURCE_DIR "/tests/cli/uff/samples/binary8byte.uff";
    EXPECT_THROW(read_receptance(sample, ""), MeasurementError);
}

TEST(ReceptanceTable, TwoHundredThousandColumnsAreRead) {
    std::string names = "frequency_hz", first, second;
    for (int i = 0; i < 100'000; ++i) {
        const std::string name = "p" + std::to_string(i);
        names += "," + name + "_re," + name + "_im";
    }
    for (int i = 0; i < 200'000; ++i) first += ",1e-8";
    const std::string text = names + "\n100" + first + "\n200" + first + "\n";
    const MeasuredReceptance read = parse_receptance_csv(text, "wide.csv", "p99999");
    ASSERT_EQ(read.receptance.size(), 2U);
    EXPECT_EQ(read.receptance[0], std::complex<double>(1e-8, 1e-8));
    try {
        parse_receptance_csv(text, "wide.csv", "");
        FAIL() << "which of them was not said";
    } catch (const MeasurementError& error) {
        EXPECT_LT(std::string(error.what()).size(), 1000U) << "not all names are listed";
        EXPECT_NE(std::string(error.what()).find("and 99980 more"), std::string::npos)
            << error.what();
    }
}

}  // namespace
}  // namespace standfast

#include "cli/uff/read_uff.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "cli/uff/measurement_error.hpp"

namespace standfast {
namespace {

const std::string kSamples = STANDFAST_SOURCE_DIR "/tests/cli/uff/samples/";

double largest(const FunctionRecord& record) {
    double size = 0;
    for (const std::complex<double>& value : record.y) size = std::max(size, std::abs(value));
    return size;
}

// Values read with another reader; see samples/README.md.
TEST(Uff, TextRecordingOfAMicrophoneReadsToItsSixDigits) {
    const UniversalFile file = read_uff(kSamples + "Sample_UFF58_ascii.uff");
    ASSERT_EQ(file.records.size(), 1U);
    const FunctionRecord& record = file.records[0];
    ASSERT_EQ(record.y.size(), 79292U);
    EXPECT_EQ(record.function_type, kTimeResponse);
    EXPECT_EQ(record.abscissa.kind, kAxisTime);
    EXPECT_EQ(record.ordinate.unit, "Pa");
    EXPECT_EQ(record.ordinate.label, "Pressure");
    EXPECT_EQ(record.response.name, "Mic 01");
    EXPECT_DOUBLE_EQ(record.step, 1.52588e-05);
    EXPECT_DOUBLE_EQ(record.y[0].real(), -0.0147553);
    EXPECT_DOUBLE_EQ(record.y[1].real(), -0.0172957);
    EXPECT_DOUBLE_EQ(record.y[2].real(), -0.0166101);
    EXPECT_DOUBLE_EQ(record.y[39646].real(), -0.010217);
    EXPECT_DOUBLE_EQ(largest(record), 0.141304);
}

TEST(Uff, BinaryRecordingHoldsTheSameNumbersAsItsText) {
    const UniversalFile text = read_uff(kSamples + "Sample_UFF58_ascii.uff");
    const UniversalFile binary = read_uff(kSamples + "Sample_UFF58b_bin.uff");
    const FunctionRecord& a = text.records.at(0);
    const FunctionRecord& b = binary.records.at(0);
    ASSERT_EQ(a.y.size(), b.y.size());
    EXPECT_NEAR(b.y[0].real(), -0.01475526, 5e-9);
    EXPECT_NEAR(b.y[1].real(), -0.01729571, 5e-9);
    EXPECT_NEAR(b.y[2].real(), -0.01661006, 5e-9);
    EXPECT_NEAR(largest(b), 0.14130394, 5e-9);
    for (std::size_t i = 0; i < a.y.size(); ++i) {
        // Six digits printed: half a unit of the last, relative to a leading digit of 1.
        ASSERT_NEAR(a.y[i].real(), b.y[i].real(), 5.1e-6 * std::abs(b.y[i].real())) << i;
        ASSERT_DOUBLE_EQ(a.x[i], b.x[i]) << i;
    }
}

TEST(Uff, BinaryOfEightBytesAValueReadsExactly) {
    const UniversalFile file = read_uff(kSamples + "binary8byte.uff");
    const FunctionRecord& record = file.records.at(0);
    ASSERT_EQ(record.y.size(), 250U);
    EXPECT_DOUBLE_EQ(record.x.back(), 2.49);
    EXPECT_EQ(record.y[0].real(), 0);
    EXPECT_NEAR(record.y[1].real(), 0.30901697, 5e-9);
    EXPECT_NEAR(record.y[2].real(), 0.58778524, 5e-9);
    EXPECT_EQ(largest(record), 1.0);
    EXPECT_EQ(record.response.name, "sine 5 Hz");
}

TEST(Uff, AFileThatIsNotThereIsNamed) {
    try {
        read_uff("no/such/file.uff");
        FAIL();
    } catch (const MeasurementError& error) {
        EXPECT_STREQ(error.what(), "no/such/file.uff: there is no such file");
    }
}

}  // namespace
}  // namespace standfast

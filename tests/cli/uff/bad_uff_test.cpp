#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>

#include "cli/uff/measurement_error.hpp"
#include "cli/uff/read_uff.hpp"
#include "cli/uff/write_uff.hpp"

namespace standfast {
namespace {

FunctionRecord sine(StoredAs stored_as) {
    FunctionRecord record;
    record.function_type = kTimeResponse;
    record.stored_as = stored_as;
    record.step = 0.001;
    for (int i = 0; i < 64; ++i) {
        record.x.push_back(0.001 * i);
        record.y.emplace_back(std::sin(0.3 * i + 0.1), 0);
    }
    return record;
}

std::string complaint(const std::string& bytes) {
    try {
        parse_uff(bytes, "bad.uff");
    } catch (const MeasurementError& error) {
        return error.what();
    }
    return "no complaint";
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, std::string::npos);
    return text.replace(at, from.size(), to);
}

TEST(BadUff, AnEmptyFileIsCalledEmpty) {
    EXPECT_EQ(complaint(""), "bad.uff:1: byte 1: the file is empty");
    EXPECT_EQ(complaint(" \r\n \n"), "bad.uff:1: byte 1: the file is empty");
}

TEST(BadUff, AFileOfAnotherKindIsRefusedAtItsFirstByte) {
    EXPECT_EQ(complaint("time,value\n0,1\n").substr(0, 41),
              "bad.uff:1: byte 1: a dataset must begin w");
}

TEST(BadUff, EveryTruncationIsAMessageAndNeverACrash) {
    for (const UffForm form : {UffForm::text, UffForm::little_endian, UffForm::big_endian}) {
        const std::string whole = uff_bytes({sine(StoredAs::real_double)}, form);
        const std::size_t closing = whole.size() - std::string("    -1\n").size();
        for (std::size_t size = 0; size < closing; ++size) {
            const std::string said = complaint(whole.substr(0, size));
            EXPECT_TRUE(said.starts_with("bad.uff:")) << size << ": " << said;
        }
    }
}

TEST(BadUff, TooFewTextValuesAreCountedWithTheirLine) {
    std::string text = uff_bytes({sine(StoredAs::real_single)}, UffForm::text);
    const std::size_t last_line = text.rfind('\n', text.size() - 9) + 1;
    text = text.substr(0, last_line) + "    -1\n";
    EXPECT_EQ(complaint(text).substr(0, 11), "bad.uff:24:");
    EXPECT_NE(complaint(text).find("64 numbers are claimed, but only 60 are there"),
              std::string::npos)
        << complaint(text);
}

TEST(BadUff, AClaimOfTenGigabytesAsksForNoMemory) {
    const std::string text = uff_bytes({sine(StoredAs::real_single)}, UffForm::text);
    EXPECT_NE(complaint(replaced(text, "         2        64", "         22500000000"))
                  .find("2500000000 values are claimed, but only"),
              std::string::npos);
    const std::string binary = uff_bytes({sine(StoredAs::real_single)}, UffForm::little_endian);
    EXPECT_NE(complaint(replaced(binary, "         2        64", "         22500000000"))
                  .find("2500000000 points of 4 bytes are claimed, but only"),
              std::string::npos);
    EXPECT_NE(complaint(replaced(text, "         2        64", "         29999999999"))
                  .find("9999999999 values are claimed"),
              std::string::npos);
}

TEST(BadUff, TheOtherByteOrderIsRecognised) {
    for (const StoredAs kind : {StoredAs::real_single, StoredAs::real_double}) {
        const std::string little = uff_bytes({sine(kind)}, UffForm::little_endian);
        const std::string said = complaint(replaced(little, "58b     1", "58b     2"));
        EXPECT_NE(said.find("says big endian, but the values make sense only as little endian"),
                  std::string::npos)
            << said;
        const std::string big = uff_bytes({sine(kind)}, UffForm::big_endian);
        EXPECT_NE(complaint(replaced(big, "58b     2", "58b     1")).find("only as big endian"),
                  std::string::npos);
    }
}

TEST(BadUff, AnUnknownByteOrderOrNumberFormatIsNamed) {
    const std::string little = uff_bytes({sine(StoredAs::real_single)}, UffForm::little_endian);
    EXPECT_NE(complaint(replaced(little, "58b     1", "58b     3")).find("the byte order is 3"),
              std::string::npos);
    EXPECT_NE(complaint(replaced(little, "     2          11", "     1          11"))
                  .find("the number format is 1"),
              std::string::npos);
}

TEST(BadUff, AValueThatIsNoNumberIsFoundByItsPlace) {
    const std::string text = uff_bytes({sine(StoredAs::real_single)}, UffForm::text);
    const std::size_t second = text.find('\n', text.find(" 9.98334e-02")) - 13;
    const std::string not_finite = std::string(text).replace(second, 13, "          NaN");
    EXPECT_NE(complaint(not_finite).find("number 6 of 64 is not a finite number"),
              std::string::npos)
        << complaint(not_finite);
    const std::string no_number = std::string(text).replace(second, 13, "         oops");
    EXPECT_NE(complaint(no_number).find("number 6 of 64 cannot be read"), std::string::npos);

    FunctionRecord record = sine(StoredAs::real_double);
    record.y[5] = std::numeric_limits<double>::quiet_NaN();
    const std::string bytes = uff_bytes({record}, UffForm::little_endian);
    const std::size_t start = bytes.size() - std::string("    -1\n").size() - 64 * 8;
    EXPECT_NE(complaint(bytes).find("byte " + std::to_string(start + 5 * 8 + 1) +
                                    ": number 6 of 64 is not a finite number"),
              std::string::npos)
        << complaint(bytes);
}

TEST(BadUff, TextWhereTheHeaderPromisesBinaryIsSaid) {
    std::string text = uff_bytes({sine(StoredAs::real_single)}, UffForm::text);
    text = replaced(text, "    58\n", "    58b     1     2          11         256     0     0\n");
    EXPECT_NE(complaint(text).find("promises binary values, but text follows"), std::string::npos)
        << complaint(text);
}

TEST(BadUff, AStepOfZeroAndALoneSampleAreRefused) {
    FunctionRecord record = sine(StoredAs::real_single);
    record.step = 0;
    EXPECT_NE(complaint(uff_bytes({record}, UffForm::text)).find("the abscissa step is 0"),
              std::string::npos);
    record = sine(StoredAs::real_single);
    record.x.resize(1);
    record.y.resize(1);
    EXPECT_NE(complaint(uff_bytes({record}, UffForm::text)).find("the number of values is 1"),
              std::string::npos);
}

TEST(BadUff, ASizeThatContradictsItsPointsIsSaid) {
    const std::string little = uff_bytes({sine(StoredAs::real_single)}, UffForm::little_endian);
    EXPECT_NE(complaint(replaced(little, "         256", "         260"))
                  .find("says 260 bytes of values, but 64 points take 256"),
              std::string::npos);
}

TEST(BadUff, OtherDatasetsArePassedOver) {
    const std::string text = uff_bytes({sine(StoredAs::real_single)}, UffForm::text);
    const std::string before = "    -1\n   151\nsome header\n    -1\n";
    const UniversalFile file = parse_uff(before + text, "mixed.uff");
    EXPECT_EQ(file.records.size(), 1U);
    EXPECT_EQ(file.passed_over, std::vector<std::string>{"151"});
    EXPECT_NE(complaint(before).find("has no record of measured values"), std::string::npos);
}

}  // namespace
}  // namespace standfast

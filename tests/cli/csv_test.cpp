#include "cli/report/common/csv.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "tests/cli/sample_report.hpp"

namespace standfast {
namespace {

std::vector<std::vector<std::string>> rows_of(const std::string& text) {
    std::vector<std::vector<std::string>> rows;
    std::istringstream lines(text);
    std::string line;
    while (std::getline(lines, line)) {
        std::vector<std::string> fields;
        std::string field;
        std::istringstream stream(line);
        while (std::getline(stream, field, ',')) {
            fields.push_back(field);
        }
        if (line.ends_with(',')) {
            fields.emplace_back();
        }
        rows.push_back(fields);
    }
    return rows;
}

ReceptanceTable sample_table() {
    ReceptanceTable table;
    table.frequency_hertz = {0, 4.5};
    Eigen::Matrix3cd tool = Eigen::Matrix3cd::Zero();
    tool(0, 0) = {1e-7, -2e-9};
    tool(1, 2) = tool(2, 1) = {3e-9, 4e-10};
    Eigen::Matrix3cd work = Eigen::Matrix3cd::Zero();
    work(0, 0) = {5e-8, -1e-9};
    table.tool = {tool, tool};
    table.work = {work, work};
    return table;
}

TEST(ReceptanceCsv, ColumnsAreThoseOfTheContract) {
    const auto rows = rows_of(receptance_csv(sample_table()));
    ASSERT_EQ(rows.size(), 3U);
    const std::vector<std::string>& header = rows[0];
    ASSERT_EQ(header.size(), 37U);
    EXPECT_EQ(header[0], "frequency_hz");
    EXPECT_EQ(header[1], "tool_xx_re");
    EXPECT_EQ(header[2], "tool_xx_im");
    EXPECT_EQ(header[7], "tool_xy_re");
    EXPECT_EQ(header[13], "work_xx_re");
    EXPECT_EQ(header[36], "relative_yz_im");
    for (const auto& row : rows) {
        EXPECT_EQ(row.size(), header.size());
    }
}

TEST(ReceptanceCsv, RelativeIsToolPlusWorkAndNumbersReadBack) {
    const auto rows = rows_of(receptance_csv(sample_table()));
    EXPECT_EQ(std::stod(rows[2][0]), 4.5);
    EXPECT_EQ(std::stod(rows[1][1]), 1e-7);
    EXPECT_EQ(std::stod(rows[1][25]), 1e-7 + 5e-8);
    EXPECT_EQ(std::stod(rows[1][26]), -2e-9 + -1e-9);
    EXPECT_EQ(std::stod(rows[1][36]), 4e-10);
}

TEST(SpeedsCsv, OneRowASpeedAndNoneIsEmpty) {
    const auto rows = rows_of(speeds_csv(tests::sample_pass()));
    ASSERT_EQ(rows.size(), 4U);
    EXPECT_EQ(rows[2][0], "9000");
    EXPECT_EQ(rows[2][1], "avoid");
    EXPECT_EQ(rows[2][2], "chatter");
    EXPECT_EQ(rows[2][3], "false");
    EXPECT_EQ(std::stod(rows[2][4]), 7.4e-3);
    EXPECT_EQ(rows[2][5], "quasi-periodic");
    EXPECT_EQ(rows[2][7], "");
    EXPECT_EQ(rows[3][4], "");
    EXPECT_EQ(std::stod(rows[3][7]), 0.004e-3);
}

}  // namespace
}  // namespace standfast

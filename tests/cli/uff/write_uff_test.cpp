#include "cli/uff/write_uff.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "cli/uff/read_uff.hpp"

namespace standfast {
namespace {

/// A receptance-like record; uneven ones have stretched steps.
FunctionRecord sample(StoredAs stored_as, bool even) {
    FunctionRecord record;
    record.notes = {"tap at the top", "", "", "", ""};
    record.function_type = kFrequencyResponse;
    record.response = {.name = "part", .node = 12, .direction = -2};
    record.reference = {.name = "hammer", .node = 7, .direction = 3};
    record.stored_as = stored_as;
    record.even = even;
    record.start = even ? 10 : 0;
    record.step = even ? 0.5 : 0;
    record.abscissa = {.kind = kAxisFrequency, .label = "Frequency", .unit = "Hz"};
    record.ordinate = {.kind = kAxisDisplacement, .label = "Displacement", .unit = "m"};
    record.denominator = {.kind = kAxisForce, .label = "Force", .unit = "N"};
    const bool complex =
        stored_as == StoredAs::complex_single || stored_as == StoredAs::complex_double;
    for (int i = 0; i < 37; ++i) {
        record.x.push_back(even ? 10 + 0.5 * i : 10 + 0.25 * i * i);
        const double size = std::pow(10.0, -7 - 0.1 * i) / 3;
        record.y.emplace_back(i % 3 == 0 ? -size : size, complex ? size * 0.7 : 0);
    }
    return record;
}

struct Case {
    StoredAs stored_as;
    bool even;
    UffForm form;
};

class RoundTrip : public testing::TestWithParam<Case> {};

TEST_P(RoundTrip, GivesBackWhatWasWritten) {
    const auto [stored_as, even, form] = GetParam();
    const FunctionRecord written = sample(stored_as, even);
    const std::string bytes = uff_bytes({written, written}, form);
    const UniversalFile file = parse_uff(bytes, "written.uff");
    ASSERT_EQ(file.records.size(), 2U);
    const FunctionRecord& read = file.records[1];
    const bool wide = stored_as == StoredAs::real_double || stored_as == StoredAs::complex_double;
    const double digits = form == UffForm::text ? (wide ? 1e-12 : 1e-5) : (wide ? 0 : 1e-7);
    ASSERT_EQ(read.y.size(), written.y.size());
    for (std::size_t i = 0; i < written.y.size(); ++i) {
        EXPECT_NEAR(read.y[i].real(), written.y[i].real(), digits * std::abs(written.y[i])) << i;
        EXPECT_NEAR(read.y[i].imag(), written.y[i].imag(), digits * std::abs(written.y[i])) << i;
        EXPECT_NEAR(read.x[i], written.x[i], even ? 1e-9 : 1e-5 * written.x[i]) << i;
    }
    EXPECT_EQ(read.notes[0], "tap at the top");
    EXPECT_EQ(read.response.name, "part");
    EXPECT_EQ(read.response.node, 12);
    EXPECT_EQ(read.response.direction, -2);
    EXPECT_EQ(read.reference.direction, 3);
    EXPECT_EQ(read.denominator.kind, kAxisForce);
    EXPECT_EQ(read.ordinate.unit, "m");
}

INSTANTIATE_TEST_SUITE_P(AllForms, RoundTrip, testing::ValuesIn([] {
                             std::vector<Case> cases;
                             for (const StoredAs kind :
                                  {StoredAs::real_single, StoredAs::real_double,
                                   StoredAs::complex_single, StoredAs::complex_double}) {
                                 for (const bool even : {true, false}) {
                                     for (const UffForm form :
                                          {UffForm::text, UffForm::little_endian,
                                           UffForm::big_endian}) {
                                         cases.push_back({kind, even, form});
                                     }
                                 }
                             }
                             return cases;
                         }()));

}  // namespace
}  // namespace standfast

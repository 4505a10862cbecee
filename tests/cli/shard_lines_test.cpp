#include "cli/shards/shard_lines.hpp"

#include <gtest/gtest.h>

#include <functional>

#include "cli/files/usage_error.hpp"
#include "cli/options/option_values.hpp"
#include "cli/options/progress.hpp"
#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using tests::TemporaryFolder;

ShardHeader header() {
    return {.command = "trade", .version = "1", .inputs = "abc", .seed = 1, .units = 3};
}

std::string line(std::size_t unit, const ShardHeader& of = header()) {
    return line_text({.header = of, .unit = unit, .payload = R"({"b":0.1,"a":[1,null]})"});
}

std::string refusal(const std::function<void()>& call) {
    try {
        call();
    } catch (const UsageError& error) {
        return error.what();
    }
    return "";
}

std::string refusal_of(const std::vector<std::string>& texts) {
    const TemporaryFolder folder;
    std::vector<std::string> paths;
    for (std::size_t i = 0; i < texts.size(); ++i)
        paths.push_back(folder.write("part" + std::to_string(i), texts[i]));
    return refusal([&] { merge_shards(paths, "trade"); });
}

TEST(ShardLines, ComeBackAsTheyWereWritten) {
    const ShardLine back = parse_line(line(2));
    EXPECT_EQ(back.header, header());
    EXPECT_EQ(back.unit, 2U);
    EXPECT_EQ(back.payload, R"({"b":0.1,"a":[1,null]})");
}

TEST(ShardLines, WhatIsNoneSaysWhereInTheLine) {
    const auto column_of = [](const std::string& text) {
        try {
            parse_line(text);
        } catch (const BadShardLine& error) {
            EXPECT_EQ(std::string(error.what()).find("exception"), std::string::npos);
            return error.column();
        }
        return std::size_t{0};
    };
    EXPECT_EQ(column_of("hello"), 1U);
    EXPECT_EQ(column_of(R"({"schema" 1})"), 11U);
    EXPECT_EQ(column_of(std::string(100'000, '[')), 65U) << "deep, and no crash";
    EXPECT_EQ(column_of(R"({"schema":"another"})"), 1U);
    std::string text = line(2);
    text.replace(text.find("\"unit\":2"), 8, "\"unit\":7");
    EXPECT_GT(column_of(text), 1U);
}

TEST(ShardLines, MergeInAnyOrderOfFilesAndLines) {
    const TemporaryFolder folder;
    const std::vector<std::string> paths = {folder.write("a", line(2) + line(0)),
                                            folder.write("b", line(1)), folder.write("c", "")};
    EXPECT_EQ(merge_shards(paths, "trade").payloads.size(), 3U);
}

TEST(ShardLines, GapsDuplicatesTornLinesAndMixturesAreRefusedWithTheirPlace) {
    EXPECT_NE(refusal_of({line(0) + line(2)}).find("1 of 3 units are missing (2)"),
              std::string::npos);
    const std::string twice = refusal_of({line(0) + line(1), line(2) + line(0)});
    EXPECT_NE(twice.find("part1:2:104: unit 1 is there twice, first at"), std::string::npos)
        << twice;
    const std::string torn = refusal_of({line(0) + line(1) + line(2).substr(0, 30)});
    EXPECT_NE(torn.find("part0:3:1: the line is torn"), std::string::npos) << torn;
    EXPECT_NE(refusal_of({"hello\n"}).find("is no line of a shard"), std::string::npos);
    EXPECT_NE(refusal_of({""}), "");
}

TEST(ShardLines, EveryKindOfMixtureIsNamed) {
    const auto mixed_with = [](const std::function<void(ShardHeader&)>& change) {
        ShardHeader other = header();
        change(other);
        return refusal_of({line(0) + line(1, other)});
    };
    EXPECT_NE(mixed_with([](ShardHeader& h) { h.version = "2"; }).find("version 2"),
              std::string::npos);
    EXPECT_NE(mixed_with([](ShardHeader& h) { h.inputs = "x"; }).find("inputs"), std::string::npos);
    EXPECT_NE(mixed_with([](ShardHeader& h) { h.seed = 7; }).find("seed was 7"), std::string::npos);
    EXPECT_NE(mixed_with([](ShardHeader& h) { h.units = 9; }).find("9 units"), std::string::npos);
    EXPECT_NE(mixed_with([](ShardHeader& h) { h.command = "check"; }).find("\"check\""),
              std::string::npos);
}

TEST(ShardLines, ShardsOfAnotherCommandAreSentThere) {
    const TemporaryFolder folder;
    const std::string path = folder.write("a", line(0) + line(1) + line(2));
    EXPECT_NE(refusal([&] { merge_shards({path}, "check"); }).find("standfast trade --merge"),
              std::string::npos);
}

TEST(ShardOption, IsAShareOfSoMany) {
    EXPECT_EQ(parse_shard("3/8").index, 3U);
    EXPECT_EQ(parse_shard("3/8").count, 8U);
    for (const char* bad : {"0/8", "9/8", "3", "3/", "/8", "a/b", "3/0", "-1/8", "1/8/2"})
        EXPECT_THROW(parse_shard(bad), UsageError) << bad;
}

TEST(Progress, TellsCountShareAndTimeLeft) {
    EXPECT_EQ(progress_text(1, 4, 0, "x"), "1 of 4, 0 %: x");
    EXPECT_EQ(progress_text(3, 4, 10, "x"), "3 of 4, 50 %, about 10 s left: x");
    EXPECT_EQ(progress_text(2, 61, 10, "x"), "2 of 61, 2 %, about 10 min left: x");
}

}  // namespace
}  // namespace standfast

#include "cli/options/options.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "cli/commands/help.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/options/option_values.hpp"
#include "cli/options/parse_options.hpp"

namespace standfast {
namespace {

std::string refusal(const std::vector<std::string>& arguments) {
    try {
        parse_options(arguments);
    } catch (const UsageError& error) {
        return error.what();
    }
    return "accepted";
}

std::string refusal_of_speeds(const std::string& text) {
    try {
        parse_speeds(text);
    } catch (const UsageError& error) {
        return error.what();
    }
    return "accepted";
}

TEST(CommandLine, DefaultsMakeThePlainCommandWork) {
    const Options options = parse_options({"check", "job.toml"});
    EXPECT_EQ(options.command, Command::check);
    EXPECT_EQ(options.arguments, std::vector<std::string>{"job.toml"});
    EXPECT_EQ(options.method, StabilityMethod::periodic);
    EXPECT_EQ(options.draws, 128);
    EXPECT_EQ(options.units, UnitSystem::metric);
    EXPECT_FALSE(options.json || options.strict || options.quiet || options.force);
}

TEST(CommandLine, OptionsMayStandAnywhereAfterTheCommand) {
    const Options options = parse_options(
        {"check", "--json", "a.toml", "--units=inch", "b.toml", "--pass", "slot", "--modes", "12"});
    EXPECT_EQ(options.arguments, (std::vector<std::string>{"a.toml", "b.toml"}));
    EXPECT_TRUE(options.json);
    EXPECT_EQ(options.units, UnitSystem::inch);
    EXPECT_EQ(options.pass, "slot");
    EXPECT_EQ(options.modes, 12);
}

TEST(CommandLine, AMisspeltCommandIsNamedWithTheNearest) {
    EXPECT_EQ(refusal({"chek", "job.toml"}),
              "there is no command \"chek\"; did you mean \"check\"? (commands: check, trade, "
              "explain, fit, materials, new, schema)");
}

TEST(CommandLine, AMisspeltOptionIsBlamedAndNotItsValue) {
    EXPECT_EQ(refusal({"check", "--spedes", "1", "job.toml"}),
              "there is no option --spedes; did you mean \"--speeds\"?");
    EXPECT_EQ(refusal({"check", "--jsn=1", "job.toml"}),
              "there is no option --jsn; did you mean \"--json\"?");
}

TEST(CommandLine, RefusesValuesThatDoNotFitAndSaysWhichDo) {
    EXPECT_EQ(refusal({"check", "a", "--units", "metrc"}),
              "--units \"metrc\": accepted: metric, inch; did you mean \"metric\"?");
    EXPECT_EQ(refusal({"check", "a", "--modes", "0"}),
              "--modes \"0\": accepted: a whole number from 1 to 500");
    EXPECT_EQ(refusal({"check", "a", "--seed", "1.5"}).substr(0, 12), "--seed \"1.5\"");
    EXPECT_EQ(refusal({"check", "a", "--draws", "1000000000000000000000"}).substr(0, 7), "--draws");
    EXPECT_NE(refusal({"check", "a", "--csv"}), "accepted");
    EXPECT_NE(refusal({"check", "a", "--color", ""}), "accepted");
}

TEST(CommandLine, AsksForWhatIsMissing) {
    EXPECT_NE(refusal({}).find("no command"), std::string::npos);
    EXPECT_NE(refusal({"check"}).find("needs a job file"), std::string::npos);
    EXPECT_NE(refusal({"--json", "check", "a"}).find("comes first"), std::string::npos);
    EXPECT_NE(refusal({"job.toml"}).find("standfast check job.toml"), std::string::npos);
    EXPECT_NE(refusal({"new", "a", "b", "c"}).find("\"c\" is one argument too many"),
              std::string::npos);
    EXPECT_NE(refusal({"new", "--json"}).find("not an option of this command"), std::string::npos);
}

TEST(Help, ListsEveryOptionOfTheTableAndFitsThePage) {
    for (const Command command : {Command::check, Command::materials, Command::create}) {
        const std::string text = help_text(command, 80, true);
        for (const OptionRow& row : option_table()) {
            const bool listed = text.find("\n  " + std::string(row.name)) != std::string::npos;
            const bool belongs = std::ranges::any_of(option_table(), [&](const OptionRow& other) {
                return other.name == row.name && (other.commands & bit_of(command)) != 0 &&
                       !other.help.empty();
            });
            EXPECT_EQ(listed, belongs) << row.name << " of " << row_of(command).name;
        }
    }
}

TEST(Help, ShowsWhatIsUsedDailyAndSaysHowToSeeTheRest) {
    const std::string text = help_text(Command::check, 80, false);
    for (const char* const option :
         {"--pass", "--units", "--report", "--json", "--with", "--speeds", "--assumed"}) {
        EXPECT_NE(text.find("\n  " + std::string(option)), std::string::npos) << option;
    }
    EXPECT_EQ(text.find("--shard"), std::string::npos);
    EXPECT_NE(text.find("--help all"), std::string::npos);
}

TEST(Help, NoCommandHasAnOptionTwiceAndNoCommandStandsTwice) {
    std::map<std::string_view, unsigned> commands;  // that know an option of this name
    for (const OptionRow& row : option_table()) {
        EXPECT_EQ(commands[row.name] & row.commands, 0U) << row.name;
        commands[row.name] |= row.commands;
        EXPECT_NE(row.store, nullptr) << row.name;
    }
    std::set<std::string_view> names;
    for (const CommandRow& row : command_table()) {
        EXPECT_TRUE(names.insert(row.name).second) << row.name;
    }
}

TEST(Speeds, AListSharesTheUnitAtItsEnd) {
    const auto speeds = parse_speeds("5100 5500 rpm");
    ASSERT_EQ(speeds.size(), 2U);
    EXPECT_DOUBLE_EQ(speeds[0].rpm(), 5100);
    EXPECT_DOUBLE_EQ(speeds[1].rpm(), 5500);
    EXPECT_EQ(parse_speeds("5100,5500rpm"), speeds);
    EXPECT_DOUBLE_EQ(parse_speeds("100 rev/s").at(0).rpm(), 6000);
}

TEST(Speeds, StepsHoldBothEnds) {
    const auto speeds = parse_speeds("3000 to 10000 by 50 rpm");
    ASSERT_EQ(speeds.size(), 141U);
    EXPECT_DOUBLE_EQ(speeds.front().rpm(), 3000);
    EXPECT_NEAR(speeds.back().rpm(), 10000, 1e-9);
    EXPECT_EQ(parse_speeds("3000 to 3090 by 50 rpm").size(), 2U);
}

TEST(Speeds, RefusesWhatIsNoSpeedAndShowsBothForms) {
    for (const char* const text :
         {"", " ", "rpm", "5100", "5100 5500", "fast rpm", "-5100 rpm", "0 rpm", "5100 mm",
          "10000 to 3000 by 50 rpm", "3000 to 10000 by 0 rpm", "3000 to 10000 by 0.01 rpm",
          "3000 to 10000 rpm", "1e999 rpm", "nan rpm", "3000 by 50 to 10000 rpm"}) {
        const std::string message = refusal_of_speeds(text);
        EXPECT_NE(message.find("3000 to 10000 by 50 rpm"), std::string::npos)
            << '"' << text << "\" gave: " << message;
    }
}

}  // namespace
}  // namespace standfast

// What a shop sees when a job is wrong: the whole message, caret included.
#include <gtest/gtest.h>

#include <ostream>
#include <string>

#include "cli/job/read_job.hpp"

namespace standfast {
namespace {

const std::string kMachine =
    "[machine]\n"
    "kind = \"5-axis, table tilts\"\n"
    "taper = \"BT40\"\n"
    "speed = [\"500 rpm\", \"12000 rpm\"]\n";
const std::string kTier =
    "[[tier]]\n"
    "name = \"part\"\n"
    "material = \"6061\"\n"
    "block = [\"70 mm\", \"50 mm\"]\n"
    "height = \"95 mm\"\n";
const std::string kTool =
    "[[tool]]\n"
    "grip = \"shrink\"\n"
    "cutter = { diameter = \"10 mm\", teeth = 3, stickout = \"50 mm\" }\n";
const std::string kPass =
    "[[pass]]\n"
    "radial = \"1 mm\"\n"
    "axial = \"5 mm\"\n"
    "feed = \"0.05 mm\"\n"
    "speed = \"9000 rpm\"\n";

std::string faults_of(const std::string& text) {
    const ReadResult result = read_job_text(text, "job.toml");
    EXPECT_EQ(result.job.has_value(), result.errors.empty());
    return result.errors.empty() ? "" : format_diagnostics(result.errors);
}

std::string replaced(std::string text, const std::string& old, const std::string& fresh) {
    const std::size_t at = text.find(old);
    EXPECT_NE(at, std::string::npos) << old;
    return text.replace(at, old.size(), fresh);
}

constexpr const char* kOne = "1 error in job.toml; nothing was computed.\n";

TEST(BadInput, BaselineHasNoFault) { EXPECT_EQ(faults_of(kMachine + kTier + kTool + kPass), ""); }

TEST(BadInput, NegativeHeightSaysWhatIsAccepted) {
    const std::string tier = replaced(kTier, "\"95 mm\"", "\"-95 mm\"");
    EXPECT_EQ(faults_of(kMachine + tier + kTool + kPass),
              std::string("job.toml:9:10: error: tier 1 (\"part\"): height is -95 mm\n"
                          " 9 | height = \"-95 mm\"\n"
                          "   |          ^~~~~~~~\n"
                          "  accepted: a length greater than 0, as in \"150 mm\" or \"6 in\"\n") +
                  kOne);
}

TEST(BadInput, MisspeltKeyIsNamedTogetherWithWhatIsThenMissing) {
    const std::string tier = replaced(kTier, "height", "heigth");
    EXPECT_EQ(faults_of(kMachine + tier + kTool + kPass),
              "job.toml:5:1: error: tier 1 (\"part\"): height is missing\n"
              " 5 | [[tier]]\n"
              "   | ^~~~~~~~\n"
              "  accepted: a length greater than 0, as in \"150 mm\" or \"6 in\"\n"
              "job.toml:9:1: error: tier 1 (\"part\"): unknown key \"heigth\"\n"
              " 9 | heigth = \"95 mm\"\n"
              "   | ^~~~~~\n"
              "  did you mean \"height\"?\n"
              "2 errors in job.toml; nothing was computed.\n");
}

TEST(BadInput, AbsurdSizeSuggestsTheUnitThatWasMeant) {
    const std::string tier = replaced(kTier, "95 mm", "95 m");
    EXPECT_EQ(faults_of(kMachine + tier + kTool + kPass),
              std::string("job.toml:9:10: error: tier 1 (\"part\"): height is 95 m\n"
                          " 9 | height = \"95 m\"\n"
                          "   |          ^~~~~~\n"
                          "  accepted: a length greater than 0 and at most 5000 mm, as in "
                          "\"150 mm\" or \"6 in\"\n"
                          "  did you mean \"95 mm\"?\n") +
                  kOne);
}

TEST(BadInput, BareNumberIsToldItsUnits) {
    const std::string tier = replaced(kTier, "\"95 mm\"", "95");
    EXPECT_EQ(faults_of(kMachine + tier + kTool + kPass),
              std::string("job.toml:9:10: error: tier 1 (\"part\"): height is the bare number 95\n"
                          " 9 | height = 95\n"
                          "   |          ^~\n"
                          "  accepted: a length greater than 0, as in \"150 mm\" or \"6 in\"\n"
                          "  a number needs its unit, in quotes: mm, in, thou, um, cm, m, ft\n") +
                  kOne);
}

TEST(BadInput, DecimalCommaIsExplained) {
    const std::string pass = replaced(kPass, "\"0.05 mm\"", "\"0,05 mm\"");
    EXPECT_EQ(
        faults_of(kMachine + kTier + kTool + pass),
        std::string(
            "job.toml:16:8: error: pass 1: feed: \"0,05 mm\" has a comma\n"
            " 16 | feed = \"0,05 mm\"\n"
            "    |        ^~~~~~~~~\n"
            "  accepted: a feed per tooth, as in \"0.06 mm\" or \"0.0024 in\", or a feed, as in "
            "\"900 mm/min\" or \"35 ipm\"\n"
            "  the decimal point is a point: \"0.05 mm\"\n") +
            kOne);
}

TEST(BadInput, UnquotedUnitIsQuoted) {
    const std::string tier = replaced(kTier, "\"95 mm\"", "95 mm");
    EXPECT_EQ(faults_of(kMachine + tier + kTool + kPass),
              std::string("job.toml:9:10: error: 95 mm needs quotes around it\n"
                          " 9 | height = 95 mm\n"
                          "   |          ^~~~~\n"
                          "  accepted: a number with its unit in quotes: \"95 mm\"\n") +
                  kOne);
}

TEST(BadInput, UnknownUnitNamesTheNearest) {
    const std::string pass = replaced(kPass, "9000 rpm", "9000 rmp");
    const std::string faults = faults_of(kMachine + kTier + kTool + pass);
    EXPECT_NE(faults.find("pass 1: speed: \"9000 rmp\" has an unknown unit \"rmp\"\n"),
              std::string::npos)
        << faults;
    EXPECT_NE(faults.find("  did you mean \"rpm\"?\n"), std::string::npos) << faults;
}

TEST(BadInput, KeyThatLandedInTheTableAboveItIsToldWhereItBelongs) {
    EXPECT_EQ(
        faults_of(kMachine + "title = \"Bracket\"\n" + kTier + kTool + kPass),
        std::string("job.toml:5:1: error: machine: unknown key \"title\"\n"
                    " 5 | title = \"Bracket\"\n"
                    "   | ^~~~~\n"
                    "  a line belongs to the last table header above it, here [machine]: move "
                    "\"title\" to the top of the file, above every [table]\n") +
            kOne);
}

TEST(BadInput, KeyOfAPassUnderAToolIsToldWhereItBelongs) {
    EXPECT_EQ(faults_of(kMachine + kTier + kTool + "radial = \"1 mm\"\n" + kPass),
              std::string("job.toml:13:1: error: tool 1: unknown key \"radial\"\n"
                          " 13 | radial = \"1 mm\"\n"
                          "    | ^~~~~~\n"
                          "  a line belongs to the last table header above it, here [[tool]]: "
                          "\"radial\" belongs under [[pass]]\n") +
                  kOne);
}

TEST(BadInput, SingleBracketsWhereSeveralMayStandAreExplained) {
    const std::string tool = replaced(kTool, "[[tool]]", "[tool]");
    EXPECT_EQ(faults_of(kMachine + kTier + tool + kPass),
              std::string("job.toml:10:1: error: [tool] is one table, but there may be several\n"
                          " 10 | [tool]\n"
                          "    | ^~~~~~\n"
                          "  accepted: [[tool]], with double brackets, once for each\n") +
                  kOne);
}

TEST(BadInput, KeyGivenTwiceShowsBoth) {
    EXPECT_EQ(faults_of(kMachine + kTier + "height = \"90 mm\"\n" + kTool + kPass),
              std::string("job.toml:10:10: error: \"height\" is given twice\n"
                          " 10 | height = \"90 mm\"\n"
                          "    |          ^\n"
                          "  accepted: each key once in its table\n"
                          "job.toml:9:1: note: the first one\n"
                          " 9 | height = \"95 mm\"\n"
                          "   | ^~~~~~\n") +
                  kOne);
}

TEST(BadInput, OpenQuoteIsNamed) {
    const std::string tier = replaced(kTier, "\"95 mm\"", "\"95 mm");
    EXPECT_EQ(faults_of(kMachine + tier + kTool + kPass),
              std::string("job.toml:9:16: error: a text in quotes does not end on its line\n"
                          " 9 | height = \"95 mm\n"
                          "   |                ^\n"
                          "  accepted: a closing quote\n") +
                  kOne);
}

TEST(BadInput, SeveralLinesThatAreNotTomlAreAllFound) {
    std::string tier = replaced(kTier, "\"95 mm\"", "95 mm");
    tier = replaced(tier, "\"6061\"", "6061-T6 plate");
    EXPECT_NE(faults_of(kMachine + tier + kTool + kPass).find("2 errors in job.toml"),
              std::string::npos);
}

TEST(BadInput, DovetailWiderThanThePartShowsBothLines) {
    const std::string tier = kTier + "joint = { kind = \"dovetail\", width = \"60 mm\" }\n";
    EXPECT_EQ(faults_of(kMachine + tier + kTool + kPass),
              std::string("job.toml:10:38: error: tier 1 (\"part\"): the dovetail is 60 mm wide, "
                          "the part's foot only 50 mm\n"
                          " 10 | joint = { kind = \"dovetail\", width = \"60 mm\" }\n"
                          "    |                                      ^~~~~~~\n"
                          "  accepted: a neck of at most 50 mm, across the dovetail (along y of "
                          "the part)\n"
                          "job.toml:8:9: note: the part's foot\n"
                          " 8 | block = [\"70 mm\", \"50 mm\"]\n"
                          "   |         ^~~~~~~~~~~~~~~~~~\n") +
                  kOne);
}

TEST(BadInput, DovetailLongerThanThePartShowsBothLines) {
    const std::string tier =
        kTier + "joint = { kind = \"dovetail\", width = \"30 mm\", length = \"80 mm\" }\n";
    const std::string faults = faults_of(kMachine + tier + kTool + kPass);
    EXPECT_NE(faults.find("the dovetail is 80 mm long, the part's foot only 70 mm"),
              std::string::npos);
    EXPECT_NE(faults.find("job.toml:8:9: note: the part's foot"), std::string::npos);
}

TEST(BadInput, CutAboveThePartsTopShowsBothLines) {
    const std::string pass = kPass + "at = [\"35 mm\", \"0 mm\", \"93 mm\"]\n";
    EXPECT_EQ(faults_of(kMachine + kTier + kTool + pass),
              std::string("job.toml:15:9: error: pass 1: an axial depth of 5 mm from 93 mm up "
                          "reaches 98 mm, above the part's top at 95 mm\n"
                          " 15 | axial = \"5 mm\"\n"
                          "    |         ^~~~~~\n"
                          "  accepted: at most 2 mm\n"
                          "job.toml:9:10: note: the part's height\n"
                          " 9 | height = \"95 mm\"\n"
                          "   |          ^~~~~~~\n") +
                  kOne);
}

TEST(BadInput, CutAboveTheHeightOfItsStateShowsTheState) {
    const std::string pass =
        kPass + "at = [\"35 mm\", \"0 mm\", \"80 mm\"]\n[pass.state]\nheight = \"70 mm\"\n";
    const std::string faults = faults_of(kMachine + kTier + kTool + pass);
    EXPECT_NE(faults.find("the cut is at 80 mm, above the part's top at 70 mm"), std::string::npos);
    EXPECT_NE(faults.find("job.toml:20:10: note: the part's height"), std::string::npos) << faults;
}

TEST(BadInput, FeedIntoTheWallShowsBothLines) {
    const std::string pass = kPass +
                             "at = [\"35 mm\", \"0 mm\", \"90 mm\"]\n"
                             "to = [\"20 mm\", \"0 mm\", \"90 mm\"]\n"
                             "wall = \"+x\"\n";
    EXPECT_EQ(faults_of(kMachine + kTier + kTool + pass),
              std::string("job.toml:19:6: error: pass 1: from at to here the tool moves 15 mm into "
                          "the wall\n"
                          " 19 | to = [\"20 mm\", \"0 mm\", \"90 mm\"]\n"
                          "    |      ^~~~~~~~~~~~~~~~~~~~~~~~~~\n"
                          "  accepted: an end of the path on the same finished wall\n"
                          "job.toml:20:8: note: the wall's outward normal\n"
                          " 20 | wall = \"+x\"\n"
                          "    |        ^~~~\n") +
                  kOne);
}

TEST(BadInput, WallAlongTheToolCannotBeCutByItsFlank) {
    const std::string faults = faults_of(kMachine + kTier + kTool + kPass + "wall = \"+z\"\n");
    EXPECT_NE(faults.find("this wall faces along the tool, so its flank cannot cut it"),
              std::string::npos)
        << faults;
}

TEST(BadInput, ToolThatDoesNotExistSuggestsTheNearest) {
    const std::string tool = replaced(kTool, "[[tool]]\n", "[[tool]]\nname = \"finisher\"\n");
    EXPECT_EQ(faults_of(kMachine + kTier + tool + kPass + "tool = \"finsher\"\n"),
              std::string("job.toml:19:8: error: pass 1: tool: there is no tool \"finsher\"\n"
                          " 19 | tool = \"finsher\"\n"
                          "    |        ^~~~~~~~~\n"
                          "  accepted: the name of a tool: \"finisher\"\n"
                          "  did you mean \"finisher\"?\n") +
                  kOne);
}

TEST(BadInput, HostFurtherDownThanItsGuestShowsBothLines) {
    const std::string riser =
        "[[tier]]\nname = \"riser\"\nmaterial = \"steel\"\nround = \"100 mm\"\n"
        "height = \"90 mm\"\n";
    const std::string faults =
        faults_of(kMachine + kTier + "on = \"riser\"\n" + riser + kTool + kPass);
    EXPECT_NE(faults.find("job.toml:10:6: error: tier 1 (\"part\"): on: \"riser\" comes after the "
                          "tier that stands on it"),
              std::string::npos)
        << faults;
    EXPECT_NE(faults.find("job.toml:11:1: note: the tier it names"), std::string::npos) << faults;
}

TEST(BadInput, TwoTiersOfOneNameShowBothLines) {
    const std::string faults = faults_of(kMachine + kTier + kTier + kTool + kPass);
    EXPECT_NE(faults.find("job.toml:11:8: error: tier 2: the name \"part\" is taken"),
              std::string::npos)
        << faults;
    EXPECT_NE(faults.find("job.toml:6:8: note: the other one of that name"), std::string::npos);
}

TEST(BadInput, SpeedAndTiltOutsideTheMachineShowBothLines) {
    std::string pass = replaced(kPass, "9000 rpm", "20000 rpm") + "tilt = \"120 deg\"\n";
    const std::string faults = faults_of(kMachine + kTier + kTool + pass);
    EXPECT_NE(faults.find("pass 1: 20000 rpm is outside the machine's speeds"), std::string::npos);
    EXPECT_NE(faults.find("job.toml:4:9: note: the machine's speeds"), std::string::npos);
    EXPECT_NE(faults.find("a tilt of 120 deg is beyond the machine's 110 deg"), std::string::npos);
    EXPECT_NE(faults.find("2 errors in job.toml"), std::string::npos) << faults;
}

struct Slip {
    std::string old, fresh, message;
};

/// Without it a failing case would be named by its bytes.
void PrintTo(const Slip& slip, std::ostream* out) { *out << slip.fresh; }

class ToolSlips : public ::testing::TestWithParam<Slip> {};

TEST_P(ToolSlips, AreNamed) {
    const Slip& slip = GetParam();
    const std::string text = replaced(kMachine + kTier + kTool + kPass, slip.old, slip.fresh);
    const std::string faults = faults_of(text);
    EXPECT_NE(faults.find(slip.message), std::string::npos) << faults;
    EXPECT_NE(faults.find(kOne), std::string::npos) << faults;
}

INSTANTIATE_TEST_SUITE_P(
    BadInput, ToolSlips,
    ::testing::Values(
        Slip{"\"1 mm\"", "\"12 mm\"", "radial depth 12 mm with a cutter of 10 mm"},
        Slip{"block = [\"70 mm\", \"50 mm\"]", "tube = [\"50 mm\", \"70 mm\"]",
             "the bore, 70 mm, is not smaller than the outside, 50 mm"},
        Slip{"block = [\"70 mm\", \"50 mm\"]", "box = [\"70 mm\", \"50 mm\", \"25 mm\"]",
             "a wall of 25 mm leaves nothing hollow"},
        Slip{"block = [\"70 mm\", \"50 mm\"]", "block = [\"70 mm\", \"50 mm\"]\nround = \"1 in\"",
             "block and round are both given"},
        Slip{"stickout = \"50 mm\"", "stickout = \"50 mm\", overall = \"40 mm\"",
             "leaves nothing to grip"},
        Slip{"stickout = \"50 mm\"", "stickout = \"50 mm\", neck = [\"9 mm\", \"70 mm\"]",
             "a neck of 70 mm on a stickout of 50 mm"},
        Slip{"stickout = \"50 mm\"", "stickout = \"50 mm\", flute = \"60 mm\"",
             "a flute of 60 mm on a stickout of 50 mm"},
        Slip{"stickout = \"50 mm\"", "stickout = \"50 mm\", gauge_length = \"120 mm\"",
             "gauge_length and stickout are both given"},
        Slip{"teeth = 3", "teeth = 3, pitch = [\"100 deg\", \"130 deg\", \"120 deg\"]",
             "sums to 350 deg"},
        Slip{"teeth = 3", "teeth = 3, pitch = [\"180 deg\", \"180 deg\"]",
             "lists 2 angles for 3 teeth"},
        Slip{"teeth = 3", "teeth = 3.5", "teeth is the bare number 3.5"},
        Slip{"teeth = 3", "teeth = 0", "teeth is the bare number 0"},
        Slip{"\"BT40\"", "\"BT4O\"", "did you mean \"BT40\"?"},
        Slip{"\"6061\"", "\"6016\"", "no material is called \"6016\""},
        Slip{"\"shrink\"", "\"shrnk\"", "did you mean \"shrink\"?"},
        Slip{"[\"500 rpm\", \"12000 rpm\"]", "[\"12000 rpm\", \"500 rpm\"]", "does not rise"},
        Slip{"speed = \"9000 rpm\"", "feed_heading = \"0 deg\"\nwall = \"+x\"",
             "feed_heading and wall are both given"},
        Slip{"\"0.05 mm\"", "\"900 mm/min\"\nspeeds = [\"1000 rpm\", \"2000 rpm\"]\ntilt = 20",
             "tilt is the bare number 20"},
        Slip{"\"1 mm\"", "\"1e400 mm\"", "radial"}, Slip{"\"1 mm\"", "\"nan mm\"", "radial"},
        Slip{"height = \"95 mm\"", "height = [\"95 mm\"]", "height is a list of 1"}));

}  // namespace
}  // namespace standfast

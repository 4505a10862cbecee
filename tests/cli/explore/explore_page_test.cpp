#include "cli/explore/explore_page.hpp"

#include <gtest/gtest.h>

#include <regex>
#include <set>

#include "cli/explore/explore_assets.hpp"
#include "tests/cli/explore/explored_job.hpp"
#include "tests/cli/page/page_reader.hpp"
#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

/// The page without the core's bytes, whose letters are nobody's words.
std::string own_part(std::string page) {
    const std::size_t from = page.find("id=core>") + 8;
    return page.erase(from, page.find("</script>", from) - from);
}

std::string page_of(const ExploreInput& input) {
    JobReport report;
    report.title = input.job.title;
    PassReport pass;
    pass.name = input.job.passes.front().name;
    pass.judged_depth = input.start.front().setting.depth;
    pass.judged_speed = input.start.front().setting.speed;
    report.passes.push_back(pass);
    return explore_page(input, report, 0);
}

TEST(ExplorePage, AsksNothingOfAnyOtherComputer) {
    const std::string page = page_of(tests::explored_example("01-shortest-job", 8));
    EXPECT_TRUE(page.starts_with("<!doctype html>"));
    const std::string own = own_part(page);
    for (const char* outside : {"http:", "https:", "src=", "href=", "url(//", "@import", "fetch(",
                                "XMLHttpRequest", "import("}) {
        // The namespace of SVG is a name that nobody fetches.
        std::string text = std::regex_replace(own, std::regex("http://www.w3.org/2000/svg"), "");
        EXPECT_EQ(text.find(outside), std::string::npos) << outside;
    }
    EXPECT_NE(page.find("default-src 'none'"), std::string::npos);
    EXPECT_EQ(tests::unbalanced(own), "");
}

TEST(ExplorePage, AHostileJobIsData) {
    const std::string attack = "</script><img src=x onerror=alert(1)><!--\xE2\x80\xAE";
    ExploreInput input = tests::explored_example("01-shortest-job", 8);
    input.job.title = attack;
    for (Pass& pass : input.job.passes) pass.name = attack;
    for (Tier& tier : input.job.stack.tiers) tier.name = attack;
    for (ToolChain& tool : input.job.tools) tool.name = attack;
    input.text.toml = attack;
    const std::string page = page_of(input);
    EXPECT_EQ(page.find("<img"), std::string::npos);
    EXPECT_EQ(page.find("\xE2\x80\xAE"), std::string::npos);
    EXPECT_EQ(tests::unbalanced(own_part(page)), "");
    // What the core answers goes into the page as text, or as markup that has been made harmless.
    ExploreSession session(input);
    const nlohmann::json drawing = tests::ask(
        session,
        {{"ask", "drawing"}, {"setting", tests::setting_json(input.start.front().setting)}});
    EXPECT_EQ(drawing.at("svg").get<std::string>().find("<img"), std::string::npos);
}

/// Every element that the script looks for is there, and every field has its name.
TEST(ExplorePage, TheScriptFindsWhatItLooksFor) {
    ExploreInput input = tests::explored_example("01-shortest-job", 8);
    input.job.passes.push_back(input.job.passes.front());
    input.start.push_back(input.start.front());
    const std::string page = page_of(input);
    const std::string script(explore_assets().script);
    const std::regex wanted("one\\(\"([a-z-]+)\"\\)");
    std::set<std::string> names;
    for (std::sregex_iterator at(script.begin(), script.end(), wanted), end; at != end; ++at) {
        names.insert((*at)[1]);
    }
    EXPECT_GE(names.size(), 20U);
    for (const std::string& name : names) {
        EXPECT_TRUE(page.find(" id=" + name + " ") != std::string::npos ||
                    page.find(" id=" + name + ">") != std::string::npos)
            << name;
    }
}

TEST(ExplorePage, NothingInItsScriptsEndsTheirElement) {
    const ExploreAssets& assets = explore_assets();
    for (const std::string_view text : {assets.script, assets.core_script, assets.worker_script}) {
        EXPECT_EQ(text.find("</script"), std::string_view::npos);
        EXPECT_EQ(text.find("<!--"), std::string_view::npos);
        EXPECT_GT(text.size(), 200U);
    }
}

TEST(Explore, WritesItsPageWhereTheBuildHasTheCoreAndSaysSoWhereNot) {
    const tests::TemporaryFolder folder;
    const std::string page = folder.path() + "/page.html";
    const tests::ProgramResult result =
        tests::run_program({"check", STANDFAST_SOURCE_DIR "/examples/01-shortest-job/job.toml",
                            "--draws", "0", "--speeds", "9000 rpm", "--explore", page});
    if (explore_core().empty()) {
        EXPECT_EQ(result.exit_code, 2);
        EXPECT_NE(result.standard_error.find("emscripten"), std::string::npos);
        EXPECT_FALSE(std::filesystem::exists(page));
        return;
    }
    EXPECT_EQ(result.exit_code, 0) << result.standard_error;
    EXPECT_TRUE(folder.read("page.html").starts_with("<!doctype html>"));
    const tests::ProgramResult several = tests::run_program(
        {"check", STANDFAST_SOURCE_DIR "/examples/01-shortest-job/job.toml",
         STANDFAST_SOURCE_DIR "/examples/07-thin-tall-wall/job.toml", "--explore", page});
    EXPECT_EQ(several.exit_code, 2);
}

}  // namespace
}  // namespace standfast

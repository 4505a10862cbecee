#include "cli/page/markup.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace standfast {
namespace {

TEST(PageMarkup, NoTextCanEndATagOrAnAttribute) {
    EXPECT_EQ(html("</script><img src=x onerror=\"alert('1')\">&"),
              "&lt;/script&gt;&lt;img src=x onerror=&quot;alert(&#39;1&#39;)&quot;&gt;&amp;");
    EXPECT_EQ(html("a\xE2\x80\xAE"
                   "b\x01"),
              "a\\u{202E}b\\u{1}");
}

/// HTML Living Standard, "Restrictions for contents of script elements": "<!--", "<script" and
/// "</script" are what changes how a script element ends.
TEST(PageMarkup, JsonInAScriptCannotEndItAndKeepsItsValue) {
    const std::string title = "</script><!-- <script> ]]> & \xE2\x80\xA8 \xE2\x80\xA9 <img src=x>";
    const std::string json = json_in_script(nlohmann::json(title).dump());
    for (const char* part : {"<", ">", "&", "\xE2\x80\xA8", "\xE2\x80\xA9"}) {
        EXPECT_EQ(json.find(part), std::string::npos) << part;
    }
    EXPECT_EQ(nlohmann::json::parse(json), title);
}

}  // namespace
}  // namespace standfast

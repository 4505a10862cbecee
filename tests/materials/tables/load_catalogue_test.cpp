#include "materials/tables/load_catalogue.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

#include "materials/embedded_tables.hpp"

namespace standfast {
namespace {

std::string errors_of(std::string_view text) {
    Catalogue catalogue;
    try {
        add_to_catalogue(catalogue, text, "shop.toml");
    } catch (const CatalogueError& error) {
        EXPECT_TRUE(catalogue.materials.empty()) << "rows of a faulty file were kept";
        return error.what();
    }
    return "";
}

TEST(LoadCatalogue, TablesInTheProgramAreTheFilesByteForByte) {
    ASSERT_EQ(embedded_tables().size(), 6U);
    for (const EmbeddedTable& table : embedded_tables()) {
        std::ifstream file(
            std::string(STANDFAST_SOURCE_DIR "/materials/data/") + std::string(table.name),
            std::ios::binary);
        std::ostringstream text;
        text << file.rdbuf();
        EXPECT_EQ(text.str(), table.text) << table.name;
        // What a list-minded build script would swallow is in there.
        EXPECT_NE(table.text.find('['), std::string_view::npos) << table.name;
    }
}

TEST(LoadCatalogue, ReadsAShopsOwnMaterialInBothForms) {
    Catalogue catalogue;
    add_to_catalogue(catalogue, R"(
[[material]]
name = "house alloy"
aliases = ["HA"]
youngs = "10 Msi"
poisson = 0.33
density = "0.1 lb/in3"
loss = 0.001
)",
                     "shop.toml");
    add_to_catalogue(catalogue, R"(
[material."other alloy"]
youngs = "70 GPa"
poisson = 0.33
density = "2700 kg/m3"
loss = 0.001
source = "own tap test"
)",
                     "shop.toml");
    const Material* const first = find_material(catalogue, "ha");
    const Material* const second = find_material(catalogue, "other alloy");
    ASSERT_TRUE(first != nullptr && second != nullptr);
    EXPECT_NEAR(first->youngs_modulus, 68.95e9, 0.01e9);
    EXPECT_NEAR(first->density, 2768, 0.5);
    EXPECT_EQ(second->source.text, "own tap test");
    EXPECT_EQ(second->source.provenance, Provenance::user);
}

TEST(LoadCatalogue, ARowOfTheSameNameReplacesOursAndKeepsItsShortNames) {
    Catalogue catalogue = built_in_catalogue();
    const std::size_t rows = catalogue.materials.size();
    add_to_catalogue(catalogue, R"(
[[material]]
name = "Aluminium 6061 T6"
youngs = "70 GPa"
poisson = 0.33
density = "2700 kg/m3"
loss = 0.001
)",
                     "shop.toml");
    EXPECT_EQ(catalogue.materials.size(), rows);
    ASSERT_NE(find_material(catalogue, "6061"), nullptr);
    EXPECT_DOUBLE_EQ(find_material(catalogue, "6061")->youngs_modulus, 70e9);
    EXPECT_DOUBLE_EQ(find_material(built_in_catalogue(), "6061")->youngs_modulus, 68.9e9);
}

TEST(LoadCatalogue, AllFaultsOfAFileAreNamedAtOnceWithTheirPlace) {
    EXPECT_EQ(
        errors_of(R"([[material]]
name = "house alloy"
youngs = "70"
poisson = 0.7
density = "-2700 kg/m3"
los = 0.001
[[joint]]
name = "clamp"
use = "stak"
)"),
        R"(shop.toml:3:10: error: material "house alloy": youngs cannot be read: "70" has no unit; expected a pressure or modulus in N/mm2, MPa, GPa, psi, ksi, Msi, kN/mm2, kPa, Pa, bar, kgf/mm2, kgf/cm2
shop.toml:4:11: error: material "house alloy": poisson is 0.7, must be between 0 and 0.499
shop.toml:5:11: error: material "house alloy": density is -2700 kg/m3, must be greater than 0
shop.toml:1:1: error: material "house alloy": "loss" is missing
shop.toml:6:1: error: material "house alloy": unknown key "los"; did you mean "loss"?
shop.toml:9:7: error: joint "clamp": use is "stak"; did you mean "stack"?; accepted: "stack", "taper", "grip"
shop.toml:7:1: error: joint "clamp": "scaling" is missing
shop.toml:7:1: error: joint "clamp": "lateral" is missing
shop.toml:7:1: error: joint "clamp": "vertical" is missing
shop.toml:7:1: error: joint "clamp": "loss" is missing
shop.toml:7:1: error: joint "clamp": "spread" is missing
shop.toml:7:1: error: joint "clamp": "friction" is missing)");
}

// TOML puts [material."x"] below the last [[material]] of the file.
TEST(LoadCatalogue, MixingTheTwoFormsIsExplained) {
    const std::string errors = errors_of(R"([[material]]
name = "house alloy"
youngs = "70 GPa"
poisson = 0.33
density = "2700 kg/m3"
loss = 0.001
[material."other alloy"]
youngs = "70 GPa"
)");
    EXPECT_EQ(errors,
              "shop.toml:7:11: error: material \"house alloy\": \"other alloy\" landed inside this "
              "row; use either [[...]] or [... .\"name\"] for all rows of a file");
}

TEST(LoadCatalogue, WrongShapesAreErrorsAndNeverCrashes) {
    for (const char* text :
         {"material = 3", "material = [1, 2]", "[[material]]", "[[material]]\nname = 5",
          "[[material]]\nname = \"\"", "[[materal]]\nname = \"x\"", "= 3", "[[material]\n",
          "[[holder]]\ngrip = \"shrink\"\nsteps = []", "[[holder]]\ngrip = \"a\"\nsteps = [3]",
          "[[cutting]]\nname = \"x\"", "[[cutting]]\nname = \"x\"\nkc11 = 1500",
          "[[cutting]]\nname = \"x\"\nkc11 = \"1500 N/mm2\"\nmc = nan\nradial_ratio = 0.3",
          "[[material]]\nname = \"\xff\xfe\"", "[[material]]\naliases = \"x\"",
          "[[material]]\naliases = [1]", "[[machine]]\ntable_turns = \"yes\"",
          "[[cutting]]\nname=\"x\"\ntangential=\"1 Pa\"\nradial=\"1 Pa\"\ncutting_speed=[\"5 "
          "m/s\",\"1 m/s\"]"}) {
        EXPECT_NE(errors_of(text), "") << text;
    }
    EXPECT_EQ(errors_of(""), "");
}

TEST(LoadCatalogue, TheSameNameTwiceInAFileIsAnError) {
    const std::string row = R"(
[[cutting]]
name = "house alloy"
tangential = "700 N/mm2"
radial = "200 N/mm2"
)";
    EXPECT_EQ(errors_of(row), "");
    EXPECT_NE(errors_of(row + row).find("given twice"), std::string::npos);
}

}  // namespace
}  // namespace standfast

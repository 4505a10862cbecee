#include "cli/job/read/read_shape.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "cli/job/read/read_quantity.hpp"

namespace standfast {
namespace {

constexpr std::string_view kShapes =
    R"(round = "4 in", tube = [outside, bore], block = [x, y], box = [x, y, wall] or section = { area, ix, iy, torsion })";

constexpr Range kSectionArea{.low = 0, .above_low = true, .high = 25, .least = 1e-8};
constexpr Range kSecondMoment{.low = 0, .above_low = true, .high = 100, .least = 1e-16};

std::optional<SectionShape> read_round(TableReader& table, const Value& value) {
    const auto diameter = quantity_of(table, "round", value, Quantity::length, kSize);
    return diameter ? std::optional<SectionShape>(RoundShape{*diameter}) : std::nullopt;
}

std::optional<SectionShape> read_tube(TableReader& table, const Value& value) {
    const auto sizes = quantities_of(table, "tube", value, Quantity::length, kSize, 2, 2);
    if (!sizes) {
        return std::nullopt;
    }
    if ((*sizes)[1] >= (*sizes)[0]) {
        table.fail(value.where,
                   fmt::format("{}: the bore, {}, is not smaller than the outside, {}",
                               table.call("tube"), value.items[1].text, value.items[0].text),
                   "the outside diameter first, then the bore");
        return std::nullopt;
    }
    return TubeShape{(*sizes)[0], (*sizes)[1]};
}

std::optional<SectionShape> read_block(TableReader& table, const Value& value) {
    const auto sizes = quantities_of(table, "block", value, Quantity::length, kSize, 2, 2);
    return sizes ? std::optional<SectionShape>(BlockShape{(*sizes)[0], (*sizes)[1]}) : std::nullopt;
}

std::optional<SectionShape> read_box(TableReader& table, const Value& value) {
    const auto sizes = quantities_of(table, "box", value, Quantity::length, kSize, 3, 3);
    if (!sizes) {
        return std::nullopt;
    }
    if (2 * (*sizes)[2] >= std::min((*sizes)[0], (*sizes)[1])) {
        table.fail(
            value.where,
            fmt::format("{}: a wall of {} leaves nothing hollow in {} by {}", table.call("box"),
                        value.items[2].text, value.items[0].text, value.items[1].text),
            "a wall thinner than half the smaller side, or block = [x, y] for solid stock");
        return std::nullopt;
    }
    return BoxShape{(*sizes)[0], (*sizes)[1], (*sizes)[2]};
}

std::optional<SectionShape> read_section(TableReader& table) {
    std::optional<TableReader> section =
        table.table("section", "a table: { area, ix, iy, torsion }");
    if (!section) {
        return std::nullopt;
    }
    const auto area = required_quantity(*section, "area", Quantity::area, kSectionArea);
    const auto ix = required_quantity(*section, "ix", Quantity::second_moment, kSecondMoment);
    const auto iy = required_quantity(*section, "iy", Quantity::second_moment, kSecondMoment);
    const auto torsion =
        required_quantity(*section, "torsion", Quantity::second_moment, kSecondMoment);
    section->finish();
    if (!area || !ix || !iy || !torsion) {
        return std::nullopt;
    }
    return GeneralShape{*area, *ix, *iy, *torsion};
}

std::optional<SectionShape> read_named(TableReader& table, std::string_view key,
                                       const Value& value) {
    return key == "round"   ? read_round(table, value)
           : key == "tube"  ? read_tube(table, value)
           : key == "block" ? read_block(table, value)
           : key == "box"   ? read_box(table, value)
                            : read_section(table);
}

}  // namespace

std::optional<SectionShape> read_shape(TableReader& table, bool required) {
    std::vector<std::string_view> given;
    for (const std::string_view key : {"round", "tube", "block", "box", "section"}) {
        if (table.find(key) != nullptr) {
            given.push_back(key);
        }
    }
    if (given.size() > 1) {
        fail(table.reading(),
             {.where = table.place(given[1]),
              .message = fmt::format("{} and {} are both given", table.call(given[1]), given[0]),
              .accepted = "one section",
              .notes = {{table.place(given[0]), "the other section"}}});
        return std::nullopt;
    }
    if (given.empty()) {
        if (required) {
            table.fail(table.value().where, fmt::format("{} is missing", table.call("the section")),
                       std::string(kShapes));
        }
        return std::nullopt;
    }
    return read_named(table, given.front(), *table.find(given.front()));
}

std::optional<SectionShape> read_top(TableReader& table, const SectionShape& foot) {
    std::optional<TableReader> top =
        table.table("top", R"(a table with the same kind of section, as in { round = "60 mm" })");
    if (!top) {
        return std::nullopt;
    }
    std::optional<SectionShape> shape = read_shape(*top, true);
    top->finish();
    if (shape && shape->index() != foot.index()) {
        top->fail(top->value().where,
                  fmt::format("{} is not the kind of section that the foot has", table.call("top")),
                  "the same kind of section at the foot and at the top");
        return std::nullopt;
    }
    return shape;
}

}  // namespace standfast

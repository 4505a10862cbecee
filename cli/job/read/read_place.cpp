// Where a pass cuts: attitude of the tool, path, wall and heading.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cli/job/read/pass_axes.hpp"
#include "cli/job/read/read_pass.hpp"
#include "cli/job/read/read_quantity.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostPoints = 1000;

void read_points(TableReader& table, Pass& pass) {
    const Value* const value = table.find("points");
    if (value == nullptr) {
        return;
    }
    const std::string accepted = R"(a list of places, as in [["35 mm", "0 mm", "45 mm"], ...])";
    if (value->kind != ValueKind::array || value->items.empty() ||
        value->items.size() > kMostPoints) {
        table.reject("points", *value, accepted);
        return;
    }
    for (const Value& item : value->items) {
        if (const auto point = vector_of(table, "points", item, Quantity::length, kPlace)) {
            pass.path.push_back(*point);
        }
    }
}

void refuse_both(TableReader& table, std::string_view key, std::string_view other,
                 std::string accepted) {
    if (find_entry(table.value(), key) != nullptr && find_entry(table.value(), other) != nullptr) {
        fail(table.reading(),
             {.where = table.place(key),
              .message = fmt::format("{} and {} are both given", table.call(key), other),
              .accepted = std::move(accepted),
              .notes = {{table.place(other), "the other one"}}});
    }
}

bool has_tier(const Reading& reading, const Pass& pass) {
    return pass.tier < reading.job.stack.tiers.size() && reading.job.stack.modes.empty() &&
           !reading.job.stack.rigid;
}

/// Section and height of the cut tier at that moment.
struct CutBody {
    SectionShape shape;
    double height = 0;
};
CutBody body_of(const Reading& reading, const Pass& pass) {
    const Tier& tier = reading.job.stack.tiers[pass.tier];
    CutBody body{tier.shape, tier.height};
    if (pass.state) {
        body.shape = pass.state->shape.value_or(body.shape);
        body.height = pass.state->height.value_or(body.height);
    }
    return body;
}

/// A point of the side that faces along `wall`; without a wall, of the side farthest out.
Eigen::Vector3d side_point(const CutBody& body, const std::optional<Eigen::Vector3d>& wall) {
    const double x = width_x(body.shape) / 2;
    const double y = width_y(body.shape) / 2;
    if (wall) {
        return {wall->x() * x, wall->y() * y, 0};
    }
    return x >= y ? Eigen::Vector3d(x, 0, 0) : Eigen::Vector3d(0, y, 0);
}

}  // namespace

void read_place(TableReader& table, Pass& pass) {
    pass.tilt = quantity(table, "tilt", Quantity::angle, kTurn).value_or(0);
    pass.turn = quantity(table, "turn", Quantity::angle, kTurn).value_or(0);
    const auto at = vector(table, "at", Quantity::length, kPlace);
    const auto to = vector(table, "to", Quantity::length, kPlace);
    read_points(table, pass);
    refuse_both(table, "points", "at", "at with to, or points for the whole path");
    refuse_both(table, "points", "to", "at with to, or points for the whole path");
    if (at && pass.path.empty()) {
        pass.path.push_back(*at);
        if (to && (*to - *at).norm() > 1e-9) {
            pass.path.push_back(*to);
        }
    } else if (find_entry(table.value(), "to") != nullptr &&
               find_entry(table.value(), "at") == nullptr && pass.path.empty()) {
        table.fail(table.place("to"), fmt::format("{} needs at as well", table.call("to")),
                   "at, the start of the path, and to, its end");
    }
    pass.wall = direction(table, "wall");
    if (pass.wall) {
        pass.wall->normalize();
    }
    if (const auto heading = quantity(table, "feed_heading", Quantity::angle, kTurn)) {
        pass.feed_heading = heading;
    }
    refuse_both(table, "feed_heading", "wall",
                "wall, which fixes the heading, or feed_heading, not both");
}

void settle_place(TableReader& table, Pass& pass, const std::string& named) {
    Reading& reading = table.reading();
    if (!has_tier(reading, pass)) {
        pass.path.clear();
        return;
    }
    const bool tried = find_entry(table.value(), "at") != nullptr ||
                       find_entry(table.value(), "points") != nullptr;
    if (!pass.path.empty() || tried) {
        return;
    }
    const CutBody body = body_of(reading, pass);
    const std::vector<ToolChain>& tools = reading.job.tools;
    const double diameter = pass.tool < tools.size() ? tools[pass.tool].cutter.diameter : 0;
    const double depth = std::min(pass.axial.value_or(diameter), body.height / 2);
    Eigen::Vector3d place = side_point(body, pass.wall);
    place.z() = body.height - (pass.axial ? std::min(*pass.axial, body.height) : depth);
    pass.path.push_back(place);
    pass.from_top = true;
    assume(reading, named + ".at", place.z(), Quantity::length,
           "height of the tip above the tier's foot: the highest cut on that tier, at its side");
}

void settle_heading(TableReader& table, Pass& pass, const std::string& named) {
    Reading& reading = table.reading();
    if (!has_tier(reading, pass)) {
        if (!pass.feed_heading) {
            pass.feed_heading = 0;
            assume_text(reading, named + ".feed_heading", "the feed is along x");
        }
        return;
    }
    if (pass.feed_heading) {
        return;
    }
    const std::optional<double> along = heading_of_path(reading.job, pass);
    if (!pass.wall && along) {
        pass.feed_heading = along;
        assume(reading, named + ".feed_heading", *along, Quantity::angle, "along the path");
    } else if (!pass.wall) {
        assume_text(reading, named + ".feed_heading", "the worst of all headings is judged");
    }
    if (!pass.wall || !along || pass.milling == Milling::slot ||
        find_entry(table.value(), "milling") != nullptr) {
        return;
    }
    if (path_sense(reading.job, pass) < 0) {
        pass.milling = Milling::up;
        std::erase_if(reading.job.assumed, [&](const Assumption& assumption) {
            return assumption.path == named + ".milling";
        });
        assume_text(reading, named + ".milling",
                    "up (conventional): the path runs that way along the wall");
    }
}

}  // namespace standfast

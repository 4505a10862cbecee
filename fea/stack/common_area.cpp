#include "fea/stack/common_area.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr int kStrips = 200;

struct Interval {
    double low = 0, high = 0;
};
using Intervals = std::vector<Interval>;

Intervals within(double half) { return half > 0 ? Intervals{{-half, half}} : Intervals{}; }

Intervals outside(double outer, double inner) {
    if (!(inner > 0)) return within(outer);
    if (!(outer > inner)) return {};
    return {{-outer, -inner}, {inner, outer}};
}

double half_chord(double diameter, double x) {
    const double square = diameter * diameter / 4 - x * x;
    return square > 0 ? std::sqrt(square) : 0;
}

/// Material along y at a distance x from the middle of a shape.
struct Chord {
    double x;
    Intervals operator()(const RoundShape& shape) const {
        return within(half_chord(shape.diameter, x));
    }
    Intervals operator()(const TubeShape& shape) const {
        return outside(half_chord(shape.outer, x), half_chord(shape.inner, x));
    }
    Intervals operator()(const BlockShape& shape) const { return block(shape.x, shape.y); }
    Intervals operator()(const BoxShape& shape) const {
        if (!(std::abs(x) < shape.x / 2)) return {};
        const bool in_wall = std::abs(x) >= shape.x / 2 - shape.wall;
        return outside(shape.y / 2, in_wall ? 0 : shape.y / 2 - shape.wall);
    }
    Intervals operator()(const GeneralShape& shape) const {
        return block(width_x(shape), width_y(shape));
    }
    Intervals block(double wide, double high) const {
        return std::abs(x) < wide / 2 ? within(high / 2) : Intervals{};
    }
};

Intervals chord_of(const PlacedShape& placed, double x) {
    Intervals chord = std::visit(Chord{x - placed.centre.x()}, placed.shape);
    for (Interval& piece : chord) {
        piece.low += placed.centre.y();
        piece.high += placed.centre.y();
    }
    return chord;
}

Intervals both(const Intervals& one, const Intervals& other) {
    Intervals common;
    for (const Interval& a : one) {
        for (const Interval& b : other) {
            const Interval piece{std::max(a.low, b.low), std::min(a.high, b.high)};
            if (piece.high > piece.low) common.push_back(piece);
        }
    }
    return common;
}

Intervals common_chord(const std::vector<PlacedShape>& shapes, double x) {
    Intervals common = chord_of(shapes.front(), x);
    for (std::size_t index = 1; index < shapes.size(); ++index) {
        common = both(common, chord_of(shapes[index], x));
    }
    return common;
}

double cube(double value) { return value * value * value; }

void add(AreaMoments& sum, const Interval& piece, double x, double strip) {
    const double area = strip * (piece.high - piece.low);
    sum.area += area;
    sum.first += area * Eigen::Vector2d(x, (piece.low + piece.high) / 2);
    sum.second += Eigen::Vector2d(area * (x * x + strip * strip / 12),
                                  strip * (cube(piece.high) - cube(piece.low)) / 3);
}

}  // namespace

AreaMoments common_area(const std::vector<PlacedShape>& shapes) {
    if (shapes.empty()) throw std::domain_error("common area: no shapes");
    const PlacedShape& first = shapes.front();
    const double width = width_x(first.shape);
    require_positive(width, "common area", "width of the first shape");
    AreaMoments sum;
    const double strip = width / kStrips;
    for (int index = 0; index < kStrips; ++index) {
        const double x = first.centre.x() - width / 2 + (index + 0.5) * strip;
        for (const Interval& piece : common_chord(shapes, x)) add(sum, piece, x, strip);
    }
    return sum;
}

}  // namespace standfast

#include "fea/stack/tier_section.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

double power_mean(double lower, double upper, double fraction, double exponent) {
    return std::pow(
        std::lerp(std::pow(lower, 1 / exponent), std::pow(upper, 1 / exponent), fraction),
        exponent);
}

struct ToSection {
    double poissons_ratio;
    Section operator()(const RoundShape& shape) const {
        return solid_round(shape.diameter, poissons_ratio);
    }
    Section operator()(const TubeShape& shape) const {
        return round_tube(shape.outer, shape.inner, poissons_ratio);
    }
    Section operator()(const BlockShape& shape) const {
        return rectangle(shape.x, shape.y, poissons_ratio);
    }
    Section operator()(const BoxShape& shape) const {
        return rectangular_box(shape.x, shape.y, shape.wall, poissons_ratio);
    }
    Section operator()(const GeneralShape& shape) const {
        return general_section(shape.area, shape.ix, shape.iy, shape.torsion, poissons_ratio);
    }
};

struct Between {
    double f;
    SectionShape operator()(const RoundShape& a, const RoundShape& b) const {
        return RoundShape{std::lerp(a.diameter, b.diameter, f)};
    }
    SectionShape operator()(const TubeShape& a, const TubeShape& b) const {
        return TubeShape{std::lerp(a.outer, b.outer, f), std::lerp(a.inner, b.inner, f)};
    }
    SectionShape operator()(const BlockShape& a, const BlockShape& b) const {
        return BlockShape{std::lerp(a.x, b.x, f), std::lerp(a.y, b.y, f)};
    }
    SectionShape operator()(const BoxShape& a, const BoxShape& b) const {
        return BoxShape{std::lerp(a.x, b.x, f), std::lerp(a.y, b.y, f),
                        std::lerp(a.wall, b.wall, f)};
    }
    SectionShape operator()(const GeneralShape& a, const GeneralShape& b) const {
        return GeneralShape{power_mean(a.area, b.area, f, 2), power_mean(a.ix, b.ix, f, 4),
                            power_mean(a.iy, b.iy, f, 4), power_mean(a.torsion, b.torsion, f, 4)};
    }
    template <class A, class B>
    SectionShape operator()(const A&, const B&) const {
        throw std::domain_error(
            "tier: its top is another kind of shape than its foot, must be the same");
    }
};

}  // namespace

Section section_of(const SectionShape& shape, double poissons_ratio) {
    return std::visit(ToSection{poissons_ratio}, shape);
}

SectionShape shape_between(const SectionShape& lower, const SectionShape& upper, double fraction) {
    require_between(fraction, 0, 1, "shape between", "fraction");
    return std::visit(Between{fraction}, lower, upper);
}

SectionShape shape_at(const Tier& tier, double height) {
    if (!tier.top) return tier.shape;
    require_positive(tier.height, tier.name, "height");
    return shape_between(tier.shape, *tier.top, std::clamp(height / tier.height, 0.0, 1.0));
}

}  // namespace standfast

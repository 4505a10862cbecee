#include "fea/job/edits/section_scale.hpp"

namespace standfast {
namespace {

RoundShape scaled(const RoundShape& s, double f) { return {s.diameter * f}; }
TubeShape scaled(const TubeShape& s, double f) {
    return {s.outer * f, s.outer * f - (s.outer - s.inner)};
}
BlockShape scaled(const BlockShape& s, double f) { return {s.x * f, s.y * f}; }
BoxShape scaled(const BoxShape& s, double f) { return {s.x * f, s.y * f, s.wall}; }
GeneralShape scaled(const GeneralShape& s, double) { return s; }

SectionShape scaled(const SectionShape& shape, double factor) {
    return std::visit([&](const auto& one) -> SectionShape { return scaled(one, factor); }, shape);
}

}  // namespace

std::optional<TierSection> scaled_section(const Tier& tier, double factor) {
    if (std::holds_alternative<GeneralShape>(tier.shape)) return std::nullopt;
    TierSection section{.tier = tier.name, .shape = scaled(tier.shape, factor), .top = {}};
    if (tier.top) section.top = scaled(*tier.top, factor);
    return section;
}

}  // namespace standfast

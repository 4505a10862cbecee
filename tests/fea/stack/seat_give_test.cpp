#include "fea/stack/seat_give.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "fea/solution/modes.hpp"
#include "fea/solution/statics.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/fea/stack/solid_stacks.hpp"

namespace standfast {
namespace {

struct Found {
    Eigen::Matrix3d compliance;
    std::vector<Mode> modes;
};

Found found_of(const Stack& stack) {
    const StackModel model = stack_model(sample::rigid_machine(), stack);
    const AssembledSystem system = assemble(model.structure);
    const std::size_t top = stack.tiers.size() - 1;
    return {point_compliance(system, point_on_tier(model, top, {0, 0, stack.tiers[top].height})),
            modes(system, 2)};
}

bool has_member(const StackModel& model, const std::string& name) {
    return std::any_of(model.structure.members.begin(), model.structure.members.end(),
                       [&](const Member& member) { return member.name == name; });
}

TEST(SeatGive, StacksAgreeWithSolidModels) {
    for (const solid::SolidStack& row : solid::fitted_stacks()) {
        const Found found = found_of(row.stack);
        EXPECT_NEAR(found.compliance(0, 0) * 1e9 / row.compliance_x, 1, 0.05) << row.name;
        EXPECT_NEAR(found.compliance(1, 1) * 1e9 / row.compliance_y, 1, 0.05) << row.name;
        EXPECT_NEAR(found.modes[0].frequency.hertz() / row.frequency_hz[0], 1, 0.03) << row.name;
        EXPECT_NEAR(found.modes[1].frequency.hertz() / row.frequency_hz[1], 1, 0.03) << row.name;
    }
}

TEST(SeatGive, APlateOnItsOwnScrewsBendsAsASolidModelSays) {
    // 180 x 180 x 30 mm on four M12 in its corners, a foot of 100 mm: +2.5e-7 mm/N, +7.2e-11
    // rad/(N mm) over the plate that lies on its whole face.
    const PlateGive give = plate_give(sample::steel_4140(), 0.03, 0.05, 0.106);
    EXPECT_NEAR(give.vertical / 2.5e-10, 1, 0.2);
    EXPECT_NEAR(give.tilting / 7.2e-8, 1, 0.2);
}

TEST(SeatGive, AWideThinPlateIsTheTextbooks) {
    // Simply supported circular plate, central load: w = P R^2 (3 + nu)/(16 pi D (1 + nu)).
    Material steel = sample::steel_4140();
    const double thickness = 1e-3, ring = 0.2;
    const double poisson = steel.poissons_ratio;
    const double bending =
        steel.youngs_modulus * std::pow(thickness, 3) / (12 * (1 - poisson * poisson));
    const double centre =
        ring * ring * (3 + poisson) / (16 * std::numbers::pi * bending * (1 + poisson));
    EXPECT_NEAR(plate_give(steel, thickness, 2e-4, ring).vertical / centre, 1, 0.01);
}

TEST(SeatGive, LikeSectionsHaveNoSeatBetweenThem) {
    Stack stack;
    for (const char* name : {"lower", "upper"}) {
        sample::put_on_top(stack, sample::tier(name, sample::steel_4140(), RoundShape{0.1}, 0.1,
                                               sample::solid_joint()));
    }
    EXPECT_FALSE(seat_stiffness(stack, 1));
    EXPECT_FALSE(seat_stiffness(stack, 0)) << "the table's springs were measured there";
}

TEST(SeatGive, NumbersGivenAndDovetailsSayTheirSeatThemselves) {
    Stack stack = solid::stack_of(true, RoundShape{0.11});
    EXPECT_TRUE(seat_stiffness(stack, 1));
    stack.tiers[1].joint = sample::given_joint(9e8, 4e9, 3e6, 2e6);
    EXPECT_FALSE(seat_stiffness(stack, 1));
    stack.tiers[1].joint = {};
    stack.tiers[1].joint.kind = sample::per_area_kind("dovetail", 2e11, 5e11);
    stack.tiers[1].joint.dovetail =
        Dovetail{.length = 0.06, .width = 0.03, .flank = 1, .depth = 0.004};
    EXPECT_FALSE(seat_stiffness(stack, 1));
}

TEST(SeatGive, ASeatIsAMemberOfItsOwn) {
    const StackModel model =
        stack_model(sample::rigid_machine(), solid::stack_of(true, RoundShape{0.11}));
    EXPECT_TRUE(has_member(model, "riser seat"));
    EXPECT_FALSE(has_member(model, "plate seat"));
    const AssembledSystem system = assemble(model.structure);
    EXPECT_TRUE(std::any_of(
        system.stiffness.begin(), system.stiffness.end(),
        [](const StiffnessParameter& part) { return part.name == "riser seat.tilting_x"; }));
}

TEST(SeatGive, AWiderScrewCircleOfThePlateBendsItMore) {
    Stack stack = solid::stack_of(true, RoundShape{0.11});
    stack.tiers[0].joint = {};
    stack.tiers[0].joint.kind = sample::per_area_kind("bolted", 1.2e11, 5e11);
    double before = 1e30;
    for (const double circle : {0.12, 0.15, 0.18, 0.21}) {
        stack.tiers[0].joint.screws =
            Screws{.count = 4, .diameter = 0.012, .torque = 85.0, .circle = circle};
        const double now = seat_stiffness(stack, 1)->rotation.x();
        EXPECT_LT(now, before) << circle;
        before = now;
    }
}

TEST(SeatGive, TheSmallerTheFootTheMoreItsHostGives) {
    double before = 0;
    for (const double diameter : {0.03, 0.05, 0.08, 0.11}) {
        const double now =
            seat_stiffness(solid::stack_of(true, RoundShape{diameter}), 1)->rotation.x();
        EXPECT_GT(now, before);
        before = now;
    }
}

}  // namespace
}  // namespace standfast

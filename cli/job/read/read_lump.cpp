#include "cli/job/read/read_lump.hpp"

#include <fmt/format.h>

#include <Eigen/Eigenvalues>

#include "cli/job/read/read_quantity.hpp"

namespace standfast {
namespace {

constexpr Range kMoment{.low = 0, .high = 1e6};
constexpr Range kProduct{.low = -1e6, .high = 1e6};

/// Principal moments obey the triangle inequality, within what rounded figures can miss it by.
bool is_physical(const Eigen::Matrix3d& inertia) {
    const Eigen::Vector3d moments =
        Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d>(inertia, Eigen::EigenvaluesOnly)
            .eigenvalues();
    const double slack = 0.02 * moments.cwiseAbs().maxCoeff() + 1e-12;
    return moments[0] >= -slack && moments[0] + moments[1] >= moments[2] - slack;
}

Eigen::Matrix3d read_inertia(TableReader& lump) {
    auto table = lump.table("inertia", "a table: { xx, yy, zz, xy, xz, yz }");
    if (!table) {
        return Eigen::Matrix3d::Zero();
    }
    const auto moment = [&](std::string_view key) {
        return required_quantity(*table, key, Quantity::inertia, kMoment).value_or(0);
    };
    const auto product = [&](std::string_view key) {
        return quantity(*table, key, Quantity::inertia, kProduct).value_or(0);
    };
    const double xx = moment("xx"), yy = moment("yy"), zz = moment("zz");
    const double xy = product("xy"), xz = product("xz"), yz = product("yz");
    table->finish();
    Eigen::Matrix3d inertia;
    inertia << xx, xy, xz, xy, yy, yz, xz, yz, zz;
    if (!is_physical(inertia)) {
        table->fail(table->value().where,
                    fmt::format("{}: no body has these moments", lump.call("inertia")),
                    "entries of the tensor about the centre of mass; no principal moment larger "
                    "than the sum of the other two (xy = minus the integral of x y dm)");
    }
    return inertia;
}

}  // namespace

std::optional<RigidBody> read_lump(TableReader& tier) {
    auto table = tier.table("lump", "a table: { mass, centre = [x, y, z], inertia }");
    if (!table) {
        return std::nullopt;
    }
    RigidBody body;
    body.mass = required_quantity(*table, "mass", Quantity::mass, kMass).value_or(0);
    table->require("centre", R"(the centre from the tier's foot, as in ["0 mm", "0 mm", "40 mm"])");
    body.centre =
        vector(*table, "centre", Quantity::length, kPlace).value_or(Eigen::Vector3d::Zero());
    body.inertia = read_inertia(*table);
    table->finish();
    return body;
}

}  // namespace standfast

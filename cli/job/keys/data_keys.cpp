#include "cli/job/keys/job_keys.hpp"
#include "cli/job/keys/limit_keys.hpp"

namespace standfast {
namespace {

std::vector<Key> cutting_keys() {
    const Form force = form::quantity({Quantity::pressure});
    const Form edge = form::quantity({Quantity::force_per_length});
    return {
        {"tangential", force, "force per chip area"},
        {"radial", force, "force per chip area"},
        {"axial", force, "force per chip area"},
        {"tangential_edge", edge, "force per length of edge"},
        {"radial_edge", edge, "force per length of edge"},
        {"axial_edge", edge, "force per length of edge"},
        {"kc11", force, "specific force of a chip of 1 mm by 1 mm"},
        {"mc", form::number(0, 0.9), "its exponent"},
        {"radial_ratio", form::number(-2, 5), "radial over tangential force"},
        {"axial_ratio", form::number(-2, 5), "axial over tangential force"},
        {"cutting_speed", form::list(form::quantity({Quantity::surface_speed}), 2, 2), "from, to"},
        {"spread", form::number(1, 100), "10-90 % factor of the forces"},
        {"process_damping", edge, "rubbing of the flank"},
        {"source", form::text(), "where the figures come from"}};
}

std::vector<Key> limits_as_keys() {
    std::vector<Key> keys;
    for (const LimitKey& limit : limit_keys()) {
        keys.push_back({limit.key,
                        limit.quantity == Quantity::number ? form::fraction(0, 1000, true)
                                                           : form::quantity({limit.quantity}),
                        ""});
    }
    return keys;
}

std::vector<Key> uncertainty_keys() {
    const Form factor = form::number(1, 100);
    const Form by_name = form::either({factor, form::named(factor)});
    return {{"joint_stiffness", by_name, ""},
            {"joint_loss", by_name, ""},
            {"table_stiffness", factor, ""},
            {"spindle_stiffness", factor, ""},
            {"table_mass", factor, ""},
            {"spindle_mass", factor, ""},
            {"table_split", factor, "x against y"},
            {"spindle_split", factor, "x against y"},
            {"taper_stiffness", by_name, ""},
            {"grip_stiffness", by_name, ""},
            {"modulus", by_name, ""},
            {"loss", by_name, "of materials"},
            {"cutting_force", by_name, ""},
            {"measured_stiffness", by_name, ""},
            {"measured_damping", by_name, ""},
            {"runout", by_name, ""},
            {"stickout", form::length(), "in all, that a tool's stickout is set within"},
            {"draws", form::whole(0, 100000), "tries, unless the command line says"},
            {"seed", form::whole(0, 2147483647), "of what is drawn"}};
}

}  // namespace

std::vector<TableKeys> data_tables() {
    return {{"material",
             "",
             "A material of the job's own",
             {{"youngs", form::quantity({Quantity::pressure}), "modulus", true},
              {"poisson", form::number(0, 0.499), "Poisson's ratio", true},
              {"density", form::quantity({Quantity::density}), "", true},
              {"loss", form::fraction(0, 2), "loss factor"},
              {"spread", form::number(1, 100), "10-90 % factor of the modulus"},
              {"strength", form::quantity({Quantity::pressure}), "yield"},
              {"cutting", form::name(Form::Names::cutting), "cutting data that go with it"},
              {"source", form::text(), "where the figures come from"}}},
            {"cutting",
             "",
             "Cutting data of the job's own: tangential and radial, or kc11 and mc",
             cutting_keys(),
             {{"tangential", "radial"}, {"kc11", "mc"}}},
            {"limits", "[limits]", "Where a level begins", limits_as_keys()},
            {"uncertainty", "[uncertainty]",
             "How well things are known: 10-90 % factors, for all or by name", uncertainty_keys()}};
}

}  // namespace standfast

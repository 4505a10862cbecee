#include "cli/job/keys/job_keys.hpp"

namespace standfast {
namespace {

/// "60 mm to 200 mm by 20 mm", or a list.
Form lengths() { return form::either({form::text(), form::list(form::length(), 1, 200)}); }

Form angles() { return form::either({form::text(), form::list(form::angle(), 1, 200)}); }

Form grip() { return form::either({form::name(Form::Names::grips), form::table("tool.grip")}); }

Form joint() { return form::either({form::name(Form::Names::joints), form::table("tier.joint")}); }

std::vector<Key> factor_keys() {
    return {{"stiffness", form::number(1e-4, 1e4), "factor"},
            {"loss", form::number(1e-4, 1e4), "factor"},
            {"stiffness_spread", form::number(1, 100), "10-90 % factor"},
            {"loss_spread", form::number(1, 100), "10-90 % factor"}};
}

std::vector<Key> adjust_keys() {
    std::vector<Key> keys;
    for (const std::string_view joint_of :
         {"joint", "taper", "grip", "support", "table", "spindle"}) {
        keys.push_back({joint_of, form::table("adjust.factors"), ""});
    }
    return keys;
}

}  // namespace

std::vector<TableKeys> study_tables() {
    return {
        {"riser", "[[riser]]", "A riser on the shelf",
         joined(joined({{"name", form::text(), ""}}, section_keys()),
                {{"top", form::table("top"), "the section at the top, where it tapers"},
                 {"height", form::length(), "", true},
                 {"material", form::name(Form::Names::materials), "", true},
                 {"joint", joint(), "what holds it"}})},
        {"holder",
         "[[holder]]",
         "A holder on the shelf",
         {{"name", form::text(), ""},
          {"steps", form::tables("tool.holder"), "from the gauge line down", true},
          {"grip", grip(), "where the tool's own does not hold there"}}},
        {"trade",
         "[trade]",
         "What standfast trade is to look at",
         {{"tier", form::name(), "whose height is traded"},
          {"heights", lengths(), "a list, or steps"},
          {"risers",
           form::list(form::either({form::name(), form::list(form::name(), 1, 200)}), 1, 200),
           "names from the shelf, or lists of them from the lowest up"},
          {"stickouts", form::either({lengths(), form::named(lengths())}),
           "a list, steps, or a table by tool"},
          {"tilts", form::named(angles()), "by pass: a list, or steps"},
          {"holders", form::named(form::list(form::name(), 1, 200)),
           "by tool: names from the shelf"},
          {"materials", form::list(form::name(Form::Names::materials), 1, 200),
           "of the traded tier"},
          {"hold", form::tables("trade.hold"), "other ways to hold"}}},
        {"trade.hold", "[[trade.hold]]", "Another way to hold",
         joined(joined({{"name", form::text(), ""}, {"tier", form::name(), ""}}, section_keys()),
                {{"height", form::length(), ""},
                 {"material", form::name(Form::Names::materials), ""},
                 {"joint", joint(), ""}})},
        {"adjust", "",
         "Factors that fit found, by joint of a tier, tool, support or of the machine",
         adjust_keys()},
        {"adjust.factors", "", "Factors on one joint", factor_keys()},
        {"together",
         "[together]",
         "How the errors of the adjusted factors hang together",
         {{"groups", form::list(form::text(), 1, 200), "", true},
          {"correlation", form::list(form::list(form::number(-1, 1), 1, 200), 1, 200), "", true}}},
        {"measured_on",
         "[measured_on]",
         "On what an overlay was measured",
         {{"machine", form::text(), ""},
          {"taper", form::text(), ""},
          {"base", form::text(), ""},
          {"riser", form::text(), ""},
          {"tiers", form::tables("measured_on.tiers"), ""},
          {"tools", form::tables("measured_on.tools"), ""},
          {"inputs", form::text(), "fingerprint"}}},
        {"measured_on.tiers",
         "",
         "A tier of the stack that was measured",
         {{"tier", form::text(), ""}, {"height", form::length(), ""}, {"joint", form::text(), ""}}},
        {"measured_on.tools",
         "",
         "A tool that was measured",
         {{"tool", form::text(), ""}, {"taper", form::text(), ""}, {"grip", form::text(), ""}}}};
}

}  // namespace standfast

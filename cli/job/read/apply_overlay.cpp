// What `fit` found out about joints, laid over a job.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "cli/job/read/read_data.hpp"
#include "cli/job/read/read_quantity.hpp"
#include "fea/judgement/uncertainty/sampling.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr Range kFactor{.low = 1e-4, .high = 1e4};
constexpr Range kSpread{.low = 1, .high = 100};

/// The factors of one joint; what is not said stays as it was.
SpringAdjustment read_factors(TableReader& table, SpringAdjustment found) {
    found.stiffness = number(table, "stiffness", kFactor).value_or(found.stiffness);
    found.loss = number(table, "loss", kFactor).value_or(found.loss);
    if (const auto spread = number(table, "stiffness_spread", kSpread)) {
        found.stiffness_spread = spread;
    }
    if (const auto spread = number(table, "loss_spread", kSpread)) {
        found.loss_spread = spread;
    }
    table.finish();
    return found;
}

void adjust(TableReader& table, Joint& joint, const std::string& measured_as) {
    const SpringAdjustment found = read_factors(table, {.stiffness = joint.stiffness_adjust,
                                                        .loss = joint.loss_adjust,
                                                        .stiffness_spread = joint.stiffness_spread,
                                                        .loss_spread = joint.loss_spread});
    joint.stiffness_adjust = found.stiffness;
    joint.loss_adjust = found.loss;
    joint.stiffness_spread = found.stiffness_spread;
    joint.loss_spread = found.loss_spread;
    joint.measured_as = measured_as;
}

/// What one entry of [adjust] may be about.
struct Adjusted {
    Tier* tier = nullptr;
    ToolChain* tool = nullptr;
    Support* support = nullptr;
    Machine* machine = nullptr;

    bool any() const {
        return tier != nullptr || tool != nullptr || support != nullptr || machine != nullptr;
    }
};

template <class List>
auto named_in(List& list, const std::string& name) {
    const auto found =
        std::ranges::find_if(list, [&](const auto& item) { return item.name == name; });
    return found == list.end() ? nullptr : &*found;
}

Adjusted adjusted_by(Job& job, const std::string& name) {
    return {.tier = named_in(job.stack.tiers, name),
            .tool = named_in(job.tools, name),
            .support = named_in(job.stack.supports, name),
            .machine = name == "machine" ? &job.machine : nullptr};
}

/// The joints of one tier, tool, support or of the machine that an overlay names.
void adjust_member(TableReader& member, const Adjusted& adjusted) {
    const auto one = [&](std::string_view key, const auto& apply) {
        if (auto table = member.table(key,
                                      "a table: { stiffness, loss, stiffness_spread, "
                                      "loss_spread }")) {
            apply(*table);
        }
    };
    const auto springs = [](SpringAdjustment& found) {
        return [&found](TableReader& table) { found = read_factors(table, found); };
    };
    if (adjusted.tier != nullptr) {
        Tier& tier = *adjusted.tier;
        one("joint", [&](TableReader& table) { adjust(table, tier.joint, tier.name + " joint"); });
    }
    if (adjusted.tool != nullptr) {
        ToolChain& tool = *adjusted.tool;
        one("taper", [&](TableReader& table) { adjust(table, tool.taper, tool.name + " taper"); });
        one("grip", [&](TableReader& table) { adjust(table, tool.grip, tool.name + " grip"); });
    }
    if (adjusted.support != nullptr) {
        adjusted.support->measured = true;
        one("support", springs(adjusted.support->adjusted));
    }
    if (adjusted.machine != nullptr) {
        one("table", springs(adjusted.machine->table.adjusted));
        one("spindle", springs(adjusted.machine->spindle.adjusted));
    }
    member.finish();
}

/// Adjustments that are not used here are looked at all the same.
void look_through(TableReader& member) {
    for (const std::string_view key : {"joint", "taper", "grip", "support", "table", "spindle"}) {
        if (auto table = member.table(key, "a table of factors")) {
            (void)read_factors(*table, {});
        }
    }
    member.finish();
}

void read_adjust(TableReader& root) {
    Job& job = root.reading().job;
    const auto tables = root.table("adjust", R"([adjust."name".joint], with single brackets)");
    if (!tables) {
        return;
    }
    const bool of_a_fit = find_entry(root.value(), "measured_on") != nullptr;
    std::vector<std::string> names;
    for (const Tier& tier : job.stack.tiers) {
        names.push_back(tier.name);
    }
    for (const ToolChain& tool : job.tools) {
        names.push_back(tool.name);
    }
    for (const Support& support : job.stack.supports) {
        names.push_back(support.name);
    }
    names.emplace_back("machine");
    for (const Entry& entry : tables->value().entries) {
        const std::string shown = entry.key.substr(0, 60);
        if (entry.value.kind != ValueKind::table) {
            root.fail(entry.value.where,
                      fmt::format(R"(adjust "{}" is {})", shown, in_words(entry.value)),
                      R"([adjust."name".joint] with stiffness and loss, bare factors)");
            continue;
        }
        const Adjusted adjusted = adjusted_by(job, entry.key);
        TableReader member(root.reading(), entry.value,
                           {.subject = fmt::format(R"(adjust "{}")", shown),
                            .path = fmt::format(R"(adjust."{}")", entry.key),
                            .header = ""});
        if (!adjusted.any() && of_a_fit) {
            look_through(member);
            // The same machine and riser under another part or with other tools.
            root.reading().warnings.push_back(fmt::format(
                R"(the adjustments of "{}" are not used: this job has no tier, tool or support of that name)",
                shown));
            continue;
        }
        if (!adjusted.any()) {
            const auto near = nearest_name(entry.key, names);
            root.fail(entry.where,
                      fmt::format(R"(adjust: no tier, tool or support is called "{}")", shown),
                      fmt::format(R"("{}")", fmt::join(names, R"(", ")")),
                      near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
            continue;
        }
        adjust_member(member, adjusted);
    }
}

/// One row of the correlation: bare numbers from -1 to 1.
bool read_row(TableReader& table, const Value& row, Eigen::Index index, Eigen::MatrixXd& into) {
    const Eigen::Index size = into.cols();
    if (row.kind != ValueKind::array || static_cast<Eigen::Index>(row.items.size()) != size) {
        table.reject("correlation", row,
                     fmt::format("a square table of {} numbers each way", size));
        return false;
    }
    for (Eigen::Index column = 0; column < size; ++column) {
        const auto value =
            number_of(table, "correlation", row.items[static_cast<std::size_t>(column)],
                      {.low = -1, .high = 1});
        if (!value) {
            return false;
        }
        into(index, column) = *value;
    }
    return true;
}

/// How the errors of the adjusted factors hang together.
void read_together(TableReader& root) {
    auto table = root.table("together", "[together] with groups and correlation");
    if (!table) {
        return;
    }
    const Value* const groups = table->require("groups", "a list of names");
    const Value* const rows = table->require("correlation", "a square table of numbers");
    table->finish();
    if (groups == nullptr || rows == nullptr) {
        return;
    }
    FittedTogether together;
    for (const Value& group : groups->items) {
        if (group.kind != ValueKind::text) {
            table->reject("groups", group, "names in quotes");
            return;
        }
        together.groups.push_back(group.text);
    }
    const auto size = static_cast<Eigen::Index>(together.groups.size());
    if (size == 0 || size > 200 || static_cast<Eigen::Index>(rows->items.size()) != size) {
        table->reject("correlation", *rows, "as many rows as there are groups");
        return;
    }
    together.correlation.resize(size, size);
    for (Eigen::Index row = 0; row < size; ++row) {
        if (!read_row(*table, rows->items[static_cast<std::size_t>(row)], row,
                      together.correlation)) {
            return;
        }
    }
    if (!is_correlation(together.correlation)) {
        table->reject("correlation", *rows,
                      "a symmetric table with 1 on its diagonal and no negative eigenvalue");
        return;
    }
    root.reading().job.fitted = std::move(together);
}

std::string kind_of(const Joint& joint) {
    if (joint.solid) {
        return "solid";
    }
    return joint.kind.name.empty() ? "given" : joint.kind.name;
}

/// What differs between here and there, as clauses.
class Differences {
public:
    explicit Differences(const Job& job) : job_(job) {}

    void word(std::string_view what, const std::optional<std::string>& there,
              const std::string& here) {
        if (there && *there != here) {
            add("{} \"{}\" there, {} here", what, *there,
                here.empty() ? std::string("none named") : fmt::format("\"{}\"", here));
        }
    }
    void tier_is_there(std::string_view key, const std::optional<std::string>& name) {
        if (name && named_in(job_.stack.tiers, *name) == nullptr) {
            add("{} \"{}\" there, none of that name here", key, *name);
        }
    }
    /// A tier that the job does not have is another part on the same stand.
    void tier(TableReader& table) {
        constexpr double kSame = 1e-3;
        const auto name = table.text("tier", "a tier's name");
        const auto height = quantity(table, "height", Quantity::length, kHeight);
        const auto joint = table.text("joint", "a joint kind");
        table.finish();
        const Tier* const here = name ? named_in(job_.stack.tiers, *name) : nullptr;
        if (here == nullptr) {
            return;
        }
        if (height && std::abs(*height - here->height) > kSame * *height) {
            add("{} {:.4g} mm high there, {:.4g} mm here", *name, *height * 1e3,
                here->height * 1e3);
        }
        word(*name + " joint", joint, kind_of(here->joint));
    }
    void tool(TableReader& table) {
        const auto name = table.text("tool", "a tool's name");
        const auto taper = table.text("taper", "a taper");
        const auto grip = table.text("grip", "a grip");
        table.finish();
        const ToolChain* const here = name ? named_in(job_.tools, *name) : nullptr;
        if (here == nullptr) {
            return;
        }
        word(*name + " taper", taper, kind_of(here->taper));
        word(*name + " grip", grip, kind_of(here->grip));
    }

    const std::vector<std::string>& clauses() const { return clauses_; }

private:
    static constexpr Range kHeight{.low = 0, .above_low = true, .high = 10};

    template <class... Arguments>
    void add(fmt::format_string<Arguments...> format, Arguments&&... arguments) {
        clauses_.push_back(fmt::format(format, std::forward<Arguments>(arguments)...));
    }

    const Job& job_;
    std::vector<std::string> clauses_;
};

/// Refuses an overlay that was measured on something else than this job describes, unless it was
/// asked for; then the differences are kept for the headline.
void compare_origin(TableReader& root, bool other_machine) {
    auto table = root.table("measured_on", "[measured_on] with machine, base and riser");
    if (!table) {
        return;
    }
    Reading& reading = root.reading();
    Differences differences(reading.job);
    differences.word("machine", table->text("machine", "the machine's kind"),
                     reading.job.machine.kind.name);
    differences.word("spindle taper", table->text("taper", "the spindle's taper"),
                     reading.job.machine.spindle_kind.taper);
    for (const std::string_view key : {"base", "riser"}) {
        differences.tier_is_there(key, table->text(key, "a tier's name"));
    }
    const auto each = [&](std::string_view key, const auto& compare) {
        for (const Value* const value : list_of_tables(*table, key)) {
            TableReader one(reading, *value,
                            {.subject = fmt::format("measured_on {}", key),
                             .path = fmt::format("measured_on.{}", key),
                             .header = ""});
            compare(one);
        }
    };
    each("tiers", [&](TableReader& one) { differences.tier(one); });
    each("tools", [&](TableReader& one) { differences.tool(one); });
    table->text("inputs", "a fingerprint");
    table->finish();
    const std::vector<std::string>& clauses = differences.clauses();
    if (clauses.empty()) {
        return;
    }
    if (!other_machine) {
        root.fail(table->value().where,
                  fmt::format("the adjustments were measured on something else: {}",
                              fmt::join(clauses, "; ")),
                  "a fit on this machine and stack; --other-machine uses these all the same, and "
                  "the verdict says so");
        return;
    }
    reading.warnings.push_back(fmt::format("the adjustments were measured on something else: {}",
                                           fmt::join(clauses, "; ")));
    std::vector<std::string>& kept = reading.job.measured_elsewhere;
    kept.insert(kept.end(), clauses.begin(), clauses.end());
}

}  // namespace

void apply_overlay(Reading& reading, const Value& overlay, bool other_machine) {
    TableReader root(reading, overlay, {});
    read_adjust(root);
    read_together(root);
    compare_origin(root, other_machine);
    root.finish();
}

}  // namespace standfast

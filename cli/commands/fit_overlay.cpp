#include "cli/commands/fit_overlay.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/report/fit/fit_text.hpp"

namespace standfast {
namespace {

constexpr std::string_view kFirstLine = "# Written by standfast fit; below this line: ";

/// A text as TOML writes it, in quotes.
std::string in_quotes(std::string_view text) {
    std::string result = "\"";
    for (const char letter : text) {
        if (letter == '"' || letter == '\\') {
            result += '\\';
        }
        result += static_cast<unsigned char>(letter) < 0x20 ? ' ' : letter;
    }
    return result + "\"";
}

/// Six digits: far more than a fit knows, so that nothing is lost.
std::string six_digits(double value) { return fmt::format("{:.6g}", value); }

/// Header of the table that a factor stands in.
std::string header_of(const Job& job, const FitUnknown& unknown) {
    switch (unknown.target) {
        case FitTarget::table:
            return "[adjust.machine.table]";
        case FitTarget::spindle:
            return "[adjust.machine.spindle]";
        case FitTarget::tier_joint:
            return fmt::format("[adjust.{}.joint]", in_quotes(job.stack.tiers[unknown.index].name));
        case FitTarget::support:
            return fmt::format("[adjust.{}.support]",
                               in_quotes(job.stack.supports[unknown.index].name));
        case FitTarget::taper:
            return fmt::format("[adjust.{}.taper]", in_quotes(job.tools[unknown.index].name));
        case FitTarget::grip:
            return fmt::format("[adjust.{}.grip]", in_quotes(job.tools[unknown.index].name));
    }
    return {};
}

/// What the job's overlays said of a factor already; a new one replaces it.
double said_already(const Job& job, const FitUnknown& unknown) {
    const bool stiffness = unknown.quantity == FitQuantity::stiffness;
    const auto of_springs = [&](const SpringAdjustment& springs) {
        return stiffness ? springs.stiffness : springs.loss;
    };
    const auto of_joint = [&](const Joint& joint) {
        return stiffness ? joint.stiffness_adjust : joint.loss_adjust;
    };
    switch (unknown.target) {
        case FitTarget::table:
            return of_springs(job.machine.table.adjusted);
        case FitTarget::spindle:
            return of_springs(job.machine.spindle.adjusted);
        case FitTarget::tier_joint:
            return of_joint(job.stack.tiers[unknown.index].joint);
        case FitTarget::support:
            return of_springs(job.stack.supports[unknown.index].adjusted);
        case FitTarget::taper:
            return of_joint(job.tools[unknown.index].taper);
        case FitTarget::grip:
            return of_joint(job.tools[unknown.index].grip);
    }
    return 1;
}

/// Whether a factor differs enough from what was believed before to be written down.
bool is_news(const Job& job, const FitAdjusted& adjusted) {
    constexpr double kSame = 0.005, kAsWide = 0.98;
    const double total = said_already(job, adjusted.unknown) * adjusted.factor;
    return std::abs(std::log(total)) > kSame ||
           std::log(adjusted.spread) < kAsWide * std::log(adjusted.unknown.prior.factor);
}

std::string lines_of(const Job& job, const FitAdjusted& adjusted) {
    const bool stiffness = adjusted.unknown.quantity == FitQuantity::stiffness;
    const std::string key = stiffness ? "stiffness" : "loss";
    return fmt::format("{} = {}  # {}\n{}_spread = {}  # was {:.3g}\n", key,
                       six_digits(said_already(job, adjusted.unknown) * adjusted.factor),
                       before_and_after(adjusted), key, six_digits(std::max(adjusted.spread, 1.0)),
                       adjusted.unknown.prior.factor);
}

/// The tables of all factors, each table once.
std::string tables_of(const Job& job, const FitResult& result) {
    std::vector<std::string> order;
    std::map<std::string, std::string> tables;
    for (const FitAdjusted& adjusted : result.adjusted) {
        if (!is_news(job, adjusted)) {
            continue;
        }
        const std::string header = header_of(job, adjusted.unknown);
        if (!tables.contains(header)) {
            order.push_back(header);
        }
        tables[header] += lines_of(job, adjusted);
    }
    std::string text;
    for (const std::string& header : order) {
        text += fmt::format("\n{}\n{}", header, tables[header]);
    }
    return text;
}

std::string together_of(const Job& job, const FitResult& result) {
    std::string text =
        "\n# How the errors of these factors hang together (correlation of their logarithms): a "
        "push that\n# feels two joints at once knows their sum better than either.\n[together]\n"
        "groups = [\n";
    std::vector<Eigen::Index> kept;
    for (std::size_t i = 0; i < result.adjusted.size(); ++i) {
        if (is_news(job, result.adjusted[i])) {
            kept.push_back(static_cast<Eigen::Index>(i));
            text += "  " + in_quotes(fitted_group(result.adjusted[i].unknown)) + ",\n";
        }
    }
    if (kept.empty()) {
        return {};
    }
    text += "]\ncorrelation = [\n";
    const Eigen::VectorXd deviation = result.covariance.diagonal().cwiseSqrt();
    for (const Eigen::Index row : kept) {
        text += "  [";
        for (const Eigen::Index column : kept) {
            const double correlation =
                row == column ? 1
                              : result.covariance(row, column) / deviation[row] / deviation[column];
            text += fmt::format("{}{:.4f}", column == kept.front() ? "" : ", ", correlation);
        }
        text += "],\n";
    }
    return text + "]\n";
}

/// The riser: the tier called so, or the second from the table up, or the only one.
std::string riser_of(const Stack& stack) {
    for (const Tier& tier : stack.tiers) {
        if (tier.name.find("riser") != std::string::npos) {
            return tier.name;
        }
    }
    return stack.tiers.size() > 1 ? stack.tiers[1].name : stack.tiers.front().name;
}

std::string kind_of(const Joint& joint) {
    if (joint.solid) {
        return "solid";
    }
    return joint.kind.name.empty() ? "given" : joint.kind.name;
}

std::string origin_of(const Job& job, const std::string& inputs) {
    std::string text = "\n[measured_on]\n";
    text += fmt::format("machine = {}\n", in_quotes(job.machine.kind.name));
    if (!job.stack.tiers.empty()) {
        text += fmt::format("base = {}\nriser = {}\n", in_quotes(job.stack.tiers.front().name),
                            in_quotes(riser_of(job.stack)));
    }
    if (!job.machine.spindle_kind.taper.empty()) {
        text += fmt::format("taper = {}\n", in_quotes(job.machine.spindle_kind.taper));
    }
    text += fmt::format("inputs = {}\n", in_quotes(inputs));
    for (const Tier& tier : job.stack.tiers) {
        text +=
            fmt::format("[[measured_on.tiers]]\ntier = {}\nheight = \"{:.6g} mm\"\njoint = {}\n",
                        in_quotes(tier.name), tier.height * 1e3, in_quotes(kind_of(tier.joint)));
    }
    for (const ToolChain& tool : job.tools) {
        text += fmt::format("[[measured_on.tools]]\ntool = {}\ntaper = {}\ngrip = {}\n",
                            in_quotes(tool.name), in_quotes(kind_of(tool.taper)),
                            in_quotes(kind_of(tool.grip)));
    }
    return text;
}

/// An overlay of this program that nobody changed: its first line holds the fingerprint of the
/// rest.
bool is_untouched(std::string_view bytes) {
    const std::size_t end = bytes.find('\n');
    if (!bytes.starts_with(kFirstLine) || end == std::string_view::npos) {
        return false;
    }
    return bytes.substr(kFirstLine.size(), end - kFirstLine.size()) ==
           fingerprint(bytes.substr(end + 1));
}

}  // namespace

std::string overlay_text(const Job& job, const FitResult& result, const std::string& job_path,
                         const std::string& inputs) {
    std::string body = fmt::format(
        "# Factors on the joints of {}, from what was measured there; 1 is as modelled.\n"
        "# Use it with: standfast check {} --with THIS_FILE\n"
        "# A spread of 1.2: one in ten may be more than 1.2 times stiffer, one in ten more than "
        "1.2 times softer.\n",
        in_quotes(job_path), job_path);
    body += origin_of(job, inputs) + tables_of(job, result) + together_of(job, result);
    return fmt::format("{}{}\n{}", kFirstLine, fingerprint(body), body);
}

void save_overlay(const std::string& path, const std::string& text, bool force) {
    if (!force && look_at(path, "") != Existing::nothing) {
        const std::string there = file_bytes(path);
        if (!is_regular_file(path) || !is_untouched(there)) {
            throw UsageError(fmt::format(
                "{}: is there already and {}; --force overwrites it; nothing was written", path,
                there.starts_with(kFirstLine) ? "was changed since this program wrote it"
                                              : "was not written by standfast fit"));
        }
    }
    write_file(path, text);
}

}  // namespace standfast

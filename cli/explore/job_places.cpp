#include "cli/explore/job_places.hpp"

#include <algorithm>
#include <optional>
#include <vector>

#include "cli/job/merge_files.hpp"
#include "cli/job/toml/load_file.hpp"
#include "cli/job/toml/value.hpp"
#include "fea/job/tool_chain.hpp"

namespace standfast {
namespace {

/// Byte of the file at which a position begins; columns count characters.
std::size_t byte_of(const SourceFile& file, const Position& where) {
    std::size_t at = file.line_starts.at(static_cast<std::size_t>(where.line - 1));
    for (int column = 1; column < where.column && at < file.text.size(); ++column) {
        ++at;
        while (at < file.text.size() &&
               (static_cast<unsigned char>(file.text[at]) & 0xC0U) == 0x80U) {
            ++at;
        }
    }
    return at;
}

std::size_t end_of_line(const SourceFile& file, int line) {
    const std::size_t end =
        file.text.find_first_of("\r\n", file.line_starts.at(static_cast<std::size_t>(line - 1)));
    return end == std::string::npos ? file.text.size() : end;
}

const Value* entry_of(const Value* table, std::string_view key) {
    const Entry* const entry = table == nullptr ? nullptr : find_entry(*table, key);
    return entry == nullptr ? nullptr : &entry->value;
}

/// The tables of a list, in order.
std::vector<const Value*> tables_of(const Value& root, std::string_view key) {
    std::vector<const Value*> tables;
    const Value* const list = entry_of(&root, key);
    if (list == nullptr) return tables;
    for (const Value& item : list->items) tables.push_back(&item);
    return tables;
}

class PlaceFinder {
public:
    PlaceFinder(JobText& text, const std::string& path) : text_(text), path_(path) {}

    /// Where a quoted value of the job's own file stands.
    bool replace(JobSize size, std::size_t index, const Value* value, double more = 0) {
        if (value == nullptr || value->kind != ValueKind::text || !is_own(value->where))
            return false;
        const SourceFile& file = *value->where.file;
        const std::size_t at = byte_of(file, value->where);
        const char quote = at < file.text.size() ? file.text[at] : ' ';
        if (quote != '"' && quote != '\'') return false;
        const std::size_t end = file.text.find(quote, at + 1);
        if (end == std::string::npos) return false;
        const bool inch = value->text.find("in") != std::string::npos ||
                          value->text.find("thou") != std::string::npos ||
                          value->text.find('"') != std::string::npos;
        text_.places.push_back({size, index, at, end + 1 - at, "", more,
                                inch ? UnitSystem::inch : UnitSystem::metric});
        return true;
    }

    /// Where a key would stand: under the header of its table.
    void insert(JobSize size, std::size_t index, const Value& table, const std::string& key,
                UnitSystem units) {
        if (!table.from_header || !is_own(table.where)) return;
        const std::size_t at = end_of_line(*table.where.file, table.where.line);
        text_.places.push_back({size, index, at, 0, "\n" + key + " = ", 0, units});
    }

private:
    bool is_own(const Position& where) const {
        return where.file && where.line > 0 && where.file->name == path_;
    }
    JobText& text_;
    std::string path_;
};

std::string own_text(const std::string& path) {
    std::vector<Diagnostic> errors;
    const auto file = load_file(path, errors);
    return file ? file->text : std::string();
}

}  // namespace

JobText job_places(const std::string& path, const Job& job) {
    JobText text{.toml = own_text(path), .places = {}};
    std::vector<Diagnostic> errors;
    const std::optional<Value> root = load_merged(path, errors);
    if (!root) return text;
    PlaceFinder finder(text, path);
    const std::vector<const Value*> tiers = tables_of(*root, "tier");
    for (std::size_t i = 0; i < std::min(tiers.size(), job.stack.tiers.size()); ++i) {
        finder.replace(JobSize::riser_height, i, entry_of(tiers[i], "height"));
    }
    const std::vector<const Value*> tools = tables_of(*root, "tool");
    for (std::size_t i = 0; i < std::min(tools.size(), job.tools.size()); ++i) {
        const Value* const cutter = entry_of(tools[i], "cutter");
        const double holder = gauge_length(job.tools[i]) - stickout_of(job.tools[i].cutter);
        if (!finder.replace(JobSize::stickout, i, entry_of(cutter, "stickout"))) {
            finder.replace(JobSize::stickout, i, entry_of(cutter, "gauge_length"), holder);
        }
    }
    const std::vector<const Value*> passes = tables_of(*root, "pass");
    for (std::size_t i = 0; i < std::min(passes.size(), job.passes.size()); ++i) {
        const auto said = [&](JobSize size, const std::string& key) {
            const Value* const value = entry_of(passes[i], key);
            if (value == nullptr) {
                finder.insert(size, i, *passes[i], key, UnitSystem::metric);
            } else {
                finder.replace(size, i, value);
            }
        };
        said(JobSize::depth, "axial");
        said(JobSize::speed, "speed");
    }
    return text;
}

}  // namespace standfast

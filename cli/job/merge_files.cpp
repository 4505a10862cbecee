#include "cli/job/merge_files.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <system_error>

#include "cli/job/keys/job_keys.hpp"
#include "cli/job/toml/load_file.hpp"
#include "cli/job/toml/parse_toml.hpp"

namespace standfast {
namespace {

constexpr std::size_t kDeepestUse = 8;
constexpr std::size_t kMostFiles = 64;

/// Files that are being read, outermost first, and all that were read so far.
struct UseChain {
    std::vector<std::string> open;
    std::vector<std::string> done;
    std::vector<Diagnostic>& errors;
    bool failed = false;
};

std::string identity_of(const std::string& path) {
    std::error_code error;
    const std::filesystem::path canonical = std::filesystem::weakly_canonical(path, error);
    return error ? path : canonical.string();
}

std::string relative_to(const std::string& file, const std::string& used) {
    return (std::filesystem::path(file).parent_path() / used).string();
}

/// Puts the entries of `over` on top of those of `under`.
void merge_tables(Value& under, Value over) {
    for (Entry& entry : over.entries) {
        const auto found = std::ranges::find_if(
            under.entries, [&](const Entry& old) { return old.key == entry.key; });
        if (found == under.entries.end()) {
            under.entries.push_back(std::move(entry));
        } else {
            *found = std::move(entry);
        }
    }
    under.where = over.where;
}

bool is_list_of_tables(const Value& value) {
    return value.kind == ValueKind::array && !value.items.empty() &&
           value.items.front().kind == ValueKind::table;
}

/// The whole tree of a using file on top of that of a used one.
void merge_roots(Value& under, Value over) {
    for (Entry& entry : over.entries) {
        const auto found = std::ranges::find_if(
            under.entries, [&](const Entry& old) { return old.key == entry.key; });
        if (found == under.entries.end()) {
            under.entries.push_back(std::move(entry));
        } else if (is_list_of_tables(found->value) && is_list_of_tables(entry.value)) {
            std::ranges::move(entry.value.items, std::back_inserter(found->value.items));
        } else if (found->value.kind == ValueKind::table && entry.value.kind == ValueKind::table) {
            merge_tables(found->value, std::move(entry.value));
        } else {
            *found = std::move(entry);
        }
    }
    under.where = over.where;
}

void fail(UseChain& chain, Diagnostic fault) {
    chain.errors.push_back(std::move(fault));
    chain.failed = true;
}

std::optional<Value> merged(const std::shared_ptr<const SourceFile>& file, UseChain& chain);

/// Whether a file may be used here; says why not.
bool may_use(const std::string& path, const Position& where, UseChain& chain) {
    const std::string identity = identity_of(path);
    if (std::ranges::find(chain.open, identity) != chain.open.end()) {
        fail(chain, {.where = where,
                     .message = fmt::format("use: {} is being read already, so the files use each "
                                            "other in a circle",
                                            path)});
        return false;
    }
    if (std::ranges::find(chain.done, identity) != chain.done.end()) {
        return false;  // reached by two ways: counts once
    }
    if (chain.open.size() > kDeepestUse || chain.done.size() >= kMostFiles) {
        fail(chain,
             {.where = where,
              .message = "use: files use each other too deeply",
              .accepted = fmt::format("at most {} levels and {} files", kDeepestUse, kMostFiles)});
        return false;
    }
    return true;
}

/// Whether a text is about a job at all: it opens or sets something that a job has.
bool speaks_of_a_job(const SourceFile& file) {
    for (int number = 1; number <= static_cast<int>(file.line_starts.size()); ++number) {
        std::string_view line = line_of(file, number);
        line.remove_prefix(std::min(line.find_first_not_of(" \t["), line.size()));
        const std::string_view word = line.substr(0, line.find_first_of(" \t.=]"));
        const bool key = std::ranges::any_of(job_table("").keys,
                                             [&](const Key& known) { return known.name == word; });
        const std::string_view rest = line.substr(word.size());
        if (key && rest.find_first_of("=]") != std::string_view::npos) return true;
    }
    return false;
}

/// A file that was named by mistake may be anybody's: nothing of it is shown.
Diagnostic no_job(const std::string& path, const std::shared_ptr<const SourceFile>& file,
                  const std::vector<Diagnostic>& faults) {
    Position where{.file = file, .line = 1, .column = 1, .length = 1};
    std::string reason = "it has none of the keys or tables of a job";
    if (!faults.empty() && faults.front().where.line > 0) {
        where = faults.front().where;
        reason = "it is not valid TOML here, and " + reason;
    } else if (!faults.empty()) {
        reason = faults.front().message;
    }
    return {.where = where,
            .message = fmt::format("use: {} is no file of a job: {}", path, reason),
            .accepted = "TOML with [machine], [[tier]], [[tool]] and the like",
            .without_line = true};
}

std::optional<Value> used_file(const std::string& path, const Position& where, UseChain& chain) {
    std::vector<Diagnostic> faults;
    const std::shared_ptr<const SourceFile> file = load_file(path, faults);
    if (!file) {
        fail(chain, {.where = where,
                     .message = fmt::format("use: {}: {}", path, faults.front().message),
                     .accepted = "files by their path from the folder of this one"});
        return std::nullopt;
    }
    if (!speaks_of_a_job(*file)) {
        (void)parse_toml(file, faults);
        fail(chain, no_job(path, file, faults));
        return std::nullopt;
    }
    return merged(file, chain);
}

/// The files named by `use`, each as a text with its place.
std::vector<Value> uses_of(const Value& root, UseChain& chain) {
    const Entry* const entry = find_entry(root, "use");
    if (entry == nullptr) {
        return {};
    }
    const Value& value = entry->value;
    std::vector<Value> names =
        value.kind == ValueKind::array ? value.items : std::vector<Value>{value};
    for (const Value& name : names) {
        if (name.kind != ValueKind::text || name.text.empty()) {
            fail(chain, {.where = name.where,
                         .message = fmt::format("use is {}", in_words(name)),
                         .accepted = R"(a list of file names, as in ["mill.toml", "tools.toml"])"});
        }
    }
    std::erase_if(
        names, [](const Value& name) { return name.kind != ValueKind::text || name.text.empty(); });
    return names;
}

std::optional<Value> merged(const std::shared_ptr<const SourceFile>& file, UseChain& chain) {
    const std::string identity = identity_of(file->name);
    chain.done.push_back(identity);
    const std::size_t before = chain.errors.size();
    std::optional<Value> own = parse_toml(file, chain.errors);
    chain.failed = chain.failed || chain.errors.size() > before;
    if (!own) {
        return std::nullopt;
    }
    chain.open.push_back(identity);
    Value all = make_value(own->where, ValueKind::table);
    for (const Value& name : uses_of(*own, chain)) {
        const std::string path = relative_to(file->name, name.text);
        if (may_use(path, name.where, chain)) {
            if (std::optional<Value> used = used_file(path, name.where, chain)) {
                merge_roots(all, std::move(*used));
            }
        }
    }
    chain.open.pop_back();
    std::erase_if(own->entries, [](const Entry& entry) { return entry.key == "use"; });
    merge_roots(all, std::move(*own));
    return all;
}

}  // namespace

std::optional<Value> merge_text(const std::shared_ptr<const SourceFile>& file,
                                std::vector<Diagnostic>& errors) {
    UseChain chain{.open = {}, .done = {}, .errors = errors};
    std::optional<Value> all = merged(file, chain);
    return chain.failed ? std::nullopt : std::move(all);
}

std::optional<Value> load_merged(const std::string& path, std::vector<Diagnostic>& errors) {
    const std::shared_ptr<const SourceFile> file = load_file(path, errors);
    return file ? merge_text(file, errors) : std::nullopt;
}

}  // namespace standfast

// The schema against the reader, in both directions: jobs that read are accepted, and of the same
// jobs with one thing broken both refuse the same.
#include "cli/schema/job_schema.hpp"

#include <gtest/gtest.h>

#include <toml++/toml.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <set>
#include <sstream>

#include "cli/job/keys/job_keys.hpp"
#include "cli/job/read_job.hpp"
#include "cli/starters/starter_job.hpp"
#include "tests/cli/schema/schema_checker.hpp"

namespace standfast {
namespace {

using Json = nlohmann::json;
namespace fs = std::filesystem;

const tests::SchemaChecker& checker() {
    static const tests::SchemaChecker one(Json::parse(job_schema()));
    return one;
}

Json json_of(const toml::node& node) {
    if (const toml::table* const table = node.as_table()) {
        Json object = Json::object();
        for (const auto& [key, child] : *table) object[std::string(key.str())] = json_of(child);
        return object;
    }
    if (const toml::array* const array = node.as_array()) {
        Json list = Json::array();
        for (const toml::node& item : *array) list.push_back(json_of(item));
        return list;
    }
    if (const auto* const text = node.as_string()) return text->get();
    if (const auto* const whole = node.as_integer()) return whole->get();
    if (const auto* const real = node.as_floating_point()) return real->get();
    if (const auto* const truth = node.as_boolean()) return truth->get();
    return nullptr;
}

std::string schema_fault(const std::string& toml_text) {
    const toml::table table = toml::parse(std::string_view(toml_text), std::string_view());
    return checker().fault_of(json_of(table));
}

std::string text_of(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

struct Sample {
    std::string name;  ///< as the reader is told, so that `use` and files are found
    std::string text;
};

/// Jobs that read: every example, every starter, and one that says all that it can.
std::vector<Sample> valid_jobs() {
    std::vector<Sample> jobs;
    const fs::path root = STANDFAST_SOURCE_DIR;
    for (const auto& entry : fs::recursive_directory_iterator(root / "examples")) {
        if (entry.path().extension() == ".toml" && entry.path().stem() == "job") {
            jobs.push_back({entry.path().string(), text_of(entry.path())});
        }
    }
    for (const StarterKind& kind : starter_kinds()) {
        jobs.push_back({std::string(kind.name), starter_job(kind.name, UnitSystem::inch)});
    }
    const fs::path full = root / "tests/cli/schema/everything.toml";
    jobs.push_back({full.string(), text_of(full)});
    return jobs;
}

/// Those whose every value is put wrong in turn: between them they hold every kind of table.
std::vector<Sample> jobs_to_break() {
    std::vector<Sample> jobs;
    for (const Sample& job : valid_jobs()) {
        for (const char* name : {"everything", "04-", "09-", "16-", "measured-modes"}) {
            if (job.name.find(name) != std::string::npos) jobs.push_back(job);
        }
    }
    return jobs;
}

TEST(JobSchema, AcceptsEveryJobThatTheReaderAccepts) {
    const std::vector<Sample> jobs = valid_jobs();
    ASSERT_GT(jobs.size(), 20U);
    for (const Sample& job : jobs) {
        EXPECT_EQ(schema_fault(job.text), "") << job.name;
        const ReadResult read = read_job_text(job.text, job.name);
        EXPECT_TRUE(read.job) << format_diagnostics(read.errors);
    }
}

/// Every table that can be reached, with what is done to it.
void for_each_table(toml::table& table, const std::function<void(toml::table&)>& visit) {
    visit(table);
    for (auto&& [key, node] : table) {
        if (toml::table* const inner = node.as_table()) for_each_table(*inner, visit);
        if (toml::array* const list = node.as_array()) {
            for (toml::node& item : *list) {
                if (toml::table* const inner = item.as_table()) for_each_table(*inner, visit);
            }
        }
    }
}

std::string written(const toml::table& table) {
    std::ostringstream stream;
    stream << toml::toml_formatter{table};
    return stream.str();
}

struct Verdicts {
    bool reader_refuses = false, schema_refuses = false;
    std::string why;
};

Verdicts verdicts_of(const std::string& text, const std::string& name) {
    const std::string by_schema = schema_fault(text);
    const ReadResult read = read_job_text(text, name);
    return {.reader_refuses = !read.job,
            .schema_refuses = !by_schema.empty(),
            .why = by_schema.empty() ? format_diagnostics(read.errors) : by_schema};
}

TEST(JobSchema, AnUnknownKeyIsRefusedByBothInEveryTable) {
    std::size_t tried = 0;
    for (const Sample& job : jobs_to_break()) {
        toml::table tree = toml::parse(std::string_view(job.text), std::string_view());
        for_each_table(tree, [&](toml::table& table) {
            table.insert_or_assign("strange_key", toml::table{{"strange", true}});
            const Verdicts verdicts = verdicts_of(written(tree), job.name);
            table.erase("strange_key");
            EXPECT_TRUE(verdicts.reader_refuses) << job.name << verdicts.why;
            EXPECT_TRUE(verdicts.schema_refuses) << job.name << verdicts.why;
            ++tried;
        });
    }
    EXPECT_GT(tried, 100U);
}

/// The keys of a table at the time of asking, since values are put and taken meanwhile. Each third
/// call leaves out other two thirds: whole jobs are read anew for every value.
std::vector<std::string> keys_of(const toml::table& table) {
    static std::size_t turn = 0;
    std::vector<std::string> keys;
    for (const auto& [key, node] : table) {
        if (turn++ % 3 == 0) keys.emplace_back(key.str());
    }
    return keys;
}

template <class Value>
void with_value(toml::table& table, const std::string& key, const Value& value,
                const std::function<void()>& look) {
    toml::table kept;
    kept.insert_or_assign("v", *table.get(key));
    table.insert_or_assign(key, value);
    look();
    table.insert_or_assign(key, *kept.get("v"));
}

TEST(JobSchema, AValueOfAnotherTypeIsRefusedByBothOrByNeither) {
    std::size_t tried = 0;
    for (const Sample& job : jobs_to_break()) {
        toml::table tree = toml::parse(std::string_view(job.text), std::string_view());
        for_each_table(tree, [&](toml::table& table) {
            for (const std::string& key : keys_of(table)) {
                const auto same = [&](const std::string& what) {
                    const Verdicts verdicts = verdicts_of(written(tree), job.name);
                    EXPECT_EQ(verdicts.reader_refuses, verdicts.schema_refuses)
                        << job.name << ": " << key << " = " << what << "\n"
                        << verdicts.why;
                    ++tried;
                };
                with_value(table, key, true, [&] { same("true"); });
                with_value(table, key, 7e12, [&] { same("7e12"); });
                with_value(table, key, -7000000, [&] { same("-7000000"); });
                with_value(table, key, toml::array{true, true, true}, [&] { same("[true ...]"); });
                with_value(table, key, toml::table{{"strange_key", true}},
                           [&] { same("{ strange_key }"); });
            }
        });
    }
    EXPECT_GT(tried, 300U);
}

TEST(JobSchema, WhatItRefusesOfTextsAndListsTheReaderRefusesToo) {
    for (const Sample& job : jobs_to_break()) {
        toml::table tree = toml::parse(std::string_view(job.text), std::string_view());
        for_each_table(tree, [&](toml::table& table) {
            for (const std::string& key : keys_of(table)) {
                const auto no_false_alarm = [&](const std::string& what) {
                    const Verdicts verdicts = verdicts_of(written(tree), job.name);
                    EXPECT_TRUE(verdicts.reader_refuses || !verdicts.schema_refuses)
                        << job.name << ": " << key << " = " << what << "\n"
                        << verdicts.why;
                };
                for (const char* text : {"", "95", "0,3 mm", "6 in", "3 %", "table", "x"}) {
                    with_value(table, key, text, [&] { no_false_alarm(text); });
                }
                with_value(table, key, toml::array{}, [&] { no_false_alarm("[]"); });
                with_value(table, key, toml::array{"1 mm", "2 mm"},
                           [&] { no_false_alarm("[two lengths]"); });
                with_value(table, key, toml::table{}, [&] { no_false_alarm("{}"); });
            }
        });
    }
}

/// The keys that a reader lists where it meets one that it does not know.
std::set<std::string> keys_listed(const std::string& accepted) {
    std::set<std::string> keys;
    std::istringstream stream(accepted);
    for (std::string key; std::getline(stream, key, ',');) {
        keys.insert(key.substr(key.find_first_not_of(' ')));
    }
    return keys;
}

TEST(JobKeys, AreThoseThatTheReadersAskFor) {
    // "everything.toml" opens every kind of table; a strange key in each makes the reader list
    // what it asks for there.
    const fs::path path = fs::path(STANDFAST_SOURCE_DIR) / "tests/cli/schema/everything.toml";
    toml::table tree = toml::parse(std::string_view(text_of(path)), std::string_view());
    std::set<std::set<std::string>> asked;
    for_each_table(tree, [&](toml::table& table) {
        table.insert_or_assign("qqqqqqqqqqqqqqqqqqqq", true);
        for (const Diagnostic& fault : read_job_text(written(tree), path.string()).errors) {
            if (fault.message.find("unknown key \"qqqq") != std::string::npos) {
                asked.insert(keys_listed(fault.accepted));
            }
        }
        table.erase("qqqqqqqqqqqqqqqqqqqq");
    });
    for (const TableKeys& table : job_tables()) {
        // Of [adjust."name"] each kind of thing has its own.
        if (table.name == "adjust") continue;
        std::set<std::string> declared;
        for (const Key& key : table.keys) declared.emplace(key.name);
        if (table.name.empty()) declared.erase("use");  // read before the tables are
        EXPECT_TRUE(asked.contains(declared))
            << "[" << table.name << "]: the readers ask for other keys than job_keys lists";
    }
}

TEST(JobSchema, SaysWhichDraftItIsOfAndDescribesEveryTable) {
    const Json schema = Json::parse(job_schema());
    EXPECT_EQ(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    for (const auto& [name, definition] : schema["$defs"].items()) {
        EXPECT_TRUE(definition.contains("description") || definition.contains("oneOf")) << name;
    }
    const Json& radial = schema["$defs"]["pass"]["properties"]["radial"];
    EXPECT_EQ(radial["anyOf"].size(), 2U) << radial.dump();
}

}  // namespace
}  // namespace standfast

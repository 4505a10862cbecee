// Compares the periodic solver with every independently computed table of
// validation/cases/stability and prints how far it is off. Run from the project's top folder, or
// give the tables' folder.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>

#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/map/floquet.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

using reference::Table;
using SystemOf = std::function<DelaySystem(const Table&, std::size_t)>;

DelaySystem benchmark_of(const Table& table, std::size_t row) {
    return reference::benchmark_system(static_cast<int>(table.number(row, "directions")),
                                       table.number(row, "immersion"),
                                       reference::milling_of(table.word(row, "milling")));
}

void report_limits(const std::string& path, const SystemOf& system_of) {
    const Table table = reference::read_table(path);
    double worst = 0, worst_hertz = 0;
    int wrong_kind = 0, not_found = 0;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const SpeedLimit got = periodic_limit(
            system_of(table, row), SpindleSpeed::from_rpm(table.number(row, "rpm")), 0.040, 1.0);
        const bool expected = table.word(row, "limit_mm") != "none";
        if (got.limit.has_value() != expected) ++not_found;
        if (!got.limit || !expected) continue;
        worst = std::max(worst, std::abs(*got.limit * 1e3 / table.number(row, "limit_mm") - 1));
        worst_hertz =
            std::max(worst_hertz, std::abs(*got.chatter_hertz - table.number(row, "chatter_hz")));
        const bool doubling = table.word(row, "kind") == "period doubling";
        if ((*got.kind == ChatterKind::period_doubling) != doubling) ++wrong_kind;
    }
    fmt::print(
        "{:<44} {:>4} limits: worst {:.1e} of the limit, {:.3f} Hz; {} kinds differ, {} not "
        "both found\n",
        path, table.rows.size(), worst, worst_hertz, wrong_kind, not_found);
}

void report_radii(const std::string& path) {
    const Table table = reference::read_table(path);
    double worst = 0;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const double got = largest_multiplier(benchmark_of(table, row),
                                              SpindleSpeed::from_rpm(table.number(row, "rpm")),
                                              table.number(row, "depth_mm") * 1e-3)
                               .radius();
        worst = std::max(worst, std::abs(got / table.number(row, "radius") - 1));
    }
    fmt::print("{:<44} {:>4} spectral radii: worst {:.1e}\n", path, table.rows.size(), worst);
}

int stable_cells(const DelaySystem& system, double depth_to) {
    std::vector<int> stable(200, 0);
    for_each_index(stable.size(), [&](std::size_t i) {
        const SpindleSpeed speed =
            SpindleSpeed::from_rpm(5000 + 25 * (static_cast<double>(i) + 0.5));
        for (int j = 0; j < 100; ++j) {
            const double depth = depth_to * (j + 0.5) / 100;
            if (largest_multiplier(system, speed, depth, 1e-4).radius() < 1) ++stable[i];
        }
    });
    int total = 0;
    for (const int count : stable) total += count;
    return total;
}

void report_areas(const std::string& path) {
    const Table table = reference::read_table(path);
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const int got =
            stable_cells(benchmark_of(table, row), table.number(row, "depth_to_mm") * 1e-3);
        fmt::print("{:<44} directions {} immersion {:<4}: {} stable cells, expected {}\n", path,
                   table.word(row, "directions"), table.word(row, "immersion"), got,
                   table.word(row, "stable_cells"));
    }
}

void report_all(const std::string& folder) {
    report_radii(folder + "/benchmark_radii.csv");
    report_limits(folder + "/benchmark_limits.csv", benchmark_of);
    report_limits(folder + "/case_m1_limits.csv", [](const Table& table, std::size_t row) {
        return reference::m1_system(table.number(row, "helix_deg"), table.number(row, "immersion"));
    });
    report_limits(folder + "/example_a_limits.csv", [](const Table& table, std::size_t row) {
        return reference::example_a_system(static_cast<int>(table.number(row, "teeth")),
                                           reference::milling_of(table.word(row, "milling")));
    });
    fmt::print("The next by real modes that stand for complex residues, hence rough:\n");
    report_limits(folder + "/example_b_limits.csv",
                  [](const Table&, std::size_t) { return reference::example_b_system(); });
    report_areas(folder + "/benchmark_areas.csv");
}

}  // namespace
}  // namespace standfast

int main(int count, char** words) {
    try {
        standfast::report_all(count > 1 ? words[1] : "validation/cases/stability");
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 1;
    }
    return 0;
}

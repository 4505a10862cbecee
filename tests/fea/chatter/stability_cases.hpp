#pragma once

#include <cmath>
#include <complex>
#include <fstream>
#include <numbers>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "tests/fea/chatter/milling_cases.hpp"

// The milling cases of validation/cases/stability, and a reader of its tables.
namespace standfast::reference {

/// Rows of words under one row of column names; lines that start with # say where they are from.
struct Table {
    std::vector<std::string> columns;
    std::vector<std::vector<std::string>> rows;

    const std::string& word(std::size_t row, const std::string& column) const {
        for (std::size_t k = 0; k < columns.size(); ++k) {
            if (columns[k] == column) return rows[row][k];
        }
        throw std::runtime_error("no column " + column);
    }
    double number(std::size_t row, const std::string& column) const {
        return std::stod(word(row, column));
    }
};

inline std::vector<std::string> split_at_commas(const std::string& line) {
    std::vector<std::string> words;
    std::istringstream stream(line);
    for (std::string word; std::getline(stream, word, ',');) words.push_back(word);
    return words;
}

inline Table read_table(const std::string& path) {
    std::ifstream file(path);
    if (!file) throw std::runtime_error("cannot open " + path);
    Table table;
    for (std::string line; std::getline(file, line);) {
        if (line.empty() || line[0] == '#') continue;
        if (table.columns.empty()) {
            table.columns = split_at_commas(line);
        } else {
            table.rows.push_back(split_at_commas(line));
        }
    }
    return table;
}

inline Milling milling_of(const std::string& word) {
    return word == "up" ? Milling::up : Milling::down;
}

inline DelaySystem system_of(const std::vector<TabledMode>& modes, const CutterGeometry& cutter,
                             double immersion, Milling milling) {
    DelaySystem system{receptance_of(modes), cutter, {}, {}};
    system.engagement = engagement(immersion >= 1 ? Milling::slot : milling,
                                   immersion * cutter.diameter, cutter.diameter);
    return system;
}

/// One mode along x, or the same one along x and y; two straight teeth.
inline DelaySystem benchmark_system(int directions, double immersion, Milling milling) {
    const double w = 2 * std::numbers::pi * 922;
    std::vector<TabledMode> modes{{922, 0.011, 0.03993 * w * w, 1, 0}};
    if (directions == 2) modes.push_back({922, 0.011, 0.03993 * w * w, 0, 1});
    DelaySystem system = system_of(modes, even_cutter(2, 0.010), immersion, milling);
    system.law.tangential = 6e8;
    system.law.radial = 2e8;
    return system;
}

inline DelaySystem m1_system(double helix_degrees, double immersion) {
    DelaySystem system =
        system_of(case_m1_modes(), even_cutter(4, 0.012, helix_degrees), immersion, Milling::down);
    system.law.tangential = 1650e6;
    system.law.radial = 0.45 * 1650e6;
    return system;
}

inline DelaySystem example_a_system(int teeth, Milling milling) {
    DelaySystem system = system_of({{603, 0.039, 5.59e6, 1, 0}, {666, 0.035, 5.715e6, 0, 1}},
                                   even_cutter(teeth, 0.010), 0.5, milling);
    system.law.tangential = 600e6;
    system.law.radial = 0.07 * 600e6;
    return system;
}

/// A mode by its pole and a residue sigma + i nu of first order, m/(N s), along one axis:
/// G(s) = R/(s - p) + conj. Its complex shape u has u^2/(2 i w_d) = R.
inline ModalTerm residue_mode(double hertz, double damping, std::complex<double> residue,
                              int axis) {
    const double wd = 2 * std::numbers::pi * hertz * std::sqrt(1 - damping * damping);
    const std::complex<double> shape =
        std::sqrt(std::complex<double>(0, 2) * residue) * std::sqrt(wd);
    return {.frequency = AngularFrequency::from_hertz(hertz),
            .damping_ratio = damping,
            .shape = Eigen::Vector3d::Unit(axis) * shape.real(),
            .out_of_phase = Eigen::Vector3d::Unit(axis) * shape.imag()};
}

/// With its complex residues (averaged_reference.hpp says whose they are).
inline DelaySystem example_b_system() {
    DelaySystem system = system_of({}, even_cutter(2, 0.03175), 0.5, Milling::down);
    system.receptance.terms = {residue_mode(452.77, 0.123718, {9.202966e-5, -1.862195e-4}, 0),
                               residue_mode(1448.53, 0.01651, {-4.181562e-5, -3.043618e-4}, 0),
                               residue_mode(516.17, 0.0243, {-2.3929e-6, -1.721539e-4}, 1),
                               residue_mode(1407.64, 0.0324, {4.055052e-5, -3.618808e-4}, 1)};
    system.law.tangential = 1319.4e6;
    system.law.radial = 788.8e6;
    return system;
}

}  // namespace standfast::reference

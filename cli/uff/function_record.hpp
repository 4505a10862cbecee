#pragma once

#include <array>
#include <complex>
#include <optional>
#include <string>
#include <vector>

namespace standfast {

// Room "uff" of the cli: measurements in universal files (dataset 58, "function at nodal degree of
// freedom", text and binary) and in CSV, as plain data. The layout of dataset 58 is from memory of
// the open description kept by the University of Cincinnati, checked against sample files.

/// Numbers that an axis may carry as its kind, of dataset 58.
constexpr int kAxisUnknown = 0, kAxisDisplacement = 8, kAxisVelocity = 11, kAxisAcceleration = 12,
              kAxisForce = 13, kAxisPressure = 15, kAxisTime = 17, kAxisFrequency = 18;

/// What one axis of a record means.
struct RecordAxis {
    int kind = kAxisUnknown;
    std::array<int, 3> exponents{};  ///< of length, force, temperature
    std::string label, unit;
};

/// Where a sensor sat or a hammer struck. Direction: 1, 2, 3 = +x, +y, +z, negative the other
/// way, 4 to 6 about them, 0 a scalar.
struct RecordPlace {
    std::string name;
    int node = 0;
    int direction = 0;
};

/// How the numbers were stored.
enum class StoredAs { real_single = 2, real_double = 4, complex_single = 5, complex_double = 6 };

/// Numbers that a record may carry as its function type.
constexpr int kTimeResponse = 1, kFrequencyResponse = 4;

/// One record: a function of time, frequency or what the abscissa says.
struct FunctionRecord {
    std::array<std::string, 5> notes;  ///< free text, 80 columns each
    int function_type = 0, function_number = 0, version = 0, load_case = 0;
    RecordPlace response, reference;
    StoredAs stored_as = StoredAs::real_single;
    bool even = true;            ///< x = start + i step
    double start = 0, step = 0;  ///< of an even record
    double z = 0;
    RecordAxis abscissa, ordinate, denominator, z_axis;
    std::vector<double> x;
    std::vector<std::complex<double>> y;  ///< same size as x; real records have no imaginary part
};

/// Dataset 164: what to divide by to come to metres and newtons.
struct FileUnits {
    std::string name;
    double length = 1, force = 1;
};

struct UniversalFile {
    std::vector<FunctionRecord> records;
    std::optional<FileUnits> units;        ///< none: SI
    std::vector<std::string> passed_over;  ///< other datasets that the file has, by number
};

}  // namespace standfast

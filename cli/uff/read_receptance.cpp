#include "cli/uff/read_receptance.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <numbers>

#include "cli/uff/measurement_error.hpp"
#include "cli/uff/read_uff.hpp"

namespace standfast {
namespace {

int derivatives_of(int axis_kind) {
    return axis_kind == kAxisVelocity ? 1 : axis_kind == kAxisAcceleration ? 2 : 0;
}

bool is_universal(std::string_view bytes) {
    const std::size_t first = bytes.find_first_not_of(" \t\r\n");
    return first != std::string_view::npos && bytes.substr(first, 2) == "-1";
}

std::string list_of_records(const UniversalFile& file) {
    std::string list;
    for (std::size_t i = 0; i < file.records.size(); ++i) {
        const FunctionRecord& record = file.records[i];
        list += fmt::format("\n  {}: {}", i + 1,
                            record.response.name.empty() ? record.notes[0] : record.response.name);
    }
    return list;
}

MeasuredReceptance from_universal(const UniversalFile& file, const std::string& path,
                                  const std::string& which) {
    std::size_t number = 1;
    if (!which.empty()) {
        const auto [end, error] =
            std::from_chars(which.data(), which.data() + which.size(), number);
        if (error != std::errc() || end != which.data() + which.size() || number < 1 ||
            number > file.records.size()) {
            throw MeasurementError(fmt::format("{}: has no record \"{}\"; it has:{}", path, which,
                                               list_of_records(file)));
        }
    } else if (file.records.size() > 1) {
        throw MeasurementError(fmt::format(
            "{}: has {} records; say which by its number, as column in a job or --column:{}", path,
            file.records.size(), list_of_records(file)));
    }
    return receptance_of_record(file.records[number - 1], file,
                                fmt::format("{}, record {}", path, number));
}

/// What an abscissa of frequencies counts in, by its label; Hz where it has none.
double hertz_per_unit(const RecordAxis& axis, const std::string& name) {
    std::string unit;
    for (const char letter : axis.unit) {
        if (letter != ' ')
            unit += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
    }
    if (unit == "rad/s" || unit == "rad/sec") return 1 / (2 * std::numbers::pi);
    if (unit == "khz") return 1000;
    if (unit == "rpm" || unit == "1/min") return 1.0 / 60;
    if (unit.empty() || unit == "hz" || unit == "none" || unit == "null") return 1;
    throw MeasurementError(fmt::format(
        "{}: its frequencies are in \"{}\"; Hz, kHz, rad/s and rpm are read", name, axis.unit));
}

/// Decibels in the place of values of motion over force.
void refuse_decibels(const RecordAxis& axis, const std::string& name) {
    if (axis.unit.starts_with("dB") || axis.unit.starts_with("db")) {
        throw MeasurementError(fmt::format(
            "{}: its ordinate is in \"{}\"; a universal file holds complex values of motion over "
            "force: write it so, or as CSV with magnitude (dB re 1 m/N) and phase",
            name, axis.unit));
    }
}

}  // namespace

MeasuredReceptance receptance_of_record(const FunctionRecord& record, const UniversalFile& file,
                                        const std::string& name) {
    const bool by_frequency =
        record.function_type == kFrequencyResponse || record.abscissa.kind == kAxisFrequency;
    if (!by_frequency) {
        throw MeasurementError(fmt::format(
            "{}: is a record over time or something else, not a frequency response", name));
    }
    const RecordAxis& ordinate = record.ordinate;
    refuse_decibels(ordinate, name);
    if (record.denominator.kind != kAxisForce && record.denominator.kind != kAxisUnknown) {
        throw MeasurementError(fmt::format("{}: is not motion over force", name));
    }
    const MotionUnit by_label = motion_unit(ordinate.unit);
    const MotionUnit force = motion_unit("m/" + record.denominator.unit);
    const bool kind_known = ordinate.kind == kAxisDisplacement || ordinate.kind == kAxisVelocity ||
                            ordinate.kind == kAxisAcceleration;
    if (!kind_known && !by_label.known) {
        throw MeasurementError(fmt::format(
            "{}: its ordinate is neither displacement, velocity nor acceleration (kind {}, unit "
            "\"{}\")",
            name, ordinate.kind, ordinate.unit));
    }
    const int derivatives = kind_known ? derivatives_of(ordinate.kind) : by_label.derivatives;
    double factor = by_label.known ? by_label.factor : file.units ? 1 / file.units->length : 1;
    const bool force_in_label = ordinate.unit.find("/N") != std::string::npos ||
                                ordinate.unit.find("/lbf") != std::string::npos;
    if (!force_in_label) {
        factor *= force.known ? force.factor : file.units ? file.units->force : 1;
    }
    const double hertz = hertz_per_unit(record.abscissa, name);
    MeasuredReceptance measured;
    measured.response_direction = record.response.direction;
    measured.reference_direction = record.reference.direction;
    for (std::size_t i = 0; i < record.x.size(); ++i) {
        const AngularFrequency frequency = AngularFrequency::from_hertz(hertz * record.x[i]);
        if (!(record.x[i] > 0)) {
            continue;
        }
        const std::complex<double> differentiated =
            std::pow(std::complex<double>(0, frequency.radians_per_second), derivatives);
        measured.frequency.push_back(frequency);
        measured.receptance.push_back(factor * record.y[i] / differentiated);
    }
    return measured;
}

MeasuredReceptance read_receptance(const std::string& path, const std::string& which) {
    const std::string bytes = measurement_bytes(path);
    MeasuredReceptance measured = is_universal(bytes)
                                      ? from_universal(parse_uff(bytes, path), path, which)
                                      : parse_receptance_csv(bytes, path, which);
    for (std::size_t i = 1; i < measured.frequency.size(); ++i) {
        if (!(measured.frequency[i].radians_per_second >
              measured.frequency[i - 1].radians_per_second)) {
            throw MeasurementError(fmt::format(
                "{}: frequencies must ascend; {:.6g} Hz follows "
                "{:.6g} Hz",
                path, measured.frequency[i].hertz(), measured.frequency[i - 1].hertz()));
        }
    }
    if (measured.frequency.size() < 8) {
        throw MeasurementError(fmt::format("{}: has {} frequencies above 0; at least 8 are needed",
                                           path, measured.frequency.size()));
    }
    return measured;
}

}  // namespace standfast

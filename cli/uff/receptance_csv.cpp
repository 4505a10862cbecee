#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <map>
#include <numbers>
#include <optional>

#include "cli/uff/byte_cursor.hpp"
#include "cli/uff/read_receptance.hpp"
#include "cli/uff/scan_number.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {
namespace {

constexpr double kHighest = 1e9;  // Hz; nothing mechanical is measured there

enum class Part { real, imaginary, magnitude, phase, coherence, other };

struct Column {
    std::string name;  ///< without part and unit
    Part part = Part::other;
    MotionUnit unit{.known = true};
    double angle = std::numbers::pi / 180;  ///< rad per unit of a phase
    double hertz = 1;                       ///< Hz per unit of a frequency
    bool decibels = false;                  ///< 20 log10 of the magnitude in `unit`
};

std::string lower(std::string_view text) {
    std::string low;
    for (const char letter : text) {
        low += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
    }
    return low;
}

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view kSpace = " \t\r\"";
    const std::size_t first = text.find_first_not_of(kSpace);
    return first == std::string_view::npos
               ? std::string_view()
               : text.substr(first, text.find_last_not_of(kSpace) - first + 1);
}

char separator_of(std::string_view line) {
    for (const char candidate : {';', '\t', ','}) {
        if (line.find(candidate) != std::string_view::npos) {
            return candidate;
        }
    }
    return ' ';
}

std::vector<std::string> cells_of(std::string_view line, char separator) {
    std::vector<std::string> cells;
    std::size_t start = 0;
    while (start <= line.size()) {
        const std::size_t end = std::min(line.find(separator, start), line.size());
        const std::string_view cell = trimmed(line.substr(start, end - start));
        if (!cell.empty() || separator != ' ') {
            cells.emplace_back(cell);
        }
        start = end + 1;
    }
    return cells;
}

/// The unit of a column: of an angle, a frequency, decibels, or motion over force.
void read_unit(const ByteCursor& cursor, const std::string& cell, const std::string& unit,
               Column& column) {
    const std::string low = lower(trimmed(unit));
    if (low.empty() || low == "-" || low == "1" || low == "hz" || low == "deg" ||
        low == "degrees") {
        return;
    }
    if (low == "khz") {
        column.hertz = 1000;
        return;
    }
    if (low == "rad/s" || low == "1/s") {
        column.hertz = 1 / (2 * std::numbers::pi);
        return;
    }
    if (low == "rad" || low == "radians") {
        column.angle = 1;
        return;
    }
    std::string motion = unit;
    if (low.starts_with("db")) {
        column.decibels = true;
        // "dB re 1 m/N", "dB (m/N)", "dB": the reference is one of the unit, m/N unless said.
        motion = std::string(trimmed(trimmed(unit).substr(2)));
        for (const std::string_view word : {"re", "rel", "1"}) {
            if (lower(motion).starts_with(std::string(word) + " ")) {
                motion = std::string(trimmed(std::string_view(motion).substr(word.size())));
            }
        }
        if (motion.empty()) {
            return;
        }
    }
    column.unit = motion_unit(motion);
    if (!column.unit.known) {
        cursor.fail(fmt::format(
            "column \"{}\": the unit is not known; it is m/N, um/N, in/lbf, m/s^2/N, g/N or the "
            "like, dB re one of these, Hz, kHz or rad/s, deg or rad",
            cell));
    }
}

Column column_of(const ByteCursor& cursor, const std::string& cell) {
    Column column;
    std::string name = cell;
    const std::size_t open = name.find_first_of("([");
    if (open != std::string::npos) {
        const std::size_t close = name.find_last_of(")]");
        const std::string unit =
            name.substr(open + 1, close == std::string::npos ? close : close - open - 1);
        read_unit(cursor, cell, unit, column);
        name = name.substr(0, open);
    }
    name = lower(trimmed(name));
    for (const std::string_view ending : {"_db", " db"}) {
        if (name.ends_with(ending)) {
            column.decibels = true;
            name.resize(name.size() - ending.size());
        }
    }
    constexpr std::array<std::pair<std::string_view, Part>, 9> kEndings{
        {{"imaginary", Part::imaginary},
         {"imag", Part::imaginary},
         {"im", Part::imaginary},
         {"real", Part::real},
         {"re", Part::real},
         {"magnitude", Part::magnitude},
         {"mag", Part::magnitude},
         {"phase", Part::phase},
         {"coherence", Part::coherence}}};
    for (const auto& [ending, part] : kEndings) {
        const bool whole = name == ending;
        if (whole || (name.ends_with(ending) && std::isalnum(static_cast<unsigned char>(
                                                    name[name.size() - ending.size() - 1])) == 0)) {
            column.part = part;
            name.resize(whole ? 0 : name.size() - ending.size() - 1);
            break;
        }
    }
    if (column.decibels && column.part == Part::other) {
        column.part = Part::magnitude;
    }
    column.name = name;
    return column;
}

/// Numbers of the columns that make up the receptance.
struct Chosen {
    std::size_t frequency = 0, first = 1, second = 2;
    bool polar = false;
    MotionUnit unit{.known = true};
    std::size_t columns = 3;
    bool decibels = false;
    double angle = std::numbers::pi / 180, hertz = 1;
    std::optional<std::size_t> coherence;
};

/// The first column of each name and part, found at once in a table of any width.
class PartnerColumns {
public:
    explicit PartnerColumns(const std::vector<Column>& columns) {
        for (std::size_t i = 0; i < columns.size(); ++i) {
            first_.try_emplace({columns[i].part, columns[i].name}, i);
        }
    }
    std::optional<std::size_t> of(Part part, const std::string& name) const {
        const auto found = first_.find({part, name});
        return found == first_.end() ? std::nullopt : std::optional(found->second);
    }

    /// The coherence that goes with a receptance: of its own name, or the one without a name.
    std::optional<std::size_t> coherence_of(const std::string& name) const {
        const std::optional<std::size_t> own = of(Part::coherence, name);
        return own ? own : of(Part::coherence, std::string());
    }

private:
    std::map<std::pair<Part, std::string>, std::size_t> first_;
};

Chosen choose(const ByteCursor& cursor, const std::vector<std::string>& header,
              const std::string& which) {
    std::vector<Column> columns;
    std::vector<std::string> names;
    for (const std::string& cell : header) {
        columns.push_back(column_of(cursor, cell));
    }
    std::optional<std::size_t> frequency;
    for (std::size_t i = 0; i < columns.size() && !frequency; ++i) {
        if (lower(header[i]).find("freq") != std::string::npos || lower(header[i]) == "hz" ||
            lower(header[i]) == "f" || lower(header[i]).starts_with("omega")) {
            frequency = i;
        }
    }
    if (frequency && lower(header[*frequency]).starts_with("omega")) {
        columns[*frequency].hertz = 1 / (2 * std::numbers::pi);
    }
    std::optional<Chosen> chosen;
    const PartnerColumns partners(columns);
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const Part part = columns[i].part;
        if (part != Part::real && part != Part::magnitude) {
            continue;
        }
        const Part partner = part == Part::real ? Part::imaginary : Part::phase;
        const std::optional<std::size_t> other = partners.of(partner, columns[i].name);
        if (!other) {
            continue;
        }
        names.push_back(columns[i].name);
        if (which.empty() || lower(which) == columns[i].name) {
            chosen = Chosen{.frequency = frequency.value_or(0),
                            .first = i,
                            .second = *other,
                            .polar = part == Part::magnitude,
                            .unit = columns[i].unit,
                            .columns = columns.size(),
                            .decibels = columns[i].decibels,
                            .angle = columns[*other].angle,
                            .hertz = columns[frequency.value_or(0)].hertz,
                            .coherence = partners.coherence_of(columns[i].name)};
        }
    }
    constexpr std::size_t kMostListed = 20;
    const std::size_t shown = std::min(names.size(), kMostListed);
    std::string listed =
        fmt::format("{}", fmt::join(names.begin(), names.begin() + static_cast<long>(shown), ", "));
    if (names.size() > shown) {
        listed += fmt::format(" and {} more", names.size() - shown);
    }
    if (names.empty()) {
        cursor.fail(
            "no pair of columns NAME_re and NAME_im (or magnitude and phase) is named here");
    }
    if (!chosen) {
        const auto near = nearest_name(which, names);
        cursor.fail(fmt::format("there is no column \"{}\"{}; it has: {}", which,
                                near ? fmt::format(", did you mean \"{}\"?", *near) : "", listed));
    }
    if (which.empty() && names.size() > 1) {
        cursor.fail(fmt::format(
            "has {} receptances; say which by its name, as column in a job or --column: {}",
            names.size(), listed));
    }
    return *chosen;
}

double number_in(const ByteCursor& cursor, const std::vector<std::string>& cells,
                 std::size_t column, char separator) {
    std::string cell = column < cells.size() ? cells[column] : "";
    if (separator != ',') {
        std::ranges::replace(cell, ',', '.');
    }
    std::string_view rest = cell;
    const std::optional<double> value = scan_number(rest);
    if (!value || !trimmed(rest).empty() || !std::isfinite(*value)) {
        cursor.fail(fmt::format("column {} is \"{}\", must be a finite number", column + 1,
                                cell.substr(0, 40)));
    }
    return *value;
}

std::complex<double> value_of(double first, double second, double hertz, const Chosen& chosen) {
    const double magnitude = chosen.decibels ? std::pow(10.0, first / 20) : first;
    const std::complex<double> value = chosen.polar
                                           ? std::polar(1.0, second * chosen.angle) * magnitude
                                           : std::complex<double>(first, second);
    const std::complex<double> differentiated =
        std::pow(std::complex<double>(0, 2 * std::numbers::pi * hertz), chosen.unit.derivatives);
    return chosen.unit.factor * value / differentiated;
}

bool is_number(const std::string& cell) {
    std::string_view rest = cell;
    return scan_number(rest).has_value() && trimmed(rest).empty();
}

}  // namespace

MeasuredReceptance parse_receptance_csv(std::string_view bytes, const std::string& name,
                                        const std::string& which) {
    ByteCursor cursor(bytes, name);
    if (trimmed(bytes.substr(0, 4096)).empty() && bytes.size() < 4096) {
        cursor.fail("the file is empty");
    }
    MeasuredReceptance measured;
    std::optional<Chosen> chosen;
    while (!cursor.at_end()) {
        const std::string_view line = trimmed(cursor.peek_line());
        if (line.empty() || line.starts_with("#")) {
            cursor.next_line();
            continue;
        }
        const char separator = separator_of(line);
        const std::vector<std::string> cells = cells_of(line, separator);
        if (!chosen && is_number(cells.front())) {
            chosen = Chosen{};
        } else if (!chosen) {
            chosen = choose(cursor, cells, which);
            cursor.next_line();
            continue;
        }
        const double hertz = chosen->hertz * number_in(cursor, cells, chosen->frequency, separator);
        const double first = number_in(cursor, cells, chosen->first, separator);
        const double second = number_in(cursor, cells, chosen->second, separator);
        if (hertz < 0) {
            cursor.fail(fmt::format("the frequency is {}, must not be below 0", hertz));
        }
        if (hertz > kHighest) {
            cursor.fail(
                fmt::format("the frequency is {} Hz, must be at most {} Hz", hertz, kHighest));
        }
        if (hertz > 0) {
            const std::complex<double> value = value_of(first, second, hertz, *chosen);
            if (!std::isfinite(value.real()) || !std::isfinite(value.imag())) {
                cursor.fail("its value is beyond any receptance");
            }
            measured.frequency.push_back(AngularFrequency::from_hertz(hertz));
            measured.receptance.push_back(value);
            if (chosen->coherence) {
                const double coherence = number_in(cursor, cells, *chosen->coherence, separator);
                if (coherence < 0 || coherence > 1.000001) {
                    cursor.fail(fmt::format("the coherence is {}, must be from 0 to 1", coherence));
                }
                measured.coherence.push_back(std::min(coherence, 1.0));
            }
        }
        cursor.next_line();
    }
    return measured;
}

}  // namespace standfast

#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "materials/units.hpp"

namespace standfast {

/// What the value of a key may be.
struct Form {
    enum class Kind {
        text,      ///< any text
        word,      ///< one of `words`
        name,      ///< a text that names a row of the catalogue or of the job
        truth,     ///< true or false
        whole,     ///< a bare whole number
        number,    ///< a bare number
        quantity,  ///< a text: a number with a unit of one of `quantities`
        list,      ///< `least` to `most` of forms.front()
        table,     ///< the table called `table`
        tables,    ///< a list of them, [[table]]
        named,     ///< a table whose keys are names and whose values are forms.front()
        either     ///< one of `forms`
    };
    /// Where the names come from that a name may be.
    enum class Names { job, materials, cutting, machines, joints, tapers, grips };

    Kind kind = Kind::text;
    Names names = Names::job;
    std::vector<std::string_view> words{};
    std::vector<Quantity> quantities{};
    std::optional<double> low{}, high{};
    bool above_low = false;  ///< low itself is refused
    std::vector<Form> forms{};
    std::size_t least = 0, most = 0;
    std::string_view table{};
};

/// A key of a table.
struct Key {
    std::string_view name;
    Form form;
    std::string_view meaning;  ///< in a few words; may be empty where the name says it
    bool required = false;     ///< in every such table
};

/// The keys of one kind of table.
struct TableKeys {
    std::string_view name;    ///< "tier.joint"; empty: the top of the file
    std::string_view header;  ///< as a job writes it, "[[tier]]"; empty: inside another table
    std::string_view meaning;
    std::vector<Key> keys;
    /// At least one of these groups is there whole; empty: nothing of the kind.
    std::vector<std::vector<std::string_view>> one_of{};
};

// Short hands for the lists of keys.
namespace form {

Form text();
Form word(std::vector<std::string_view> words);
Form name(Form::Names names = Form::Names::job);
Form truth();
Form whole(int low, int high);
Form number(std::optional<double> low, std::optional<double> high, bool above_low = false);
Form quantity(std::vector<Quantity> quantities);
/// A share, bare or in percent.
Form fraction(std::optional<double> low, std::optional<double> high, bool above_low = false);
Form length();
Form angle();
Form list(Form item, std::size_t least, std::size_t most);
/// Three lengths.
Form place();
/// "x", "-z" or three bare numbers.
Form direction();
/// One value for both directions, or two.
Form one_or_two(Quantity quantity);
Form table(std::string_view name);
Form tables(std::string_view name);
Form named(Form value);
Form either(std::vector<Form> forms);

}  // namespace form

}  // namespace standfast

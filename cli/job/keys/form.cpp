#include "cli/job/keys/form.hpp"

#include <utility>

namespace standfast::form {

Form text() { return {.kind = Form::Kind::text}; }

Form word(std::vector<std::string_view> words) {
    return {.kind = Form::Kind::word, .words = std::move(words)};
}

Form name(Form::Names names) { return {.kind = Form::Kind::name, .names = names}; }

Form truth() { return {.kind = Form::Kind::truth}; }

Form whole(int low, int high) { return {.kind = Form::Kind::whole, .low = low, .high = high}; }

Form number(std::optional<double> low, std::optional<double> high, bool above_low) {
    return {.kind = Form::Kind::number, .low = low, .high = high, .above_low = above_low};
}

Form quantity(std::vector<Quantity> quantities) {
    return {.kind = Form::Kind::quantity, .quantities = std::move(quantities)};
}

Form fraction(std::optional<double> low, std::optional<double> high, bool above_low) {
    return either({number(low, high, above_low), quantity({Quantity::percent})});
}

Form length() { return quantity({Quantity::length}); }

Form angle() { return quantity({Quantity::angle}); }

Form list(Form item, std::size_t least, std::size_t most) {
    return {.kind = Form::Kind::list, .forms = {std::move(item)}, .least = least, .most = most};
}

Form place() { return list(length(), 3, 3); }

Form direction() {
    return either(
        {word({"x", "y", "z", "+x", "+y", "+z", "-x", "-y", "-z"}), list(number(-1e9, 1e9), 3, 3)});
}

Form one_or_two(Quantity one) { return either({quantity({one}), list(quantity({one}), 2, 2)}); }

Form table(std::string_view name) { return {.kind = Form::Kind::table, .table = name}; }

Form tables(std::string_view name) { return {.kind = Form::Kind::tables, .table = name}; }

Form named(Form value) { return {.kind = Form::Kind::named, .forms = {std::move(value)}}; }

Form either(std::vector<Form> forms) {
    return {.kind = Form::Kind::either, .forms = std::move(forms)};
}

}  // namespace standfast::form

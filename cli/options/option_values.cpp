#include "cli/options/option_values.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <charconv>
#include <cmath>
#include <string>
#include <utility>

#include "cli/files/usage_error.hpp"
#include "materials/nearest_name.hpp"
#include "materials/units.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostSpeeds = 100'000;

[[noreturn]] void refuse_speeds(std::string_view text, std::string_view reason) {
    throw UsageError(fmt::format(
        "--speeds \"{}\": {}; accepted: a list, as in \"5100 5500 rpm\", or steps, as in "
        "\"3000 to 10000 by 50 rpm\"",
        text, reason));
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : text) {
        if (c != ' ' && c != '\t' && c != ',') {
            word += c;
        } else if (!word.empty()) {
            words.push_back(std::exchange(word, {}));
        }
    }
    if (!word.empty()) {
        words.push_back(word);
    }
    return words;
}

/// Takes the unit off the end: a word of its own, or what follows the last number's digits.
std::string take_unit(std::vector<std::string>& words) {
    std::string& last = words.back();
    const std::size_t digits = last.find_last_of("0123456789.");
    if (digits == std::string::npos) {
        std::string unit = last;
        words.pop_back();
        return unit;
    }
    std::string unit = last.substr(digits + 1);
    last.resize(digits + 1);
    return unit;
}

SpindleSpeed parse_speed(std::string_view whole, const std::string& number,
                         const std::string& unit) {
    const ParsedQuantity read = parse_quantity(number + " " + unit, Quantity::rotational_speed);
    if (!read.error.empty()) {
        refuse_speeds(whole, read.error);
    }
    if (!(read.value > 0)) {
        refuse_speeds(whole, fmt::format("\"{}\" is not a speed above 0", number));
    }
    return {read.value};
}

std::vector<SpindleSpeed> steps(std::string_view text, SpindleSpeed from, SpindleSpeed to,
                                SpindleSpeed by) {
    if (to < from) {
        refuse_speeds(text, "the first speed is above the last");
    }
    // A step that meets the end only up to rounding still includes it.
    const double count =
        std::floor((to.radians_per_second - from.radians_per_second) / by.radians_per_second +
                   1e-9) +
        1;
    if (count > static_cast<double>(kMostSpeeds)) {
        refuse_speeds(text, fmt::format("that is more than {} speeds", kMostSpeeds));
    }
    std::vector<SpindleSpeed> speeds;
    for (std::size_t i = 0; i < static_cast<std::size_t>(count); ++i) {
        speeds.push_back(
            {from.radians_per_second + static_cast<double>(i) * by.radians_per_second});
    }
    return speeds;
}

}  // namespace

std::vector<SpindleSpeed> parse_speeds(std::string_view text) {
    std::vector<std::string> words = words_of(text);
    if (words.empty()) {
        refuse_speeds(text, "no speed is given");
    }
    const std::string unit = take_unit(words);
    if (unit.empty()) {
        refuse_speeds(text, "the unit is missing");
    }
    if (words.size() == 5 && words[1] == "to" && words[3] == "by") {
        return steps(text, parse_speed(text, words[0], unit), parse_speed(text, words[2], unit),
                     parse_speed(text, words[4], unit));
    }
    if (words.empty()) {
        refuse_speeds(text, "no speed is given");
    }
    if (words.size() > kMostSpeeds) {
        refuse_speeds(text, fmt::format("that is more than {} speeds", kMostSpeeds));
    }
    std::vector<SpindleSpeed> speeds;
    speeds.reserve(words.size());
    for (const std::string& word : words) {
        speeds.push_back(parse_speed(text, word == unit ? "" : word, unit));
    }
    return speeds;
}

double parse_measure(std::string_view option, std::string_view text, Quantity quantity) {
    const ParsedQuantity read = parse_quantity(text, quantity);
    if (!read.error.empty()) {
        throw UsageError(fmt::format("{} \"{}\": {}", option, text, read.error));
    }
    if (!(read.value > 0)) {
        throw UsageError(fmt::format("{} \"{}\": accepted: {} above 0", option, text,
                                     accepted_example(quantity)));
    }
    return read.value;
}

double parse_seconds(std::string_view option, std::string_view text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) {
        const ParsedQuantity read = parse_quantity(text, Quantity::time);
        if (!read.error.empty()) {
            throw UsageError(fmt::format("{} \"{}\": accepted: seconds, as in 1.5", option, text));
        }
        value = read.value;
    }
    if (!std::isfinite(value) || value < 0) {
        throw UsageError(fmt::format("{} \"{}\": accepted: seconds from 0 on", option, text));
    }
    return value;
}

long long parse_whole(std::string_view option, std::string_view text, long long low,
                      long long high) {
    long long value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || value < low || value > high) {
        throw UsageError(fmt::format("{} \"{}\": accepted: a whole number from {} to {}", option,
                                     text, low, high));
    }
    return value;
}

Shard parse_shard(std::string_view text) {
    constexpr long long kMostShards = 100'000;
    const std::size_t slash = text.find('/');
    if (slash == std::string_view::npos) {
        throw UsageError(fmt::format(
            "--shard \"{}\": accepted: K/N, as in 3/8, the third share of eight", text));
    }
    const long long count = parse_whole("--shard N of", text.substr(slash + 1), 1, kMostShards);
    const long long index = parse_whole("--shard K of", text.substr(0, slash), 1, count);
    return {static_cast<std::size_t>(index), static_cast<std::size_t>(count)};
}

std::size_t parse_word(std::string_view option, std::string_view text,
                       const std::vector<std::string>& words) {
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (words[i] == text) {
            return i;
        }
    }
    const auto nearest = nearest_name(text, words);
    throw UsageError(fmt::format("{} \"{}\": accepted: {}{}", option, text, fmt::join(words, ", "),
                                 nearest ? fmt::format("; did you mean \"{}\"?", *nearest) : ""));
}

}  // namespace standfast

#include "materials/nearest_name.hpp"

#include <algorithm>
#include <cctype>

namespace standfast {
namespace {

std::string lower_case(std::string_view text) {
    std::string result(text);
    std::transform(result.begin(), result.end(), result.begin(), [](char c) {
        return static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    });
    return result;
}

// Optimal string alignment distance: Wagner and Fischer, J. ACM 21 (1974) 168-173, with swaps of
// neighbours counted as one (from memory).
std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, replaced});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
        }
        std::swap(before, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

}  // namespace

std::optional<std::string> nearest_name(std::string_view word,
                                        const std::vector<std::string>& candidates) {
    // A word from a broken file may be megabytes long; no name is.
    if (word.empty() || word.size() > 200) return std::nullopt;
    const std::string given = lower_case(word);
    const std::string* best = nullptr;
    std::size_t best_distance = std::max<std::size_t>(1, (given.size() + 1) / 3);
    for (const std::string& candidate : candidates) {
        const std::size_t distance = edit_distance(given, lower_case(candidate));
        // One letter says nothing: "x" is not a misspelt "y".
        if (distance >= std::max(given.size(), candidate.size())) continue;
        if (distance < best_distance || (best == nullptr && distance == best_distance)) {
            best = &candidate;
            best_distance = distance;
        }
    }
    if (best == nullptr) return std::nullopt;
    return *best;
}

}  // namespace standfast

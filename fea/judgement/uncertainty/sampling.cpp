#include "fea/judgement/uncertainty/sampling.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kNinetyPercentQuantile = 1.2815515655446004;

double normal_probability(double value) { return 0.5 * std::erfc(-value / std::numbers::sqrt2); }

/// FNV-1a, so that a group's name, not its place in a list, picks its stream.
std::uint64_t hash_of(const std::string& text) {
    std::uint64_t hash = 14695981039346656037ULL;
    for (const char letter : text) {
        hash ^= static_cast<unsigned char>(letter);
        hash *= 1099511628211ULL;
    }
    return hash;
}

std::mt19937_64 stream_of(const std::string& group, std::uint64_t seed) {
    // seed_seq takes 32 bits at a time; the standard fixes its result, unlike the distributions'.
    const std::uint64_t hash = hash_of(group);
    std::seed_seq sequence{
        static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32U),
        static_cast<std::uint32_t>(hash), static_cast<std::uint32_t>(hash >> 32U)};
    return std::mt19937_64(sequence);
}

/// In (0, 1), never an end.
double uniform(std::mt19937_64& stream) {
    return (static_cast<double>(stream() >> 11U) + 0.5) * 0x1.0p-53;
}

void shuffle(std::vector<int>& values, std::mt19937_64& stream) {
    for (std::size_t last = values.size(); last > 1; --last) {
        const auto other = static_cast<std::size_t>(uniform(stream) * static_cast<double>(last));
        std::swap(values[last - 1], values[std::min(other, last - 1)]);
    }
}

void require_spreads(const std::vector<Spread>& spreads, int count) {
    require_positive(count, "draws", "number of draws");
    for (const Spread& spread : spreads) {
        require_between(spread.factor, 1, 1e6, "draws", "10-90 % factor of " + spread.group);
    }
}

template <typename Column>
Draws draws_with(const std::vector<Spread>& spreads, int count, const Column& probabilities) {
    require_spreads(spreads, count);
    Draws draws;
    draws.factor.resize(count, static_cast<Eigen::Index>(spreads.size()));
    for (std::size_t index = 0; index < spreads.size(); ++index) {
        draws.group.push_back(spreads[index].group);
        const double deviation = log_deviation(spreads[index].factor);
        const std::vector<double> probability = probabilities(spreads[index].group);
        for (int draw = 0; draw < count; ++draw) {
            draws.factor(draw, static_cast<Eigen::Index>(index)) =
                std::exp(deviation * normal_quantile(probability[static_cast<std::size_t>(draw)]));
        }
    }
    return draws;
}

}  // namespace

double ten_ninety_factor(double log_deviation) {
    return std::exp(kNinetyPercentQuantile * log_deviation);
}

double log_deviation(double ten_ninety_factor) {
    return std::log(ten_ninety_factor) / kNinetyPercentQuantile;
}

double normal_quantile(double probability) {
    require_between(probability, 1e-300, 1 - 1e-16, "normal quantile", "probability");
    if (probability > 0.5) return -normal_quantile(1 - probability);
    // Tail asymptote or straight line to start from, then Halley's method on the error function.
    double value = probability > 0.02 ? (probability - 0.5) * std::sqrt(2 * std::numbers::pi)
                                      : -std::sqrt(-2 * std::log(2.5 * probability));
    for (int step = 0; step < 60; ++step) {
        const double density = std::exp(-value * value / 2) / std::sqrt(2 * std::numbers::pi);
        const double newton = (normal_probability(value) - probability) / density;
        const double change = newton / (1 + value * newton / 2);
        value -= change;
        if (std::abs(change) <= 1e-15 * (1 + std::abs(value))) break;
    }
    return value;
}

Draws latin_hypercube(const std::vector<Spread>& spreads, int count, std::uint64_t seed) {
    return draws_with(spreads, count, [&](const std::string& group) {
        std::mt19937_64 stream = stream_of(group, seed);
        std::vector<int> share(static_cast<std::size_t>(count));
        std::iota(share.begin(), share.end(), 0);
        shuffle(share, stream);
        std::vector<double> probability(share.size());
        std::transform(share.begin(), share.end(), probability.begin(),
                       [&](int index) { return (index + uniform(stream)) / count; });
        return probability;
    });
}

Draws plain_draws(const std::vector<Spread>& spreads, int count, std::uint64_t seed) {
    return draws_with(spreads, count, [&](const std::string& group) {
        std::mt19937_64 stream = stream_of(group, seed);
        std::vector<double> probability(static_cast<std::size_t>(count));
        std::generate(probability.begin(), probability.end(), [&] { return uniform(stream); });
        return probability;
    });
}

bool is_correlation(const Eigen::MatrixXd& matrix) {
    if (matrix.rows() != matrix.cols() || !matrix.allFinite()) return false;
    constexpr double kRounded = 1e-6;
    if ((matrix - matrix.transpose()).cwiseAbs().maxCoeff() > kRounded) return false;
    if ((matrix.diagonal().array() - 1).abs().maxCoeff() > kRounded) return false;
    const Eigen::MatrixXd eased =
        matrix + kRounded * Eigen::MatrixXd::Identity(matrix.rows(), matrix.cols());
    return Eigen::LLT<Eigen::MatrixXd>(eased).info() == Eigen::Success;
}

Draws hanging_together(Draws draws, const std::vector<Spread>& spreads,
                       const FittedTogether& together) {
    std::vector<Eigen::Index> column, known;
    for (std::size_t group = 0; group < draws.group.size(); ++group) {
        const auto found =
            std::find(together.groups.begin(), together.groups.end(), draws.group[group]);
        if (found == together.groups.end() || !(spreads[group].factor > 1)) continue;
        column.push_back(static_cast<Eigen::Index>(group));
        known.push_back(found - together.groups.begin());
    }
    const auto count = static_cast<Eigen::Index>(column.size());
    if (count < 2) return draws;
    Eigen::MatrixXd correlation(count, count), normal(draws.count(), count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto place = static_cast<std::size_t>(i);
        const double deviation =
            log_deviation(spreads[static_cast<std::size_t>(column[place])].factor);
        normal.col(i) = draws.factor.col(column[place]).array().log() / deviation;
        for (Eigen::Index j = 0; j < count; ++j) {
            correlation(i, j) =
                together.correlation(known[place], known[static_cast<std::size_t>(j)]) +
                (i == j ? 1e-6 : 0);
        }
    }
    const Eigen::MatrixXd lower = Eigen::LLT<Eigen::MatrixXd>(correlation).matrixL();
    const Eigen::MatrixXd mixed = normal * lower.transpose();
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto place = static_cast<std::size_t>(i);
        const double deviation =
            log_deviation(spreads[static_cast<std::size_t>(column[place])].factor);
        draws.factor.col(column[place]) = (deviation * mixed.col(i)).array().exp();
    }
    return draws;
}

double counting_error(double share, int tries) {
    // Half a try either way keeps the error of "none in n" from being 0.
    const double inside = std::clamp(share, 0.5 / tries, 1 - 0.5 / tries);
    return std::sqrt(inside * (1 - inside) / tries);
}

}  // namespace standfast

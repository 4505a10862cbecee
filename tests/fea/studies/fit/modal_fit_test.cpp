#include "fea/studies/fit/modal_fit.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

namespace standfast {
namespace {

using Complex = std::complex<double>;

struct Planted {
    double hertz, zeta, mass;
};

struct Curve {
    std::vector<AngularFrequency> frequency;
    std::vector<Complex> receptance;
};

Curve curve_of(const std::vector<Planted>& modes, double from, double to, double step,
               double compliance = 0) {
    Curve curve;
    for (double hertz = from; hertz <= to; hertz += step) {
        const double omega = 2 * std::numbers::pi * hertz;
        Complex sum = compliance;
        for (const Planted& mode : modes) {
            const double natural = 2 * std::numbers::pi * mode.hertz;
            sum += 1 / mode.mass /
                   Complex(natural * natural - omega * omega, 2 * mode.zeta * natural * omega);
        }
        curve.frequency.push_back(AngularFrequency::from_hertz(hertz));
        curve.receptance.push_back(sum);
    }
    return curve;
}

/// Complex white noise so many decibels below the largest value.
void add_noise(Curve& curve, double decibels, unsigned seed) {
    double largest = 0;
    for (const Complex& value : curve.receptance) largest = std::max(largest, std::abs(value));
    std::mt19937 stream(seed);
    std::normal_distribution<double> normal(
        0, largest * std::pow(10, -decibels / 20) / std::numbers::sqrt2);
    for (Complex& value : curve.receptance) value += Complex(normal(stream), normal(stream));
}

TEST(ModalFit, ValuesOfLittleCoherenceCountForLittle) {
    Curve curve = curve_of({{612, 0.031, 0.9}}, 100, 2000, 1);
    std::vector<double> coherence(curve.receptance.size(), 1.0);
    double largest = 0;
    for (const Complex& value : curve.receptance) largest = std::max(largest, std::abs(value));
    // A stretch beside the peak that is all noise, and says so.
    std::mt19937 stream(4);
    std::normal_distribution<double> normal(0, 0.3 * largest);
    for (std::size_t i = 520; i < 640; ++i) {
        curve.receptance[i] += Complex(normal(stream), normal(stream));
        coherence[i] = 0.05;
    }
    const ModalFit fit = fit_modes(curve.frequency, curve.receptance, coherence);
    ASSERT_FALSE(fit.terms.empty());
    const auto nearest =
        std::min_element(fit.terms.begin(), fit.terms.end(), [](const auto& a, const auto& b) {
            return std::abs(a.frequency.hertz() - 612) < std::abs(b.frequency.hertz() - 612);
        });
    EXPECT_NEAR(nearest->frequency.hertz(), 612, 1);
    EXPECT_NEAR(nearest->damping_ratio, 0.031, 0.003);
    EXPECT_THROW(fit_modes(curve.frequency, curve.receptance, {1.0}), std::domain_error);
}

TEST(ModalFit, TwoModesUnderThirtyDecibelsOfNoiseComeBack) {
    const std::vector<Planted> planted{{612, 0.031, 0.9}, {884, 0.022, 0.55}};
    for (unsigned seed = 1; seed <= 10; ++seed) {
        Curve curve = curve_of(planted, 100, 2000, 1);
        add_noise(curve, 30, seed);
        const ModalFit fit = fit_modes(curve.frequency, curve.receptance);
        ASSERT_EQ(fit.terms.size(), 2U) << "seed " << seed;
        for (std::size_t i = 0; i < 2; ++i) {
            EXPECT_NEAR(fit.terms[i].frequency.hertz(), planted[i].hertz, 1e-3 * planted[i].hertz)
                << "seed " << seed;
            EXPECT_NEAR(fit.terms[i].damping_ratio, planted[i].zeta, 0.05 * planted[i].zeta)
                << "seed " << seed;
            EXPECT_NEAR(fit.terms[i].residue * planted[i].mass, 1, 0.05) << "seed " << seed;
        }
    }
}

TEST(ModalFit, CleanModesComeBackToTheirDigitsWithWhatLiesAboveTheBand) {
    const std::vector<Planted> planted{{310, 0.01, 2.0}, {335, 0.015, 3.0}, {1480, 0.03, 0.4}};
    const Curve curve = curve_of(planted, 50, 3000, 1, 3e-8);
    const ModalFit fit = fit_modes(curve.frequency, curve.receptance);
    ASSERT_EQ(fit.terms.size(), 3U);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(fit.terms[i].frequency.hertz(), planted[i].hertz, 1e-5 * planted[i].hertz);
        EXPECT_NEAR(fit.terms[i].damping_ratio, planted[i].zeta, 1e-3 * planted[i].zeta);
    }
    EXPECT_NEAR(fit.compliance, 3e-8, 3e-10);
    EXPECT_LT(fit.misfit, 1e-4);
}

TEST(ModalFit, NoiseAloneIsNoMode) {
    Curve curve = curve_of({{500, 0.02, 1}}, 100, 2000, 2);
    double largest = 0;
    for (Complex& value : curve.receptance) {
        largest = std::max(largest, std::abs(value));
        value = 0;
    }
    std::mt19937 stream(3);
    std::normal_distribution<double> normal(0, largest);
    for (Complex& value : curve.receptance) value = Complex(normal(stream), normal(stream));
    EXPECT_TRUE(fit_modes(curve.frequency, curve.receptance).terms.empty());
}

TEST(ModalFit, TooFewOrUnorderedValuesAreRefused) {
    const Curve curve = curve_of({{500, 0.02, 1}}, 100, 105, 1);
    EXPECT_THROW(fit_modes(curve.frequency, curve.receptance), std::domain_error);
    Curve turned = curve_of({{500, 0.02, 1}}, 100, 300, 1);
    std::reverse(turned.frequency.begin(), turned.frequency.end());
    EXPECT_THROW(fit_modes(turned.frequency, turned.receptance), std::domain_error);
}

// Published peaks of a tap test with an accelerometer at the tip of an end mill (a public teaching
// repository; figures only): frequencies in Hz of the largest and smallest real part and of the
// smallest imaginary part, and that part in um/N. Expected: computed from these by hand.
TEST(PeakPicking, PublishedTapTestGivesItsDampingStiffnessAndMass) {
    struct Row {
        PickedPeak peak;
        double zeta, stiffness, mass, shape;
    };
    const std::vector<Row> rows{
        {{1031, 1074, 1104, -0.6433e-6}, 0.03399, 2.287e7, 0.5022, 1.4111},
        {{1914, 1961, 2092, -0.2138e-6}, 0.04538, 5.153e7, 0.3394, 1.7165},
        {{2546, 2617, 2783, -0.2180e-6}, 0.04528, 5.065e7, 0.1873, 2.3104},
    };
    for (const Row& row : rows) {
        const FittedMode mode = mode_from_peak(row.peak);
        const double omega = mode.frequency.radians_per_second;
        // A unit of the last printed digit: one row is cut, not rounded.
        EXPECT_NEAR(mode.damping_ratio, row.zeta, 1e-5);
        EXPECT_NEAR(omega * omega / mode.residue, row.stiffness, 5e3 * 1.01);
        EXPECT_NEAR(1 / mode.residue, row.mass, 6e-5);
        EXPECT_NEAR(std::sqrt(mode.residue), row.shape, 1.1e-4);
    }
}

TEST(PeakPicking, APeakOfAComputedModeGivesTheModeBack) {
    const Planted planted{700, 0.02, 0.8};
    const Curve curve = curve_of({planted}, 600, 800, 0.01);
    PickedPeak peak;
    double most = 0, least = 0;
    for (std::size_t i = 0; i < curve.receptance.size(); ++i) {
        const Complex value = curve.receptance[i];
        const double hertz = curve.frequency[i].hertz();
        if (value.real() > most) most = value.real(), peak.real_max_hz = hertz;
        if (value.real() < least) least = value.real(), peak.real_min_hz = hertz;
        if (value.imag() < peak.imaginary_min)
            peak.imaginary_min = value.imag(), peak.imaginary_min_hz = hertz;
    }
    const FittedMode mode = mode_from_peak(peak);
    // First order in zeta; the rest is of order zeta squared.
    EXPECT_NEAR(mode.damping_ratio, 0.02, 0.001 * 0.02 + 1e-5);
    EXPECT_NEAR(1 / mode.residue, 0.8, 2e-3);
}

}  // namespace
}  // namespace standfast

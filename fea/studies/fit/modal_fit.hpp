#pragma once

#include <complex>
#include <string>
#include <vector>

#include "fea/quantities/quantities.hpp"

namespace standfast {

/// A mode as one receptance shows it.
struct FittedMode {
    AngularFrequency frequency;  ///< undamped
    double damping_ratio = 0;
    double residue = 0;  ///< kg^-1, of both places; at one place 1 / modal mass, above 0
};

/// A measured receptance as modes:
///
///     G(w) = sum residue / (w_n^2 - w^2 + 2 i zeta w_n w) + compliance - inertia / w^2
///
/// in m/N with exp(+i w t); the last two stand for modes above and below the band.
struct ModalFit {
    std::vector<FittedMode> terms;  ///< ascending
    double compliance = 0;          ///< m/N
    double inertia = 0;             ///< kg^-1
    double noise = 0;   ///< m/N, standard deviation of one value, from neighbours' differences
    double misfit = 0;  ///< root mean square of what the modes leave over, over that of the values
    std::vector<std::string> warnings;
};

/// Poles and real residues of a receptance at one place (drive point): the strongest peak of what
/// is left over is added, and all modes are refined together by least squares, until nothing stands
/// out of the noise by a quarter of the value measured there. Residues below 0, which a drive point
/// cannot have, are left out. Of more than 8000 values every second, third ... is used. With noise
/// of 30 dB (a 32nd of the largest value): frequencies to 0.1 %, damping to 5 % (tests).
/// @param frequency  ascending, above 0; at least 8
/// @param coherence  gamma^2 of each value; values count by its root over 1.05 - gamma^2, so that
///                   what the noise made counts for little. Empty: all alike
/// @throws std::domain_error for too few values, or ones that are not finite or ascending
/// Source: least squares in the frequency domain with variable projection (G. H. Golub and
///         V. Pereyra 1973, from memory).
ModalFit fit_modes(const std::vector<AngularFrequency>& frequency,
                   const std::vector<std::complex<double>>& receptance,
                   const std::vector<double>& coherence = {});

/// What is read off the plot of a tap test about one peak.
struct PickedPeak {
    double real_max_hz = 0;       ///< where the real part is largest, below the peak
    double imaginary_min_hz = 0;  ///< the peak itself
    double real_min_hz = 0;       ///< where the real part is smallest, above the peak
    double imaginary_min = 0;     ///< m/N, below 0
};

/// The mode of a peak by its picked frequencies: zeta = (f2 - f1) / (2 f_n), stiffness
/// = -1 / (2 zeta H), residue = w_n^2 / stiffness.
/// @throws std::domain_error where the frequencies do not ascend or the peak is not below 0
/// Source: T. L. Schmitz and K. S. Smith, Machining Dynamics (2009), peak picking (from memory).
FittedMode mode_from_peak(const PickedPeak& peak);

}  // namespace standfast

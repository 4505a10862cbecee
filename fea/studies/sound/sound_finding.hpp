#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/studies/sound/line_sources.hpp"

namespace standfast {

enum class SoundCause { chatter, period_doubling, forced, runout, quiet, unclear };

/// Why a finding is unclear.
enum class Doubt {
    none,
    doubled_or_runout,  ///< half-tooth lines of an even number of teeth
    lone_tone,          ///< chatter, or a pump, a fan, an inverter
    noise               ///< wild chatter, or coolant that covers the rest
};

/// Mean squares of what was heard, by source.
struct SoundShares {
    double tooth_passing = 0;
    double half_tooth = 0;  ///< spindle multiples midway between tooth passings (even teeth)
    double spindle = 0;     ///< its other multiples
    double chatter = 0;     ///< the strongest family that no multiple of the spindle explains
    double hum = 0, unknown = 0;
    double everything = 0;  ///< noise included
};

/// What a recording says by itself.
struct SoundFinding {
    SoundCause cause = SoundCause::unclear;
    std::optional<double> chatter_hertz;  ///< strongest line of chatter or period doubling
    Doubt doubt = Doubt::none;            ///< of an unclear finding
    double confidence = 0;                ///< 0 to 1; figures measured in the tests
    RefinedSpeed speed;
    double tooth_passing_hertz = 0;
    std::vector<HeardLine> lines;  ///< by ascending frequency
    SoundShares shares;
    /// dB, even teeth: half-tooth lines over the tooth-passing lines beside them, median; about 0
    /// where every other tooth cuts alike, far below where only a mode makes one line loud.
    double half_tooth_level = -100;
    double half_tooth_low = -100;  ///< dB, their lower quartile
    int half_tooth_places = 0;     ///< that were compared
    int neighbours = 0;            ///< further lines of the chatter family
    double accident = 1;           ///< probability that these meet the strongest by accident
    /// Of what was heard of spindle and chatter, the strongest family that may be chatter.
    double family_share = 0;
    double clipped = 0;                          ///< share of samples at the recorder's stop
    std::vector<SpectralLine> background_tones;  ///< left out: they sound without the cut too
    PowerSpectrum spectrum;
};

/// Listens to a recording of a cut.
///
/// Chatter (a Hopf bifurcation) puts lines at +-f + k f_tp, off the multiples of the spindle;
/// forced vibration and runout stay on them. Such a family is chatter however faint it is, where
/// accident would bring its lines together less often than once in 200; a lone tone is so only
/// where it is loud. The whole recording tells apart what lies within a hertz. Period doubling puts
/// lines midway between tooth-passing harmonics. With an even number of teeth these are multiples
/// of the spindle as well, on which runout lies too. With four teeth and more it is doubling where
/// they leave the spindle's other multiples far behind; with two only where they are as strong as
/// the teeth's all along the spectrum, and between these bounds it is unclear. Quiet: no tooth
/// passing is heard, nor any other tone. Drowned in noise: unclear.
///
/// Confidence goes by the kind of evidence and is set at or below the share that was right of 900
/// simulated recordings (validation/peers/milling_recordings.py, seeds 1 to 3); of 608 called 90 %
/// sure 597 were right, of 281 with other ranges (seed 1001) 171 of 176. Half-tooth lines of two
/// teeth are too few there to tell: 65 % is a judgement.
/// @param background  the machine without the cut, recorded alike; null: none
/// @throws std::domain_error for a recording shorter than 8 revolutions or 64 samples, a speed or
///         rate that is not positive, or no teeth
/// Sources: T. Insperger, B. P. Mann, G. Stepan and P. V. Bayly, Int. J. Mach. Tools Manuf. 43
///          (2003) 25-34 (lines of both kinds); T. Delio, J. Tlusty and S. Smith, J. Eng. Ind. 114
///          (1992) 146-157 (sound, and taking out the spindle's multiples); both from memory.
SoundFinding listen(const Recording& recording, const HeardCut& cut,
                    const Recording* background = nullptr);

}  // namespace standfast

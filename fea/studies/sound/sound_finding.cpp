#include "fea/studies/sound/sound_finding.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/studies/sound/clipping.hpp"
#include "fea/studies/sound/half_teeth.hpp"
#include "fea/studies/sound/noise_hump.hpp"
#include "fea/studies/sound/sharp_lines.hpp"

namespace standfast {
namespace {

constexpr double kWindowSeconds = 1, kRevolutionsInWindow = 16, kLeastRevolutions = 8;
/// Longest window for the whole, s; and what a line's place is known to, in short resolutions.
constexpr double kLongestWhole = 8, kPlacedWithin = 0.25;
// Shares of power at which a cause is named; below the lesser one it is ruled out.
constexpr double kChatter = 0.10, kMaybeChatter = 0.02;
constexpr double kHalfTooth = 0.15, kOverRunout = 4;
// Half-tooth lines beside the tooth-passing lines next to them, median, dB.
constexpr double kAlternates = -4.5, kMayAlternate = -8, kAlternatesSurely = -1;
constexpr double kRunout = 0.10;
constexpr double kLoudTone = 0.3;
/// Tones that hold less of the sound than this are drowned.
constexpr double kDrowned = 0.05;
constexpr int kFewPlaces = 3;
constexpr double kLoudHump = 0.3;
/// Share of such a hump beside the teeth at which it may be wild chatter.
constexpr double kWild = 0.1;
constexpr double kMuchClipping = 1e-3;

bool is_half_tooth(const HeardLine& heard, const HeardCut& cut) {
    return heard.source == LineSource::spindle && cut.even_pitch && cut.teeth % 2 == 0 &&
           std::fmod(*heard.order, cut.teeth) == cut.teeth / 2;
}

SoundShares shares_of(const std::vector<HeardLine>& lines, const HeardCut& cut) {
    SoundShares shares;
    for (const HeardLine& heard : lines) {
        switch (heard.source) {
            case LineSource::tooth_passing:
                shares.tooth_passing += heard.line.power;
                break;
            case LineSource::spindle:
                (is_half_tooth(heard, cut) ? shares.half_tooth : shares.spindle) +=
                    heard.line.power;
                break;
            case LineSource::chatter:
                shares.chatter += heard.line.power;
                break;
            case LineSource::hum:
                shares.hum += heard.line.power;
                break;
            case LineSource::unknown:
                shares.unknown += heard.line.power;
                break;
        }
    }
    return shares;
}

double all_power(const PowerSpectrum& spectrum, double from_hertz) {
    double sum = 0;
    for (std::size_t i = 0; i < spectrum.power.size(); ++i) {
        if (spectrum.frequency(i) >= from_hertz) sum += spectrum.power[i];
    }
    return sum / kNoiseWidth;
}

/// Tooth-passing lines that hum does not explain as well.
int tooth_lines(const SoundFinding& found, const HeardCut& cut) {
    return static_cast<int>(
        std::count_if(found.lines.begin(), found.lines.end(), [&](const HeardLine& heard) {
            return heard.source == LineSource::tooth_passing &&
                   !may_be_hum(heard.line.frequency, found.spectrum.resolution, cut.mains_hertz);
        }));
}

void mark_family(SoundFinding& found, const ChatterFamily& family) {
    for (const std::size_t i : family.members) {
        HeardLine& heard = found.lines[i];
        heard.source = LineSource::chatter;
        heard.order = heard.line.frequency / found.tooth_passing_hertz;
    }
    found.neighbours = family.neighbours;
}

/// 0.5 at the threshold, 1 where the share is `decades` above it.
double sureness(double share, double threshold, double decades) {
    return 0.5 + 0.5 * std::clamp(std::log10(share / threshold) / decades, 0.0, 1.0);
}

void name_chatter(SoundFinding& found, const ChatterFamily& family, double share) {
    found.cause = family.halfway ? SoundCause::period_doubling : SoundCause::chatter;
    found.chatter_hertz = found.lines[family.members.front()].line.frequency;
    const double alone = found.neighbours == 0 ? 0.6 : (found.neighbours == 1 ? 0.85 : 1);
    found.confidence = sureness(share, kChatter, 0.7) * alone;
}

/// Period doubling with an even number of teeth, on the spindle's own multiples.
void name_half_tooth(SoundFinding& found, const HeardCut& cut) {
    found.cause = SoundCause::period_doubling;
    const HeardLine* strongest = nullptr;
    for (HeardLine& heard : found.lines) {
        if (!is_half_tooth(heard, cut)) continue;
        heard.source = LineSource::chatter;
        heard.order = *heard.order / cut.teeth;
        if (strongest == nullptr || heard.line.power > strongest->line.power) strongest = &heard;
    }
    found.chatter_hertz = strongest->line.frequency;
    // With two teeth every line of runout is a half-tooth line too.
    const double sure = (found.half_tooth_level - kAlternates) / (kAlternatesSurely - kAlternates);
    found.confidence = (0.6 + 0.4 * std::clamp(sure, 0.0, 1.0)) * (cut.teeth == 2 ? 0.9 : 0.95);
    if (found.half_tooth_places < kFewPlaces) found.confidence *= 0.8;
}

void name_forced(SoundFinding& found, double runout_share) {
    const bool uneven = runout_share > kRunout;
    found.cause = uneven ? SoundCause::runout : SoundCause::forced;
    const double away = std::abs(std::log10(std::max(runout_share, 1e-9) / kRunout));
    found.confidence = 0.7 + 0.25 * std::min(1.0, away);
    // Louder than the teeth themselves: a runout line that rings, or chatter locked to the spindle.
    if (runout_share > 1) found.confidence = 0.6;
}

void name_quiet_or_tone(SoundFinding& found, const ChatterFamily& family) {
    const bool loud = strongest_hump(found.spectrum, found.lines) >
                          kLoudHump * (found.shares.everything - found.shares.hum) ||
                      (!family.members.empty() &&
                       family.power > kLoudTone * (found.shares.everything - found.shares.hum));
    found.cause = loud ? SoundCause::unclear : SoundCause::quiet;
    found.confidence = loud ? 0.3 : (family.members.empty() ? 0.95 : 0.75);
}

void name_cause(SoundFinding& found, const HeardCut& cut, const ChatterFamily& family) {
    const SoundShares& shares = found.shares;
    const double on_spindle = shares.tooth_passing + shares.half_tooth + shares.spindle;
    const bool neighbours = family.neighbours > 0;
    if (tooth_lines(found, cut) < 1 && !neighbours) return name_quiet_or_tone(found, family);

    const double chatter = family.power / (family.power + on_spindle);
    if (!family.members.empty() && chatter > kChatter) {
        mark_family(found, family);
        return name_chatter(found, family, chatter);
    }
    const bool strong_halves = shares.half_tooth > kHalfTooth * on_spindle;
    if (strong_halves && shares.half_tooth > kOverRunout * shares.spindle &&
        found.half_tooth_level > kAlternates) {
        return name_half_tooth(found, cut);
    }
    const bool drowned = on_spindle + family.power < kDrowned * (shares.everything - shares.hum);
    const double hump = strongest_hump(found.spectrum, found.lines);
    const bool wild = hump > kWild * (hump + on_spindle);
    if ((neighbours && chatter > kMaybeChatter) || drowned || wild ||
        (strong_halves && found.half_tooth_level > kMayAlternate)) {
        found.cause = SoundCause::unclear;
        found.confidence = 0.4;
        return;
    }
    name_forced(found,
                (shares.half_tooth + shares.spindle) / std::max(shares.tooth_passing, 1e-300));
}

void require_usable(const Recording& recording, const HeardCut& cut) {
    require_positive(recording.rate, "listen", "sampling rate");
    require_positive(cut.revolutions_per_second, "listen", "spindle speed");
    if (cut.teeth < 1) throw std::domain_error("listen: the cutter has no teeth");
    const double least = kLeastRevolutions / cut.revolutions_per_second;
    if (recording.seconds() < least) {
        throw std::domain_error("listen: the recording lasts " +
                                std::to_string(recording.seconds()) + " s, must be at least " +
                                std::to_string(least) + " s (8 revolutions)");
    }
}

}  // namespace

SoundFinding listen(const Recording& recording, const HeardCut& cut) {
    require_usable(recording, cut);
    SoundFinding found;
    found.clipped = clipped_share(recording);
    const double window =
        std::max(kWindowSeconds, kRevolutionsInWindow / cut.revolutions_per_second);
    found.spectrum = averaged_spectrum(recording, window);
    const double resolution = found.spectrum.resolution;
    LineSearch search;
    search.to_hertz = std::min(search.to_hertz, 0.46 * recording.rate);
    const PowerSpectrum whole =
        averaged_spectrum(recording, std::min(recording.seconds(), kLongestWhole));
    const std::vector<SpectralLine> lines =
        sharpened(lasting(spectral_lines(found.spectrum, search), recording), whole, resolution);
    const double placing = std::max(whole.resolution, kPlacedWithin * resolution);
    found.speed = refine_speed(lines, cut, placing);
    found.tooth_passing_hertz = found.speed.revolutions_per_second * cut.teeth;
    found.lines = lines_with_sources(lines, cut, found.speed, placing);
    found.shares = shares_of(found.lines, cut);
    found.shares.everything = all_power(found.spectrum, search.from_hertz);
    if (cut.even_pitch && cut.teeth % 2 == 0) {
        const HalfTeeth halves =
            compare_half_teeth(found.spectrum, found.lines, found.tooth_passing_hertz);
        found.half_tooth_level = halves.level;
        found.half_tooth_places = halves.places;
    }
    name_cause(found, cut, chatter_family(found.lines, cut, found.speed, placing));
    const double everything = found.shares.everything;
    found.shares = shares_of(found.lines, cut);
    found.shares.everything = everything;
    if (found.clipped > kMuchClipping) found.confidence *= 0.9;
    if (!found.speed.refined && found.cause != SoundCause::quiet) found.confidence *= 0.8;
    return found;
}

}  // namespace standfast
